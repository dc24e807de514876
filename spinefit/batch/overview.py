"""How do many books stand on one page of HTML?

In: answered rows. Out: a self-contained page in three parts, head, rows
and foot, so that rows can be written as they come: a table with a thumbnail a book that can be
sorted and searched, also while it is still incomplete. It asks nothing of a network; its policy
(W3C, Content Security Policy Level 3) lets its own style and script run, known by their
digests, and nothing else.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from spinefit.batch.books import Answered
from spinefit.batch.text_table import figure, summary
from spinefit.batch.thumbnail import Picture, picture
from spinefit.drawing.markup import digest, filled, plain
from spinefit.errors import one_line
from spinefit.plan.reports import BackReport

__all__ = ["foot", "head", "rows"]


_PACKAGE = "spinefit.batch"


def head(kept: Sequence[str]) -> str:
    """The page as far as its first row.

    Args:
        kept: names of the columns carried along.
    """
    columns = [("Line", True), *((name, False) for name in kept), ("Title", False)]
    columns += [("Panel", False), ("Verdict", False), ("Set", True), ("Largest", True)]
    columns += [("Way", False), ("Spare", True), ("Answer", False)]
    style, script = plain(_PACKAGE, "overview.css"), plain(_PACKAGE, "overview.js")
    return filled(
        _PACKAGE,
        "head.html",
        policy=f"default-src 'none'; style-src {digest(style)}; script-src {digest(script)}; "
        "base-uri 'none'; form-action 'none'",
        style=style,
        script=script,
        columns=columns,
    )


def rows(answered: Iterable[Answered]) -> str:
    """The rows of the table."""
    return filled(_PACKAGE, "rows.html", rows=map(_shown, answered))


def foot(counts: Mapping[str, int]) -> str:
    """The page from its last row on."""
    return filled(_PACKAGE, "foot.html", summary=summary(counts))


def _shown(one: Answered) -> dict[str, object]:
    found = one.result
    drawn = picture(one.answers, f"b{found.line}") if one.answers else None
    return {
        "line": found.line,
        "kept": [one_line(cell) for cell in one.row.kept],
        "title": one_line(found.title),
        "drawn": drawn.svg if drawn else "",
        "shows": _shows(one),
        "box": " ".join(f"{value:g}" for value in drawn.box_mm) if drawn else "",
        "tall_px": _tall_px(drawn) if drawn else 0,
        "fits": found.verdict in ("fits", "tight"),
        "verdict": found.verdict or "at fault",
        "set_pt": figure(found.set_pt),
        "largest_pt": figure(found.largest_pt),
        "reading": found.reading,
        "spare_mm": figure(found.spare_mm),
        "answer": found.answer if found.fault is None else one_line(found.fault.line),
    }


_TALL_PX, _WIDE_PX = 112.0, 240.0  # a thumb's room


def _shows(one: Answered) -> str:
    """What the picture shows, for those who cannot see it."""
    if isinstance(one.report, BackReport):
        return one_line(", ".join(text.text for text in one.report.texts))
    return one_line(one.result.title)


def _tall_px(drawn: Picture) -> float:
    """How high a picture is shown that has to keep to its room."""
    _left, _top, wide_mm, tall_mm = drawn.box_mm
    return round(tall_mm * min(_TALL_PX / tall_mm, _WIDE_PX / wide_mm), 1)
