"""Where may a title break, and what belongs together?

Line breaks by UAX #14 and grapheme clusters by UAX #29, from the uniseg library, less the
breaks that the trade refuses: a number is not parted from its word (Vol. 2), nor a range at
its dash (1848–1870). Most titles are letters, figures, spaces and hyphens; for these a short
rule of our own gives the same breaks (the tests prove it) without loading the library.
Positions are indexes into the text.
"""

from __future__ import annotations

import itertools
import re
from functools import lru_cache

from spinefit import catalogue
from spinefit.catalogue import NumberWords
from spinefit.words import folded

__all__ = ["clusters", "dividing_points", "line_breaks"]

_LETTER = "A-Za-zÀ-ÖØ-öø-ɏΆΈ-ΊΌΎ-ΡΣ-ϿЀ-ҁҊ-ԯ"
# Letters, figures, single spaces, hyphens and points inside or after words: no more.
_PLAIN = re.compile(
    rf"(?:[{_LETTER}0-9]|[ ](?=[{_LETTER}0-9&-])|-|&|(?<=[{_LETTER}0-9])[.,;:](?=[ {_LETTER}0-9]|$)"
    rf"|(?<=[{_LETTER}])['’](?=[{_LETTER}]))+"
)
# Only words with a space between them, as most titles are: a break after each space.
_WORDS = re.compile(rf"[{_LETTER}]+(?: [{_LETTER}]+)*")
_PLAIN_BREAK = re.compile(rf"(?<= )(?=[^ ])|(?<=[^ ]-)(?=[{_LETTER}&])")
_RANGE = re.compile(r"(?<=\d)(\s?[‐-―−]\s?)(?=\d)")
_PATTERNS_FOR_NONE = "en"
_SOFT_HYPHEN = "\u00ad"  # inside a word: a break there is for the binder to allow
_DICTIONARY_LANGUAGES = frozenset(("km", "lo", "my", "th"))
_NUMBER = re.compile(r"(?:\d|[IVXLCDM]+\b)")
_OF_NUMBERS = re.compile(r"[\dIVXLCDM]")  # told in half the time
_DUTCH_IJ = re.compile("ij|IJ|Ij", re.ASCII)


def line_breaks(text: str, language: str | None) -> tuple[int, ...]:
    """Every index at which a new line may begin.

    Args:
        text: one forced line of the title, without spaces at its ends.
        language: BCP 47 tag, for the words that a number belongs to.

    >>> line_breaks("Tide-Tables, Vol. 2", "en")
    (5, 13)
    """
    if _WORDS.fullmatch(text):
        breaks = list(itertools.accumulate([len(word) + 1 for word in text.split(" ")[:-1]]))
    elif _PLAIN.fullmatch(text):
        breaks = [match.start() for match in _PLAIN_BREAK.finditer(text)]
    else:
        breaks = _library_breaks(text)
    if breaks and _OF_NUMBERS.search(text) and _NUMBER.search(text):
        breaks = _kept_together(text, breaks, language)
    return tuple(breaks)


def _library_breaks(text: str) -> list[int]:
    from uniseg.linebreak import line_break_boundaries

    whole = _cluster_ends(text)
    return [
        index
        for index in line_break_boundaries(text)
        if 0 < index < len(text) and text[index - 1] != _SOFT_HYPHEN and index in whole
    ]


def _cluster_ends(text: str) -> frozenset[int]:
    """Indexes at which a grapheme cluster ends: no line is broken elsewhere."""
    return frozenset(itertools.accumulate(map(len, clusters(text))))


def _kept_together(text: str, breaks: list[int], language: str | None) -> list[int]:
    """The breaks less those that would part a number from its word, or a range."""
    ranges = [match.span(1) for match in _RANGE.finditer(text)]
    found = [
        at for at in breaks if not any(start < at <= end or at == start for start, end in ranges)
    ]
    words = catalogue.number_words(language)
    return [at for at in found if not _parts_number(text, at, words)]


def _parts_number(text: str, at: int, words: NumberWords) -> bool:
    if text[at - 1] != " ":
        return False
    before = text[:at].rstrip().rsplit(" ", 1)[-1]
    after = text[at:].split(" ", 1)[0]
    if _NUMBER.match(after):
        return _bare(before) in words.before_number
    return bool(re.fullmatch(r"\d+\.?", before)) and _bare(after) in words.after_number


def _bare(word: str) -> str:
    return folded(word).strip("().,;:")


@lru_cache(maxsize=512)
def clusters(text: str, language: str | None = None) -> tuple[str, ...]:
    """Grapheme clusters of ``text``; Dutch ij counts as one letter.

    >>> clusters("IJzer", "nl")
    ('IJ', 'z', 'e', 'r')
    """
    if all("\u0020" <= char < "\u0300" and char != "\u00ad" for char in text):
        found = list(text)
    else:
        from uniseg.graphemecluster import grapheme_clusters

        found = list(grapheme_clusters(text))
    if (language or "").split("-")[0].lower() == "nl" and _DUTCH_IJ.search(text):
        found = _joined_ij(found)
    return tuple(found)


def _joined_ij(parts: list[str]) -> list[str]:
    joined: list[str] = []
    for part in parts:
        if joined and _DUTCH_IJ.fullmatch(joined[-1] + part):
            joined[-1] += part
        else:
            joined.append(part)
    return joined


def dividing_points(word: str, language: str | None) -> tuple[int, ...]:
    """Where a word may be divided at a line's end, if the binder allows it.

    By the hyphenation patterns of the language, from the pyphen library; English ones where
    the language is not known. A language without patterns divides no word.

    Args:
        word: letters only count; two stay at least on either side.
        language: BCP 47 tag.

    Returns:
        Indexes into the word.
    """
    inner = word.strip("\"'’.,;:()-")
    folded_word = inner.casefold()
    if len(folded_word) != len(inner):
        return ()  # the patterns' places would not be ours
    if (language or "").split("-")[0].lower() in _DICTIONARY_LANGUAGES:
        return ()  # what stands between spaces is no single word
    offset, whole = word.find(inner), _cluster_ends(inner)
    return tuple(
        offset + at
        for at in _patterns(folded_word, language or _PATTERNS_FOR_NONE)
        if 2 <= at <= len(inner) - 2 and at in whole
    )


@lru_cache(maxsize=256)
def _patterns(word: str, language: str) -> tuple[int, ...]:
    import pyphen

    found = pyphen.language_fallback(language.replace("-", "_"))
    if found is None:
        return ()
    return tuple(int(at) for at in pyphen.Pyphen(lang=found).positions(word))
