"""The arrows between the rooms, and the one door of each outside library."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

import spinefit

PACKAGE = Path(spinefit.__file__).parent
ROOT = PACKAGE.parent
MODULES = sorted(PACKAGE.rglob("*.py"))

# The doors: which modules may import a library of others. A folder stands for all its modules.
DOORS = {
    "uharfbuzz": {"shaping/harfbuzz.py"},
    "icu4py": {"shaping/breaks.py"},
    "pyphen": {"shaping/breaks.py"},
    "shapely": {"geometry/panel_polygons.py", "geometry/polygons.py"},
    "numpy": {"geometry/"},  # its distances and contacts are worked out in bulk
    "rich": {"say/page.py"},
    "click": {"cli/"},
    "brotli": {"shaping/packed.py"},
    "openpyxl": {"batch/beside.py", "batch/stored.py", "batch/workbook_rows.py"},
    "find_system_fonts_filename": {"shaping/faces.py"},
    "platformdirs": {"cli/house.py", "page/secret.py", "shaping/faces.py"},
    "starlette": {"page/"},
    "uvicorn": {"page/server.py"},
    "tomllib": {"catalogue/tables.py", "job/files.py"},
    "watchfiles": {"cli/watch.py"},
}
# fontTools, reportlab and jinja2 have doors in the design; each may have one module.
ONE_MODULE_AT_MOST = ("fontTools", "reportlab", "jinja2", "bidi", "ezdxf")


def imported(path: Path) -> set[str]:
    """Top names of everything a module imports, anywhere in it."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {name.name.split(".")[0] for name in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: a relative import"
            found.add((node.module or "").split(".")[0])
    return found


def place(path: Path) -> str:
    return path.relative_to(PACKAGE).as_posix()


def test_the_arrows_between_the_rooms():
    """import-linter's contracts of importlinter.ini are kept."""
    command = [
        str(Path(sys.executable).with_name("lint-imports")),
        "--config",
        str(Path(__file__).with_name("importlinter.ini")),
        "--no-cache",
    ]
    done = subprocess.run(
        command,
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "0 broken" in done.stdout


@pytest.mark.parametrize("library", DOORS)
def test_each_library_has_one_door(library):
    users = {place(path) for path in MODULES if library in imported(path)}
    allowed = DOORS[library]
    strangers = {
        user
        for user in users
        if user not in allowed
        and not any(door.endswith("/") and user.startswith(door) for door in allowed)
    }
    assert not strangers
    assert users, f"{library} is no longer used: take its door away"


@pytest.mark.parametrize("library", ONE_MODULE_AT_MOST)
def test_a_writers_library_has_one_module_at_most(library):
    assert len([path for path in MODULES if library in imported(path)]) <= 1


def test_nothing_else_is_imported_from_outside():
    """Every other name is the standard library's or ours."""
    known = {*sys.stdlib_module_names, "spinefit", *DOORS, *ONE_MODULE_AT_MOST}
    for path in MODULES:
        assert imported(path) <= known, place(path)


def test_only_a_report_asks_the_front_door():
    """Every other module imports from where a name is defined."""
    asking = set()
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import) and "spinefit" in {name.name for name in node.names}:
                asking.add(place(path))
            if isinstance(node, ast.ImportFrom) and node.module == "spinefit":
                rooms = {name.name for name in node.names} - {"__version__"}
                if not all((PACKAGE / f"{one}.py").is_file() or (PACKAGE / one).is_dir()
                           for one in rooms):  # fmt: skip
                    asking.add(place(path))
    assert asking == {"say/presented.py"}


def test_only_the_rims_touch_files():
    """open, read_bytes, read_text and write_text stand in the reading and writing modules only."""
    rims = {
        "catalogue/tables.py",
        "catalogue/fonts.py",
        "job/files.py",
        "shaping/fontfile.py",
        "shaping/faces.py",
        "say/write.py",
    }
    rims |= {
        f"page/{name}.py" for name in ("making", "questions", "secret", "server", "store", "tables")
    }
    touching = {"open", "read_bytes", "read_text", "write_text", "write_bytes"}
    found = set()
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                name = getattr(node.func, "attr", getattr(node.func, "id", ""))
                if name in touching:
                    found.add(place(path))
    assert {one for one in found if not one.startswith("cli/")} <= rims


@pytest.mark.parametrize(
    ("statement", "absent"),
    [
        ("import spinefit", {"uharfbuzz", "shapely", "numpy", "rich", "click", "spinefit.job"}),
        ("from spinefit import Job, Spine, Lettering, Panel", {"uharfbuzz", "shapely", "click"}),
        (
            "from spinefit import check, Job, Spine;"
            "check(Job(title='Tides', spine=Spine(width_mm=20.0)))",
            {"shapely", "numpy", "fontTools", "pyphen", "rich", "click", "spinefit.cli"},
        ),
    ],
    ids=["package", "jobs", "plain check"],
)
def test_only_what_is_used_is_loaded(statement, absent):
    """In a fresh process; a plain check in a rectangle needs HarfBuzz, ICU and nothing else."""
    code = f"import sys\n{statement}\nprint(*sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT
    )
    loaded = set(done.stdout.split())
    assert not absent & loaded
