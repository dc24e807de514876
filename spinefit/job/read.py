"""What does a job file say?

In: the path of a TOML file with a ``title`` and the fields of `spinefit.job.model`, one a
line. Out: the title and the values as they stand, for `fields.assemble` to read. A file named by
a relative path is looked for beside the file that names it, so that a folder of books can be moved
about; what was read from a pipe has no folder, and means the current one.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Collection, Iterable, Mapping
from pathlib import Path
from typing import NamedTuple

from spinefit.errors import FaultsAt, FieldError, nearest
from spinefit.job.fields import FIELDS, field_named
from spinefit.job.files import folder_of, read_toml
from spinefit.job.house import House
from spinefit.job.kinds import FILE, FONT, FONTS, Field

_FIELDS = {field.name: field for field in FIELDS}
_FILES = {name: field.kind for name, field in _FIELDS.items() if field.kind in (FILE, FONT, FONTS)}
FILE_FIELDS = frozenset(_FILES)
"""Fields that name a file, or fonts by name or file."""

FONT_ENDINGS = (".ttf", ".otf", ".ttc", ".otc", ".woff", ".woff2")
"""How the files of fonts end."""

_OF_A_PLAN = ("order", "relation")  # fields that only a back with several texts has
_OF_A_SET = ("apart",)  # and that only volumes have


class JobTables(NamedTuple):
    """What stands in a job file, not yet parsed.

    Attributes:
        title: the title, or None where the file has none.
        values: the other fields by name.
        texts: the ``[[text]]`` tables of a back with several texts.
        volumes: the ``[[volume]]`` tables of a set; with ``[[volume.text]]`` or ``[[text]]``
            tables each volume has several texts.
        sheet: what the ``[sheet]`` table says of a sheet of labels; the other commands check it
            and go by the rest.
    """

    title: str | None
    values: dict[str, object]
    texts: tuple[dict[str, object], ...]
    volumes: tuple[dict[str, object], ...]
    sheet: dict[str, object]

    @property
    def are_backs(self) -> bool:
        """Whether it is a set whose volumes have several texts each."""
        return bool(self.volumes) and (
            bool(self.texts) or any("text" in one for one in self.volumes)
        )

    @property
    def said_of_parts(self) -> frozenset[str]:
        """The keys of its texts and volumes."""
        tables = [*self.texts, *self.volumes]
        for one in self.volumes:
            within = one.get("text")
            tables += within if isinstance(within, list) else []
        return frozenset(key for one in tables if isinstance(one, dict) for key in one)

    def are_of_a_label(self, typed: Collection[str] = ()) -> bool:
        """Whether its texts stand on one label: its size is given, or no width of a back.

        Args:
            typed: fields that were given beside the file.
        """
        given = {*self.values, *typed}
        on_back = "width" in given and "label-size" not in given
        return bool(self.texts) and not (self.volumes or on_back or _is_a_title_alone(self))


def read_job_file(path: str | Path) -> tuple[str | None, dict[str, object]]:
    """The title and the values of a job file with one title."""
    found = one_title_of(read_job_tables(path), str(path))
    return found.title, found.values


def one_title_of(found: JobTables, where: str) -> JobTables:
    """The tables of a file that has but a title, be it in a ``[[text]]`` table.

    Args:
        found: what stands in the file.
        where: its name, for messages.

    Raises:
        FieldError: several texts or volumes.
    """
    if _is_a_title_alone(found):
        title, values = _title_alone(found)
        return found._replace(title=title, values=values, texts=())
    if found.texts or found.volumes:
        raise FieldError(
            "several texts or volumes, where one title is asked for",
            value="text" if found.texts else "volume",
            where=where,
            remedy="give it to 'spinefit check --job'",
        )
    return found


_OF_A_TITLE = {"panel": "title-panel", "size": "size", "case": "case", "font": "font"}
"""Keys of a ``[[text]]`` table that a title alone has too, and the fields that they are."""

_ALONE = ("title", "call-number")


def _is_a_title_alone(found: JobTables) -> bool:
    """Whether a file's only text is its title, or call number, as it would be asked alone."""
    if len(found.texts) != 1 or found.volumes or found.title is not None:
        return False
    known = {"role", "text", "weight", *_OF_A_TITLE}
    (text,) = found.texts
    is_one = text.get("role") in _ALONE and isinstance(text.get("text"), str)
    return is_one and known >= set(text)


def _title_alone(found: JobTables) -> tuple[str, dict[str, object]]:
    (text,) = found.texts
    own = {field: text[key] for key, field in _OF_A_TITLE.items() if key in text}
    if text["role"] != "title":
        own["role"] = text["role"]
    above = {name: value for name, value in found.values.items() if name not in _OF_A_PLAN}
    return str(text["text"]), above | own


def read_job_tables(path: str | Path) -> JobTables:
    """What stands in a job file of one text, of several texts or of a set.

    Args:
        path: the file.

    Raises:
        JobError: no such file, not readable, not UTF-8, not TOML, an unknown name or table, or
            a title that is no text.
    """
    where = str(path)
    table = read_toml(
        path,
        "job file",
        'write one field a line, texts in quotes, such as width = "13mm"',
    )
    title = table.pop("title", None)
    if title is not None and not isinstance(title, str):
        raise FieldError(
            "the title must be a text",
            value=title,
            where=f"{where}: title",
            remedy='put it in quotes: title = "1984"',
        )
    texts, volumes = (_tables(table, name, where) for name in ("text", "volume"))
    several = bool(texts) or any("text" in one for one in volumes)
    sheet = _sheet(table.pop("sheet", {}), where)
    for name, value in table.items():
        if isinstance(value, dict) and name != "axes":
            known = ("[sheet]", "[[text]]", "[[volume]]")
            raise _no_such_table("a job file", name, where, known, "such as width = 13")
        of_many = (several and name in _OF_A_PLAN) or (volumes and name in _OF_A_SET)
        if not of_many:
            with FaultsAt(where):
                field_named(name)
    folder = folder_of(path)
    return JobTables(
        title,
        _found_beside(table, folder),
        tuple(_found_beside(text, folder) for text in texts),
        tuple(_found_beside(volume, folder) for volume in volumes),
        sheet,
    )


def _sheet(table: object, where: str) -> dict[str, object]:
    """The ``[sheet]`` table, its keys and values found good."""
    if not isinstance(table, dict):
        raise FieldError(
            "one table is meant", value="sheet", where=where, remedy="write [sheet] in brackets"
        )
    if table:
        from spinefit.job.sheet import sheet_wishes

        sheet_wishes(table, place_in_sheet(where))
    return table


def place_in_sheet(file: str) -> Callable[[str], str]:
    """Where a key of the ``[sheet]`` table of a job file stands, for messages."""
    return lambda key: f"{file}: [sheet] {key}"


def read_house(path: str) -> House:
    """What stands in the file of a house: fields of jobs that are a house's, and a ``[sheet]``.

    Raises:
        JobError: no such file, not readable, not TOML; a field of a book or none at all, or a value
            that it cannot hold.
    """
    table = read_toml(path, "house file", 'write one field a line, such as market = "GB"')
    sheet = _sheet(table.pop("sheet", {}), path)
    if sheet:
        from spinefit.job.sheet import SHEET_KEYS
    for key in sheet:
        if SHEET_KEYS[key].house is None:
            raise _not_of_a_house(key, path, place_in_sheet(path)(key), SHEET_KEYS[key].name)
    needs: dict[str, tuple[str, ...]] = {}
    values = beside(table, folder_of(path))
    for name, value in values.items():
        field, where = _FIELDS.get(name), f"{path}: {name}"
        if isinstance(value, dict) and name != "axes":
            raise _no_such_table("a house file", name, path, ("[sheet]",), 'such as market = "GB"')
        if field is None or field.house is None:
            raise _not_of_a_house(name, path, where, "" if field is None else name)
        with FaultsAt(where):
            field.kind.check(field.kind.read(value), where)
        needs[name] = field.house
    words = {name: _in_words(_FIELDS[name], value) for name, value in table.items()}
    return House(path, values, words, needs, sheet)


def _no_such_table(
    file: str, name: str, where: str, known: Collection[str], example: str
) -> FieldError:
    """A table that a file has not, the nearest one offered where that is hardly another."""
    like = nearest(name, known, least=0.8)
    hint = f"did you mean {like}?" if like else f"write one field a line, {example}"
    return FieldError(f"{file} has no such table", value=name, where=where, remedy=hint)


def _not_of_a_house(name: str, path: str, where: str, option: str) -> FieldError:
    """What differs from book to book, by its option where it has one, or is not known at all."""
    if option or name in ("title", "text", "volume", *_OF_A_PLAN, *_OF_A_SET):
        typed = f" or as --{option}" if option else ""
        return FieldError(
            "a field of each book, and none of a house", where=where,
            remedy=f"give it in the job file of the book{typed}",
        )  # fmt: skip
    like = nearest(name, [one for one, field in _FIELDS.items() if field.house is not None])
    hint = f"did you mean '{like}'?" if like else "'spinefit check --help' lists the names"
    return FieldError("no field of a house", value=name, where=path, remedy=hint)


def _in_words(field: Field, value: object) -> str:
    """A value as a line tells it; of a file its name alone."""
    if isinstance(value, dict):
        return ",".join(f"{tag}={setting}" for tag, setting in value.items())
    if isinstance(value, list):
        return ", ".join(_in_words(field, one) for one in value)
    if isinstance(value, str):
        return os.path.basename(value) if field.name in _FILES else value
    return f"{value} mm" if field.kind.metavar == "LENGTH" else f"{value}"


def _found_beside(table: Mapping[str, object], folder: str) -> dict[str, object]:
    """A table with the files it names, and those of its texts, looked for in a folder."""
    found = beside(table, folder)
    texts = found.get("text")
    if isinstance(texts, list):
        found["text"] = [beside(text, folder) if isinstance(text, dict) else text for text in texts]
    return found


def _tables(table: dict[str, object], name: str, where: str) -> tuple[dict[str, object], ...]:
    """The tables ``[[name]]``, taken out of ``table``."""
    found = table.pop(name, [])
    if isinstance(found, dict):
        raise FieldError(
            "one table where several are meant",
            value=name,
            where=where,
            remedy=f"write [[{name}]] with two brackets",
        )
    if not isinstance(found, list) or not all(isinstance(one, dict) for one in found):
        raise FieldError(
            "tables are meant", value=name, where=where, remedy=f"write [[{name}]] above each"
        )
    return tuple(found)


def beside(values: Mapping[str, object], folder: str) -> dict[str, object]:
    """The values with the files they name looked for in a folder.

    Args:
        values: by field, as they stand in a file.
        folder: the folder of that file.

    >>> found = beside({"title": "Tides", "font": "Cinzel", "tools": "brass.toml"}, "books")
    >>> found["font"], found["tools"].replace(os.sep, "/")
    ('Cinzel', 'books/brass.toml')
    """
    found = dict(values)
    for name, kind in _FILES.items():
        value = found.get(name)
        if kind is FONTS:
            parts = value.split(";") if isinstance(value, str) else value
            if isinstance(parts, list):
                found[name] = [_in(folder, part, font=True) for part in parts]
        elif value is not None:
            found[name] = _in(folder, value, font=kind is FONT)
    return found


def files_named(tables: Iterable[Mapping[str, object]]) -> set[str]:
    """Every file that values name, of fonts those that are not named as menus show them.

    Args:
        tables: values by field, their files looked for where they are.

    >>> found = files_named([{"font": "Cinzel", "fallback": "a.ttf; Cinzel", "tools": "b.toml"}])
    >>> sorted(found)
    ['a.ttf', 'b.toml']
    """
    found: set[str] = set()
    for table in tables:
        for name, kind in _FILES.items():
            value = table.get(name)
            parts = value.split(";") if kind is FONTS and isinstance(value, str) else [value]
            if isinstance(value, list | tuple):
                parts = [*value]
            named = {part.strip() for part in parts if isinstance(part, str) and part.strip()}
            found |= {one for one in named if kind is FILE or _is_file(one, one)}
        texts = table.get("text")
        if isinstance(texts, list):
            found |= files_named(text for text in texts if isinstance(text, dict))
    return found


def _in(folder: str, named: object, *, font: bool) -> object:
    """One file in the folder; what is no text or only a font's name as it stands."""
    if not isinstance(named, str) or not named.strip() or "\0" in named:
        return named
    path = os.path.join(folder, os.path.expanduser(named.strip()))
    if font and not _is_file(named.strip(), path):
        return named
    return path


def _is_file(named: str, path: str) -> bool:
    """Whether a font's file is meant: it ends like one, lies in a folder, or is there."""
    ends_so = named.lower().endswith(FONT_ENDINGS)
    return ends_so or "/" in named or os.sep in named or os.path.isfile(path)
