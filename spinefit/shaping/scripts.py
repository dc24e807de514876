"""In which runs is a text set, by its scripts, and how does its language write it in capitals?

HarfBuzz shapes a run of one script at a time. Characters that many scripts share (figures,
spaces, marks) go with what stands before them. Where a letter reads from right to left, the
Unicode Bidirectional Algorithm gives the directions and the order; `bidi` is loaded then only.
Capitals are by the full case mapping of the Unicode Standard (chapter 3.13 and SpecialCasing.txt,
as ``str.upper`` does: sharp s becomes SS, a ligature opens) with what languages ask besides:
Turkish and Azeri keep the dot of i, Greek drops accents and breathings as CLDR's el-Upper and ICU
do (the dialytika stays, and is added where a dropped accent had kept two vowels apart; the iota
below is written beside; the lone ή keeps its accent), Lithuanian drops a dot kept under an accent.
Dutch ij needs nothing in capitals (IJ); stacked letters keep it together.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from itertools import accumulate
from typing import NamedTuple

from spinefit.shaping.breaks import clusters
from spinefit.shaping.harfbuzz import script_and_direction

CURSIVE = frozenset({"Arab", "Syrc", "Mong", "Nkoo", "Mand", "Adlm", "Rohg", "Phag"})
"""Scripts whose letters join; letterspacing would tear them."""

_LAST_LATIN = "\u024f"
_FIRST_TURNING = "\u0590"  # Hebrew; what stands before it, Greek and Cyrillic too, does not turn
_TURNING = frozenset(("R", "AL", "AN", "RLE", "RLO", "RLI"))
# Accents set a vowel apart from the next one; breathings and signs of length do not.
_STRESSES = frozenset("\u0300\u0301\u0302\u0303\u0311\u0342")
_GREEK_MARKS = _STRESSES | frozenset("\u0304\u0306\u0313\u0314\u0343")
_DIALYTIKA = "\u0308"
_IOTA_SUBSCRIPT = "\u0345"
_TURKISH = {"i": "İ", "ı": "I"}
_DOT_ABOVE = "\u0307"


class Run(NamedTuple):
    """A stretch of text: indexes of its characters, its script and its direction."""

    start: int
    end: int
    script: str
    direction: str


class Directions(NamedTuple):
    """Which way the letters of a text read, found for all of it at once.

    Attributes:
        base: 1 where the text as a whole reads from right to left, else 0.
        levels: embedding level of each character.
        classes: Bidi_Class of each character.
    """

    base: int
    levels: tuple[int, ...]
    classes: tuple[str, ...]

    def of_line(self, start: int, end: int) -> tuple[int, ...]:
        """Levels of the characters of a line cut out of the text."""
        from spinefit.shaping.bidi import line_levels

        return tuple(line_levels(self.levels, self.classes, self.base, start, end))


def directions(text: str, *, right_to_left: bool) -> Directions | None:
    """Which way the letters read; None where all of them read from left to right.

    Args:
        text: the whole text.
        right_to_left: whether it does so as a whole.
    """
    if text.isascii() or max(text) < _FIRST_TURNING or not any(map(_turns, text)):
        return None
    from spinefit.shaping.bidi import classes_of, levels_of

    base, classes = int(right_to_left), classes_of(text)
    return Directions(base, tuple(levels_of(text, base, classes)), tuple(classes))


def as_seen(text: str, right_to_left: bool) -> str:
    r"""The characters of one line from left to right as they are seen, marks after their letters.

    Args:
        text: the line.
        right_to_left: whether it reads so as a whole.

    >>> as_seen("\u202eHarbour", right_to_left=False)
    '\u202eruobraH'
    """
    found = directions(text, right_to_left=right_to_left)
    if found is None:
        return text
    from spinefit.shaping.bidi import seen_order

    letters = clusters(text)
    starts = [0, *accumulate(map(len, letters))]
    levels = found.of_line(0, len(text))
    order = seen_order([levels[start] for start in starts[:-1]])
    turned = str.maketrans("()[]{}<>«»‹›", ")(][}{><»«›‹")
    return "".join(
        letters[at].translate(turned) if levels[starts[at]] % 2 else letters[at] for at in order
    )


def _turns(char: str) -> bool:
    return char >= _FIRST_TURNING and unicodedata.bidirectional(char) in _TURNING


def itemise(text: str, levels: Sequence[int] | None = None) -> list[Run]:
    """The runs of a text from left to right as they are seen.

    Args:
        text: one line.
        levels: embedding level of each character; None where all read from left to right.
    """
    if levels is None and (text.isascii() or max(text) <= _LAST_LATIN):
        return [Run(0, len(text), "Latn", "ltr")]
    runs = _of_one_script(text)
    return runs if levels is None else _as_seen(runs, levels)


def _of_one_script(text: str) -> list[Run]:
    """Runs in the order of the text; what many scripts share goes with what stands before."""
    scripts = {found for found, _way in map(script_and_direction, set(text)) if found}
    if len(scripts) == 1:
        return [Run(0, len(text), scripts.pop(), "ltr")]
    script = next((found for found, _way in map(script_and_direction, text) if found), "Latn")
    runs: list[Run] = []
    start = 0
    for index, char in enumerate(text):
        found, _way = script_and_direction(char)
        if found in (None, "Zinh", script):
            continue
        if index > start:
            runs.append(Run(start, index, script, "ltr"))
        script, start = found or script, index
    runs.append(Run(start, len(text), script, "ltr"))
    return runs


def _as_seen(runs: list[Run], levels: Sequence[int]) -> list[Run]:
    """Runs cut where the level changes, in the order in which they are seen."""
    from spinefit.shaping.bidi import seen_order

    cut: list[Run] = []
    for start, end, script, _direction in runs:
        at = start
        for index in range(start + 1, end + 1):
            if index == end or levels[index] != levels[at]:
                cut.append(Run(at, index, script, "rtl" if levels[at] % 2 else "ltr"))
                at = index
    return [cut[at] for at in seen_order([levels[run.start] for run in cut])]


def capitals(text: str, language: str | None) -> str:
    """``text`` in capitals, in NFC.

    Args:
        text: as typed.
        language: BCP 47 tag, or None.

    >>> capitals("Straße", "de"), capitals("ışık", "tr"), capitals("Λιμάνι", "el")
    ('STRASSE', 'IŞIK', 'ΛΙΜΑΝΙ')
    """
    primary = (language or "").split("-")[0].lower()
    if primary in ("tr", "az"):
        composed = unicodedata.normalize("NFC", text)
        text = "".join(_TURKISH.get(char, char) for char in composed)
    elif primary == "lt":
        decomposed = unicodedata.normalize("NFD", text)
        text = decomposed.replace("i" + _DOT_ABOVE, "i").replace("j" + _DOT_ABOVE, "j")
    text = _greek_capitals(text)
    return unicodedata.normalize("NFC", text.upper())


def is_capitals(text: str) -> bool:
    """True where every cased letter of the text is a capital and there is at least one.

    >>> is_capitals("VOL. 2"), is_capitals("Vol. 2"), is_capitals("1870")
    (True, False, False)
    """
    return text.isupper()


def has_case(text: str) -> bool:
    """Whether a title has capitals or small letters, or no letters at all."""
    if text.isascii():
        return True
    letters = [char for char in text if char.isalpha()]
    return not letters or any(char.lower() != char.upper() for char in letters)


def _is_greek(char: str) -> bool:
    return "\u0370" <= char <= "\u03ff" or "\u1f00" <= char <= "\u1fff"


def _greek_capitals(text: str) -> str:
    """Greek letters in capitals without their accents; other characters are left alone."""
    if not any(_is_greek(char) for char in text):
        return text
    letters = [(one[0], one[1:]) for one in clusters(unicodedata.normalize("NFD", text))]
    done: list[str] = []
    accent_dropped = False
    for index, (base, marks) in enumerate(letters):
        if not _is_greek(base):
            done.append(base + marks)
            accent_dropped = False
            continue
        kept = [mark for mark in marks if mark not in _GREEK_MARKS and mark != _IOTA_SUBSCRIPT]
        accented = any(mark in _STRESSES for mark in marks)
        if accent_dropped and base.lower() in ("ι", "υ") and _DIALYTIKA not in kept:
            kept.append(_DIALYTIKA)
        iota = "Ι" * marks.count(_IOTA_SUBSCRIPT)
        if accented and not iota and _is_lone_eta(letters, index):
            kept.append("\u0301")
        done.append(base.upper() + "".join(kept) + iota)
        accent_dropped = accented and _DIALYTIKA not in kept
    return "".join(done)


def _is_lone_eta(letters: list[tuple[str, str]], index: int) -> bool:
    """The disjunctive ή (or) keeps its accent, which sets it apart from the article η."""
    if letters[index][0].lower() != "η":
        return False
    before = letters[index - 1][0] if index else " "
    after = letters[index + 1][0] if index + 1 < len(letters) else " "
    return not before.isalpha() and not after.isalpha()
