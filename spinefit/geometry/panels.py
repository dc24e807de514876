"""Where do the panels of a back begin and end, from head to tail?

In: a resolved spine: its height, bands and end allowances. Out: every panel with all
allowances taken, in mm measured downwards from the head. n bands stand on the boundaries of
n equal parts and a longer tail part, or where the binder put them; a panel loses half a band
and a clearance at each band, and the space kept free at head and tail.
Source: Cockerell, ch. VII (equal parts, tail part longer). Leaves the width to `usable`.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import NamedTuple

from spinefit.errors import ImpossibleBackError
from spinefit.job.resolved import ResolvedSpine
from spinefit.tolerances import SAME_MM


class PanelSpan(NamedTuple):
    """One panel along the back, in mm from the head.

    Attributes:
        number: counted from the head, from 1.
        top_mm, bottom_mm: where its usable part begins and ends; equal where nothing is left.
        outer_top_mm, outer_bottom_mm: the band edge or end of the back beyond them.
    """

    number: int
    top_mm: float
    bottom_mm: float
    outer_top_mm: float
    outer_bottom_mm: float

    @property
    def height_mm(self) -> float:
        """The usable height in mm; 0 where the allowances leave nothing."""
        return self.bottom_mm - self.top_mm

    @property
    def middle_mm(self) -> float:
        """The middle of the usable part, in mm from the head."""
        return (self.top_mm + self.bottom_mm) / 2


def divide(spine: ResolvedSpine) -> tuple[PanelSpan, ...]:
    """All panels of a back from head to tail, allowances taken.

    Args:
        spine: lengths in mm. Default allowances may leave a panel of height 0, since that is
            lettering that does not fit; allowances the person typed may not.

    Returns:
        One panel more than there are bands; none where the height of the back is open.

    Raises:
        ImpossibleBackError: bands that leave no panel, stand out of order or off the back; a
            title panel that is not there; typed allowances that leave nothing.

    Source: Cockerell, Bookbinding and the Care of Books, ch. VII.
    """
    _check_title_panel(spine)
    middles_mm = band_middles_mm(spine)
    if spine.height_mm is None:
        return ()
    _check_ends(spine, spine.height_mm)
    edges_mm = _outer_edges_mm(spine, middles_mm, spine.height_mm)
    spans = tuple(
        _span(spine, number, top_mm, bottom_mm, spine.height_mm)
        for number, (top_mm, bottom_mm) in enumerate(edges_mm, start=1)
    )
    _check_left(spine, spans)
    return spans


def band_middles_mm(spine: ResolvedSpine) -> tuple[float, ...]:
    """The middles of the bands in mm from the head; none where the height is open.

    Raises:
        ImpossibleBackError: given middles out of order, off the back, or not one for each band.
    """
    if spine.bands_at_mm is not None:
        _check_given_bands(spine, spine.bands_at_mm)
    return spine.band_middles_mm


def _span(
    spine: ResolvedSpine, number: int, top_mm: float, bottom_mm: float, height_mm: float
) -> PanelSpan:
    """The panel between two physical edges, less clearances, inside head and foot."""
    at_head, at_tail = number == 1, number == _band_count(spine) + 1
    usable_top_mm = max(top_mm if at_head else top_mm + spine.band_clearance_mm, spine.head_mm)
    usable_bottom_mm = min(
        bottom_mm if at_tail else bottom_mm - spine.band_clearance_mm, height_mm - spine.foot_mm
    )
    if usable_bottom_mm - usable_top_mm <= SAME_MM:
        middle_mm = (usable_top_mm + usable_bottom_mm) / 2
        usable_top_mm = usable_bottom_mm = min(max(middle_mm, top_mm), bottom_mm)
    return PanelSpan(
        number=number,
        top_mm=usable_top_mm,
        bottom_mm=usable_bottom_mm,
        outer_top_mm=top_mm,
        outer_bottom_mm=bottom_mm,
    )


def _outer_edges_mm(
    spine: ResolvedSpine, middles_mm: tuple[float, ...], height_mm: float
) -> list[tuple[float, float]]:
    """Top and bottom of each panel as it stands between bands and ends, nothing taken off."""
    half_mm = spine.band_height_mm / 2
    tops_mm = [0.0, *(middle + half_mm for middle in middles_mm)]
    bottoms_mm = [*(middle - half_mm for middle in middles_mm), height_mm]
    edges_mm = list(zip(tops_mm, bottoms_mm, strict=True))
    for number, (top_mm, bottom_mm) in enumerate(edges_mm, start=1):
        if bottom_mm - top_mm <= SAME_MM:
            raise ImpossibleBackError(
                f"bands {spine.band_height_mm:g} mm wide leave nothing of panel {number}",
                value=_bands_said(spine),
                where="--bands" if spine.bands_at_mm is None else "--bands-at",
                remedy=f"fewer or narrower bands on a back of {height_mm:g} mm",
            )
    return edges_mm


def _check_left(spine: ResolvedSpine, spans: tuple[PanelSpan, ...]) -> None:
    """Typed allowances must leave something of the panel that is lettered."""
    span = spans[spine.title_panel - 1] if len(spans) > 1 else spans[0]
    blamed = _to_blame(spine, span) if span.height_mm <= 0 else ""
    if blamed:
        raise ImpossibleBackError(
            f"the space kept free leaves nothing of panel {span.number}",
            value=f"{span.outer_bottom_mm - span.outer_top_mm:g} mm",
            where=blamed,
            remedy="keep less free, or letter another panel",
        )


def _to_blame(spine: ResolvedSpine, span: PanelSpan) -> str:
    """The typed option that leaves nothing of a panel; "" where only defaults do."""
    bands_beside = (span.number > 1) + (span.number <= _band_count(spine))
    outer_mm = span.outer_bottom_mm - span.outer_top_mm
    if outer_mm - bands_beside * spine.band_clearance_mm <= SAME_MM:
        typed_bands = (name for name in ("band-clearance", "band-height") if name in spine.typed)
        return next((f"--{name}" for name in typed_bands), "")
    height_mm = spine.height_mm or 0.0
    if "foot" in spine.typed and height_mm - spine.foot_mm < span.outer_bottom_mm:
        return "--foot"
    if "head" in spine.typed and spine.head_mm > span.outer_top_mm:
        return "--head"
    return ""


def _check_ends(spine: ResolvedSpine, height_mm: float) -> None:
    if not (math.isfinite(height_mm) and height_mm > 0):
        raise ImpossibleBackError(
            "the back has no height",
            value=f"{height_mm:g} mm",
            where="--height",
            remedy="give a length above 0",
        )
    for name, length_mm in (("foot", spine.foot_mm), ("head", spine.head_mm)):
        if name in spine.typed and length_mm >= height_mm:
            raise ImpossibleBackError(
                f"the space at the {name} is as long as the back",
                value=f"{length_mm:g} mm",
                where=f"--{name}",
                remedy=f"the back is {height_mm:g} mm high",
            )
    typed_ends = {"head", "foot"} & spine.typed
    if typed_ends and height_mm - spine.head_mm - spine.foot_mm <= SAME_MM:
        raise ImpossibleBackError(
            "the spaces kept free at head and foot leave nothing of the back",
            value=f"{spine.head_mm:g} mm and {spine.foot_mm:g} mm",
            where="--foot" if "foot" in spine.typed else "--head",
            remedy=f"the back is {height_mm:g} mm high",
        )


def _check_title_panel(spine: ResolvedSpine) -> None:
    panels = _band_count(spine) + 1
    if panels == 1 and "title-panel" not in spine.typed:
        return
    if not 1 <= spine.title_panel <= panels:
        numbers = f"panels are numbered 1 to {panels}, from the head"
        remedy = numbers if panels > 1 else "a back without bands has one panel; give --bands"
        raise ImpossibleBackError(
            "there is no such panel",
            value=spine.title_panel,
            where="--title-panel",
            remedy=remedy,
        )


def _check_given_bands(spine: ResolvedSpine, middles_mm: tuple[float, ...]) -> None:
    fault = ""
    last_mm = math.inf if spine.height_mm is None else spine.height_mm
    if "bands" in spine.typed and spine.bands != len(middles_mm):
        fault = f"places for {len(middles_mm)} bands are given, but there are {spine.bands}"
    elif not all(0 < middle_mm < last_mm for middle_mm in middles_mm):
        fault = "a band would stand off the back"
    elif any(lower <= upper for upper, lower in pairwise(middles_mm)):
        fault = "bands out of order"
    if fault:
        raise ImpossibleBackError(
            fault,
            value=_bands_said(spine),
            where="--bands-at",
            remedy="give the middle of each band in mm from the head, the uppermost first",
        )


def _band_count(spine: ResolvedSpine) -> int:
    return spine.bands if spine.bands_at_mm is None else len(spine.bands_at_mm)


def _bands_said(spine: ResolvedSpine) -> str:
    if spine.bands_at_mm is None:
        return str(spine.bands)
    return ", ".join(f"{middle_mm:g}" for middle_mm in spine.bands_at_mm)
