"""Which marks of a library's catalogue stand in a title, and how is it lettered without them?

In: the lines of a title as typed. Out: the marks found, and the title, subtitle and author that
they part, or nothing. A catalogue puts a space before the colon of a subtitle and a slash before
who made the book, brackets what it supplies itself, and ends with a full stop (ISBD punctuation);
older headings have dates after a name. Only what is hardly ever a title's own is taken for such a
mark: a full stop after one word, an abbreviation or several sentences is left alone, and years
after a comma unless a name stands before them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.finding import Finding
from spinefit.vocabulary import Level

__all__ = ["CatalogueMarks", "catalogue_findings", "catalogue_marks"]

_FULL_STOP = "the final full stop"


class CatalogueMarks(NamedTuple):
    """The marks of a catalogue in a title.

    Attributes:
        marks: as they stand there, or in words.
        title: what is left to be lettered.
        subtitle: what stood after a colon; "" for none.
        author: who made the book, after a slash; "" for nobody.
    """

    marks: tuple[str, ...]
    title: str
    subtitle: str
    author: str


_BRACKETS = re.compile(r"\s*\[[^\[\]]*\]")
_MADE_BY = re.compile(
    r"(?:\[?by\]?|(?:edited|compiled|written|translated|illustrated|retold) by|ed\. by|"
    r"(?:hrsg\.|herausgegeben|bearbeitet) von|a cura di|publié par|door|av)\s+",
    re.IGNORECASE,
)
_FROM = re.compile("(?:von|par|di|por|de|af) ", re.IGNORECASE)  # which may belong to a title too
_AREA = re.compile(r"\. [-–—] .*")
_DATES = re.compile(r", (?:active |ca?\. ?)?([0-9]{4})\?? ?[-–] ?(?:([0-9]{4})\??)?\.?$")
_SURNAME_FIRST = re.compile(
    r"[^\W\d_][\w'’-]+(?:, (?:[^\W\d_]{2,}(?:-[^\W\d_]{2,})*|[^\W\d_]\.| |\([^()]*\))+)+"
)
_LIFE_YEARS = (30, 105)  # of one who wrote, so that a run of annals is none; from memory
_COPYRIGHT = re.compile(r"(?:(?<=[,.] )[cC]|(?<!\w)[c©])([0-9]{4})(?!\w)")
_NUMBER_SIGN = re.compile(r"(?<!\S)#(?=[0-9])")
_SENTENCE_END = re.compile(r"(?:[?!…]|\.\.|[a-z]{3,}\.) ")
_PARTICLES = (
    "af al and av da de del della den der di du e el et i la le og och ten ter und van von y & jr."
)
_CATCH_WORDS = frozenset(("of", "the"))
_GOES_ON = (
    "a an and at by das de del der des di die du et for from in la le les of on or the to und von "
    "with"
)
# Not all of them: the commonest, from memory, so that a ship's register is not taken for a person.
_FORENAMES = (
    "ada agnes albert alexander alfred alice andrew ann anna anne anthony antonio arthur barbara "
    "benjamin bernard carl carlos caroline catherine charles charlotte christian christine claire "
    "clara daniel david dorothy edith edmund edward eleanor eliza elizabeth ellen emil emily emma "
    "erik ernest eva florence frances francis frank frederick friedrich fritz george georg gerhard "
    "giovanni giuseppe grace gustav hannah hans harold harriet heinrich helen henri henrik henry "
    "herbert hermann hugh ida isaac isabel ivan jack jacob jacques james jan jane janet jean "
    "johann johannes john jonathan jose joseph juan judith julia karen karl kate katharine lars "
    "laura lawrence leonard lewis louis louisa louise lucy luigi margaret maria marie marion mark "
    "martha martin mary matthew maurice max michael nathaniel nicholas nils olga oliver oscar otto "
    "patrick paul peter philip pierre pieter rachel ralph rebecca richard robert roger rosa rose "
    "ruth samuel sarah simon sofia sophia stephen susan theodore thomas tom victor vincent walter "
    "wilhelm willem william"
)
# A full stop after these is their own; so it is after a letter, or letters without a vowel.
_ABBREVIATED = (
    "aufl av ave bd bde bros ca cie co col corp dec dept ed eds edn esq est etc fasc fig gen govt "
    "hon hrsg inc jan jun lieut messrs nos nov oct op prof pub rev sen sep sept ser soc ste "
    "suppl univ usw vol vols"
)


def catalogue_findings(job: ResolvedJob) -> Iterator[Finding]:
    """What a catalogue has put into a title; it is noted, and the title stays as it is."""
    found = catalogue_marks(job.title_lines, language=job.language)
    if found is not None:
        marks = ", ".join(found.marks)
        yield Finding.of("catalogue-marks", Level.NOTE, marks, found.title, found=found)


def catalogue_marks(lines: Sequence[str], *, language: str | None = None) -> CatalogueMarks | None:
    """The marks of a catalogue in a title; None for none.

    Args:
        lines: the title as typed, cut where it was to be cut: a slash in it may be such a cut.
        language: its language; in French a colon has a space before it.

    >>> catalogue_marks(["The harbour light : a story / Ann Reeve."])[1:]
    ('The harbour light', 'a story', 'Ann Reeve')
    >>> catalogue_marks(["Who’s Who 1848-1870"])
    """
    marks: list[str] = []
    text, author = _without_author(" / ".join(lines), marks, cut=len(lines) > 1)
    text = _without(_BRACKETS, text, marks) or text.strip(" []")
    subtitle = ""
    if " : " in text.strip(" :") and (language or "")[:2] != "fr":
        marks.append("“ : ”")
        text, _colon, subtitle = text.partition(" : ")
    text = _without(_AREA, text, marks, shown=3)
    if _names_before_dates(text):
        text = _without(_DATES, text, marks)
    text = _without(_COPYRIGHT, text, marks, instead=r"\1")
    text = _without(_NUMBER_SIGN, text, marks, instead="No. ")
    if author or subtitle:  # which end with the stop
        author, subtitle = author.rstrip(" ."), subtitle.rstrip(" .")
    elif _ends_with_a_stop(text):
        marks.append(_FULL_STOP)
        text = text[:-1]
    if not marks:
        return None
    return CatalogueMarks(tuple(dict.fromkeys(marks)), text.strip(" ,;:/"), subtitle, author)


def _without(
    mark: re.Pattern[str], text: str, marks: list[str], *, instead: str = "", shown: int = 60
) -> str:
    """The text without a mark, which is noted as it stands there, or its first characters."""
    marks += [f"“{found[0].strip()[:shown]}”" for found in mark.finditer(text)]
    return mark.sub(instead, text)


def _without_author(text: str, marks: list[str], *, cut: bool) -> tuple[str, str]:
    """What stands before a slash, and the name after it."""
    text = text if " / " in text else text.replace(" [by] ", " / [by] ")
    for found in re.finditer(" / ", text):
        title, rest = text[: found.start()], text[found.end() :].partition(" ; ")[0]
        said = _MADE_BY.match(rest) or (None if cut else _FROM.match(rest))
        name = _BRACKETS.sub("", rest[said.end() :] if said else rest)
        if _is_name(name) and (said or not cut or _is_author_of(name, title)):
            marks.append("“[by]”" if rest.startswith("[by]") else "“ / ”")
            return title, _DATES.sub("", name)
    return text, ""


def _is_author_of(name: str, title: str) -> bool:
    """Whether a line is an author's name rather than the rest of a title: Life of / Ann Reeve."""
    *others, last = title.split()
    goes_on = last.casefold() in _GOES_ON.split() or last[-1] in ",:&"
    return bool(others) and not goes_on and _is_person(name)


def _is_name(text: str) -> bool:
    """Whether words may be a person's name, or several."""
    words = re.split(r"[\s,;()]+", _DATES.sub("", text).strip(" .()"))
    named = [word for word in words if word.casefold() not in _PARTICLES.split()]
    return (
        2 <= len(named) <= 8
        and not {"of", "the"} & {word.casefold() for word in words}
        and all(word[:1].isupper() and not any(map(str.isdecimal, word)) for word in named)
    )


def _is_person(text: str) -> bool:
    """Whether the end of a text is surely a person's name: by a known forename or an initial."""
    words = re.findall(r"[^\W\d_][\w'’.-]*", text)[-3:]
    known = any(
        word.casefold() in _FORENAMES.split() or re.fullmatch(r"\w\.", word) for word in words
    )
    return known and words[-1][:1].isupper()


def _names_before_dates(text: str) -> bool:
    """Whether years after a comma are those of a person's life, whose surname may come first.

    With the hyphen of a catalogue, and not of a ship: the log of the Mary Ann.
    """
    found = _DATES.search(text)
    if found is None or "–" in found[0]:
        return False
    begun, ended = found.groups()
    least, most = _LIFE_YEARS
    may_be_life = ended is None or least <= int(ended) - int(begun) <= most
    before = text[: found.start()]
    if _SURNAME_FIRST.fullmatch(before):
        return _is_name(before) and (may_be_life or _is_person(before))
    of_a_ship = re.search(r"(?i)\b(?:the|das|der|die|la|le|el|il) (?:\S+ )?\S+$", before)
    return may_be_life and not of_a_ship and _is_person(before)


def _ends_with_a_stop(text: str) -> bool:
    """Whether the full stop at the end is no abbreviation's, nor that of a sentence."""
    if not text.endswith(".") or text.endswith("..") or len(text.split()) < 2:
        return False
    last = text.rsplit(maxsplit=1)[-1][:-1].strip("([“\"'").casefold()
    abbreviated = last in _ABBREVIATED.split() or not re.search("[aeiouyà-ÿ]", last) or "." in last
    return not (abbreviated or len(last) == 1 or _SENTENCE_END.search(text))
