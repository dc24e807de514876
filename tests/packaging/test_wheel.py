"""What is in the wheel and the sdist, and are they the same bytes when built again?"""

from __future__ import annotations

import os
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

pytest.importorskip("hatchling")

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "spinefit"
DATE = "1577836800"  # 2020-01-01: any date, as long as it is the same for both


def built(kind: str, folder: Path) -> Path:
    """The file that hatchling builds, without a network and without another environment."""
    command = [sys.executable, "-m", "hatchling", "build", "-t", kind, "-d", str(folder)]
    done = subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, check=False,
        env={**os.environ, "SOURCE_DATE_EPOCH": DATE},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    (found,) = folder.iterdir()
    return found


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built("wheel", tmp_path_factory.mktemp("wheel"))


def test_the_wheel_holds_the_package_its_data_and_its_fonts(wheel: Path) -> None:
    """Every file of the package, type information too; and nothing besides."""
    with zipfile.ZipFile(wheel) as archive:
        names = {name for name in archive.namelist() if ".dist-info/" not in name}
        meta = {
            name.split(".dist-info/")[1] for name in archive.namelist() if ".dist-info/" in name
        }
    own = {
        path.relative_to(ROOT).as_posix()
        for path in PACKAGE.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    fonts = {
        f"spinefit/{path.relative_to(ROOT).as_posix()}"
        for path in (ROOT / "fonts_open").rglob("*")
        if path.is_file()
    }
    assert names == own | fonts
    assert {"METADATA", "entry_points.txt", "licenses/spinefit/LICENSE"} <= meta
    for needed in (
        "spinefit/py.typed",
        "spinefit/data/schema/report.json",
        "spinefit/drawing/templates/report.html",
        "spinefit/batch/templates/overview.css",
        "spinefit/fonts_open/eb-garamond/OFL.txt",
    ):
        assert needed in names


def test_a_second_build_has_the_same_bytes(wheel: Path, tmp_path: Path) -> None:
    assert built("wheel", tmp_path).read_bytes() == wheel.read_bytes()


def test_the_wheel_answers_by_itself(wheel: Path, tmp_path: Path) -> None:
    """Unpacked away from the checkout: its own fonts, data and schemas are found."""
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(tmp_path)
    code = (
        "import spinefit; from spinefit import *; print(spinefit.__file__);"
        "print(check(Job(title='Tides', spine=Spine(width_mm=20.0))).verdict);"
        "print(schema('report')['title'])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False, cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(tmp_path)},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    place, verdict, title = done.stdout.splitlines()
    assert Path(place).is_relative_to(tmp_path)
    assert (verdict, title) == ("fits", "The answer to one job")


def test_the_sdist_builds_and_holds_what_is_tested(tmp_path: Path) -> None:
    with tarfile.open(built("sdist", tmp_path)) as archive:
        names = {name.split("/", 1)[1] for name in archive.getnames()}
    assert {"pyproject.toml", "README.md", "spinefit/py.typed", "fonts_open/fonts.toml"} <= names
    assert "tests/packaging/test_wheel.py" in names
    assert not any(".pyc" in name for name in names)
