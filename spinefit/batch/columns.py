"""What does the name of a column mean?

In: names as they stand in a heading, in JSON or in Python. Out: for each its field, text of the
back or other meaning, what its bare figures are in, and whether it is carried along. Beside our own
names the usual ones of languages are known (`columns.toml`). An unknown name is refused with
the nearest, since a slip would be taken for a remark. What its cells say is for `cells`.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from typing import NamedTuple

from spinefit.batch.model import RESULT_COLUMNS, columns_of_text
from spinefit.catalogue.tables import DATA, read
from spinefit.errors import FieldError, did_you_mean, nearest
from spinefit.job.fields import FIELDS
from spinefit.plan.model import PLANNED

CARRIED = ("id", "isbn", "shelfmark", "barcode", "note")
"""Columns that are carried along to the results without being asked for."""

ROLES = tuple(str(role) for role in PLANNED)
"""Columns that hold a text of the back."""

FIELD_NAMES = frozenset(field.name for field in FIELDS)
"""Columns that are fields of a job."""

KNOWN = (*ROLES, *(field.name for field in FIELDS), "set", "label", "order", "relation", "apart",
         "serial")  # fmt: skip
"""What a column can mean."""

_OURS = (*KNOWN, *CARRIED)
_MEASURED = ("LENGTH", "WxH", "SIZE")
MEASURES = frozenset(field.name for field in FIELDS if field.kind.metavar in _MEASURED)
"""Columns of lengths and sizes, single ones and rectangles."""

TOTAL = "total"
"""In `columns.toml` what a line of totals is called, which is no column."""

EVERY = "all"
"""Among the names to keep: every column, those that mean something too."""

# As a heading names the unit of its figures: Width (mm), width_mm, Breite [cm], Breite in mm,
# Breite/mm, Width, in, Width ["].
_WITH_UNIT = re.compile(
    r"""(.+?)(?:,|-?/)?-?(?:[\[(](?:in-)?|(?<=[-/,])(?:in-)?)(mm|cm|in|inch|inches|pt|["″])[\])]?\.?"""
)
_PARTED_WORD = re.compile(r"-[\r\n]+\s*(?=[^\W\d_])")  # at the end of a line in a narrow cell
_LEAST_ALIKE = 0.76  # two letters of five that changed places are, Dicke and die are not


class Use(NamedTuple):
    """What a column is for.

    Attributes:
        meaning: its field, text or other meaning; "" for nothing to the check.
        carried: whether it is carried along.
        unit: what its bare figures are in; "" where its name does not say.
    """

    meaning: str
    carried: bool
    unit: str = ""


class Naming(NamedTuple):
    """What the names of one table mean.

    Attributes:
        wanted: by plain name the columns to carry along, as they were asked for.
        every: whether all are carried along.
        said: by plain name what was said that a column means.
        languages: those that most of its names are of.
        carry: how a column could be carried along, with {} for its name; None where it cannot.
        say: how it could be said what it means; None where it cannot.
    """

    wanted: Mapping[str, str] = {}
    every: bool = False
    said: Mapping[str, str] = {}
    languages: frozenset[str] = frozenset()
    carry: str | None = None
    say: str | None = None

    def over(self, names: Iterable[str]) -> Naming:
        """The same for a table with these names, whose languages decide."""
        plain = [plain_name(name) for name in names]
        every = EVERY in self.wanted and EVERY not in plain
        wanted = {one: name for one, name in self.wanted.items() if not every or one != EVERY}
        return self._replace(wanted=wanted, every=every, languages=_languages(plain))

    def use_of(self, name: str) -> Use:
        """What a column is for.

        Raises:
            FieldError: nothing is known by that name, or it may mean two things.

        >>> Naming().use_of("ISBN"), Naming(wanted={"width": "width"}).use_of("Width")
        (Use(meaning='', carried=True, unit=''), Use(meaning='width', carried=True, unit=''))
        >>> Naming().use_of("Rückenbreite [cm]")
        Use(meaning='width', carried=False, unit='cm')
        """
        plain = plain_name(name)
        asked = self.every or plain in self.wanted
        meanings, unit = self._meanings(plain)
        if len(meanings) == 1:
            carried = meanings[0] in CARRIED
            return Use("" if carried else meanings[0], asked or carried, unit)
        if asked and plain:
            return Use("", carried=True)
        raise self.unknown([name])

    def _meanings(self, plain: str) -> tuple[tuple[str, ...], str]:
        """What a name may mean, and the unit it ends in."""
        bulk, unit = parted(plain)
        for name in (plain, bulk):
            found = (self.said[name],) if name in self.said else _meanings(name, self.languages)
            if found and MEASURES.issuperset(found):
                return found, unit
            if found and name == plain:
                return found, ""
        return (), ""

    def unknown(self, names: Sequence[str]) -> FieldError:
        """The fault of names of which nothing is known, with what could be done about them."""
        if not plain_name(names[0]):
            return FieldError("a column without a name", remedy="name it")
        like = [self._nearest(name) for name in names]
        names = [on_one_line(name) for name in names]
        several = len(names) > 1
        cures = [self.carry.format(EVERY if several else names[0])] if self.carry else []
        cures += [self.say.format(names[0])] if self.say else []
        if several:
            said = [f"'{name}'" for name in names[:_FEW]]
            said = [f"{one} ({how}?)" if how else one for one, how in zip(said, like, strict=False)]
            more = f" and {len(names) - _FEW} more" if len(names) > _FEW else ""
            what, value = f"no columns of these names are known: {', '.join(said)}{more}", None
        else:
            what, value = "no column of that name is known", names[0]
        remedy = f"give {' or '.join(cures)}" if cures else "leave it out"
        if not several and like[0]:
            remedy = f"did you mean {like[0]}?" + (f" otherwise {remedy}" if cures else "")
        return FieldError(what, value=value, remedy=remedy)

    def _nearest(self, name: str) -> str | None:
        """What may have been meant by a name of which nothing is known."""
        plain = plain_name(name)
        meanings, _ = self._meanings(plain)
        usual = (name for name, means in _usual().items() if self.languages & means.keys())
        like = nearest(parted(plain)[0], (*_OURS, *usual), least=_LEAST_ALIKE)
        like = _spelt().get(like or "", like)
        return " or ".join(f"'{one}'" for one in meanings or filter(None, [like])) or None

    def taken(self, names: Iterable[str]) -> str | None:
        """A line about names that are not ours, with what each is taken for; None without any."""
        found = []
        for name in names:
            plain = plain_name(name)
            meanings, _ = self._meanings(plain)
            if len(meanings) == 1 and not {plain, parted(plain)[0]} & {*_OURS, *self.said}:
                found.append(f"'{on_one_line(name)}={meanings[0]}'")
        return f"columns taken by their usual names: {', '.join(found)}" if found else None


_FEW = 12


def said_of_columns(said: Iterable[str]) -> dict[str, str]:
    """What was said of columns, by plain name.

    Args:
        said: such as ``Breite=width``.

    Raises:
        FieldError: nothing that a column can mean, or something twice.

    >>> said_of_columns(["Stärke=width"])
    {'stärke': 'width'}
    """
    found: dict[str, str] = {}
    for typed in said:
        name, _, meant = typed.rpartition("=")
        plain, meaning = plain_name(name), plain_name(meant)
        remedy = "leave one of them out"
        if not plain or not meaning:
            what, remedy = "no column with what it means", "write it as 'Breite=width'"
        elif meaning not in _OURS:
            what = "nothing that a column can mean"
            remedy = did_you_mean(meaning, _OURS, otherwise="such as title, width or height")
        elif plain in found:
            what = "said twice of one column"
        elif meaning in KNOWN and meaning in found.values():
            what = "said of two columns"
        else:
            found[plain] = meaning
            continue
        raise FieldError(what, value=typed, where="--column", remedy=remedy)
    return found


@cache
def _spelt() -> Mapping[str, str]:
    """The usual names with their accents, by what is compared of them."""
    rows = read(DATA / "columns.toml").values()
    lists = (names for row in rows for key, names in row.items() if key in _OURS)
    return {_bare(plain_name(name)): name for names in lists for name in names}


@cache
def _usual() -> Mapping[str, Mapping[str, str]]:
    """By usual name what it means in each language."""
    found: dict[str, dict[str, str]] = {}
    for language, row in read(DATA / "columns.toml").items():
        for meaning in row.keys() & set(_OURS):
            for name in row[meaning]:
                found.setdefault(_bare(plain_name(name)), {})[language] = meaning
    return found


def _bare(plain: str) -> str:
    """A plain name without accents, points, and a colon at its end."""
    decomposed = unicodedata.normalize("NFD", plain.replace(".", "").rstrip(":"))
    return "".join(char for char in decomposed if not unicodedata.combining(char))


def parted(plain: str) -> tuple[str, str]:
    """A plain name without the unit it ends in, and that.

    >>> parted("breite-[cm]"), parted("width,-in"), parted("höhe-/-mm"), parted("title")
    (('breite', 'cm'), ('width', 'in'), ('höhe', 'mm'), ('title', ''))
    """
    found = _WITH_UNIT.fullmatch(plain)
    return (found[1], "in" if found[2] in _MARKS_OF_INCHES else found[2]) if found else (plain, "")


_MARKS_OF_INCHES = ('"', "″")


def _by_language(plain: str) -> Mapping[str, str]:
    return {"": plain} if plain in _OURS else _usual().get(_bare(plain), {})


@cache
def _meanings(plain: str, languages: frozenset[str]) -> tuple[str, ...]:
    """What a name may mean, where most others are of these languages."""
    by_language = _by_language(plain)
    likely = {by_language[one] for one in by_language.keys() & languages}
    return tuple(sorted(likely or set(by_language.values())))


def _languages(plain: Iterable[str]) -> frozenset[str]:
    """The languages that most names are of which mean one thing only."""
    found = [_by_language(name) or _by_language(parted(name)[0]) for name in plain]
    hits = Counter(one for each in found if len(set(each.values())) == 1 for one in each if one)
    most = max(hits.values(), default=0)
    return frozenset(language for language, count in hits.items() if count == most)


def plain_name(name: str) -> str:
    """A column's name without what is forgiven.

    >>> plain_name(" Band_Height "), plain_name("ISBN"), plain_name("Rücken-" + chr(10) + "breite")
    ('band-height', 'isbn', 'rückenbreite')
    """
    plain = unicodedata.normalize("NFC", _PARTED_WORD.sub("", name)).casefold()
    return "-".join(plain.replace("_", " ").replace("-", " ").split())


def on_one_line(name: str) -> str:
    """A column's name as it can be typed."""
    return " ".join(_PARTED_WORD.sub("", name).split()) if "\n" in name else name


def further_texts(meanings: Iterable[str]) -> tuple[str, ...]:
    """Which texts beside the title stand in columns that mean this.

    >>> further_texts(["date", "width", "title", "author"])
    ('author', 'date')
    """
    found = set(meanings)
    return tuple(role for role in ROLES if role in found and role != "title")


RESULTS = frozenset(map(plain_name, RESULT_COLUMNS))
"""Plain names of the columns of the results."""

_FOUND = "found-"
_ANSWERED = ("verdict", "largest-pt")  # no list of books has these of its own


def earlier_answers(heading: Sequence[str]) -> frozenset[int]:
    """Places of the columns that an earlier run has written beside its rows, from 0.

    Such a column says nothing of the book, though `lines` or `reading` are names of fields too:
    it is passed over, and written anew.

    >>> sorted(earlier_answers(["line", "title", "lines", "verdict", "largest_pt", "lines"]))
    [0, 3, 4, 5]
    """
    plain = [plain_name(name) for name in heading]
    own = f"{_FOUND}{_ANSWERED[0]}"  # where the list has a column of its own of that name
    first = own if own in plain else _ANSWERED[0]
    if first not in plain or _ANSWERED[1] not in plain:
        return frozenset()
    begin = plain.index(first)
    before = [_by_language(name).values() for name in plain[: begin - 1]]
    if begin and plain[begin - 1] == "title" and any("title" in means for means in before):
        begin -= 1  # written beside a column that means the same by another name
    ours = RESULTS.union(*(map(plain_name, columns_of_text(role)) for role in ROLES))
    ours |= {f"{_FOUND}{name}" for name in ours}
    places = (at for at, name in enumerate(plain) if name in ours and at > begin)
    line = f"{_FOUND}line" if f"{_FOUND}line" in plain[:begin] else "line"
    return frozenset((begin, *places, *(at for at in range(begin) if plain[at] == line)))
