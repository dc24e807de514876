"""Where may a title break, into which pieces is it cut, and what belongs together?

In: its forced lines. Out: pieces that no line break parts, and grapheme clusters. The one door to
ICU: line breaks by UAX #14, between the words of Thai, Lao, Khmer and Burmese by its dictionaries,
and clusters by UAX #29. Less the breaks that the trade refuses: a number is not parted from its
word (Vol. 2), nor a range at its dash (1848–1870).
Positions are indexes into the text.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import accumulate
from typing import NamedTuple

from icu4py.breakers import CharacterBreaker, LineBreaker

from spinefit import catalogue
from spinefit.catalogue import NumberWords
from spinefit.catalogue.words import folded
from spinefit.errors import FieldError

# No language's rules, so that a title breaks alike whatever language it is said to be in. They are
# the strict ones: ja and ko would let a line begin with a small kana or the mark of a long vowel,
# which is for narrow columns of text.
_LOCALE = "und"
_RANGE = re.compile(r"(?<=\d)(\s?[‐-―−]\s?)(?=\d)")
_PATTERNS_FOR_NONE = "en"
_LATIN_ENDINGS = ("us", "um", "ae")  # of words that the patterns of English hardly divide
_LATIN_SYLLABLES = "it"  # no patterns of Latin come with pyphen; its syllables end as Italian ones
_SOFT_HYPHEN = "\u00ad"  # inside a word: a break there is for the binder to allow
_WITHOUT_HYPHENS = frozenset(("km", "lo", "my", "th"))
_NUMBER = re.compile(r"(?:\d|[IVXLCDM]+\b)")
_DUTCH_IJ = re.compile("ij|IJ|Ij", re.ASCII)


# Which split is best takes time by the square of the pieces: a second or two for so many, which
# are more words than any back holds.
_MOST_PIECES = 250


class Piece(NamedTuple):
    """A stretch of the title that no line break parts.

    Attributes:
        start, end: indexes into the text, spaces at the end left out.
        forced_after: True where the person forced a line break after it.
        in_word: True where the break after it lies inside a word.
    """

    start: int
    end: int
    forced_after: bool = False
    in_word: bool = False


def pieces_of(lines: tuple[str, ...], language: str | None) -> tuple[Piece, ...]:
    """What no break between words parts, with indexes into the lines joined by spaces."""
    pieces: list[Piece] = []
    offset, final = 0, len(lines) - 1
    for at, line in enumerate(lines):
        length = len(line)
        breaks = line_breaks(line, language)
        for start, end in zip((0, *breaks), (*breaks, length), strict=True):
            trimmed = end
            while trimmed > start and line[trimmed - 1] == " ":
                trimmed -= 1
            forced_after = end == length and at < final
            pieces.append(Piece(offset + start, offset + trimmed, forced_after))
        offset += length + 1
    _refuse_many(pieces)
    return tuple(pieces)


def _refuse_many(pieces: list[Piece]) -> None:
    if len(pieces) > _MOST_PIECES:
        raise FieldError(
            f"a title that can be broken in {len(pieces) - 1} places is too long",
            where="TITLE",
            remedy=f"at most {_MOST_PIECES - 1} can be tried; give what is to be lettered",
        )


def with_word_breaks(
    text: str, pieces: tuple[Piece, ...], language: str | None
) -> tuple[Piece, ...]:
    """The pieces of a text cut once more, where a word may be divided at a line's end."""
    found: list[Piece] = []
    for piece in pieces:
        word = text[piece.start : piece.end]
        points = dividing_points(word, language)
        starts = (0, *points)
        ends = (*points, len(word))
        for start, end in zip(starts, ends, strict=True):
            inside = end < len(word)
            found.append(
                Piece(
                    piece.start + start,
                    piece.start + end,
                    piece.forced_after and not inside,
                    inside,
                )
            )
    _refuse_many(found)
    return tuple(found)


def line_breaks(text: str, language: str | None) -> tuple[int, ...]:
    """Every index at which a new line may begin.

    Args:
        text: one forced line of the title, without spaces at its ends.
        language: BCP 47 tag, for the words that a number belongs to.

    >>> line_breaks("Tide-Tables, Vol. 2", "en")
    (5, 13)
    """
    # A mark after a space makes one cluster with it, where UAX #14 would break.
    whole = _cluster_ends(text)
    breaks = [
        at
        for at in _ends(LineBreaker(text, _LOCALE))
        if at < len(text) and text[at - 1] != _SOFT_HYPHEN and at in whole
    ]
    if breaks and _NUMBER.search(text):
        breaks = _kept_together(text, breaks, language)
    return tuple(breaks)


def _ends(parts: Iterable[str]) -> Iterator[int]:
    """Where each part of a text ends; by its characters, since ICU counts in UTF-16 units."""
    return accumulate(map(len, parts))


def _cluster_ends(text: str) -> frozenset[int]:
    """Indexes at which a grapheme cluster ends: no line is broken elsewhere."""
    return frozenset(_ends(CharacterBreaker(text, _LOCALE)))


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


def clusters(text: str, language: str | None = None) -> tuple[str, ...]:
    """Grapheme clusters of ``text``; Dutch ij counts as one letter.

    >>> clusters("IJzer", "nl")
    ('IJ', 'z', 'e', 'r')
    """
    found = list(CharacterBreaker(text, _LOCALE))
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
    the language is not known. A language without patterns divides no word. Patterns of English
    know few names of the ancients: words of Latin form are divided by Latin syllables too.

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
    if (language or "").split("-")[0].lower() in _WITHOUT_HYPHENS:
        return ()  # their lines end between words, and no mark says that a word goes on
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
    points = {int(at) for at in pyphen.Pyphen(lang=found).positions(word)}
    if found.startswith("en") and word.endswith(_LATIN_ENDINGS):
        points |= {int(at) for at in pyphen.Pyphen(lang=_LATIN_SYLLABLES).positions(word)}
    return tuple(sorted(points))
