"""Which titles are measured? Invented ones, as long as those of a real catalogue.

Seeded, in seven languages and three scripts; mean about 30 letters and 5 to 6 words, one in
two hundred beyond 180 letters and 30 words, as old title pages are. Nearly half have a bracket,
colon, dash, range of years or a number such as #3, as titles of catalogues do.
"""

from __future__ import annotations

import random
from typing import NamedTuple

__all__ = ["Book", "books", "full_of_marks", "long_title", "plain_books"]

_WORDS = {
    "en": "the of and a in on harbour light tide tables pilot wreck registers coast northern "
    "roads fog signals lamp keeper quay almanack customs knots chart book parish storm",
    "de": "der die und am im von Leuchtturm Hafen Küste Gezeiten Lotsen Seezeichen Nebel Sturm "
    "alte neue kurze Geschichte Inseln Buch vom Fischer",
    "fr": "le la de du et en phare port côte marées pilote naufrages brume histoire gardienne "
    "île vieux nord atlas été",
    "es": "el la de del y en faro puerto costa mareas piloto niebla historia isla viejo norte "
    "cartas año",
    "nl": "de het van en op vuurtoren haven kust getijden loods mist oude kaart boek eiland zee",
    "el": "το της και στο φάρος λιμάνι θάλασσα ιστορία νησί παλιό χάρτης ώρα ακτή",
    "ru": "и на у в маяк море берег остров история старый карта туман порт книга север",
}
_LANGUAGES = ("en",) * 5 + ("de", "de", "fr", "fr", "es", "nl", "el", "ru")
_TYPICAL_WORDS, _SPREAD = 5.2, 0.42
_MARKED = 0.45  # of all titles
_ONE_IN = 200
_LETTERS_OF_LONGEST, _WORDS_OF_LONGEST = 181, 31


class Book(NamedTuple):
    """A title and its back, in mm."""

    title: str
    width_mm: float
    height_mm: float


def books(count: int, seed: int = 1) -> list[Book]:
    """So many books, the same every time."""
    chance = random.Random(f"marks {seed}")
    return [
        book._replace(title=_catalogued(book.title, chance)) if chance.random() < _MARKED else book
        for book in plain_books(count, seed)
    ]


def plain_books(count: int, seed: int = 1) -> list[Book]:
    """The same books before any mark stands in their titles."""
    chance = random.Random(seed)
    return [_book(chance, at) for at in range(count)]


def full_of_marks(title: str, seed: int = 1) -> str:
    """A title of the same length in which every other word has a mark or is a number."""
    chance = random.Random(f"{title} {seed}")
    words = title.split()
    for at in range(chance.randrange(min(2, len(words))), len(words), 2):
        words[at] = _marked_word(words[at], chance)
    return " ".join(words)


def long_title(words: int, seed: int = 1) -> str:
    """A title of exactly so many words."""
    return _title(random.Random(seed), words, "en")


def _book(chance: random.Random, at: int) -> Book:
    language = chance.choice(_LANGUAGES)
    words = max(1, round(chance.lognormvariate(0, _SPREAD) * _TYPICAL_WORDS))
    title = _title(chance, words, language)
    if at % _ONE_IN == _ONE_IN - 1:
        words = _WORDS_OF_LONGEST
        while len(title) < _LETTERS_OF_LONGEST:
            title = _title(chance, words, language)
            words += 1
    width_mm = min(60.0, max(6.0, round(chance.lognormvariate(3.0, 0.45), 1)))
    return Book(title, width_mm, float(chance.choice((180, 198, 210, 216, 234, 240, 297))))


def _title(chance: random.Random, words: int, language: str) -> str:
    said = [chance.choice(_WORDS[language].split()) for _ in range(words)]
    return " ".join([said[0].capitalize(), *said[1:]])


def _catalogued(title: str, chance: random.Random) -> str:
    """A title as a catalogue has it: with a part after a mark, a number of a series, or years."""
    words = title.split()
    cut = (len(words) + 1) // 2
    head, tail = " ".join(words[:cut]), " ".join(words[cut:]) or "Wrackness"
    number, year = chance.randrange(1, 30), chance.randrange(1848, 1900)
    forms = (
        f"{head}: {tail}",
        f"{head} ({tail})",
        f"{head} [{tail}]",
        f"{head} – {tail}",
        f"{head} - {tail}, {year}",
        f"{title} (Wrackness, #{number})",
        f"{title}, #{number}",
        f"{title}, {year}–{year + 30}",
    )
    return chance.choice(forms)


def _marked_word(word: str, chance: random.Random) -> str:
    """As many characters: with a mark, a number, or two parts joined."""
    inner, middle = word[1:-1], len(word) // 2
    years = f"{chance.randrange(1700, 1900)}–{chance.randrange(1900, 2000)}"
    ways = [word[:-1] + mark for mark in ",:;"] + ["#" + years[: len(word) - 1]]
    if len(word) > 3:
        ways += [f"({inner})", f"[{inner}]", f"{word[:middle]}-{word[middle + 1 :]}"]
    if len(word) >= len(years):
        ways.append(years)
    return chance.choice(ways)
