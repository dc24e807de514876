"""What does a browser make of a page? Chromium without a window, one call a page."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest

__all__ = ["browsed", "browser_marks"]

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")


# In continuous integration a missing browser is a fault, not a reason to go on without it.
browser_marks = [
    pytest.mark.browser,
    pytest.mark.skipif(
        CHROMIUM is None and not os.environ.get("CI"), reason="there is no Chromium here"
    ),
]
"""Of tests that look through a browser."""


def browsed(file: Path, *options: str, seconds: float = 240) -> str:
    """Let the browser open a file, and give what it writes: the page, with ``--dump-dom``.

    Args:
        file: a page or a picture; the browser's own files lie beside it.
        options: how it is opened and what is wanted.
        seconds: when to give up.
    """
    assert CHROMIUM is not None, "install Debian's chromium"
    done = subprocess.run(
        [
            CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic",
            "--disable-dev-shm-usage", "--disable-background-networking",
            "--disable-component-update", "--disable-sync", "--disable-extensions",
            "--no-first-run", "--no-default-browser-check",
            f"--user-data-dir={file.parent / 'profile'}", *options, file.as_uri(),
        ],
        capture_output=True, text=True, encoding="utf-8", timeout=seconds, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr[-2000:]
    return done.stdout
