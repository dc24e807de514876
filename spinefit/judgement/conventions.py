"""Which way do longitudinal titles run in the book's market, and does this one follow?

In: the job's market row and reading. Out: findings. A convention is advice: where authorities
or shelves are mixed, the list that the book joins decides; nothing here ever fails a title.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.layout.candidates import turn_of
from spinefit.provenance import Status
from spinefit.vocabulary import BindingSide, Firmness, Level, Orientation, Reading, Turn

__all__ = ["convention_findings"]

# A letter of no upright script; compiled on need, as large sets take milliseconds to compile.
_TURNED = r"[^\W\d_\u1100-\u11ff\u2e80-\uffff]"
_GEOMETRY = "computed from how a book bound at that side shows its spine lying front cover up"


def convention_findings(job: ResolvedJob) -> list[Finding]:
    """What the market's convention has to say of a longitudinal title.

    Args:
        job: the resolved job.
    """
    market = job.market
    reading = job.lettering.reading
    usual = Reading.DESCENDING if market.reading is Reading.UPRIGHT else market.reading

    def finding(topic: str, level: Level, **facts: object) -> Finding:
        return Finding(
            topic=topic,
            level=level,
            value=reading.value,
            limit=usual.value,
            source=market.source,
            status=market.status,
            facts={"market": market, "code": job.market_code, **facts},
        )

    found: list[Finding] = []
    if not job.market_known:
        found.append(finding("market-unknown", Level.NOTE))
    if job.lettering.reading_asked and reading is not usual:
        level = Level.WARNING if market.firmness is Firmness.FIRM else Level.NOTE
        found.append(finding("reading-against", level))
    elif market.firmness is Firmness.MIXED:
        found.append(finding("reading-mixed", Level.NOTE))
    else:
        found.append(finding("reading-follows", Level.GOOD))
    if job.right_to_left:
        found.append(_turned(job))
    elif job.spine is not None and job.spine.binding_side is BindingSide.RIGHT:
        found.extend(_right_bound(job))
    return found


def _right_bound(job: ResolvedJob) -> Iterator[Finding]:
    """How a left-to-right title along the back of a right-bound book lies front cover up."""
    asked = job.lettering.orientation
    words = " ".join(job.title_lines)
    if asked not in (Orientation.ANY, Orientation.LONGITUDINAL) or not re.search(_TURNED, words):
        return
    reading = job.lettering.reading
    upside_down = reading is Reading.DESCENDING
    yield Finding(
        topic="reading-right-bound",
        level=Level.NOTE if upside_down else Level.GOOD,
        value=reading.value,
        limit=BindingSide.RIGHT.value,
        source=f"{_GEOMETRY}; descending Latin titles on Japanese books: Japanese learners' "
        "forum thread on spine direction"
        if upside_down
        else _GEOMETRY,
        status=Status.COMPUTED,
    )


def _turned(job: ResolvedJob) -> Finding:
    """How a right-to-left title stands along the back, and when the book lies on its back."""
    turn = turn_of(job.lettering.reading, right_to_left=True)
    side = BindingSide.RIGHT if job.spine is None else job.spine.binding_side
    anticlockwise = turn is Turn.ANTICLOCKWISE
    return Finding(
        topic="reading-right-to-left",
        level=Level.NOTE,
        value=turn.value,
        limit=side.value,
        source=_GEOMETRY,
        status=Status.COMPUTED,
        facts={
            "reading": job.lettering.reading.value,
            "upright": anticlockwise == (side is BindingSide.RIGHT),
        },
    )
