"""The example jobs of the reading room, each answered as it lies there."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main

JOBS = sorted((Path(__file__).parents[2] / "shared" / "jobs").glob("*.toml"))


@pytest.mark.parametrize("path", JOBS, ids=[path.stem for path in JOBS])
def test_an_example_job_is_answered(path: Path) -> None:
    """It fits or it does not; nothing about the file itself is at fault."""
    done = CliRunner().invoke(main, ["check", "--job", str(path)])
    assert done.exit_code in (0, 1), done.stderr
    assert done.stderr == ""
    assert "fit" in done.stdout
