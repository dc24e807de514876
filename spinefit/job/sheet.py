"""What is to be compared on a sheet of labels, and what is it printed on?

In: values by name, options of a command line or keys of the ``[sheet]`` table of a job file. Out:
`SheetWishes`, and the `PaperSize` that a name means. Each attribute declares its field as those of
`spinefit.job.model` do: option, key, reader, check and meaning. Which settings come of them is for
the drawing of sheets.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any, NamedTuple

from spinefit.catalogue.trade import paper
from spinefit.errors import FaultsAt, FaultsMoved, FieldError, nearest
from spinefit.job import checks, kinds, values
from spinefit.job.checks import LARGEST_MM
from spinefit.job.kinds import Field, Kind, fields_of, option
from spinefit.job.lengths import parse_rectangle
from spinefit.job.model import Job
from spinefit.job.values import Panel
from spinefit.vocabulary import Case, CutBy, Frame, Weight

_SHEET, _PAPER = "Sheet", "--paper"
_COUNT = partial(Kind, "N", values.count, whole=True)
_LABELS = Kind("WxH,...", values.rectangles, checks.rectangles)
_MARKS = kinds.one_of("MARKS", CutBy)


class PaperSize(NamedTuple):
    """A sheet of paper, in mm.

    Attributes:
        width_mm, height_mm: its sides; of a paper that has a name the shorter first.
        name: the name, or its sides.
    """

    width_mm: float
    height_mm: float
    name: str


def paper_size(typed: str) -> PaperSize:
    """The paper of a name, or of two sides such as ``210x297mm``.

    Args:
        typed: as it was typed.

    Raises:
        FieldError: no such paper, or none that could be printed.
        UnitError: sides that cannot be read.
    """
    if not (typed[:1].isdigit() or typed[:1] in ".-"):
        row = paper(typed)
        return PaperSize(row.width_mm.value, row.height_mm.value, row.name)
    with FaultsAt(_PAPER):
        width, height = parse_rectangle(typed)
    if not (0 < width <= LARGEST_MM and 0 < height <= LARGEST_MM):
        raise FieldError(
            "no such sheet", value=typed, where=_PAPER,
            remedy=f"give sides above 0 and up to {LARGEST_MM:g} mm",
        )  # fmt: skip
    return PaperSize(width, height, f"{width:g} x {height:g} mm")


def _a_paper(value: str, where: str) -> str:
    """A text that names a paper."""
    with FaultsMoved({_PAPER: where}):
        paper_size(checks.text(value, where))
    return value


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetWishes:
    """What is said of a sheet of labels; None or nothing where nothing was said."""

    labels: tuple[Panel, ...] = option(
        "labels", _SHEET, _LABELS,
        "Labels to compare, such as 30x20,32x22mm. [as the ink needs]",
        default=(),
    )  # fmt: skip
    sizes: int | None = option(
        "size-count", _SHEET, _COUNT(checks.whole("sizes", 1, 20)),
        "How many sizes to compare, about the advised one. [3; a whole drawer; 1 with --titles]",
    )  # fmt: skip
    splits: int | None = option(
        "splits", _SHEET, _COUNT(checks.whole("splits", 1, 10)),
        "How many splits of the title to compare. [2; 1 with --titles, or where sizes, cases, "
        "weights or rules are compared]",
    )  # fmt: skip
    cases: tuple[Case, ...] = option(
        "cases", _SHEET, kinds.some_of("CASE,...", Case),
        "Cases to compare: as-typed,capitals,small-capitals. [that of --case]",
        default=(),
    )  # fmt: skip
    weights: tuple[Weight, ...] = option(
        "weights", _SHEET, kinds.some_of("WEIGHT,...", Weight),
        "Weights to compare: regular,bold of the font's family. [that of --font]",
        default=(),
    )  # fmt: skip
    rules: tuple[Frame, ...] = option(
        "rules", _SHEET, kinds.some_of("RULE,...", Frame),
        "Rules of a label of several texts to compare: none,thin,thick,double,thick-and-thin. "
        "[those of the job file]",
        default=(),
    )  # fmt: skip
    trial: bool | None = option(
        "trial", _SHEET, kinds.YES, "Trial strips to wrap round the book, as long as its back."
    )
    spares: int | None = option(
        "spares", _SHEET, _COUNT(checks.whole("spares", 0, 100)), "How many more of each. [1]",
        house=(),
    )  # fmt: skip
    paper: str | None = option(
        "paper", _SHEET, Kind("PAPER", values.text, _a_paper),
        "A5, A4, A3, A2, A1, Letter, Tabloid or WxH. [A4]", house=(),
    )  # fmt: skip
    landscape: bool | None = option(
        "landscape", _SHEET, kinds.YES, "Lay the paper on its longer side.", house=()
    )  # fmt: skip
    margin: float | None = option(
        "margin", _SHEET, kinds.ROOM, "What the printer leaves blank at each edge. [5 mm]", house=()
    )  # fmt: skip
    gutter: float | None = option(
        "gutter", _SHEET, kinds.ROOM, "Room for the knife between labels. [4 mm]", house=()
    )  # fmt: skip
    marks: CutBy | None = option(
        "marks", _SHEET, _MARKS, "frame or ticks to cut by. [a frame where the method has one]",
        house=(),
    )  # fmt: skip
    no_grain: bool | None = option(
        "no-grain", _SHEET, kinds.YES,
        "The material has no grain: labels may be turned to save sheets.", house=(),
    )  # fmt: skip


SHEET_FIELDS: tuple[Field, ...] = tuple(fields_of(SheetWishes))
"""Every field of a sheet, in the order of the help."""

SHEET_KEYS: Mapping[str, Field] = {
    field.attribute.replace("_", "-"): field for field in SHEET_FIELDS
}
"""The same by their keys in a ``[sheet]`` table: ``sizes`` there is a number of sizes."""


def sheet_wishes(
    given: Mapping[str, object], place: Callable[[str], str] = "[sheet]: {}".format
) -> SheetWishes:
    """What values by key say of a sheet.

    Args:
        given: by their keys in a ``[sheet]`` table.
        place: where the value of a key was said, for messages.

    Raises:
        FieldError: an unknown key, or a value that its field cannot hold.

    >>> sheet_wishes({"sizes": 4, "labels": ["30x40mm", "34x30mm"]}).sizes
    4
    """
    parsed: dict[str, Any] = {}
    for key, value in given.items():
        field = SHEET_KEYS.get(key)
        if field is None:
            like = nearest(key, SHEET_KEYS)
            raise FieldError(
                "no key of a sheet", value=key, where=place(key),
                remedy=f"did you mean '{like}'?" if like else f"it has {', '.join(SHEET_KEYS)}",
            )  # fmt: skip
        with FaultsAt(place(key)):
            parsed[field.attribute] = field.kind.check(field.kind.read(value), place(key))
    return SheetWishes(**parsed)


def refuse_no_back(job: Job, wishes: SheetWishes) -> None:
    """Refuse a trial strip of what is no back of a known length, or beside labels."""
    if not wishes.trial:
        return
    if job.spine is None or job.spine.height_mm is None or job.panel is not None:
        raise FieldError(
            "a trial strip is as long as the back", where="--trial",
            remedy="give --width and --height instead of a panel",
        )  # fmt: skip
    if wishes.labels:
        raise FieldError("a trial strip is no label", where="--labels", remedy="leave it out")


def ways_asked(wishes: SheetWishes) -> dict[str, int]:
    """How many there are of each key that has several to compare, splits aside.

    >>> ways_asked(SheetWishes(sizes=4, cases=(Case.CAPITALS,)))
    {'sizes': 4}
    """
    counts = {
        "labels": len(wishes.labels),
        "sizes": wishes.sizes or 1,
        "cases": len(wishes.cases),
        "weights": len(wishes.weights),
        "rules": len(wishes.rules),
    }
    return {key: count for key, count in counts.items() if count > 1}
