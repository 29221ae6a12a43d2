"""Where the page's parts stand, read from the page itself, and whether that is where the solver says."""

import numpy as np

from geometry.arrays import Array
from tests.page.browser import Opened

TURN, PLACE = np.radians(0.05), 0.02
"""What the page promises, rad and mm."""


def transforms(it: Opened) -> dict[str, Array]:
    """The matrix of every moving body, as the document has it."""
    found = it.page.evaluate(
        """() => Object.fromEntries([...document.querySelectorAll("[data-body]")].map((node) =>
          [node.dataset.body, node.getAttribute("transform")]))"""
    )
    moving = {body: text for body, text in found.items() if not body.startswith("ground") and body != "deforms"}
    return {body: np.array([float(n) for n in text[7:-1].split()]) for body, text in moving.items()}


def assert_same(found: dict[str, Array], wanted: dict[str, Array]) -> None:
    """Every moving body stands within what is promised of the solver's matrix."""
    assert set(found) <= set(wanted)
    assert len(found) == 10
    for body, matrix in found.items():
        assert_near(body, matrix, wanted[body])


def assert_near(body: str, matrix: Array, exact: Array) -> None:
    """One body does."""
    turn = np.arctan2(matrix[1], matrix[0]) - np.arctan2(exact[1], exact[0])
    assert abs((turn + np.pi) % (2 * np.pi) - np.pi) < TURN, body
    assert np.hypot(*(matrix[4:] - exact[4:])) < PLACE, body
