"""Makes every picture of the gallery anew: ``python gallery``. Look at each of them afterwards."""

import runpy
from pathlib import Path

for script in sorted(Path(__file__).parent.glob("[a-z]*.py")):
    number = runpy.run_path(str(script))["main"]()
    print(f"{script.stem}: {number:.3g}", flush=True)
