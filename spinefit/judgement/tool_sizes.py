"""At which of the binder's tools is a layout judged, and does it fit there?

In: layouts laid in every size of a set of tools, each in letters of its own proportions. Out:
one `Judged` for each setting: its largest size is the largest of the tools that fits in it, it
is judged at the advised one, and its figures are those of just that size.
"""

from __future__ import annotations

from collections.abc import Sequence

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import SHARES, Judged
from spinefit.judgement.offer import Offer, offer_of
from spinefit.layout.search import Layout, LayoutKey, key_of
from spinefit.provenance import Sourced, Status
from spinefit.shaping.tools import lacking
from spinefit.units import height_mm_at_arcminutes, mm_from_pt, pt_from_mm, round_down_pt
from spinefit.vocabulary import Letters, Level

__all__ = ["judge_tools", "tool_findings"]

_ROUNDING = 1 + 1e-9  # of sums of widths: a line just as long as its panel fits
_CLOSE_PT = 1e-6  # a size typed in another point comes back with rounding
_OWN = "the smallest of the tools given"
_TRIAL = "Cockerell, Bookbinding and the Care of Books, ch. XV: the size is tried with a row of Es"


def judge_tools(job: ResolvedJob, layouts: Sequence[Layout]) -> tuple[Judged, ...]:
    """Every setting at the size asked for, or at its advised size; without findings.

    Args:
        job: the resolved job.
        layouts: each setting in every size, the sizes rising.
    """
    settings: dict[LayoutKey, list[Layout]] = {}
    for layout in layouts:
        settings.setdefault(key_of(layout), []).append(layout)
    return tuple(_judged(job, sizes) for sizes in settings.values())


def _judged(job: ResolvedJob, sizes: Sequence[Layout]) -> Judged:
    """One setting, laid in every size."""
    fitting = [layout for layout in sizes if _fits(job, layout)]
    asked = job.lettering.size_pt
    if asked is None:
        layout, why = _advised(job, fitting or sizes[:1])
        set_pt = _size_pt(layout)
    else:
        layout, why, set_pt = _nearest(sizes, asked), "asked", asked
    at_hand = abs(set_pt - _size_pt(layout)) <= _CLOSE_PT
    misfit = at_hand and layout not in fitting
    limiting = fitting[-1] if fitting and not misfit else layout
    offer = _offer(job, sizes, layout)
    return Judged(job, layout, offer, set_pt=set_pt, why=why, largest_pt=_largest_pt(limiting))


def _offer(job: ResolvedJob, sizes: Sequence[Layout], layout: Layout) -> Offer:
    """The sizes that the tools have, with the floor of the one that is judged."""
    offer = offer_of(job, layout.title)
    smallest_pt = _size_pt(sizes[0])
    floor = offer.floor
    if floor is not job.method.smallest_cap:
        floor = Sourced(smallest_pt, "pt", _OWN, Status.PRACTICE)
    return offer._replace(sizes_pt=tuple(_size_pt(one) for one in sizes), floor=floor)


def _size_pt(layout: Layout) -> float:
    assert layout.title.only_pt is not None  # every title of tools has its size
    return layout.title.only_pt


def _fits(job: ResolvedJob, layout: Layout) -> bool:
    """Whether a size fits in its own letters, and is one that the method holds."""
    size_pt = _size_pt(layout)
    held = size_pt >= offer_of(job, layout.title).floor_pt
    return held and mm_from_pt(size_pt) <= layout.limit.size_mm * _ROUNDING


def _largest_pt(layout: Layout) -> float:
    """The limit in points of a size's proportions, never just under the size that fits."""
    size_pt, limit_mm = _size_pt(layout), layout.limit.size_mm
    largest_pt = round_down_pt(pt_from_mm(limit_mm))
    return max(largest_pt, size_pt) if mm_from_pt(size_pt) <= limit_mm * _ROUNDING else largest_pt


def _nearest(sizes: Sequence[Layout], asked_pt: float) -> Layout:
    return min(sizes, key=lambda layout: abs(_size_pt(layout) - asked_pt))


def _advised(job: ResolvedJob, fitting: Sequence[Layout]) -> tuple[Layout, str]:
    """The advised one of the sizes that fit, and what set it: share, eye or floor.

    Up to the share of the largest that the rules give, and with capitals no higher than the
    eye asks for; the smallest that fits where none is so small.
    """
    rules = job.rules
    share = rules.value(SHARES[fitting[-1].candidate.orientation])
    share_pt = share * _largest_pt(fitting[-1])
    most_mm = height_mm_at_arcminutes(rules.value("advised.most_arcmin"), job.reading_distance_mm)
    in_share = [one for one in fitting if _size_pt(one) <= share_pt + _CLOSE_PT]
    for_eye = [one for one in in_share if _cap_mm(one) <= most_mm]
    if not for_eye:
        return fitting[0], "floor"
    return for_eye[-1], "share" if for_eye[-1] is in_share[-1] else "eye"


def _cap_mm(layout: Layout) -> float:
    return layout.title.cap_height_em * mm_from_pt(_size_pt(layout))


def tool_findings(job: ResolvedJob, text: str) -> list[Finding]:
    """How good the widths of tools are, and which sizes lack a letter of the title."""
    tools, rule = job.lettering.tools, job.rules["tools.estimate"]
    if tools is None:
        if job.method.letters is not Letters.TOOLS:
            return []
        return [Finding.by_rule("tools-unknown", Level.NOTE, None, rule)]
    found: list[Finding] = []
    if any(size.e_mm is not None for size in tools.sizes):
        trial = rule._replace(source=f"{_TRIAL}; {rule.source}")
        found.append(Finding.by_rule("tools-estimated", Level.NOTE, None, trial))
    else:
        source = "the widths in the file of tools"
        found.append(Finding("tools-measured", Level.GOOD, source=source, status=Status.COMPUTED))
    for body_pt, letters in lacking(job, text):
        found.append(
            Finding(
                "tools-lacking",
                Level.NOTE,
                value=body_pt,
                unit="pt",
                source="the letters in the file of tools",
                status=Status.COMPUTED,
                facts={"letters": letters},
            )
        )
    return found
