"""Which way do longitudinal titles run in the book's market, and does this one follow?

In: the job's market row and reading. Out: findings. A convention is advice: where authorities
or shelves are mixed, the list that the book joins decides; nothing here ever fails a title.
"""

from __future__ import annotations

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.layout.candidates import turn_of
from spinefit.provenance import Status
from spinefit.vocabulary import BindingSide, Firmness, Level, Reading, Turn

__all__ = ["convention_findings"]

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
    return found


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
