"""What did a rule of the trade find?

A `Finding` names a rule, what was measured, the limit and who sets it. It holds no wording:
the report's sentences are made from its topic and facts.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from spinefit.provenance import Sourced, Status
from spinefit.vocabulary import Level

__all__ = ["Finding"]


class Finding(NamedTuple):
    """One thing a binder should know.

    Attributes:
        topic: a fixed word; the sentence is chosen by it.
        level: how much it should worry.
        value: what was measured, in ``unit``.
        limit: what it is held against, in ``unit``.
        unit: mm, pt, arcmin, "" for a word or a ratio.
        source, status: who sets the limit.
        facts: whatever else the sentence needs.
    """

    topic: str
    level: Level
    value: float | str | None = None
    limit: float | str | None = None
    unit: str = ""
    source: str = ""
    status: Status | None = None
    facts: Mapping[str, object] = MappingProxyType({})

    @classmethod
    def by_rule(
        cls,
        topic: str,
        level: Level,
        value: float | str | None,
        rule: Sourced,
        **facts: object,
    ) -> Finding:
        """A finding whose limit is a number of the trade."""
        return cls(
            topic=topic,
            level=level,
            value=value,
            limit=rule.value,
            unit=rule.unit,
            source=rule.source,
            status=rule.status,
            facts=facts,
        )
