"""A fault that is met in Python names what Python has, and its cure can be typed there."""

from __future__ import annotations

import pickle
from collections.abc import Callable
from typing import Any

import pytest

import spinefit
from spinefit import (
    BackPlan,
    BackText,
    Frame,
    FrontBoard,
    Job,
    Lettering,
    Measured,
    Panel,
    Part,
    Role,
    Spine,
    SpinefitError,
    check,
    label_sheet,
    plan_back,
    plan_set,
)
from spinefit.errors import FieldError
from spinefit.job.fields import FIELDS
from spinefit.job.in_python import in_python
from spinefit.job.model import PARTS

TITLE = BackText(role=Role.TITLE, text="Tides")


def a_job(title: str = "Tides", **spine: Any) -> Job:
    return Job(title=title, spine=Spine(**{"width_mm": 9, **spine}))


def a_plan(*more: BackText, **spine: Any) -> BackPlan:
    return BackPlan(spine=Spine(**{"width_mm": 30, **spine}), texts=(TITLE, *more))


DATE = BackText(role=Role.DATE, text="1931")
SMALL = BackText(role=Role.DATE, text="1931", size_pt=-1)
REFUSED: dict[str, tuple[Callable[[], object], str]] = {
    "out of bounds": (
        lambda: check(a_job(width_mm=-3)), "spine.width_mm: -3 mm is out of bounds; give more than",
    ),
    "a title": (lambda: check(a_job(7)), "title: not a text: '7'"),  # type: ignore[arg-type]
    "no back": (
        lambda: check(Job(title="Tides")),
        "give either spine.width_mm or panel=Panel(width_mm=..., height_mm=...)",
    ),
    "no board": (
        lambda: check(Job(title="Tides", front_board=FrontBoard())),
        "front_board.board: neither the board nor the leaves given; give front_board.board=Panel(",
    ),
    "a measure that lacks": (
        lambda: check(a_job(measured=Measured.OVER_BOARDS)),
        "spine.measured: a width measured over the boards needs their thickness; give "
        "spine.board_mm, such as 2.5",
    ),
    "a choice as text": (
        lambda: check(a_job(back="round")), "spine.back: no such choice: 'round'; did you mean "
        "BackForm.ROUNDED?",
    ),
    "another choice": (
        lambda: check(a_job(back="?")), "choose from BackForm.FLAT, BackForm.ROUNDED",
    ),
    "two figures": (
        lambda: check(a_job(rise_mm=2, arc_mm=12)),
        "spine.back: spine.rise_mm and spine.arc_mm for one round",
    ),
    "a board alone": (
        lambda: check(a_job(board_mm=2)),
        "add spine.measured=Measured.OVER_BOARDS or leave spine.board_mm out",
    ),
    "a method": (
        lambda: check(Job(title="Tides", spine=Spine(width_mm=9), method="paperlabl")),
        "method: no such method",
    ),
    "a method for it": (
        lambda: check(Job(title="Tides", spine=Spine(width_mm=9), frame=Frame.THIN)),
        "frame: a frame is ruled on a label, and a printed paperback cover is none: 'thin'; give "
        "method='paper-label' or another label",
    ),
    "a letter": (
        lambda: check(
            Job(title="Маяк", spine=Spine(width_mm=9), lettering=Lettering(font="Cinzel"))
        ),
        "give lettering.fallback=('EB Garamond',), which has them, or for all letters "
        "lettering.font='EB Garamond'",
    ),
    "a text": (
        lambda: plan_back(a_plan(SMALL, height_mm=210)), "text 2: size_pt: -1 is out of bounds",
    ),
    "a text of a label": (
        lambda: check(Job(panel=Panel(width_mm=40, height_mm=30), parts=(
            Part(role=Role.TITLE, text="Tides"), Part(role=Role.DATE, text="1931", size_pt=-1),
        ))),
        "text 2: size_pt: -1 is out of bounds",
    ),
    "no height": (lambda: plan_back(a_plan(DATE)), "spine.height_mm: several texts share"),
    "a volume": (
        lambda: plan_set([("1", a_job()), ("2", a_job(height_mm=-2))]),
        "volume 2: spine.height_mm: -2 mm is out of bounds",
    ),
    "a sheet": (lambda: label_sheet(a_job(width_mm=-3)), "spine.width_mm: -3 mm is out of bounds"),
    "a wish": (
        lambda: label_sheet(a_job(), trial=True),
        "trial: a trial strip is as long as the back; give spine.width_mm and spine.height_mm",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_no_fault_speaks_of_an_option(case: str) -> None:
    asking, said = REFUSED[case]
    with pytest.raises(SpinefitError) as found:
        asking()
    line = str(found.value)
    assert said in line
    assert "--" not in line.partition("'spinefit ")[0]


@pytest.mark.parametrize("field", FIELDS, ids=lambda field: field.name)
def test_each_option_is_an_attribute_that_takes_what_is_named(field: Any) -> None:
    choice = field.kind.choices[0] if field.kind.choices else None
    cure = f"give --{field.name} {choice}" if choice else f"give --{field.name}"
    fault = in_python(FieldError("so", where=f"--{field.name}", remedy=cure))
    *part, attribute = fault.where.split(".")
    assert attribute in PARTS[".".join(part)].__dataclass_fields__
    assignment = fault.remedy.removeprefix("give ")
    assert assignment.partition("=")[0] == fault.where
    if choice:
        name, _dot, member = assignment.partition("=")[2].partition(".")
        assert getattr(spinefit, name)[member] == choice


def test_what_is_typed_is_left_as_it_is() -> None:
    """A command in quotes, an option that is none of a job, a dash in a sentence."""
    said = "'spinefit fonts --font X' lists them -- or --installed does; give --size, such as 9mm"
    fault = in_python(FieldError("so", remedy=said))
    assert fault.remedy == said.replace("--size", "lettering.size_pt").replace("9mm", "9")


def test_what_is_asked_can_be_sent_to_another_process() -> None:
    assert pickle.loads(pickle.dumps(check)) is check is spinefit.check
    assert check.__doc__ and "verify" in check.__annotations__
