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

_FULL_STOP = "the final full stop"


class CatalogueMarks(NamedTuple):
    """The marks of a catalogue in a title.

    Attributes:
        marks: as they stand there, or in words.
        title: what is left to be lettered.
        subtitle: what stood after a colon; "" for none.
        author: who made the book, after a slash; "" for nobody.
        others: who else had a hand in it, after a semicolon; "" for nobody.
    """

    marks: tuple[str, ...]
    title: str
    subtitle: str
    author: str
    others: str


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
    "a an and at aunt by captain dame das de del der des di die doctor dr du et for frau from herr "
    "in king la lady le les little lord madame miss mr mrs of old on or pope prince princess queen "
    "saint sankt sir sister st the to uncle und von with young"
)
# Not all of them: the commonest, from memory, so that a ship's register is not taken for a person.
_FORENAMES = (
    "ada adam adele agatha agnes alan albert albrecht aldo alessandro alexander alexandra "
    "alexandre alfonso alfred alfredo alice alma amalia amelia amy anders andrea andreas andrew "
    "angela anita anja ann anna anne anneliese anthony antoine anton antonia antonio arnold "
    "arthur astrid augusta axel barbara beatrice ben benjamin bernard bernhard bertha bertil "
    "birgit björn bridget brigitte bruno camille carl carla carlos carmen carolina caroline "
    "catherine cecilia charles charlie charlotte christian christine claire clara clemens colin "
    "constance cornelia cyril dagmar daniel daphne david deborah denis diana dieter dietrich dora "
    "doris dorothea dorothy douglas duncan edda edgar edith edmond edmund eduard eduardo edvard "
    "edward edwin eileen einar eleanor elena elin elisa elisabeth elise eliza elizabeth ellen "
    "elsa else emanuel emil emile emilia emilie emily emma enid enrico enrique eric erich erik "
    "erika erna ernest ernst esther etienne eugen eugene eva evelyn felix ferdinand fernando "
    "florence florian frances francis frank franz françois freda frederick freya frida frieda "
    "friederike friedrich fritz geoffrey georg george gerald gerda gerhard gertrud gertrude "
    "gilbert giovanni gisela giuseppe giuseppina grace graham gregor greta gudrun guido guillaume "
    "gunnar gunther gustaf gustav göran günther hanna hannah hans harald harold harriet harry "
    "hedwig heidi heinrich heinz helen helena helga helmut henri henriette henrik henry herbert "
    "hermann hermine hilda hilde hildegard horst hubert hugh hugo humphrey ian ida ignaz ilse "
    "ines inga inge ingeborg ingrid irene irma isaac isaak isabel isabella ivan jack jacob "
    "jacqueline jacques jakob james jan jane janet jasper jean jens jeremy joachim joan johann "
    "johannes john jonas jonathan jorge jose josef josefine joseph josephine juan judith jules "
    "julia julian julie juliette jutta jürgen karen karl kaspar kate katharina katharine kathleen "
    "kenneth kerstin klara klaus knud konrad kurt lars laura lawrence lena leo leon leonard "
    "leopold lewis lorenzo lotte louis louisa louise lucas lucia lucie lucy ludwig luigi luis "
    "lukas luke lydia mabel magda magdalena magnus malcolm manfred manuel marc marcel marco "
    "margaret margarete margaretha margarita marguerite maria marianne marie marina mario marion "
    "marit marjorie mark marta martha marthe martin mary mathilde matilda matthew matthias maud "
    "maurice maurizio max maxim mia michael michel miguel mildred mina miriam moritz nancy "
    "natalia nathaniel nell nellie nicholas nicola nicolas niels nikolai nils nina nora norman "
    "olaf ole olga oliver olof oscar oskar oswald ottilie otto pablo paolo patricia patrick paul "
    "paula pauline pedro penelope percy peter petra philip phyllis pia pierre pieter rachel "
    "rainer ralf ralph raymond rebecca regina reinhard renate renée ricardo richard rita robert "
    "roderick rodolfo roger roland rolf ronald rosa rosalind rose rosemary rosina rudolf rudolph "
    "rupert ruth sabine sally salvatore samuel sara sarah sebastian selma sibylle sidney "
    "siegfried sigrid silvia simon simone sofia sofie sonja sophia stefan stella stephen susan "
    "sven svend sybil sylvia terence teresa thea theo theodor theodore theresa theresia thomas "
    "thérèse tilda timothy tobias tom torsten ulrich ulrike ursula valentin vera veronica victor "
    "viktor viktoria vincent vincenzo virginia waldemar walter walther wenzel werner wilfred "
    "wilhelm wilhelmina willem william winifred wolfgang xavier yvonne zoe"
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
    ('The harbour light', 'a story', 'Ann Reeve', '')
    >>> catalogue_marks(["Who’s Who 1848-1870"])
    """
    marks: list[str] = []
    whole = " / ".join(lines)
    text, author, others = _without_author(whole, marks, cut=len(lines) > 1)
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
    last = others or author or subtitle or text
    if _ends_with_a_stop(last, least_words=2 if last is text else 1):
        marks.append(_FULL_STOP)
        parts = (text, subtitle, author, others)
        text, subtitle, author, others = (part.removesuffix(".") for part in parts)
    if not marks:
        return None
    marks = list(dict.fromkeys(marks))
    return CatalogueMarks(tuple(marks), text.strip(" ,;:/"), subtitle, author, others)


def _without(
    mark: re.Pattern[str], text: str, marks: list[str], *, instead: str = "", shown: int = 60
) -> str:
    """The text without a mark, which is noted as it stands there, or its first characters."""
    marks += [f"“{found[0].strip()[:shown]}”" for found in mark.finditer(text)]
    return mark.sub(instead, text)


def _without_author(text: str, marks: list[str], *, cut: bool) -> tuple[str, str, str]:
    """What stands before a slash, the name after it, and whoever else is named there."""
    text = text if " / " in text else text.replace(" [by] ", " / [by] ")
    for found in re.finditer(" / ", text):
        title, after = text[: found.start()], text[found.end() :]
        rest, _semicolon, others = after.partition(" ; ")
        said = _MADE_BY.match(rest) or (None if cut else _FROM.match(rest))
        name = _BRACKETS.sub("", rest[said.end() :] if said else rest)
        if _is_name(name) and (said or not cut or _is_author_of(name, title)):
            marks.append("“[by]”" if rest.startswith("[by]") else "“ / ”")
            return title, _DATES.sub("", name), others
    return text, "", ""


def _is_author_of(name: str, title: str) -> bool:
    """Whether a line is an author's name rather than the rest of a title: Life of / Ann Reeve."""
    words = title.casefold().split()
    goes_on = not words or words[-1].rstrip(".") in _GOES_ON.split() or words[-1][-1] in ",:&"
    if len(words) == 1:  # which may itself begin a name: Anna / Maria Reeve
        goes_on = (
            goes_on or words[0] in _FORENAMES.split() or not _is_person(name.partition(" ")[0])
        )
    return not goes_on and _is_person(name)


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


def _ends_with_a_stop(text: str, *, least_words: int) -> bool:
    """Whether the full stop at the end is no abbreviation's, nor that of a sentence."""
    if not text.endswith(".") or text.endswith("..") or len(text.split()) < least_words:
        return False
    last = text.rsplit(maxsplit=1)[-1][:-1].strip("([“\"'").casefold()
    abbreviated = last in _ABBREVIATED.split() or not re.search("[aeiouyà-ÿ]", last) or "." in last
    return not (abbreviated or len(last) == 1 or _SENTENCE_END.search(text))
