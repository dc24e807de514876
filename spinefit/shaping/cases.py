"""How does a title look in capitals, in its own language?

Full case mapping of the Unicode Standard (chapter 3.13 and SpecialCasing.txt, as Python's
``str.upper`` does: sharp s becomes SS, a ligature opens) with what languages ask besides:
Turkish and Azeri keep the dot of i, Greek drops its accents (the dialytika stays, and is
added where a dropped accent had kept two vowels apart), Lithuanian drops the dot kept under
an accent. Dutch ij needs nothing in capitals (IJ); stacked letters keep it together.
"""

from __future__ import annotations

import unicodedata

from spinefit.shaping.breaks import clusters

__all__ = ["capitals", "is_capitals"]

_GREEK_ACCENTS = frozenset("\u0300\u0301\u0302\u0304\u0306\u0313\u0314\u0342\u0343")
_STRESSES = frozenset("\u0300\u0301\u0342")  # the breathings are none
_DIALYTIKA = "\u0308"
_IOTA_SUBSCRIPT = "\u0345"
_TURKISH = {"i": "İ", "ı": "I"}
_DOT_ABOVE = "\u0307"


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


def _is_greek(char: str) -> bool:
    return "\u0370" <= char <= "\u03ff" or "\u1f00" <= char <= "\u1fff"


def _greek_capitals(text: str) -> str:
    """Greek letters in capitals without their accents; other characters are left alone."""
    if not any(_is_greek(char) for char in text):
        return text
    letters = [(one[0], one[1:]) for one in clusters(unicodedata.normalize("NFD", text))]
    done: list[str] = []
    accent_dropped_from = ""
    for index, (base, marks) in enumerate(letters):
        if not _is_greek(base):
            done.append(base + marks)
            accent_dropped_from = ""
            continue
        kept = [mark for mark in marks if mark not in _GREEK_ACCENTS and mark != _IOTA_SUBSCRIPT]
        accented = any(mark in _GREEK_ACCENTS for mark in marks)
        if _needs_dialytika(base, accent_dropped_from) and _DIALYTIKA not in kept:
            kept.append(_DIALYTIKA)
        iota = "Ι" if _IOTA_SUBSCRIPT in marks else ""
        if not iota and _is_lone_eta(letters, index) and _STRESSES & set(marks):
            kept.append("\u0301")
        done.append(base.upper() + "".join(kept) + iota)
        accent_dropped_from = base.lower() if accented and _DIALYTIKA not in marks else ""
    return "".join(done)


def _needs_dialytika(base: str, before: str) -> bool:
    """Whether an accent dropped from ``before`` had kept it from joining ``base``."""
    low = base.lower()
    return (low == "ι" and before in ("α", "ε", "ο", "υ")) or (
        low == "υ" and before in ("α", "ε", "η", "ο")
    )


def _is_lone_eta(letters: list[tuple[str, str]], index: int) -> bool:
    """The disjunctive ή (or) keeps its accent, which sets it apart from the article η."""
    if letters[index][0].lower() != "η":
        return False
    before = letters[index - 1][0] if index else " "
    after = letters[index + 1][0] if index + 1 < len(letters) else " "
    return not before.isalpha() and not after.isalpha()
