"""Which way do longitudinal titles run in the book's market, and does this one follow?

In: the job's market row and reading. Out: findings. A convention is advice: where authorities
or shelves are mixed, the list that the book joins decides; nothing here ever fails a title.
"""

from __future__ import annotations

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.shaping.itemise import reads_right_to_left
from spinefit.vocabulary import Firmness, Level, Reading

__all__ = ["convention_findings"]


def convention_findings(job: ResolvedJob, text: str) -> list[Finding]:
    """What the market's convention has to say of a longitudinal title.

    Args:
        job: the resolved job.
        text: the title as lettered.
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
    if reads_right_to_left(text):
        found.append(finding("reading-right-to-left", Level.NOTE))
    return found
