"""Options of the whole test suite."""

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--fuzz", type=int, default=2000, metavar="N", help="how many mutated setup files to read")
