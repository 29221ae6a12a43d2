"""The house: lint, types, which way imports point, what an import costs, and that the papers tell the truth."""

import ast
import importlib
import inspect
import pkgutil
import re
import subprocess
import sys
from functools import cache
from hashlib import sha256
from importlib.metadata import distributions
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGES = ("geometry", "mechviz", "apps")
ALLOWED = {"geometry": {"geometry"}, "mechviz": {"geometry", "mechviz"}, "apps": set(PACKAGES)}
TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "CHANGELOG.md",
    "LICENSE",
    "pyproject.toml",
    "geometry",
    "mechviz",
    "apps",
    "tests",
    "gallery",
}


def run(*command: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, *command], cwd=ROOT, capture_output=True, text=True, check=False)


def test_ruff_finds_nothing() -> None:
    done = run("-m", "ruff", "check", ".")
    assert done.returncode == 0, done.stdout


def test_every_file_is_formatted() -> None:
    done = run("-m", "ruff", "format", "--check", ".")
    assert done.returncode == 0, done.stdout


CHECKED = "mechviz/types-checked"
"""Where pytest's cache remembers what the type checker has passed."""


def what_is_type_checked(root: Path) -> str:
    """All that the type checker's answer depends on, as one figure: sources, settings, and the packages installed."""
    told = sha256(f"{sys.version} {sys.platform}".encode())
    for path in [root / "pyproject.toml", *sorted(p for package in PACKAGES for p in (root / package).rglob("*.py*"))]:
        if path.suffix in (".py", ".pyi", ".toml"):
            told.update(f"\n{path.relative_to(root)}\n".encode() + path.read_bytes())
    for name in sorted(f"{one.name} {one.version}" for one in distributions()):
        told.update(f"\n{name}".encode())
    return told.hexdigest()


def test_the_type_checker_finds_nothing(request: pytest.FixtureRequest) -> None:
    """It takes a quarter of a minute and keeps nothing, so that it is asked again only where anything is another.

    A fresh clone has nothing to remember; `pytest --cache-clear` forgets.
    """
    cache: pytest.Cache | None = getattr(request.config, "cache", None)
    now = what_is_type_checked(ROOT)
    if cache is not None and cache.get(CHECKED, None) == now:
        return
    done = run("-m", "basedpyright", "--warnings")
    assert done.returncode == 0, done.stdout[-4000:]
    if cache is not None:
        cache.set(CHECKED, now)


def test_the_types_are_checked_again_after_any_change(tmp_path: Path) -> None:
    for package in PACKAGES:
        (tmp_path / package).mkdir()
    seen = {what_is_type_checked(tmp_path) for _ in (1, 2) if (tmp_path / "pyproject.toml").write_text("a = 1")}
    assert len(seen) == 1
    for name, text in (
        ("pyproject.toml", "a = 2"),
        ("mechviz/new.py", ""),
        ("mechviz/new.py", "1"),
        ("apps/b.pyi", ""),
    ):
        (tmp_path / name).write_text(text)
        now = what_is_type_checked(tmp_path)
        assert now not in seen, name
        seen.add(now)
    (tmp_path / "mechviz" / "new.py").rename(tmp_path / "geometry" / "new.py")
    assert what_is_type_checked(tmp_path) not in seen


@cache
def imports_of(path: Path) -> set[str]:
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
            names.add(node.module.split(".")[0])
    return names


def wrong_imports(package: str, folder: Path) -> list[str]:
    return [
        f"{path.name}: {name}"
        for path in sorted(folder.rglob("*.py"))
        for name in sorted(imports_of(path) & set(PACKAGES) - ALLOWED[package])
    ]


@pytest.mark.parametrize("package", PACKAGES)
def test_imports_point_one_way(package: str) -> None:
    assert wrong_imports(package, ROOT / package) == []


def test_the_import_guard_finds_a_planted_fault(tmp_path: Path) -> None:
    (tmp_path / "planted.py").write_text("def f():\n    from mechviz.checks import run_checks\n")
    assert wrong_imports("geometry", tmp_path) == ["planted.py: mechviz"]


@pytest.mark.parametrize(
    ("module", "heavy"),
    [
        ("geometry.kinematics", "scipy pint pydantic mechviz apps pyvista panel"),
        ("geometry.setup", "scipy mechviz apps pyvista panel"),
        ("mechviz.checks", "scipy apps pyvista panel"),
        ("mechviz.study", "scipy apps pyarrow contourpy pyvista panel"),
        ("apps.cli", "scipy pint pydantic numpy pyvista panel"),
    ],
)
def test_what_an_import_loads(module: str, heavy: str) -> None:
    code = f"import sys, {module}; print(*(h for h in {heavy.split()!r} if h in sys.modules))"
    done = run("-c", code)
    assert (done.returncode, done.stdout.strip()) == (0, ""), done.stdout + done.stderr


def test_the_load_guard_finds_a_planted_fault() -> None:
    done = run("-c", "import sys, scipy; print(*(h for h in ['scipy'] if h in sys.modules))")
    assert done.stdout.strip() == "scipy"


def modules() -> list[str]:
    names: list[str] = []
    for package in PACKAGES:
        top = importlib.import_module(package)
        names += [m.name for m in pkgutil.walk_packages(top.__path__, f"{package}.")]
    return names


def test_every_public_function_says_what_it_returns_in_words() -> None:
    silent: list[str] = []
    for name in modules():
        module = importlib.import_module(name)
        for key, thing in vars(module).items():
            if key.startswith("_") or getattr(thing, "__module__", None) != name:
                continue
            if (inspect.isfunction(thing) or inspect.isclass(thing)) and not thing.__doc__:
                silent.append(f"{name}.{key}")
    assert silent == []


def test_ci_runs_exactly_the_readme_test_command() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    commands = re.findall(r"^python3 -m venv .*$", readme, re.MULTILINE)
    assert len(commands) == 2
    assert (ROOT / ".ci" / "run").read_text(encoding="utf-8").rstrip().splitlines()[-1] == commands[1]
    assert commands[1].endswith("-m pytest")


def test_nothing_unexpected_at_the_top_level() -> None:
    done = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        pytest.skip("not a git checkout")
    top = {line.split("/")[0] for line in done.stdout.splitlines()}
    assert {name for name in top if not name.startswith(".")} <= TOP_LEVEL


@pytest.mark.parametrize(
    "name",
    ["numpy", "scipy", "shapely", "pint", "pydantic", "cyclopts", "typst", "contourpy", "pyarrow", "markdown_it"],
)
def test_every_stated_dependency_is_used(name: str) -> None:
    used = set().union(*(imports_of(p) for package in PACKAGES for p in (ROOT / package).rglob("*.py")))
    assert name in used
