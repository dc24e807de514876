"""What is known of words and of single characters?

Of a language: its small words, number words and usual abbreviations, rows of ``catchwords.toml``,
``abbreviations.toml`` and ``shortenings.toml``, folded for comparing. Of characters what Unicode
says and Python and HarfBuzz do not: which letters look alike (Unicode Technical Standard #39),
how a character stands in a column (Unicode Standard Annex #50). A plain check parses one
language's of the first two tables.
"""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_right
from collections.abc import Mapping
from functools import lru_cache
from typing import Any, NamedTuple

from spinefit.catalogue.tables import DATA, read, read_lines, read_table
from spinefit.vocabulary import Status

_DOT_ABOVE = "\u0307"
_GREEK = re.compile("[\u0370-\u03ff\u1f00-\u1fff]")


class TitleWords(NamedTuple):
    """Small words of a language, folded, for judging where a title breaks.

    Attributes:
        articles: must not be stranded at the end of a line.
        catch_words: articles, prepositions, conjunctions; must not stand alone on a line.
    """

    articles: frozenset[str]
    catch_words: frozenset[str]


class NumberWords(NamedTuple):
    """Words that a number is not parted from, folded, without their point.

    Attributes:
        before_number: the word comes first: Vol. 2.
        after_number: the number comes first: 2. Band.
    """

    before_number: frozenset[str]
    after_number: frozenset[str]


class Shortening(NamedTuple):
    """The short form of a word, and who says so.

    Attributes:
        short: the form, lower case where the language does not want a capital.
        before_number: True where the word is shortened only before a number.
    """

    short: str
    before_number: bool
    source: str
    status: Status


def folded(word: str) -> str:
    """A word as it is compared: in whatever case and accents it was set.

    The dot that Turkish capitals leave behind is dropped, and Greek loses its accents, as its
    capitals do.

    >>> folded("ΤΗΣ") == folded("τῆς"), folded("İLE")
    (True, 'ile')
    """
    plain = word.casefold()
    if plain.isascii():
        return plain
    plain = plain.replace("i" + _DOT_ABOVE, "i")
    if not _GREEK.search(plain):
        return plain
    decomposed = unicodedata.normalize("NFD", plain)
    return "".join(char for char in decomposed if not unicodedata.combining(char))


@lru_cache(maxsize=64)
def title_words(language: str | None) -> TitleWords:
    """Small words of a language; English ones where the language is not known.

    Args:
        language: BCP 47 tag, of which the primary subtag counts.
    """
    path = DATA / "catchwords.toml"
    row = read_table(path, _primary(language) or "en") or read_table(path, "en") or {}
    return TitleWords(
        articles=frozenset(map(folded, row.get("articles", ()))),
        catch_words=frozenset(map(folded, row.get("catch_words", ()))),
    )


@lru_cache(maxsize=64)
def number_words(language: str | None) -> NumberWords:
    """Words that number things, in a language and in English; in all where it is not known."""
    path, primary = DATA / "abbreviations.toml", _primary(language)
    own = read_table(path, primary)
    if own is not None:
        rows = [own, read_table(path, "en") or {}]
    else:
        rows = [row for key, row in read(path).items() if key != "rules"]
    return NumberWords(
        before_number=_folded_words(rows, "before_number"),
        after_number=_folded_words(rows, "after_number"),
    )


@lru_cache(maxsize=64)
def shortenings(language: str | None) -> Mapping[str, Shortening]:
    """Words that are abbreviated on a back, folded; English ones where no language is known.

    Args:
        language: BCP 47 tag, of which the primary subtag counts.
    """
    rows = read_table(DATA / "shortenings.toml", _primary(language) or "en") or {}
    return {
        folded(word): Shortening(
            row["short"], bool(row.get("before_number")), row["source"], Status(row["status"])
        )
        for word, row in rows.items()
    }


def _folded_words(rows: list[dict[str, Any]], key: str) -> frozenset[str]:
    return frozenset(folded(word) for row in rows for word in row.get(key, ()))


def _primary(language: str | None) -> str:
    """The first part of a language tag, lower case; "" for none."""
    found = (language or "").split("-")[0].lower()
    return found if found.isalpha() else ""


def open_font_of(script: str) -> str | None:
    """The name of a font of an open licence with the letters of a script, or None.

    Args:
        script: ISO 15924 code.

    >>> open_font_of("Hebr")
    'Noto Serif Hebrew'
    """
    found: str | None = read(DATA / "open_fonts.toml")["fonts"].get(script)
    return found


@lru_cache(maxsize=1)
def lookalikes() -> dict[str, frozenset[str]]:
    """For each letter, the letters of other scripts that are drawn like it.

    >>> sorted(lookalikes()["P"])
    ['Ρ', 'Р']
    """
    alike: dict[str, set[str]] = {}
    for line in read_lines(DATA / "lookalikes.txt"):
        letters = line.split()
        for letter in letters:
            alike.setdefault(letter, set()).update(set(letters) - {letter})
    return {letter: frozenset(others) for letter, others in alike.items()}


def vertical_orientation(char: str) -> str:
    """Vertical_Orientation of a character: U, R, Tu or Tr.

    >>> [vertical_orientation(char) for char in "港H、ー"]
    ['U', 'R', 'Tu', 'Tr']
    """
    starts, rows = _orientations()
    at = bisect_right(starts, ord(char)) - 1
    if at < 0:
        return "R"
    end, way = rows[at]
    return way if ord(char) <= end else "R"


@lru_cache(maxsize=1)
def _orientations() -> tuple[list[int], list[tuple[int, str]]]:
    """First code point of each range, and its last with its orientation."""
    rows = [line.split() for line in read_lines(DATA / "vertical_orientation.txt")]
    return (
        [int(start, 16) for start, _end, _way in rows],
        [(int(end, 16), way) for _start, end, way in rows],
    )
