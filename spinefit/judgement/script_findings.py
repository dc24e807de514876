"""What should a binder know of the scripts of a title, and of the fonts it comes from?

In: the job and its shaped title. Out: findings on letters that another font sets, words that
only a dictionary parts, Mongolian. Only titles with more than plain letters are looked
at. The conventions of right-to-left titles are `conventions`' to tell.
"""

from __future__ import annotations

from collections.abc import Iterator

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.layout.candidates import sets_columns_here
from spinefit.provenance import Status
from spinefit.shaping.harfbuzz import script_and_direction
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import Level

__all__ = ["script_findings"]

_STRAY_EM = 0.25  # brushed and round letters reach a little over their cells; by eye, no source
# Scripts without spaces between words, class SA of UAX #14, by ISO 15924 code: those that ICU has a
# dictionary for, and the others.
_BY_DICTIONARY = {"Thai": "Thai", "Laoo": "Lao", "Khmr": "Khmer", "Mymr": "Burmese"}
_UNBROKEN = {"Lana": "Tai Tham", "Talu": "New Tai Lue", "Tale": "Tai Le", "Ahom": "Ahom"}


def script_findings(job: ResolvedJob, title: ShapedTitle) -> list[Finding]:
    """Findings on the scripts and fonts of a title."""
    scripts = {script_and_direction(char)[0] or "" for char in title.text}
    return [
        *_other_fonts(job, title),
        *_words_without_spaces(scripts),
        *([_mongolian()] if "Mong" in scripts else []),
        *_stray_in_columns(job, title),
    ]


def _other_fonts(job: ResolvedJob, title: ShapedTitle) -> Iterator[Finding]:
    """Letters that a fallback font sets, and fallbacks that were not needed."""
    if not job.lettering.fallback:
        return
    (first, _own), *others = title.fonts_used()
    for font, letters in others:
        if letters:
            yield Finding(
                topic="letters-of-another-font",
                level=Level.NOTE,
                value=letters,
                limit=font.name,
                source="the character maps of the fonts",
                status=Status.COMPUTED,
                facts={"first": first.name},
            )


def _stray_in_columns(job: ResolvedJob, title: ShapedTitle) -> Iterator[Finding]:
    """Letters that the font's vertical metrics put outside their cells in a column."""
    columns = title.sets_columns and sets_columns_here(job, title)
    for letter, box in title.letters() if columns else ():
        inked = None if box is None else title.column(letter).box
        if inked is not None and not (inked[1] >= -1 - _STRAY_EM and inked[3] <= _STRAY_EM):
            yield Finding(
                topic="letter-outside-its-cell",
                level=Level.WARNING,
                value=letter,
                source="the font's vertical metrics, by HarfBuzz",
                status=Status.COMPUTED,
                facts={"font": title.font.name},
            )
            return


def _words_without_spaces(scripts: set[str]) -> Iterator[Finding]:
    """Scripts of the title whose words a dictionary parts, or nothing does."""
    for topic, names in (
        ("breaks-by-dictionary", _BY_DICTIONARY),
        ("breaks-need-a-dictionary", _UNBROKEN),
    ):
        for script in sorted(scripts & names.keys()):
            yield Finding(
                topic=topic,
                level=Level.NOTE,
                value=names[script],
                source="Unicode Standard Annex #14, line breaking class SA",
                status=Status.PUBLISHED,
            )


def _mongolian() -> Finding:
    return Finding(
        topic="mongolian-turned",
        level=Level.WARNING,
        source="The Unicode Standard, chapter 13.5: columns run from left to right",
        status=Status.PUBLISHED,
    )
