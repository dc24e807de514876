"""Faults: a tree, one line each, and a near miss offered."""

from __future__ import annotations

import inspect

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spinefit import errors
from spinefit.errors import FieldError, SpinefitError, nearest, one_line


def test_the_tree_is_as_drawn():
    """Every error of the module stands in the drawing of its docstring, under its parent."""
    kinds = {
        name: kind
        for name, kind in vars(errors).items()
        if inspect.isclass(kind) and issubclass(kind, SpinefitError)
    }
    drawn: dict[str, str] = {}
    stack: list[tuple[int, str]] = []
    for line in errors.__doc__.splitlines():
        words = line.replace("│", " ").replace("├──", "   ").replace("└──", "   ").split()
        if not words or words[0] not in kinds:
            continue
        indent = line.index(words[0])
        while stack and stack[-1][0] >= indent:
            stack.pop()
        drawn[words[0]] = stack[-1][1] if stack else "Exception"
        stack.append((indent, words[0]))
    assert drawn == {name: kind.__bases__[0].__name__ for name, kind in kinds.items()}


def test_a_fault_says_where_what_which_and_what_to_do():
    fault = FieldError("no such choice", value="sideways", where="--back", remedy="give flat")
    assert str(fault) == "--back: no such choice: 'sideways'; give flat"
    assert str(SpinefitError("gone")) == "gone"
    assert str(SpinefitError("gone", value=0)) == "gone: '0'"


def test_the_nearest_place_is_kept():
    assert SpinefitError("gone").at("row 3").where == "row 3"
    assert SpinefitError("gone", where="--font").at("row 3").where == "--font"


@given(st.text(max_size=300), st.text(max_size=300), st.text(max_size=50))
def test_a_fault_is_always_one_printable_line(what, value, remedy):
    """Whatever was typed: control characters, half characters and directions made visible."""
    line = str(FieldError(what, value=value, remedy=remedy))
    assert line.isprintable()
    assert len(line.splitlines()) <= 1


def test_a_long_value_is_cut():
    assert len(str(FieldError("too long", value="x" * 10_000))) < 120


def test_printable_text_is_left_alone():
    assert one_line("Möwe, φάρος, 港") == "Möwe, φάρος, 港"


@pytest.mark.parametrize(
    ("typed", "choice"),
    [
        ("taransverse", "transverse"),
        ("Pilar", "pillar"),
        ("LONGITUDINAL", "longitudinal"),
        ("longi tudinal", "longitudinal"),
        ("xyzzy", None),
        ("", None),
    ],
)
def test_the_nearest_choice(typed, choice):
    assert nearest(typed, ["transverse", "longitudinal", "pillar"]) == choice
