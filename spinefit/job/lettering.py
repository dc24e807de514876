"""How is the title to be set, and what is assumed where nothing was said of it?

In: a job's `Lettering`, with its title's lines, market and method. Out: a `ResolvedLettering`.
A part of `resolve`, which settles all else.
"""

from __future__ import annotations

from spinefit import catalogue
from spinefit.catalogue import Market, Method, Rules
from spinefit.errors import FieldError
from spinefit.job.model import Job, Lettering
from spinefit.job.resolved import ResolvedLettering
from spinefit.job.title import sets_upright
from spinefit.vocabulary import (
    AxisGoal,
    BreakWords,
    Case,
    Centre,
    Orientation,
    Place,
    Reading,
    SmallWords,
)

__all__ = ["resolve_lettering", "with_tools"]


def resolve_lettering(
    said: Lettering,
    lines: tuple[str, ...],
    market: Market,
    method: Method,
    assumed: list[str],
) -> ResolvedLettering:
    """Complete what was said of the setting itself.

    Args:
        said: as typed, in mm and points.
        lines: the lines of the title that forced breaks make.
        market: the market whose custom settles which way lettering runs.
        method: the way of lettering, whose margins count on a label.
        assumed: takes the words for each default.

    Raises:
        FieldError: a value cannot be, or does not go with another.
    """
    if said.font is None and said.tools is None:
        assumed.append(f"font: {catalogue.default_font()}")
    reading, asked = _reading(said, market)
    orientation = said.orientation or Orientation.ANY
    axes, sought = _axes(said)
    _assume_setting(said, assumed)
    return ResolvedLettering(
        font=catalogue.default_font() if said.font is None else said.font,
        case=said.case or Case.AS_TYPED,
        tracking_em=(said.tracking or 0.0) / 1000,
        orientation=orientation,
        reading=reading,
        reading_asked=asked,
        lines=_line_count(said.lines, lines, orientation),
        size_pt=said.size_pt,
        leading_em=said.leading_em,
        clearance_mm=_clearance_mm(said, method, assumed),
        clearance_typed=said.clearance_mm is not None,
        centre=said.centre or Centre.AUTO,
        break_words=said.break_words or BreakWords.NEVER,
        small_words=said.small_words or SmallWords.JOINED,
        sizes_pt=said.sizes_pt,
        face=said.face,
        axes=axes,
        sought=sought,
        fallback=said.fallback,
    )


def _axes(said: Lettering) -> tuple[tuple[tuple[str, float], ...], tuple[str, AxisGoal] | None]:
    """Settings of a variable font, and the axis to be solved; whether it has them is seen later."""
    if said.axes is None:
        return (), None
    from spinefit.job.axes import checked_axes

    return checked_axes(said.axes, size_pt=said.size_pt)


def with_tools(
    job: Job, lettering: ResolvedLettering, method: Method, rules: Rules, assumed: list[str]
) -> ResolvedLettering:
    """The lettering, its letters those of tools where there are any."""
    if job.lettering.tools is None:
        return lettering
    from spinefit.job.tools import resolve_tools

    return resolve_tools(job.lettering, lettering, method, rules, assumed)


def _assume_setting(said: Lettering, assumed: list[str]) -> None:
    """Name what was not said of the setting itself."""
    for value, words in (
        (said.case, "case: as typed"),
        (said.orientation, "orientation: any"),
        (said.lines, "lines: any number"),
        (said.break_words, "break words: never"),
        (said.leading_em, "leading: by rule, never so close that lines touch"),
        (said.centre, "centre: capitals along a back, ink otherwise"),
    ):
        if value is None:
            assumed.append(words)


def _clearance_mm(said: Lettering, method: Method, assumed: list[str]) -> float:
    """The space to keep round the ink in mm: on a label, its inner margin and frame line."""
    if said.clearance_mm is not None:
        return said.clearance_mm
    if method.place is not Place.LABEL or method.inner_margin is None:
        assumed.append("clearance: none")
        return 0.0
    margin_mm = method.inner_margin.value
    frame_mm = method.frame.value if method.frame is not None else 0.0
    parts = f"an inner margin of {margin_mm:g} mm"
    if frame_mm:
        parts += f" and a frame line of {frame_mm:g} mm"
    clearance_mm = round(margin_mm + frame_mm, 9)
    assumed.append(f"clearance: {clearance_mm:g} mm inside the label's edge, {parts}")
    return clearance_mm


def _reading(said: Lettering, market: Market) -> tuple[Reading, bool]:
    if said.reading in (Reading.DESCENDING, Reading.ASCENDING):
        return said.reading, True
    if said.reading not in (None, Reading.AUTO):
        raise FieldError(
            "longitudinal lettering is descending or ascending",
            value=said.reading,
            where="--reading",
            remedy="or leave it to the market with auto",
        )
    upright = market.reading is Reading.UPRIGHT
    return (Reading.DESCENDING if upright else market.reading), False


def _line_count(count: int | None, lines: tuple[str, ...], orientation: Orientation) -> int | None:
    if count is None and len(lines) == 1:
        return None
    pillar = orientation is Orientation.PILLAR
    one_column = pillar and not sets_upright(" ".join(lines))
    if one_column and len(lines) > 1:
        raise FieldError(
            "a pillar is one column", where="TITLE", remedy="take out the forced break ' / '"
        )
    if count is None:
        return None
    if one_column and count != 1:
        raise FieldError(
            "a pillar is one column", value=count, where="--lines", remedy="leave --lines out"
        )
    if count < len(lines):
        raise FieldError(
            f"the title's forced breaks make {len(lines)} lines",
            value=count,
            where="--lines",
            remedy=f"give {len(lines)} or more, or take out a ' / '",
        )
    return count
