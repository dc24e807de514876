"""What do the shelves of a country expect?

Rows of ``markets.toml`` by ISO 3166 code; a plain check parses one of them. A country without
a row of its own follows the international standard.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any, NamedTuple

from spinefit.catalogue.tables import DATA, read, read_lines, read_table
from spinefit.errors import CatalogueError, FieldError, nearest
from spinefit.provenance import Status
from spinefit.vocabulary import BindingSide, Firmness, Reading

__all__ = ["Market", "iso_3166_codes", "market", "markets"]


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


@lru_cache(maxsize=1)
def markets() -> dict[str, Market]:
    """All markets by ISO 3166 code; "" is the international standard, for no market."""
    rows = read(DATA / "markets.toml")
    found = (_market_of(key, row) for key, row in rows.items())
    return {row.code: row for row in found}


_INTERNATIONAL = "international"
_CODE_LENGTH = 2  # no name of a country is as short: likeness of two letters says nothing


@lru_cache(maxsize=256)
def _market_row(code: str) -> Market | None:
    if code and not (code.isascii() and code.isalpha()):
        return None
    row = read_table(DATA / "markets.toml", code or _INTERNATIONAL)
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
    pairs = (line.split(" ", 1) for line in read_lines(DATA / "iso3166.txt"))
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
    codes = iso_3166_codes()
    if wanted == "UK":
        return "the United Kingdom is GB"
    country = wanted.replace("_", "-").rpartition("-")[2]
    if country != wanted and country in codes:
        return f"that is a language; its country is {country}"
    names = {name: code for code, name in codes.items()}
    like = nearest(wanted, names) if len(wanted) > _CODE_LENGTH else None
    if like:
        return f"{like} is {names[like]}"
    return "give two letters such as GB, US or DE; 'spinefit markets' lists them"
