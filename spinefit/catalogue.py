"""What does the trade know, and who says so?

Loads the tables in ``spinefit/data`` into frozen rows, each file at most once and only when
asked for. Every number is a `Sourced`; a row without unit, source or status is refused.
Fonts are listed here too (their index lies beside the font files). A rim: it reads files.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from spinefit.errors import CatalogueError, FieldError, nearest
from spinefit.provenance import Sourced, Status
from spinefit.vocabulary import BindingSide, Firmness, Reading
from spinefit.words import folded

__all__ = [
    "FontRow",
    "Market",
    "Method",
    "NumberWords",
    "Rules",
    "TitleWords",
    "font_rows",
    "fonts_folder",
    "iso_3166_codes",
    "market",
    "markets",
    "method",
    "methods",
    "number_words",
    "rules",
    "title_words",
]

_DATA = Path(__file__).parent / "data"


class Rules(Mapping[str, Sourced]):
    """The numbers of the trade by name, ``"edge.narrow_mm"`` and the like."""

    __slots__ = ("_rows",)

    def __init__(self, rows: Mapping[str, Sourced]) -> None:
        self._rows = dict(rows)

    def __getitem__(self, name: str) -> Sourced:
        return self._rows[name]

    def __iter__(self) -> Any:
        return iter(self._rows)

    def __len__(self) -> int:
        return len(self._rows)

    def value(self, name: str) -> float:
        """The bare number of a rule, in the unit its row states."""
        return self._rows[name].value

    def replaced(self, **values: float) -> Rules:
        """A copy with some numbers changed; ``__`` stands for the point in a name."""
        rows = dict(self._rows)
        for key, number in values.items():
            name = key.replace("__", ".", 1)
            old = rows[name]
            rows[name] = Sourced(number, old.unit, "set by hand", Status.PRACTICE)
        return Rules(rows)


class Market(NamedTuple):
    """What shelves of a market expect of longitudinal lettering.

    Attributes:
        code: ISO 3166 alpha-2 code, or "" for the international standard.
        name: in English.
        languages: BCP 47 tags, the main one first.
        reading: descending, ascending, or upright (a column of upright characters).
        firmness: how far shelves agree.
        binding_side: where the spine is when the front cover faces the reader.
        source, status: who says so, and how far it may be trusted.
        note: what a binder should know besides.
    """

    code: str
    name: str
    languages: tuple[str, ...]
    reading: Reading
    firmness: Firmness
    binding_side: BindingSide
    source: str
    status: Status
    note: str = ""


class Method(NamedTuple):
    """What a way of lettering can do.

    Attributes:
        key: the name it is asked for by.
        name: the name it is spoken of by.
        smallest: smallest size in points.
        step: steps of its sizes in points.
        placing: how far it may be out of place in mm, either way.
    """

    key: str
    name: str
    smallest: Sourced
    step: Sourced
    placing: Sourced


class TitleWords(NamedTuple):
    """Small words of a language, folded, for judging where a title breaks.

    Attributes:
        articles: must not be stranded at the end of a line.
        catch_words: articles, prepositions, conjunctions; must not stand alone on a line.
    """

    articles: frozenset[str]
    catch_words: frozenset[str]


class FontRow(NamedTuple):
    """A bundled font.

    Attributes:
        name: what a person types.
        file: its path under the fonts folder.
        kind, use: what it is and what for.
        licence, copyright, version, origin: where it comes from.
        scripts: ISO 15924 codes of the scripts it covers.
        small_capitals: True where it has true small capitals.
        axes: variation axes set for this face.
    """

    name: str
    file: str
    kind: str
    use: str
    licence: str
    copyright: str
    version: str
    origin: str
    scripts: tuple[str, ...]
    small_capitals: bool
    axes: tuple[tuple[str, float], ...]


def _read(path: Path) -> dict[str, Any]:
    with path.open("rb") as file:
        return tomllib.load(file)


def _read_table(path: Path, name: str) -> dict[str, Any] | None:
    """One table of a file, without parsing the others; None where there is none.

    In our own data files a line that begins with a bracket is a table's head and nothing else.
    """
    text = path.read_text(encoding="utf-8")
    start = text.find(f"\n[{name}]")
    if start < 0:
        return None
    end = text.find("\n[", start + 1)
    table: dict[str, Any] = tomllib.loads(text[start : end if end >= 0 else None])[name]
    return table


def _sourced(row: Any, where: str) -> Sourced:
    try:
        found = Sourced(float(row["value"]), row["unit"], row["source"], Status(row["status"]))
    except (KeyError, TypeError, ValueError) as fault:
        raise CatalogueError(
            "a number needs value, unit, source and status", where=where, value=fault
        ) from None
    if not found.source:
        raise CatalogueError("a number needs a source", where=where)
    return found


@lru_cache(maxsize=1)
def rules() -> Rules:
    """All numbers of the trade that are not a method's or a market's."""
    tables = _read(_DATA / "rules.toml")
    return Rules(
        {
            f"{group}.{name}": _sourced(row, f"rules.toml {group}.{name}")
            for group, rows in tables.items()
            for name, row in rows.items()
        }
    )


@lru_cache(maxsize=1)
def methods() -> dict[str, Method]:
    """All methods by key."""
    return {
        key: Method(
            key=key,
            name=row["name"],
            smallest=_sourced(row.get("smallest_pt"), f"methods.toml {key}.smallest_pt"),
            step=_sourced(row.get("step_pt"), f"methods.toml {key}.step_pt"),
            placing=_sourced(row.get("placing_mm"), f"methods.toml {key}.placing_mm"),
        )
        for key, row in _read(_DATA / "methods.toml").items()
    }


def method(key: str) -> Method:
    """The method of that name.

    Raises:
        FieldError: there is none.
    """
    known = methods()
    if key in known:
        return known[key]
    like = nearest(key, known)
    hint = f"did you mean '{like}'?" if like else f"known methods: {', '.join(known)}"
    raise FieldError("no such method", value=key, where="--method", remedy=hint)


@lru_cache(maxsize=1)
def markets() -> dict[str, Market]:
    """All markets by ISO 3166 code; "" is the international standard, for no market."""
    rows = _read(_DATA / "markets.toml")
    found = (_market_of(key, row) for key, row in rows.items())
    return {row.code: row for row in found}


_INTERNATIONAL = "international"


@lru_cache(maxsize=256)
def _market_row(code: str) -> Market | None:
    if code and not (code.isascii() and code.isalpha()):
        return None
    row = _read_table(_DATA / "markets.toml", code or _INTERNATIONAL)
    return None if row is None else _market_of(code or _INTERNATIONAL, row)


def _market_of(key: str, row: dict[str, Any]) -> Market:
    try:
        return Market(
            code="" if key == _INTERNATIONAL else key,
            name=row["name"],
            languages=tuple(row["languages"]),
            reading=Reading(row["reading"]),
            firmness=Firmness(row["firmness"]),
            binding_side=BindingSide(row["binding_side"]),
            source=row["source"],
            status=Status(row["status"]),
            note=row.get("note", ""),
        )
    except (KeyError, ValueError) as fault:
        raise CatalogueError(
            "a market's row is incomplete", where=f"markets.toml {key}", value=fault
        ) from None


@lru_cache(maxsize=1)
def iso_3166_codes() -> dict[str, str]:
    """Every assigned ISO 3166-1 alpha-2 code and its country's name."""
    lines = (_DATA / "iso3166.txt").read_text(encoding="utf-8").splitlines()
    pairs = (line.split(" ", 1) for line in lines if line and not line.startswith("#"))
    return {code: name for code, name in pairs}


def market(code: str | None) -> tuple[Market, bool]:
    """The row for a country code, and whether there is one of its own.

    Args:
        code: ISO 3166-1 alpha-2, case forgiven; None for no market.

    Returns:
        The market's row and True; the international standard's row and False where the code
        is a country's that we know nothing of.

    Raises:
        FieldError: the code is no country's.
    """
    wanted = "" if code is None else code.strip().upper()
    row = _market_row(wanted) if wanted or code is None else None
    if row is not None:
        return row, True
    if wanted in iso_3166_codes():
        return market(None)[0], False
    raise FieldError(
        "no ISO 3166 country code", value=code, where="--market", remedy=_country_hint(wanted)
    )


def _country_hint(wanted: str) -> str:
    if wanted == "UK":
        return "the United Kingdom is GB"
    names = {name: code for code, name in iso_3166_codes().items()}
    like = nearest(wanted, names)
    if like:
        return f"{like} is {names[like]}"
    return "give two letters such as GB, US or DE; 'spinefit markets' lists them"


@lru_cache(maxsize=64)
def title_words(language: str | None) -> TitleWords:
    """Small words of a language; English ones where the language is not known.

    Args:
        language: BCP 47 tag, of which the primary subtag counts.
    """
    path = _DATA / "catchwords.toml"
    row = _read_table(path, _primary(language) or "en") or _read_table(path, "en") or {}
    return TitleWords(
        articles=frozenset(map(folded, row.get("articles", ()))),
        catch_words=frozenset(map(folded, row.get("catch_words", ()))),
    )


@lru_cache(maxsize=1)
def fonts_folder() -> Path:
    """Where the bundled fonts lie: inside the installed package, or beside it in a checkout."""
    inside = Path(__file__).parent / "fonts_open"
    return inside if inside.is_dir() else Path(__file__).parent.parent / "fonts_open"


@lru_cache(maxsize=1)
def font_rows() -> tuple[FontRow, ...]:
    """All bundled fonts, the default one first."""
    rows = _read(fonts_folder() / "fonts.toml")["font"]
    return tuple(
        FontRow(
            name=row["name"],
            file=row["file"],
            kind=row["kind"],
            use=row["use"],
            licence=row["licence"],
            copyright=row["copyright"],
            version=row["version"],
            origin=row["origin"],
            scripts=tuple(row["scripts"]),
            small_capitals=bool(row["small_capitals"]),
            axes=tuple(sorted((tag, float(at)) for tag, at in row.get("axes", {}).items())),
        )
        for row in rows
    )


class NumberWords(NamedTuple):
    """Words that a number is not parted from, folded, without their point.

    Attributes:
        before_number: the word comes first: Vol. 2.
        after_number: the number comes first: 2. Band.
    """

    before_number: frozenset[str]
    after_number: frozenset[str]


@lru_cache(maxsize=64)
def number_words(language: str | None) -> NumberWords:
    """Words that number things, in a language and in English; in all where it is not known."""
    path, primary = _DATA / "abbreviations.toml", _primary(language)
    own = _read_table(path, primary)
    if own is not None:
        rows = [own, _read_table(path, "en") or {}]
    else:
        rows = [row for key, row in _read(path).items() if key != "rules"]
    return NumberWords(
        before_number=_folded_words(rows, "before_number"),
        after_number=_folded_words(rows, "after_number"),
    )


def _folded_words(rows: list[dict[str, Any]], key: str) -> frozenset[str]:
    return frozenset(folded(word) for row in rows for word in row.get(key, ()))


def _primary(language: str | None) -> str:
    """The first part of a language tag, lower case; "" for none."""
    found = (language or "").split("-")[0].lower()
    return found if found.isalpha() else ""
