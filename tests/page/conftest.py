"""One page for the tests that only ask."""

from __future__ import annotations

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main
from tests.browser import CHROMIUM
from tests.page.served import served


@pytest.fixture(scope="session")
def page(tmp_path_factory):
    with served(tmp_path_factory.mktemp("page")) as found:
        yield found


@pytest.fixture
def run():
    """Run the command line in this process."""
    return lambda *words: CliRunner().invoke(main, list(words))


OPTIONS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-dev-shm-usage",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--disable-extensions", "--no-first-run",
]  # fmt: skip


@pytest.fixture(scope="session")
def browser():
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        found = driver.chromium.launch(executable_path=CHROMIUM, args=OPTIONS)
        yield found
        found.close()


@pytest.fixture
def context(browser):
    found = browser.new_context(viewport={"width": 1440, "height": 900})
    found.set_default_timeout(60_000)
    yield found
    found.close()


@pytest.fixture
def tab(context, page):
    from tests.page.walking import opened

    return opened(context, page.address)
