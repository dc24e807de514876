"""What did a rule of the trade find?

A `Finding` names a topic, what was measured, the limit and who sets it. It holds no wording:
sentences are made of its topic and facts. Where a number of the trade decides, its row in
rules.toml or methods.toml says who sets it; for all else the table here does.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from spinefit.vocabulary import Level, Sourced, Status

_SEGMENT = ("circular segment: arc = radius x angle", Status.COMPUTED)
_SEARCHED = ("computed", Status.COMPUTED)
_CLASS_SA = ("Unicode Standard Annex #14, line breaking class SA", Status.PUBLISHED)
_EVERY_VALUE = ("each value was run: fit, and what the method holds", Status.COMPUTED)
_CHECKSUMS = ("OpenType specification: calculating checksums", Status.PUBLISHED)
CUT_WIDTH = ("label-cut-width", "label-lap")
"""The topics of the width of a label: between the joints, and round over them."""

_THIN = (
    "Bailey, Library Bookbinding (1916): lengthwise on thin books, on the front cover when very "
    "thin"
)
SOURCES: dict[str, tuple[str, Status | None]] = {
    "call-number-noughts": (
        "common practice: a spreadsheet's number drops noughts that a call number has",
        Status.PRACTICE,
    ),
    "call-number-along": (_THIN, Status.PUBLISHED),
    "call-number-cover": (_THIN, Status.PUBLISHED),
    "too-large": ("computed from the outlines and the panel", Status.COMPUTED),
    "lines-meet": ("computed from the outlines", Status.COMPUTED),
    "over-bands": (
        "Cockerell, Bookbinding and the Care of Books, ch. XV, fig. 95",
        Status.PUBLISHED,
    ),
    "words-alone": (
        "Pleger (1914), p. 250; against it Adam (1903), rule 2: small words on lines of their "
        "own improve a title",
        Status.PUBLISHED,
    ),
    "words-chosen": (
        "Adam (1903), rule 2: small words on lines of their own improve a title; against it "
        "Pleger (1914), p. 250",
        Status.PUBLISHED,
    ),
    "words-joined": (
        "Pleger (1914), p. 250: small words join a neighbour; against it Adam (1903), rule 2",
        Status.PUBLISHED,
    ),
    "words-stranded": ("common practice: an article stays with its word", Status.PRACTICE),
    "words-broken": (
        "Pleger (1914), p. 250: never break a word; Cockerell, ch. XV, allows it for legibility",
        Status.PUBLISHED,
    ),
    "width-range": ("judged at the least width", Status.COMPUTED),
    "bands-without-height": ("", None),
    "round-unmeasured": (
        "Zaehnsdorf, The Art of Bookbinding, ch. XI: about a third of a circle",
        Status.PUBLISHED,
    ),
    "round-angle": _SEGMENT,
    "round-measured": _SEGMENT,
    "label-cut-width": (
        "computed: a sheet bends about its middle, at radius + half its thickness",
        Status.COMPUTED,
    ),
    "label-lap": (
        "computed: a sheet bends about its middle, at radius + half its thickness; joints and "
        "laps as given",
        Status.COMPUTED,
    ),
    "lap-cracks": (
        "common practice: paper that goes round over a joint cracks there; cloth, or paper lined "
        "with cloth or tissue, holds",
        Status.PRACTICE,
    ),
    "lap-holds": (
        "common practice: cloth, or paper lined with cloth or tissue, holds over a joint",
        Status.PRACTICE,
    ),
    "lap-pared": (
        "common practice: leather that bends at a joint is pared thin there, its ends to nothing",
        Status.PRACTICE,
    ),
    "tracking-refused": (
        "common practice: joined letters are not spaced apart",
        Status.PRACTICE,
    ),
    "font-checksum": _CHECKSUMS,
    "font-head-checksum": _CHECKSUMS,
    "across-does-not-fit": _SEARCHED,
    "along-does-not-fit": _SEARCHED,
    "across-larger": _SEARCHED,
    "across-in-label": (
        "common practice: a label that is not tall is lettered across",
        Status.PRACTICE,
    ),
    "across-in-panel": (
        "Cockerell, Bookbinding and the Care of Books, ch. XV, fig. 95: along the back is to be "
        "avoided on a banded book unless forced",
        Status.PUBLISHED,
    ),
    "letter-of-another-script": (
        "Unicode Technical Standard #39, Unicode Security Mechanisms, confusables",
        Status.PUBLISHED,
    ),
    "character-without-ink": (
        "The Unicode Standard, chapter 23.2, Layout Controls",
        Status.PUBLISHED,
    ),
    "order-of-letters": (
        "Unicode Standard Annex #9, Unicode Bidirectional Algorithm",
        Status.PUBLISHED,
    ),
    "character-lost": ("The Unicode Standard, chapter 23.8, Specials", Status.PUBLISHED),
    "encoded-twice": (
        "computed: its bytes in windows-1252 are the UTF-8 of another word",
        Status.COMPUTED,
    ),
    "old-lettering-band": (
        "common practice: lettering stands between the bands, not on them",
        Status.PRACTICE,
    ),
    "recess-covered": (
        "common practice: a recess is cut before the board is covered",
        Status.PRACTICE,
    ),
    "letters-heaped": (
        "computed from the ink of the letters and where advances and tracking put it",
        Status.COMPUTED,
    ),
    "one-tone": (
        "common practice: lettering stands out by its tone against the covering",
        Status.PRACTICE,
    ),
    "two-spaces": ("common practice: one space between words", Status.PRACTICE),
    "straight-quote": (
        "common practice: quotes and apostrophes in a title are curly, not a typewriter's",
        Status.PRACTICE,
    ),
    "catalogue-marks": (
        "ISBD punctuation, as recalled; no full points but after abbreviations: Pleger (1914), "
        "p. 250",
        Status.MEMORY,
    ),
    "letters-of-another-font": ("the character maps of the fonts", Status.COMPUTED),
    "letter-outside-its-cell": ("the font's vertical metrics, by HarfBuzz", Status.COMPUTED),
    "breaks-by-dictionary": _CLASS_SA,
    "breaks-need-a-dictionary": _CLASS_SA,
    "mongolian-turned": (
        "The Unicode Standard, chapter 13.5: columns run from left to right",
        Status.PUBLISHED,
    ),
    "tools-measured": ("the widths in the file of tools", Status.COMPUTED),
    "tools-lacking": ("the letters in the file of tools", Status.COMPUTED),
    "axis-found": _EVERY_VALUE,
    "axis-not-found": _EVERY_VALUE,
}
"""Who says so, by topic, where no number decides."""


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
        cls, topic: str, level: Level, value: float | str | None, rule: Sourced, **facts: object
    ) -> Finding:
        """A finding whose limit is a number of the trade."""
        return cls(topic, level, value, rule.value, rule.unit, rule.source, rule.status, facts)

    @classmethod
    def of(
        cls,
        topic: str,
        level: Level,
        value: float | str | None = None,
        limit: float | str | None = None,
        unit: str = "",
        **facts: object,
    ) -> Finding:
        """A finding that no number of the trade decides."""
        source, status = SOURCES[topic]
        return cls(topic, level, value, limit, unit, source, status, facts)
