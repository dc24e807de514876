"""How does a job file become what the page shows, and what may it name?

In: the tables of a job file as TOML has them, or the rows of a table of books. Out: a draft, plain
values by field: what all books share, and for each book its own values and texts. The page writes
a draft as a job file again, the very one of the command line; nothing of it is read here but by
the readers of job files.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, time
from typing import Any

from spinefit.errors import FieldError
from spinefit.job.read import FILE_FIELDS, FONT_ENDINGS
from spinefit.page.store import is_plain

_FONTS = ("font", "fallback")  # a name may stand there in place of a file
_OF_A_VOLUME = ("label", "apart", "title", "text")


def draft_of(table: Mapping[str, Any]) -> dict[str, Any]:
    """The draft of a job file.

    Args:
        table: what stands in it, found good by the reader of job files.
    """
    values = {name: value for name, value in table.items() if name not in _OF_A_FILE}
    shared = _texts(table)
    volumes = [
        {
            "label": one.get("label", ""),
            "apart": one.get("apart"),
            "values": _plain({k: v for k, v in one.items() if k not in _OF_A_VOLUME}),
            "texts": [*shared, *_texts(one)],
        }
        for one in table.get("volume", [])
    ]
    if not volumes:
        volumes = [{"label": "", "apart": None, "values": {}, "texts": shared}]
    return {"values": _plain(values), "sheet": _plain(table.get("sheet", {})), "volumes": volumes}


_OF_A_FILE = ("title", "text", "volume", "sheet")


def _texts(table: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The texts of a file or a volume, a title alone being one."""
    title = [{"role": "title", "text": table["title"]}] if "title" in table else []
    return [*title, *(_plain(one) for one in table.get("text", []))]


def _plain(values: Mapping[str, Any]) -> dict[str, Any]:
    """The same with what JSON does not know as the text that it is read from."""
    return {name: _as_typed(value) for name, value in values.items()}


def _as_typed(value: Any) -> Any:
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, float) and not math.isfinite(value):
        return str(value)
    if isinstance(value, Mapping):  # the axes of a font
        return ",".join(f"{name}={setting}" for name, setting in value.items())
    if isinstance(value, list):
        return [_as_typed(one) for one in value]
    return value


def refuse_paths(table: Mapping[str, Any], files: Iterable[str]) -> None:
    """Refuse a job that names a file of the machine: what was opened in the page is all there is.

    Args:
        table: of a job file.
        files: names of the files that lie beside it.

    Raises:
        FieldError: another file is named.
    """
    for field, named in lacking_files(table, files):
        raise FieldError(
            "a file that was not opened in the page", value=named, where=field,
            remedy="open it here, beside its field",
        )  # fmt: skip


def lacking_files(table: Mapping[str, Any], files: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Each file that a job names and that does not lie beside it, with the field that names it."""
    known = set(files)
    for one in _tables_in(table):
        for field in FILE_FIELDS & one.keys():
            for named in _names_in(one[field]):
                if named not in known and not (field in _FONTS and _may_be_font(named)):
                    yield field, named


def with_plain_names(table: Mapping[str, Any]) -> dict[str, Any]:
    """The same with every file named without its folder, since all lie beside the job here.

    >>> with_plain_names({"tools": "../tools/brass.toml", "font": "Cinzel"})
    {'tools': 'brass.toml', 'font': 'Cinzel'}
    """
    found = dict(table)
    for field in FILE_FIELDS & table.keys():
        value = table[field]
        names = [_plain_name(one) for one in _names_in(value)]
        found[field] = names if isinstance(value, list) else "; ".join(names)
    for inner in ("text", "volume"):
        if isinstance(table.get(inner), list):
            found[inner] = [
                with_plain_names(one) if isinstance(one, Mapping) else one for one in table[inner]
            ]
    return found


def _tables_in(table: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    yield table
    for inner in ("text", "volume"):
        for one in table[inner] if isinstance(table.get(inner), list) else ():
            if isinstance(one, Mapping):
                yield from _tables_in(one)


def _names_in(value: object) -> Iterable[str]:
    parts = value if isinstance(value, list) else str(value).split(";")
    return (str(part).strip() for part in parts)


def _plain_name(named: str) -> str:
    return named.replace("\\", "/").rpartition("/")[2]


def _may_be_font(named: str) -> bool:
    """Whether it is a font by the name that menus show, and no file."""
    return is_plain(named) and not named.lower().endswith(FONT_ENDINGS)
