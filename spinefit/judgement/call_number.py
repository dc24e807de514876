"""Which way does a call number stand, and how far from the tail?

In: its job, and what judges one. Out: it judged across the back in its own lines, or where that has
no room for its least size along the back in one, and why; of a setting where its house will find
it, lengths in mm from the tail of the back.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from spinefit.job.model import Job
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.judgement.judged import Judged
from spinefit.tolerances import SAME_MM
from spinefit.vocabulary import Level, Orientation

if TYPE_CHECKING:
    from spinefit.judgement.text import JudgedText


def across_or_along(job: Job, judge: Callable[[Job], JudgedText]) -> JudgedText:
    """A call number across the back; along it where it is too thin (Bailey, 1916).

    Args:
        job: the call number, its orientation left open.
        judge: judges a job.
    """

    def judged(way: Orientation) -> JudgedText:
        return judge(replace(job, lettering=replace(job.lettering, orientation=way)))

    across = judged(Orientation.TRANSVERSE)
    if across.fits:
        return across
    along = judged(Orientation.LONGITUDINAL)
    topic, level, found = "call-number-cover", Level.WARNING, across
    if along.fits:
        topic, level, found = "call-number-along", Level.NOTE, along
    least_pt = across.shown.offer.smallest_pt()
    finding = Finding.of(topic, level, across.shown.largest_pt, least_pt, "pt")
    return found._replace(judgement=found.judgement.after(finding))


def from_tail_mm(job: ResolvedJob, one: Judged) -> float | None:
    """From the tail of the back to the lowest ink; None where no height is known."""
    panel, tail_mm = one.layout.panel, one.spare_mm.tail
    back_mm, middle_mm, length_mm = (
        panel.back_height_mm, panel.middle_from_head_mm, panel.height_mm,
    )  # fmt: skip
    if back_mm is None or middle_mm is None or length_mm is None or tail_mm is None:
        return None
    return back_mm - middle_mm - length_mm / 2 + job.lettering.clearance_mm + tail_mm


def standing_findings(job: ResolvedJob, one: Judged) -> Iterator[Finding]:
    """How far from the tail a call number stands, where no bands say it, and whether as asked."""
    call, value_mm = job.call_number, from_tail_mm(job, one)
    if call is None or value_mm is None or one.layout.panel.number is not None or not one.fits:
        return
    part, limit_mm = "lower edge", call.edge_mm
    if call.first_line_mm is not None and one.first_from_head_mm is not None:
        assert one.layout.panel.back_height_mm is not None  # its height is known
        across = one.orientation is Orientation.TRANSVERSE
        part, limit_mm = "first baseline" if across else "upper end", call.first_line_mm
        value_mm = one.layout.panel.back_height_mm - one.first_from_head_mm
    if call.at_head:
        assert one.layout.panel.back_height_mm is not None  # its height is known
        top_mm = one.layout.panel.back_height_mm - value_mm - one.ink_height_mm
        oversize = job.rules["call_number.oversize_mm"]
        yield Finding.by_rule("call-number-at-head", Level.NOTE, top_mm, oversize)
        return
    rule = job.rules["call_number.from_tail_mm"]
    astray = limit_mm is not None and abs(value_mm - limit_mm) > SAME_MM
    topic, level = "call-number-stands", Level.NOTE
    if astray:
        topic, level = "call-number-astray", Level.WARNING
    found = Finding.by_rule(topic, level, value_mm, rule, part=part)
    yield found._replace(limit=limit_mm)


def noughts_finding(number: float | str) -> Finding | None:
    """What is asked of a call number that may have lost noughts; None of any other.

    Args:
        number: as a table has it: a number, whose 823.1 may have been 823.10, or a text, that of a
            Dewey class having three figures before its point (common practice).

    >>> noughts_finding("7.5 QUA") is None, noughts_finding("007.5 QUA") is None
    (False, True)
    """
    if isinstance(number, str) and not _FEW_FIGURES.match(number):
        return None
    return Finding.of("call-number-noughts", Level.NOTE, f"{number}")


_FEW_FIGURES = re.compile(r"[0-9]{1,2}([.,][0-9]+)?(?=\s|$)", re.ASCII)
