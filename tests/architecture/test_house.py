"""The house's habits: names, sizes, docstrings, numbers with a home."""

from __future__ import annotations

import ast
import doctest
import importlib
import inspect
import re
from pathlib import Path

import pytest

import spinefit
from spinefit.say.on_need import OnNeed

PACKAGE = Path(spinefit.__file__).parent
MODULES = sorted(PACKAGE.rglob("*.py"))
NAMES = {path: path.relative_to(PACKAGE).as_posix() for path in MODULES}

LEAST_BUT_TOLERANCES = 1e-4
LONGEST_MODULE, LONGEST_FUNCTION, LONGEST_DOCSTRING = 400, 60, 12
# Reasons beside every exception.
LONG_DOCSTRINGS = {
    "errors.py": "it draws the tree of errors, one a line",
    "__init__.py": "it is the page that help(spinefit) shows",
}
LONG_MODULES: dict[str, str] = {}
LONG_FUNCTIONS: dict[str, str] = {}


def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def module_name(path: Path) -> str:
    parts = ["spinefit", *path.relative_to(PACKAGE).with_suffix("").parts]
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


each_module = pytest.mark.parametrize("path", MODULES, ids=NAMES.get)
IMPORTABLE = [path for path in MODULES if path.name != "__main__.py"]
each_importable = pytest.mark.parametrize("path", IMPORTABLE, ids=NAMES.get)


@each_module
def test_every_module_says_what_it_answers(path):
    """A docstring of at most twelve lines, beginning with a sentence."""
    text = ast.get_docstring(tree_of(path))
    assert text
    assert len(text.splitlines()) <= LONGEST_DOCSTRING or NAMES[path] in LONG_DOCSTRINGS
    first = text.splitlines()[0]
    assert first.endswith(("?", "."))
    assert first[0].isupper()


@each_module
def test_no_module_is_long(path):
    lines = len(path.read_text(encoding="utf-8").splitlines())
    assert lines <= LONGEST_MODULE or NAMES[path] in LONG_MODULES


@each_module
def test_no_function_is_long(path):
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            length = node.end_lineno - node.lineno + 1
            assert length <= LONGEST_FUNCTION or node.name in LONG_FUNCTIONS, node.name


def test_no_exception_is_idle():
    """What is named as long is long, so that the lists stay true."""
    for name in LONG_MODULES:
        lines = (PACKAGE / name).read_text(encoding="utf-8").splitlines()
        assert len(lines) > LONGEST_MODULE
    assert all(LONG_MODULES.values())
    assert all(LONG_FUNCTIONS.values())


def test_there_is_no_room_for_odds_and_ends():
    assert not [path for path in MODULES if path.stem in ("utils", "util", "helpers", "misc")]


@each_module
def test_inches_and_points_have_one_home(path):
    """25.4 and 72 stand in units.py, and are written nowhere else."""
    if NAMES[path] == "units.py":
        return
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Constant) and isinstance(node.value, int | float):
            assert not isinstance(node.value, bool) or node.value in (True, False)
            if not isinstance(node.value, bool):
                assert node.value not in (25.4, 72, 72.0, 72.27, 0.352778), node.lineno


@each_module
def test_tolerances_have_one_home(path):
    """A number that small is a tolerance: it has a name, and a reason, in tolerances.py."""
    if NAMES[path] == "tolerances.py":
        return
    small = [
        node.value
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Constant)
        and isinstance(node.value, float)
        and 0 < node.value < LEAST_BUT_TOLERANCES
    ]
    assert not small


@each_module
def test_nothing_is_printed(path):
    """Only the command line writes, and not by print."""
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            assert node.func.id != "print", node.lineno


@each_module
def test_no_bare_width_is_a_name(path):
    """A width says what it is of, or in which unit: of arguments and fields of the model."""
    if not NAMES[path].startswith(("geometry/", "job/model", "job/resolved", "say/model")):
        return
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.arg):
            assert node.arg not in ("width", "height", "size"), node.lineno
        if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            assert node.target.id not in ("width", "height", "size"), node.lineno


@each_importable
def test_only_packages_list_their_names(path):
    """In a module what has no underscore is offered; a package lists what it hands on, sorted."""
    listed = getattr(importlib.import_module(module_name(path)), "__all__", None)
    if path.name != "__init__.py":
        assert listed is None
    elif listed is not None:
        assert list(listed) in (sorted(listed), sorted(listed, key=_rank))
        assert len(set(listed)) == len(listed)


def _rank(name: str) -> tuple[int, str]:
    """Ruff's order: constants, then classes, then the rest."""
    if name.isupper():
        return 0, name
    return (1 if name[0].isupper() else 2), name


def test_every_room_has_its_door():
    """Each folder is a package with a docstring; its __all__ is what it re-exports."""
    for folder in {path.parent for path in MODULES}:
        assert (folder / "__init__.py").is_file()


@each_importable
def test_the_examples_in_docstrings_run(path):
    module = importlib.import_module(module_name(path))
    found = doctest.testmod(module, optionflags=doctest.ELLIPSIS)
    assert found.failed == 0


def test_there_are_examples():
    count = sum(
        len(test.examples)
        for path in IMPORTABLE
        for test in doctest.DocTestFinder().find(importlib.import_module(module_name(path)))
    )
    assert count >= 20


@each_importable
def test_public_functions_and_classes_have_docstrings(path):
    """Each name that a module lists and makes itself says what it is for."""
    module = importlib.import_module(module_name(path))
    for name in getattr(module, "__all__", ()):
        value = getattr(module, name)
        if getattr(value, "__module__", None) != module.__name__:
            continue
        if inspect.isclass(value) or inspect.isfunction(value):
            assert inspect.getdoc(value), name


@each_module
def test_no_text_speaks_of_how_it_was_made(path):
    """No path of a machine, no to-do left behind."""
    text = path.read_text(encoding="utf-8")
    assert not re.search(r"/(?:work|tmp|home|root)/|TO[D]O|FIX[M]E|XX[X]", text)


def test_the_package_is_typed():
    assert (PACKAGE / "py.typed").is_file()


@pytest.mark.parametrize("name", ["job.model", "job.resolved", "say.model", "vocabulary"])
def test_records_are_frozen(name):
    """What a stage hands on cannot be changed."""
    module = importlib.import_module(f"spinefit.{name}")
    for value in vars(module).values():
        if not inspect.isclass(value) or value.__module__ != module.__name__:
            continue
        if issubclass(value, str | Exception):
            continue
        params = getattr(value, "__dataclass_params__", None)
        frozen = issubclass(value, tuple | OnNeed)
        assert frozen or (params is not None and params.frozen), value
