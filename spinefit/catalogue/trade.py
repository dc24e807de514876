"""Which numbers does the trade give, what do the shelves of a country expect, and who says so?

Every number of ``rules.toml`` that is neither a method's nor a market's, by name, with its
unit, source and status; `Rules.replaced` changes some of them in a copy. Rows of
``markets.toml`` by ISO 3166 code, and by language where titles of one run another way than their
market's others; a plain check parses one or two of them, and a country without a row of its own
follows the international standard. Rows of ``sheet.toml``, papers and the numbers of a
page, are read only where something is drawn.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, NamedTuple

from spinefit.catalogue.tables import DATA, read, read_lines, read_table, sourced
from spinefit.errors import CatalogueError, FieldError, nearest
from spinefit.vocabulary import BindingSide, Firmness, Reading, Sourced, Status

_SHEET = "sheet.toml"
_MARKETS = "markets.toml"
_INTERNATIONAL = "international"
_CODE_LENGTH = 2  # no name of a country is as short: likeness of two letters says nothing


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

    def __hash__(self) -> int:
        return hash(frozenset(self._rows.items()))

    def get(self, name: str, default: Any = None) -> Any:
        """The row of that name; a mapping's own way there takes three times as long."""
        return self._rows.get(name, default)

    def value(self, name: str) -> float:
        """The bare number of a rule, in the unit its row states."""
        return self._rows[name].value

    def replaced(self, **values: float) -> Rules:
        """A copy with some numbers changed; ``__`` stands for the point in a name."""
        rows = dict(self._rows)
        for key, number in values.items():
            name = key.replace("__", ".", 1)
            old = rows[name]
            rows[name] = Sourced(number, old.unit, "set by hand", Status.CHOSEN)
        return Rules(rows)


@lru_cache(maxsize=1)
def rules() -> Rules:
    """All numbers of the trade that are not a method's or a market's."""
    tables = read(DATA / "rules.toml")
    return Rules(
        {
            f"{group}.{name}": sourced(row, f"rules.toml {group}.{name}")
            for group, rows in tables.items()
            for name, row in rows.items()
        }
    )


class Paper(NamedTuple):
    """A size of paper, upright, in mm.

    Attributes:
        name: what it is asked for by.
        width_mm, height_mm: its sides, the shorter first.
    """

    name: str
    width_mm: Sourced
    height_mm: Sourced


@lru_cache(maxsize=1)
def papers() -> dict[str, Paper]:
    """All papers by name."""
    return {
        name: Paper(
            name,
            *(sourced(row[side], f"{_SHEET}: {name} {side}") for side in ("width_mm", "height_mm")),
        )
        for name, row in read(DATA / _SHEET)["paper"].items()
    }


def paper(name: str) -> Paper:
    """The paper of that name, case forgiven.

    Raises:
        FieldError: there is none; the nearest name is offered.
    """
    known = {key.casefold(): row for key, row in papers().items()}
    found = known.get(name.strip().casefold())
    if found is not None:
        return found
    like = nearest(name, papers())
    hint = f"did you mean '{like}'? " if like else ""
    raise FieldError(
        "no such paper", value=name, where="--paper",
        remedy=f"{hint}choose from {', '.join(papers())}, or give its sides as 210x297mm",
    )  # fmt: skip


@lru_cache(maxsize=1)
def sheet_rules() -> Rules:
    """The numbers of the page, ``"margin_mm"`` and the like."""
    rows = read(DATA / _SHEET)["page"]
    return Rules({name: sourced(row, f"{_SHEET}: page {name}") for name, row in rows.items()})


class Market(NamedTuple):
    """What shelves of a market expect of longitudinal lettering.

    Attributes:
        code: ISO 3166 alpha-2 code, or "" for the international standard.
        name: in English, with the language where the row is for titles of one.
        languages: BCP 47 tags, the main one first.
        reading: descending, ascending, or upright (a column of upright characters).
        firmness: how far shelves agree.
        binding_side: where the spine is when the front cover faces the reader.
        source, status: who says so, and how far it may be trusted.
        note: what a binder should know besides.
        weakening: True for a custom that is losing ground.
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
    weakening: bool = False


@lru_cache(maxsize=1)
def markets() -> dict[str, Market]:
    """All markets by ISO 3166 code; "" is the international standard, for no market."""
    rows = read(DATA / _MARKETS)
    found = (_market_of(key, row) for key, row in rows.items())
    return {row.code: row for row in found}


def titles_of(code: str) -> tuple[Market, ...]:
    """The rows of a market for titles of one language, where those run another way."""
    inside = read(DATA / _MARKETS).get(code, {}).items()
    return tuple(_market_of(code, row) for _language, row in inside if isinstance(row, dict))


@lru_cache(maxsize=256)
def _market_row(code: str, language: str = "") -> Market | None:
    """One row without parsing the others; ``language`` is a primary subtag of BCP 47."""
    letters = f"{code}{language}"
    if letters and not (letters.isascii() and letters.isalpha()):
        return None
    key = code or _INTERNATIONAL
    row = read_table(DATA / _MARKETS, f"{key}.{language}" if language else key)
    return None if row is None else _market_of(key, row)


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
            weakening=row.get("weakening", False),
        )
    except (KeyError, ValueError) as fault:
        raise CatalogueError(
            "a market's row is incomplete", where=f"{_MARKETS} {key}", value=fault
        ) from None


@lru_cache(maxsize=1)
def iso_3166_codes() -> dict[str, str]:
    """Every assigned ISO 3166-1 alpha-2 code and its country's name."""
    pairs = (line.split(" ", 1) for line in read_lines(DATA / "iso3166.txt"))
    return {code: name for code, name in pairs}


def market(code: str | None, language: str | None = None) -> tuple[Market, bool]:
    """The row for a country, and whether there is one of its own.

    Args:
        code: its code or name, as of `country`; None for no market.
        language: BCP 47 tag of a title; None where it is not known.

    Returns:
        The market's row, for titles of that language where those run another way, and True; the
        international standard's row and False where the code is a country's that we know nothing
        of.

    Raises:
        FieldError: no country's.
    """
    wanted = "" if code is None else country(code)
    row = _market_row(wanted)
    if row is None:
        return market(None)[0], False
    primary = (language or "").split("-")[0].lower()
    return (_market_row(wanted, primary) if primary else None) or row, True


def country(wanted: str) -> str:
    """The ISO 3166-1 alpha-2 code of a country, given so or by a name of it, case forgiven.

    Raises:
        FieldError: it is no country's.

    >>> country("gb"), country("New Zealand"), country("Deutschland")
    ('GB', 'NZ', 'DE')
    """
    plain = wanted.strip().upper()
    if (plain and _market_row(plain) is not None) or plain in iso_3166_codes():
        return plain
    for name, code in _country_names().items():
        if name.upper() == plain:
            return code
    raise FieldError(
        "no ISO 3166 country code", value=wanted, where="--market", remedy=_country_hint(plain)
    )


@lru_cache(maxsize=1)
def _country_names() -> dict[str, str]:
    """The code of each country by its English name, of markets by what else they are called too."""
    names = {name: code for code, name in iso_3166_codes().items()}
    rows = read(DATA / _MARKETS).items()
    return names | {name: code for code, row in rows for name in row.get("also", ())}


def _country_hint(wanted: str) -> str:
    codes = iso_3166_codes()
    if wanted == "UK":
        return "the United Kingdom is GB"
    country = wanted.replace("_", "-").rpartition("-")[2]
    if country != wanted and country in codes:
        return f"that is a language; its country is {country}"
    names = _country_names()
    like = nearest(wanted, names, least=0.82) if len(wanted) > _CODE_LENGTH else None
    if like:
        return f"{like} is {names[like]}"
    return "give two letters such as GB, US or DE; 'spinefit markets' lists them"
