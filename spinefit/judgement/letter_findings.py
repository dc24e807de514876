"""Which letters and characters of a title should be looked at before they are cut?

In: the job and its shaped title, one that holds more than plain letters. Out: findings on
characters that would be cut as a mistake (named with code point and place: letters of another
script inside a word, characters without ink, straight quotes, what a wrong encoding left), unseen
characters that steer which way letters read, letters that another font sets, words that only a
dictionary parts, Mongolian. The spelling of words is left alone.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterator, Sequence

from spinefit.catalogue.words import lookalikes
from spinefit.job.resolved import ResolvedJob
from spinefit.job.title import read_again
from spinefit.judgement.finding import Finding
from spinefit.layout.standing import sets_columns_here
from spinefit.shaping.harfbuzz import script_and_direction
from spinefit.shaping.scripts import as_seen
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import Level

_MIXED = frozenset({"Latn", "Grek", "Cyrl"})  # scripts whose letters are taken for each other
_WORD = re.compile(r"[^\W\d_]+(?:[\u0300-\u036f][^\W\d_]*)*")
# Of scripts without spaces a few letters stand for a word.
_WORDS_BEFORE = re.compile(r"(?:\S{1,24}\s+)?\S{0,24}\s*$")
_WORDS_AFTER = re.compile(r"\s*\S{0,24}(?:\s+\S{1,24})?")
_TWO_SPACES = re.compile(r"\s{2,}")
# A pair of marks about words; of single ones in Hebrew alone, where no apostrophe begins a word.
# There small words of one letter or two are written to the word that is quoted.
_PAIR = re.compile(
    r"""
    (?: (?<!\w) " (?=\w)
      | (?: (?<=\b[\u05d1\u05d4\u05d5\u05db\u05dc\u05de\u05e9])
          | (?<=\b[\u05d5\u05e9][\u05d1\u05d4\u05db\u05dc\u05de\u05e9]) ) " (?=\w\w) )
    (?: [^"] | (?<=\w)"(?=\w) )*? (?<![\s"]) " (?!\w)
    | (?<!\w) ' (?=[\u05d0-\u05ea]) [^']*? (?<![\s']) ' (?!\w)
    """,
    re.VERBOSE,
)
_INVISIBLE = frozenset("\u00ad\u034f\u061c\u180e\u200b\u200c\u200d\u200e\u200f\u2060\ufeff")
_JOINERS = frozenset("\u200c\u200d")
_BREAK_MARKS = frozenset("\u200b\u2060")
_MARKS_OF_DIRECTION = frozenset("\u061c\u200e\u200f")
# Embeddings, overrides and isolates of UAX #9, and tags (The Unicode Standard, chapter 23.9).
_CONTROLS = frozenset(
    map(chr, (*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0xE0001, *range(0xE0020, 0xE0080)))
)
_MOST_NAMED = 3
_REPLACEMENT = "\ufffd"
# Scripts in whose words a zero width space shows where a line may break, a word joiner where not.
_WITHOUT_SPACES = frozenset({"Thai", "Laoo", "Khmr", "Mymr", "Tibt", "Java", "Bali", "Lana"})
# Scripts in which the zero width joiners choose the form of a letter.
_FORMS_CHOSEN = frozenset((
    "Arab", "Syrc", "Mong", "Nkoo", "Mand", "Adlm", "Rohg", "Phag", "Deva", "Beng", "Guru", "Gujr",
    "Orya", "Taml", "Telu", "Knda", "Mlym", "Sinh", "Khmr", "Mymr", "Tibt", "Java", "Bali", "Newa",
))  # fmt: skip
_STRAY_EM = 0.25  # brushed and round letters reach a little over their cells; by eye, no source
# Scripts without spaces between words, class SA of UAX #14, by ISO 15924 code: those that ICU has a
# dictionary for, and the others.
_BY_DICTIONARY = {"Thai": "Thai", "Laoo": "Lao", "Khmr": "Khmer", "Mymr": "Burmese"}
_UNBROKEN = {"Lana": "Tai Tham", "Talu": "New Tai Lue", "Tale": "Tai Le", "Ahom": "Ahom"}


def spelling_findings(job: ResolvedJob, text: str, apart: Sequence[str]) -> Iterator[Finding]:
    """What should be looked at before the title is cut.

    Args:
        job: the resolved job; the letters of tools have no two forms of an apostrophe.
        text: the title as lettered.
        apart: the texts of a label, whose letters do not stand in one line; else the title.
    """
    yield from _foreign_letters(text)
    controls = _CONTROLS | _steering_marks(text, job.right_to_left)
    for one in apart:
        yield from _steered(one, controls, job.right_to_left)
    yield from _wrongly_read(text)
    yield from _without_ink(text, controls)
    yield from _spaces(text)
    if job.lettering.tools is None:
        yield from _straight_quotes(text)


def _script(char: str) -> str:
    return script_and_direction(char)[0] or ""


def _foreign_letters(text: str) -> Iterator[Finding]:
    """Letters of another script than the rest of their word, or of the rest of the title."""
    words = [match.group() for match in _WORD.finditer(text)]
    scripts = [[_script(char) for char in word] for word in words]
    overall = Counter(name for word in scripts for name in word if name in _MIXED)
    if len(overall) < 2:
        return
    for word, names in zip(words, scripts, strict=True):
        inside = Counter(name for name in names if name in _MIXED)
        if not inside:
            continue
        own = max(inside, key=lambda name: (inside[name], overall[name]))
        main = max(overall, key=lambda name: overall[name])
        if len(inside) > 1:
            for at, (char, name) in enumerate(zip(word, names, strict=True), start=1):
                if name in _MIXED and name != own:
                    yield _foreign(char, at, word, _like(char, own))
        elif own != main and all(_like(char, main) for char in word):
            yield _foreign(word[0], 1, word, "".join(_like(char, main) for char in word))


def _like(char: str, script: str) -> str:
    """The letter of a script that a character looks like; "" for none."""
    return min((one for one in lookalikes().get(char, ()) if _script(one) == script), default="")


def _foreign(char: str, at: int, word: str, like: str) -> Finding:
    return Finding.of(
        "letter-of-another-script", Level.WARNING, char, like or None,
        place=at, word=word, character=_named(char),
    )  # fmt: skip


def _steered(text: str, controls: frozenset[str], right_to_left: bool) -> Iterator[Finding]:
    """Unseen characters that change which way letters read, or hide a text of their own."""
    found = dict.fromkeys(char for char in text if char in controls)
    if not found:
        return
    kept = "".join(char for char in as_seen(text, right_to_left) if char not in controls)
    names = [f"U+{ord(char):04X} {unicodedata.name(char, '').lower()}" for char in found]
    if len(names) > _MOST_NAMED:
        names[_MOST_NAMED:] = [f"{len(names) - _MOST_NAMED} more"]
    yield Finding.of("order-of-letters", Level.WARNING, kept, characters=", ".join(names))


def _steering_marks(text: str, right_to_left: bool) -> frozenset[str]:
    """The marks of direction, where they may change the order of what is seen; else none."""
    marks = _MARKS_OF_DIRECTION.intersection(text)
    if not marks or any(
        unicodedata.bidirectional(char) in ("R", "AL") and char.isalpha() for char in text
    ):
        return marks
    seen, typed = (
        [char for char in words if char not in marks]
        for words in (as_seen(text, right_to_left), text)
    )
    return marks if seen != typed else frozenset()


def _wrongly_read(text: str) -> Iterator[Finding]:
    """Letters that were lost, and words whose bytes were read in a wrong encoding."""
    for match in re.finditer(f"{_REPLACEMENT}+", text):
        yield Finding.of(
            "character-lost", Level.WARNING, _REPLACEMENT, **_beside(text, *match.span())
        )
    for word in () if text.isascii() else text.split(" "):
        if meant := read_again(word):
            yield Finding.of("encoded-twice", Level.WARNING, word, meant)


def _without_ink(text: str, controls: frozenset[str]) -> Iterator[Finding]:
    """Characters that leave no ink, where their neighbours do not need them."""
    for at, char in enumerate(text):
        if char not in _INVISIBLE or char in controls:
            continue
        beside = {_script(one) for one in text[max(0, at - 1) : at] + text[at + 1 : at + 2]}
        if char in _JOINERS and beside & _FORMS_CHOSEN:
            continue
        if char in _BREAK_MARKS and beside & _WITHOUT_SPACES:
            continue
        yield Finding.of(
            "character-without-ink", Level.WARNING, char,
            character=_named(char), **_beside(text, at, at + 1),
        )  # fmt: skip


def _spaces(text: str) -> Iterator[Finding]:
    """Two spaces where one was meant; plain ones were closed up before."""
    for match in _TWO_SPACES.finditer(text):
        points = " ".join(f"U+{ord(char):04X}" for char in match.group())
        yield Finding.of("two-spaces", Level.WARNING, points, **_beside(text, *match.span()))


def _straight_quotes(text: str) -> Iterator[Finding]:
    """A typewriter's quotes and apostrophes; after a figure they may be meant as primes."""
    paired = [match.span() for match in _PAIR.finditer(text)]
    for begins, _ends in paired:
        meant = _quotes_about(text[begins + 1], text[begins])
        yield Finding.of(
            "straight-quote", Level.WARNING, text[begins], meant,
            character=_named(text[begins]), prime=False, **_beside(text, begins, begins + 1),
        )  # fmt: skip
    about = {at for begins, ends in paired for at in (begins, ends - 1)}
    for at, char in enumerate(text):
        if char in "'\"" and at not in about:
            before = text[:at][-1:]
            yield Finding.of(
                "straight-quote", Level.WARNING, char, _meant(char, before),
                character=_named(char), prime=before.isdecimal(), **_beside(text, at, at + 1),
            )  # fmt: skip


def _quotes_about(first: str, quote: str) -> str:
    """The pair of marks about words of the script of their first letter. Source: CLDR."""
    double = ("”", "”") if _script(first) == "Hebr" else ("“", "”")
    single = {"“": "‘", "”": "’"}
    return " ".join(mark if quote == '"' else single[mark] for mark in double)


def _meant(quote: str, before: str) -> str:
    """What a straight quote most likely stands for."""
    if before and _script(before) == "Hebr":
        return "׳" if quote == "'" else "״"
    return "’" if quote == "'" else "“ ”"


def _beside(text: str, begins: int, ends: int) -> dict[str, str]:
    """The words before and after a place of a title, two of them at most."""
    before, after = _WORDS_BEFORE.search(text[:begins]), _WORDS_AFTER.match(text[ends:])
    return {"before": before[0] if before else "", "after": after[0] if after else ""}


def _named(char: str) -> str:
    """A character and what it is called."""
    name = unicodedata.name(char, f"U+{ord(char):04X}").lower()
    return f"an invisible character ({name})" if char in _INVISIBLE else f"{char} ({name})"


def script_findings(job: ResolvedJob, title: ShapedTitle) -> Iterator[Finding]:
    """Findings on the scripts and fonts of a title."""
    scripts = {_script(char) for char in title.text}
    yield from _other_fonts(job, title)
    for topic, names in (
        ("breaks-by-dictionary", _BY_DICTIONARY),
        ("breaks-need-a-dictionary", _UNBROKEN),
    ):
        for script in sorted(scripts & names.keys()):
            yield Finding.of(topic, Level.NOTE, names[script])
    if "Mong" in scripts:
        yield Finding.of("mongolian-turned", Level.WARNING)
    yield from _stray_in_columns(job, title)


def _other_fonts(job: ResolvedJob, title: ShapedTitle) -> Iterator[Finding]:
    """Letters that a fallback font sets, and fallbacks that were not needed."""
    if not job.lettering.fallback:
        return
    (first, _own), *others = title.fonts_used()
    for font, letters in others:
        if letters:
            yield Finding.of(
                "letters-of-another-font", Level.NOTE, letters, font.name, first=first.name
            )


def _stray_in_columns(job: ResolvedJob, title: ShapedTitle) -> Iterator[Finding]:
    """Letters that the font's vertical metrics put outside their cells in a column."""
    columns = title.sets_columns and sets_columns_here(job, title)
    for letter, box in title.letters() if columns else ():
        inked = None if box is None else title.column(letter).box
        if inked is not None and not (inked[1] >= -1 - _STRAY_EM and inked[3] <= _STRAY_EM):
            font = title.font.name
            yield Finding.of("letter-outside-its-cell", Level.WARNING, letter, font=font)
            return
