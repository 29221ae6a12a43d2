"""The glossary and the code use the same words, and its units are units."""

import inspect
import pkgutil
import tomllib
from dataclasses import fields, is_dataclass
from importlib import import_module, resources

import pytest

import geometry

GLOSSARY = tomllib.loads(resources.files("geometry").joinpath("glossary.toml").read_text(encoding="utf-8"))


def words_in_use() -> set[str]:
    words: set[str] = set()
    for info in pkgutil.walk_packages(geometry.__path__, "geometry."):
        for thing in vars(import_module(info.name)).values():
            if inspect.isfunction(thing):
                words |= set(inspect.signature(thing).parameters)
            elif inspect.isclass(thing) and is_dataclass(thing):
                words |= {field.name for field in fields(thing)}
    return words


USED = words_in_use()


@pytest.mark.parametrize("term", GLOSSARY)
def test_the_code_uses_the_word(term: str) -> None:
    assert any(word == term or word.startswith(f"{term}_") for word in USED)


@pytest.mark.parametrize("term", GLOSSARY)
def test_each_term_is_explained_and_its_unit_is_one_of_those_used_inside(term: str) -> None:
    entry = GLOSSARY[term]
    assert set(entry) == {"symbol", "meaning", "unit", "sense", "frame"}
    assert len(entry["meaning"]) > 10
    assert entry["unit"] in {"", "mm", "rad", "N", "K", "MPa", "N*mm", "N*mm/rad", "t", "mm/s", "s"}
