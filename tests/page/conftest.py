"""One page for the tests that only ask."""

from __future__ import annotations

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main
from tests.page.served import served


@pytest.fixture(scope="session")
def page(tmp_path_factory):
    with served(tmp_path_factory.mktemp("page")) as found:
        yield found


@pytest.fixture
def run():
    """Run the command line in this process."""
    return lambda *words: CliRunner().invoke(main, list(words))
