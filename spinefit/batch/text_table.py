"""How do results stand in a table on a terminal?

In: answered rows and the width of the page. Out: lines; below a book that does not fit stands its
answer, below one that would be lettered wrongly why, or which findings count, below a row at fault
its fault. The columns are as wide for every row, so that rows can be written as they come.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from spinefit.batch.books import Answered
from spinefit.batch.counted import counted
from spinefit.batch.model import Result, Settings, Totals
from spinefit.errors import one_line
from spinefit.say.page import Page, StyledText, cells
from spinefit.tolerances import SAME_STEP

_LINE, _VERDICT, _FIGURE, _WAY = 8, 14, 9, 12
_FIXED = _LINE + _VERDICT + 3 * _FIGURE + _WAY
_LEAST_TITLE = 12
_STYLES = {"fits": "green", "tight": "yellow", "does not fit": "red", "": "red"}


def head(settings: Settings, totals: Totals) -> str:
    """The line above the rows, and what its figures are."""
    page = Page(settings.screen)
    page.paragraph("Sizes in pt, the least spare in mm.")
    for line in _lines(settings, ("line", "title", "verdict", "set", "most", "spare", "way")):
        page.exact(StyledText(line))
    return page.text()


def rows(answered: Iterable[Answered], settings: Settings) -> str:
    """The rows, each with what stands below it."""
    page = Page(settings.screen)
    for one in answered:
        failing = [finding.text for finding in counted(one, settings.fail_on)]
        _add(page, one.result, failing, settings)
    return page.text()


def _add(page: Page, found: Result, failing: list[str], settings: Settings) -> None:
    texts = (
        str(found.line), found.title, found.verdict or "at fault", figure(found.set_pt),
        figure(found.largest_pt), figure(found.spare_mm), found.reading,
    )  # fmt: skip
    for line in _lines(settings, texts):
        page.exact(StyledText(line, _STYLES[found.verdict]))
    below = found.answer
    if found.verdict != "does not fit":
        below = " ".join(
            filter(None, (found.mind, *(one for one in failing if one not in found.mind)))
        )
    if found.fault is not None:
        below = found.fault.line
    if below:
        page.row("", one_line(below))


def foot(totals: Totals, settings: Settings) -> str:
    """How many books fit, and once for all of them what can hurt in making them."""
    page = Page(settings.screen)
    page.blank()
    page.paragraph(summary(totals))
    for line in totals.hazards:
        page.row("Take care", line)
    if settings.of_house:
        page.row("House", settings.of_house)
    return page.text()


def summary(totals: Totals) -> str:
    """How many books fit, how many rows are at fault, and in how many there is what to mind.

    Those that fit and yet count as failed are said too, since the exit code goes by them.

    >>> summary(Totals({"fits": 2, "tight": 0, "does not fit": 1, "": 0}, 1))
    '3 books: 2 fit, 0 tight, 1 does not fit; no row at fault; something to mind in 1'
    """
    counts, minded = totals.counts, totals.minded
    books = sum(number for verdict, number in counts.items() if verdict)
    bad = counts.get("", 0)
    fit, tight, not_fit = (counts.get(name, 0) for name in ("fits", "tight", "does not fit"))
    return (
        f"{books} {'book' if books == 1 else 'books'}: {fit} {'fits' if fit == 1 else 'fit'}, "
        f"{tight} tight, {not_fit} {'does' if not_fit == 1 else 'do'} not fit; "
        f"{bad or 'no'} {'row' if bad < 2 else 'rows'} at fault"
        + (f"; something to mind in {minded}" if minded else "")
        + (f"; {totals.failed} of those that fit counted as failed" if totals.failed else "")
    )


def _lines(settings: Settings, texts: tuple[str, ...]) -> tuple[str, ...]:
    """A line of the table; two on a screen too narrow for it, the figures below the title."""
    line, title, verdict, set_pt, most, spare, way = texts
    figures = "".join(f"{text:>{_FIGURE - 2}}  " for text in (set_pt, most, spare)) + way
    columns = settings.screen.columns
    is_narrow = columns < _FIXED + _LEAST_TITLE
    room = columns - (_LINE + _VERDICT if is_narrow else _FIXED)
    first = f"{line:>{_LINE - 2}}  {_cut(one_line(title), room - 2)}  {verdict:<{_VERDICT}}"
    rows = (first, f"  {figures}") if is_narrow else (f"{first}{figures}",)
    return tuple(row.rstrip() for row in rows)


def _cut(text: str, room: int) -> str:
    """A text that takes exactly so many cells."""
    if cells(text) > room:
        while cells(text) > room - 1:
            text = text[:-1]
        text += "…"
    return text + " " * (room - cells(text))


def figure(value: float | None) -> str:
    """A figure to one decimal, rounded down, so that nothing seems to fit that doesn't.

    >>> figure(19.78), figure(-0.01), figure(None)
    ('19.7', '-0.1', '')
    """
    return "" if value is None else f"{math.floor(value * 10 + SAME_STEP) / 10 + 0.0:.1f}"
