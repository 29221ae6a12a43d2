"""A docstring that lists parameters lists those that there are, in their order."""

import inspect
import pkgutil
import re
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from importlib import import_module
from typing import Any

import pytest

import geometry
import mechviz

SECTION = re.compile(
    r"^\s*Parameters\n\s*-+\n(?P<body>.*?)(?=\n\s*(?:Returns|Raises|Notes|References)\n\s*-+|\Z|\n\s*>>>)", re.S | re.M
)
LISTED = re.compile(r"^(?P<indent> *)(?P<names>\w+(?:, \w+)*) : ", re.M)


def documented(thing: Callable[..., Any]) -> list[str]:
    """The parameters that a docstring lists."""
    found = SECTION.search(inspect.cleandoc(thing.__doc__ or ""))
    return [name for row in LISTED.finditer(found["body"]) for name in row["names"].split(", ")] if found else []


def real(thing: Callable[..., Any]) -> list[str]:
    return [f.name for f in fields(thing)] if is_dataclass(thing) else list(inspect.signature(thing).parameters)


def with_parameters() -> list[Callable[..., Any]]:
    found: dict[str, Callable[..., Any]] = {}
    for package in (geometry, mechviz):
        for info in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
            for thing in vars(import_module(info.name)).values():
                own = getattr(thing, "__module__", "") == info.name
                if own and (inspect.isfunction(thing) or inspect.isclass(thing)) and documented(thing):
                    found[f"{info.name}.{thing.__name__}"] = thing
    return list(found.values())


@pytest.mark.parametrize("thing", with_parameters(), ids=lambda thing: thing.__qualname__)
def test_listed_parameters_are_those_of_the_signature(thing: Callable[..., Any]) -> None:
    listed, there = documented(thing), real(thing)
    assert set(listed) <= set(there)
    assert listed == [name for name in there if name in listed]
    assert set(there) - set(listed) <= {name for name in there if f"``{name}``" in (thing.__doc__ or "")}


def test_there_is_something_to_hold_against() -> None:
    assert len(with_parameters()) >= 10


def test_a_parameter_that_is_not_there_would_be_found() -> None:
    def planted(real_one: int) -> None:
        """Do nothing.

        Parameters
        ----------
        unreal_one : int
            Is not there.
        """

    assert documented(planted) == ["unreal_one"] != real(planted)
