"""One browser a worker, and what opens a built-in setup's page in it."""

from collections.abc import Callable
from contextlib import AbstractContextManager
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.made import WORN, Pages
from tests.page.browser import Opened, opened

__all__ = ["WORN", "Open", "Pages"]

Open = Callable[..., AbstractContextManager[Opened]]


@pytest.fixture
def show(browser: Browser, pages: Pages) -> Open:
    def page(name: str = WORN, state: str = "", **options: Any) -> AbstractContextManager[Opened]:
        return opened(browser, pages.file(name).as_uri() + state, **options)

    return page
