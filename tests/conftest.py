"""What all tests share: the engines named in the header, and where the check values lie."""

from __future__ import annotations

import os
import shutil
import subprocess
import tomllib
from collections.abc import Callable
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, settings

# The same examples every time where others wait for the result; new ones at the desk.
settings.register_profile("repeatable", derandomize=True)
# Few examples and none made simpler: mutation testing asks only whether a test fails.
settings.register_profile(
    "mutation",
    derandomize=True,
    database=None,
    deadline=None,
    max_examples=12,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=list(HealthCheck),
)
if os.environ.get("CI"):
    settings.load_profile("repeatable")

# Nobody's own house has a say in what is tested.
os.environ["SPINEFIT_HOUSE"] = ""

CHECKS = Path(__file__).parents[1] / "shared" / "checks"


def pytest_report_header() -> list[str]:
    """The engines that answers depend on, and the second engines they are checked against."""
    import icu4py
    import shapely
    import uharfbuzz

    measuring = {
        "uharfbuzz": f"{version('uharfbuzz')} (HarfBuzz {uharfbuzz.version_string()})",
        "shapely": f"{version('shapely')} (GEOS {shapely.geos_version_string})",
        "numpy": version("numpy"),
        "fontTools": version("fonttools"),
        "icu4py": f"{version('icu4py')} (ICU {icu4py.icu_version})",
    }
    checking = {
        "FreeType": _freetype(),
        "hb-shape": _said_by("hb-shape"),
        "browser": _said_by("chromium"),
    }
    return [
        f"{head}: " + ", ".join(f"{name} {said}" for name, said in engines.items())
        for head, engines in (("engines", measuring), ("second engines", checking))
    ]


def _freetype() -> str:
    try:
        import freetype
    except (ImportError, PackageNotFoundError):
        return "missing"
    return ".".join(str(part) for part in freetype.version())


def _said_by(program: str) -> str:
    """The first line of what a program says of its version."""
    path = shutil.which(program)
    if path is None:
        return "missing"
    done = subprocess.run([path, "--version"], capture_output=True, text=True, check=False)
    return done.stdout.strip().split("\n")[0].removeprefix("hb-shape ") or "of unknown version"


@pytest.fixture(scope="session")
def checks_folder() -> Path:
    """Where the values to test against lie."""
    return CHECKS


@pytest.fixture(scope="session")
def needs_font() -> Callable[[str, str], str]:
    """A way to ask for a font of the system, without which a test has nothing to say."""

    def ask(path: str, package: str) -> str:
        assert Path(path).is_file(), f"install Debian's {package}: {path} is not there"
        return path

    return ask


@pytest.fixture(scope="session")
def check_rows() -> Callable[[str], list[dict[str, Any]]]:
    """A reader of one file of check values by its bare name."""

    def read(name: str) -> list[dict[str, Any]]:
        with (CHECKS / f"{name}.toml").open("rb") as stream:
            found: list[dict[str, Any]] = tomllib.load(stream)["check"]
        return found

    return read
