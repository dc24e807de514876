"""Would another letter do?

Remedies of the letter: capitals alone, a condensed companion, a font whose strokes hold.
Looked for last, since a letter not seen before has to be measured.
"""

from __future__ import annotations

from collections.abc import Iterator

from spinefit.catalogue import FontRow, font_named, font_rows
from spinefit.judgement.remedy import Need, Remedy, run, with_lettering
from spinefit.vocabulary import Case, Letters, Orientation

__all__ = ["narrower_fonts", "ways"]

_FONTS_TO_TRY = 4  # each may have to be measured
_NARROW = "condensed"


def ways(need: Need) -> Iterator[Remedy]:
    """Every way out by another letter; brass letters are not changed for a font."""
    yield from _capitals(need)
    yield from _as_typed(need)
    if need.job.method.letters is Letters.OUTLINES:
        yield from _condensed(need)
        yield from _sturdier(need)


def _capitals(need: Need) -> Iterator[Remedy]:
    asked = need.job.lettering
    if asked.case is Case.CAPITALS or need.title.all_capitals:
        return
    orientation = asked.orientation
    if need.best is not None:
        orientation = need.best.layout.candidate.orientation
    option = "" if orientation is Orientation.ANY else f" --orientation {orientation}"
    changed = with_lettering(need.job, case=Case.CAPITALS, orientation=orientation)
    yield from run(need, "capitals", f"--case capitals{option}", changed, 2)


def _as_typed(need: Need) -> Iterator[Remedy]:
    """Small letters where capitals alone were asked for, and the title has any."""
    if need.job.lettering.case is Case.CAPITALS:
        changed = with_lettering(need.job, case=Case.AS_TYPED)
        yield from run(need, "as-typed", "--case as-typed", changed, 2)


def _condensed(need: Need) -> Iterator[Remedy]:
    for row, own in narrower_fonts(need):
        yield from _in_font(need, "condensed", row, 2 if own else 3, own=own)


def narrower_fonts(need: Need) -> Iterator[tuple[FontRow, bool]]:
    """The font's own condensed companion, else the condensed fonts of another design.

    Each with whether it is the font's own; none for brass letters, for a font that is narrow
    already, and where what fails is the strokes, not the room.
    """
    name = need.job.lettering.font
    if need.job.method.letters is not Letters.OUTLINES or _NARROW in name.casefold():
        return
    if any(one.offer.weakest for one in need.judged):
        return
    own = font_named(f"{name} {_NARROW}")
    if own is not None:
        yield own, True
        return
    bold = name.casefold().endswith(" bold")
    for row in font_rows():
        if _NARROW in row.name.casefold() and ("bold" in row.name.casefold()) is bold:
            yield row, False


def _sturdier(need: Need) -> Iterator[Remedy]:
    """A font at hand whose strokes and gaps hold, where those of the one asked for do not.

    Its own bold first, then the others, the best first in what fails; a few are tried.
    """
    weakest = next((one.offer.weakest for one in need.judged if one.offer.weakest), None)
    if weakest is None:
        return
    own = f"{need.job.lettering.font.casefold()} bold"
    thin = weakest.what == "stroke"
    rows = sorted(
        font_rows(),
        key=lambda row: (
            row.name.casefold() != own,
            -(row.thinnest_stroke_em if thin else row.narrowest_gap_em),
        ),
    )
    for row in rows[:_FONTS_TO_TRY]:
        found = tuple(_in_font(need, "font", row, 2))
        if found:
            yield from found
            return


def _in_font(need: Need, change: str, row: FontRow, cost: int, **facts: object) -> Iterator[Remedy]:
    asked = need.job.lettering
    options = f"--font '{row.name}'"
    options += " --face 1" if asked.face is not None else ""
    options += " --axes none" if asked.axes else ""
    changed = with_lettering(need.job, font=row.name, face=None, axes=())
    yield from run(need, change, options, changed, cost, font=row.name, **facts)
