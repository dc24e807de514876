"""Which characters of a title would be cut as a mistake?

In: the title as lettered. Out: findings that name the character, its code point and its
place: letters of another script inside a word, characters without ink, straight quotes. Only
titles that hold more than plain letters are looked at. Leaves the spelling of words alone.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterator

from spinefit.catalogue.letters import lookalikes
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.provenance import Status
from spinefit.shaping.harfbuzz import script_and_direction
from spinefit.vocabulary import Level

__all__ = ["spelling_findings"]

_UTS_39 = "Unicode Technical Standard #39, Unicode Security Mechanisms, confusables"
_STANDARD = "The Unicode Standard, chapter 23.2, Layout Controls"
_PRACTICE = "common practice: quotes and apostrophes in a title are curly, not a typewriter's"
_MIXED = frozenset({"Latn", "Grek", "Cyrl"})  # scripts whose letters are taken for each other
_WORD = re.compile(r"[^\W\d_]+(?:[\u0300-\u036f][^\W\d_]*)*")
_TWO_SPACES = re.compile(r"\s{2,}")
_INVISIBLE = frozenset("\u00ad\u034f\u061c\u180e\u200b\u200c\u200d\u200e\u200f\u2060\ufeff")
_JOINERS = frozenset("\u200c\u200d")
_BREAK_MARKS = frozenset("\u200b\u2060")
_MARKS_OF_DIRECTION = frozenset("\u061c\u200e\u200f")
# Scripts in whose words a zero width space shows where a line may break, a word joiner where not.
_WITHOUT_SPACES = frozenset({"Thai", "Laoo", "Khmr", "Mymr", "Tibt", "Java", "Bali", "Lana"})
# Scripts in which the zero width joiners choose the form of a letter.
_FORMS_CHOSEN = frozenset(
    [
        "Arab",
        "Syrc",
        "Mong",
        "Nkoo",
        "Mand",
        "Adlm",
        "Rohg",
        "Phag",
        "Deva",
        "Beng",
        "Guru",
        "Gujr",
        "Orya",
        "Taml",
        "Telu",
        "Knda",
        "Mlym",
        "Sinh",
        "Khmr",
        "Mymr",
        "Tibt",
        "Java",
        "Bali",
        "Newa",
    ]
)


def spelling_findings(job: ResolvedJob, text: str) -> list[Finding]:
    """What should be looked at before the title is cut.

    Args:
        job: the resolved job; the letters of tools have no two forms of an apostrophe.
        text: the title as lettered.
    """
    found = [*_foreign_letters(text), *_without_ink(text), *_spaces(text)]
    if job.lettering.tools is None:
        found.extend(_straight_quotes(text))
    return found


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
    return Finding(
        topic="letter-of-another-script",
        level=Level.WARNING,
        value=char,
        limit=like or None,
        source=_UTS_39,
        status=Status.PUBLISHED,
        facts={"place": at, "word": word, "character": _named(char)},
    )


def _without_ink(text: str) -> Iterator[Finding]:
    """Characters that leave no ink, where their neighbours do not need them."""
    right_to_left = any(unicodedata.bidirectional(char) in ("R", "AL") for char in text)
    for at, char in enumerate(text):
        if char not in _INVISIBLE or (char in _MARKS_OF_DIRECTION and right_to_left):
            continue
        beside = {_script(one) for one in text[max(0, at - 1) : at] + text[at + 1 : at + 2]}
        if char in _JOINERS and beside & _FORMS_CHOSEN:
            continue
        if char in _BREAK_MARKS and beside & _WITHOUT_SPACES:
            continue
        yield Finding(
            topic="character-without-ink",
            level=Level.WARNING,
            value=char,
            source=_STANDARD,
            status=Status.PUBLISHED,
            facts={
                "character": _named(char),
                "before": text[:at][-8:],
                "after": text[at + 1 :][:8],
            },
        )


def _spaces(text: str) -> Iterator[Finding]:
    """Two spaces where one was meant; plain ones were closed up before."""
    for match in _TWO_SPACES.finditer(text):
        yield Finding(
            topic="two-spaces",
            level=Level.WARNING,
            value=" ".join(f"U+{ord(char):04X}" for char in match.group()),
            source="common practice: one space between words",
            status=Status.PRACTICE,
            facts={"before": text[: match.start()][-8:], "after": text[match.end() :][:8]},
        )


def _straight_quotes(text: str) -> Iterator[Finding]:
    """A typewriter's quotes and apostrophes; after a figure they may be meant as primes."""
    for at, char in enumerate(text):
        if char not in "'\"":
            continue
        yield Finding(
            topic="straight-quote",
            level=Level.WARNING,
            value=char,
            limit=_meant(char, text[:at][-1:]),
            source=_PRACTICE,
            status=Status.PRACTICE,
            facts={
                "character": _named(char),
                "before": text[:at][-8:],
                "after": text[at + 1 :][:8],
                "prime": text[:at][-1:].isdecimal(),
            },
        )


def _meant(quote: str, before: str) -> str:
    """What a straight quote most likely stands for."""
    if before and _script(before) == "Hebr":
        return "׳" if quote == "'" else "״"
    return "’" if quote == "'" else "“ ”"


def _named(char: str) -> str:
    return f"U+{ord(char):04X} {unicodedata.name(char, '')}".strip()
