"""What are the words to be lettered, and in which language are they?

In: the title as typed. Out: its forced lines in Unicode normalisation form C with stray
spaces closed up, and the language that its small words speak for. What cannot be lettered
(control characters, half characters, nothing at all) is refused here.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from spinefit.catalogue import Market, title_words
from spinefit.catalogue.words import folded
from spinefit.errors import FieldError
from spinefit.vocabulary import BindingSide

# Main languages of our markets that are not written in Latin letters.
_NOT_LATIN = frozenset(
    ("am", "ar", "be", "bg", "bn", "ckb", "el", "fa", "he", "hi", "hy", "ja", "ka")
).union(("km", "ko", "lo", "mk", "mn", "my", "ne", "ru", "th", "ti", "uk", "ur", "zh"))
# Languages written from right to left, unless their tag names another script.
_RIGHT_TO_LEFT = frozenset(
    ["ar", "ckb", "dv", "fa", "he", "iw", "ps", "sd", "syr", "ug", "ur", "yi"]
)
_RIGHT_TO_LEFT_SCRIPTS = frozenset(("adlm", "arab", "hebr", "nkoo", "rohg", "syrc", "thaa"))
# Compiled on need, as large sets take milliseconds to compile.
_COLUMN_LETTER = (
    "[\u3041-\u30ff\u3105-\u312f\u31a0-\u31bf\u31f0-\u31ff\u3400-\u4dbf\u4e00-\u9fff"
    "\ua000-\ua48c\uac00-\ud7a3\uf900-\ufaff\uff66-\uff9f\U00020000-\U0003ffff]"
)
SHORT_NUMBER = r"(?<![A-Za-z0-9])(?<![0-9][.,:/–-])[0-9]{1,2}(?![A-Za-z0-9])(?![.,:/–-][0-9])"
"""A number of one or two figures that is no part of a longer one, nor of a Latin word: among
upright letters in a column it stands level in one cell (UAX #50; common practice)."""

_LONGEST_TITLE = 2000
_ATTACHED = frozenset(("Mn", "Mc", "Me", "Cf"))  # what stands on the letter before, or unseen
_MOST_ATTACHED = 30
_FORCED = re.compile(" /(?= )")  # so that two breaks in a row leave an empty line
# Plain spaces and tabs of width close up; a no-break space binds words and stays.
_SPACES = re.compile("[ \u1680\u2000-\u2006\u2008-\u200a\u205f\u3000]+")
_ENDS_OF_WORDS = frozenset("’”–—…»›")
_UNASSIGNED = frozenset("\x81\x8d\x8f\x90\x9d")  # bytes that windows-1252 has no letter for
_CONTROL = frozenset({"Cc", "Cs", "Cn", "Zl", "Zp"})


def title_lines(title: str, *, slash_breaks: bool) -> tuple[str, ...]:
    """The title cut at its forced breaks, spaces closed up, in NFC.

    Args:
        title: as typed.
        slash_breaks: whether a slash between spaces forces a break.

    Raises:
        FieldError: nothing to letter, too long, or a character that is no letter.

    >>> title_lines("The  Harbour / Light", slash_breaks=True)
    ('The Harbour', 'Light')
    """
    refuse_long(title)
    plain = title.isascii() and title.isprintable()  # no control, no mark, no space but " "
    if not plain:
        _refuse_control(title)
        _refuse_heap(title)
    text = title if plain else unicodedata.normalize("NFC", title)
    lines = _FORCED.split(text) if slash_breaks and " / " in text else [text]
    if plain:
        cleaned = tuple([" ".join(line.split()) for line in lines])
    else:
        cleaned = tuple([_SPACES.sub(" ", line).strip(" ") for line in lines])
    if not all(cleaned if plain else map(_has_ink, cleaned)):
        what = "no letters in the title" if len(cleaned) == 1 else "a line without letters"
        raise FieldError(what, value=title, where="TITLE", remedy="give the words to letter")
    return cleaned


def read_again(word: str) -> str:
    """What a word was whose UTF-8 was read as Windows' western letters; "" where it was not.

    >>> read_again("CafÃ©"), read_again("Café"), read_again("CAFÉ’S")
    ('Café', '', '')
    """
    try:
        raw = (char.encode("latin-1" if char in _UNASSIGNED else "cp1252") for char in word)
        meant = b"".join(raw).decode("utf-8")
    except UnicodeError:
        return ""
    odd = [char for char in meant if not char.isascii()]
    if len(odd) == 1:
        # A capital with an accent before an apostrophe or a dash is a pair of such bytes too.
        at = meant.index(odd[0])
        lone = word[at + 1 : at + 2] in _ENDS_OF_WORDS and not word[at + 2 : at + 3].islower()
        if lone or not odd[0].isprintable():
            return ""
    return (read_again(meant) or meant) if odd else ""


def _refuse_control(title: str) -> None:
    if _CONTROL.isdisjoint(map(unicodedata.category, title)):
        return
    for char in title:
        if unicodedata.category(char) in _CONTROL:
            meant = [again for word in title.split(" ") if (again := read_again(word))]
            raise FieldError(
                f"the title holds U+{ord(char):04X}, which cannot be lettered",
                value=title,
                where="TITLE",
                remedy=f"it looks like {meant[0]}, read in a wrong encoding: save it as UTF-8"
                if meant
                else "take it out; to force a line break write ' / '",
            )


def _refuse_heap(title: str) -> None:
    """Refuse more marks on one letter than Unicode's stream-safe text has (UAX #15, D3)."""
    if _ATTACHED.isdisjoint(map(unicodedata.category, title)):
        return
    run = 0
    for char in title:
        run = run + 1 if unicodedata.category(char) in _ATTACHED else 0
        if run > _MOST_ATTACHED:
            raise FieldError(
                f"more than {_MOST_ATTACHED} marks on one letter, such as U+{ord(char):04X}",
                value=title,
                where="TITLE",
                remedy="take out those that are not meant",
            )


def refuse_long(title: str) -> None:
    """Refuse a title that no back holds before anything looks at its characters.

    Raises:
        FieldError: it is too long.
    """
    if len(title) > _LONGEST_TITLE:
        raise FieldError(
            f"a title of {len(title)} characters is too long",
            where="TITLE",
            remedy=f"at most {_LONGEST_TITLE} can be lettered",
        )


def _has_ink(line: str) -> bool:
    return any(unicodedata.category(char)[0] not in "ZCM" for char in line)


def reads_right_to_left(text: str, language: str | None = None) -> bool:
    """True where a title as a whole reads from right to left.

    Its language decides where that is written from right to left and the title has such a
    letter; otherwise its first letter of either direction (Unicode Standard Annex #9, P2).

    >>> reads_right_to_left("אור 12"), reads_right_to_left("NAVIS אור")
    (True, False)
    >>> reads_right_to_left("NAVIS אור", "he")
    True
    """
    if text.isascii():
        return False
    strong = [
        kind != "L" for kind in map(unicodedata.bidirectional, text) if kind in ("L", "R", "AL")
    ]
    if not any(strong):
        return False
    return strong[0] or _written_right_to_left(language)


def sets_upright(text: str) -> bool:
    """True where the title has a letter of a script that is also written in columns.

    Chinese, Japanese, Korean and Yi; not Mongolian, whose columns run the other way.
    """
    return not text.isascii() and re.search(_COLUMN_LETTER, text) is not None


def stands_along(text: str) -> bool:
    """True where the title has a Mongolian letter: its columns are lines turned clockwise.

    Source: The Unicode Standard, chapter 13.5.
    """
    return not text.isascii() and any("\u1820" <= char <= "\u18aa" for char in text)


def usual_binding_side(text: str, market: Market, *, right_to_left: bool) -> BindingSide:
    """Where a book of such a title is bound as a rule: its script speaks before its market.

    A book opens the way it is read (computed from its geometry): a right-to-left title
    is bound at the right anywhere, and a title without such letters at the left where only the
    market's script would have it at the right.
    """
    if right_to_left:
        return BindingSide.RIGHT
    if not (market.languages and _written_right_to_left(market.languages[0])):
        return market.binding_side
    foreign = not any(unicodedata.bidirectional(char) in ("R", "AL") for char in text)
    return BindingSide.LEFT if foreign else market.binding_side


@lru_cache(maxsize=64)
def _written_right_to_left(language: str | None) -> bool:
    primary, *others = (language or "").lower().split("-")
    scripts = [part for part in others if len(part) == 4 and part.isalpha()]
    if scripts:
        return scripts[0] in _RIGHT_TO_LEFT_SCRIPTS
    return primary in _RIGHT_TO_LEFT


def guess_language(lines: tuple[str, ...], languages: tuple[str, ...]) -> str | None:
    """The language a title's small words belong to.

    The market's languages are asked first, then English, since a book in English may be
    sold anywhere; most small words win, and the earlier language on a tie.

    Args:
        lines: the title.
        languages: BCP 47 tags of the market, the main one first.

    Returns:
        A BCP 47 tag; the market's only language where no small word speaks; or None.

    >>> guess_language(("The Light of the Harbour",), ("de",))
    'en'
    """
    words = [word for line in lines for word in folded(line).split()]
    best, most = languages[0] if len(languages) == 1 else None, 0
    if best is not None and best.split("-")[0] in _NOT_LATIN and "".join(lines).isascii():
        best = None
    for language in dict.fromkeys((*languages, "en")):
        known = title_words(language).catch_words
        count = len([word for word in words if word in known])
        if count > most:
            best, most = language, count
    return best
