"""Which jobs do a command line, a job file and a table of books describe?

In: a title, the options of a job as typed, and a job file's name, which `takes_job` gives to a
command, name for name as the fields of a job; or a table. Out: the `Job`, the options having the
last word, and for every value the place where it was said, so that a fault found by a later stage
is told where it can be mended; or, for a command that cannot go on behind a row at fault, every
row's title and values. Values stay texts: our own readers read them, and say what is wrong.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from functools import wraps
from typing import TYPE_CHECKING, Any

import click

from spinefit.asked import Described, JobRequest
from spinefit.cli import output
from spinefit.cli.house import house_of, takes_house
from spinefit.errors import FieldError, JobError, SpinefitError
from spinefit.job.fields import FIELDS, GIVES_A_WIDTH, option_place
from spinefit.job.house import NO_HOUSE, House
from spinefit.job.kinds import Field
from spinefit.job.model import HEADINGS

if TYPE_CHECKING:
    from spinefit.batch.model import Row, TableOptions
    from spinefit.cli.tables import RowFaults

Command = Callable[..., int]

_JOB_FILE = "A TOML file with title and options; files it names lie beside it."
_HEADING_OF = {f"--{field.name}": field.heading for field in FIELDS}
_REST = "This command"
_INSTEAD = {".toml": "as --job {}", ".csv": "to 'spinefit batch'", ".xlsx": "to 'spinefit batch'"}


class GroupedCommand(click.Command):
    """A command whose help lists its options under the headings of their groups."""

    def format_options(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the options of each group under its heading."""
        groups: dict[str, list[tuple[str, str]]] = {name: [] for name in (*HEADINGS, _REST)}
        for param in self.get_params(ctx):
            record = param.get_help_record(ctx)
            if record is not None and isinstance(param, click.Option):
                groups[_HEADING_OF.get(param.opts[0], _REST)].append(record)
        for name, records in groups.items():
            if records:
                with formatter.section(name):
                    formatter.write_dl(records, col_max=26)


def takes_job(
    *, file_help: str = _JOB_FILE, method: str | None = None
) -> Callable[[Command], Command]:
    """Give a command a title, every option of a job and ``--job``, as one `JobRequest`.

    Args:
        file_help: what ``--job`` names.
        method: the method that the command takes where none is named, for the help.
    """

    def decorate(command: Command) -> Command:
        @wraps(command)
        def with_request(title: tuple[str, ...], job_file: str | None, **rest: Any) -> int:
            if len(title) > 1:
                raise FieldError(
                    "more than one title", value=" ".join(title), where="TITLE",
                    remedy="put a title of several words in quotes",
                )  # fmt: skip
            _refuse_file(*title)
            words, said = title[0] if title else None, (rest.pop("typed"), rest.pop("house"))
            return command(JobRequest(words, job_file, *said), **rest)

        of_file = click.option("--job", "job_file", metavar="FILE", help=file_help)
        argument = click.argument("title", metavar="[TITLE]", nargs=-1)
        return argument(takes_fields(of_file(with_request), method=method))

    return decorate


def _refuse_file(title: str = "") -> None:
    """Refuse the name of a file that is there, where the words to letter belong."""
    ending = os.path.splitext(title)[1].lower()
    if ending in _INSTEAD and os.path.isfile(title):
        raise FieldError(
            "the name of a file, not a title", value=title, where="TITLE",
            remedy=f"give it {_INSTEAD[ending].format(title)}",
        )  # fmt: skip


def takes_fields(command: Command, *, method: str | None = None) -> Command:
    """Give a command every option of a job: as ``typed`` those typed, by field; and ``house``."""
    parameters = {field.name: f"job_{field.name.replace('-', '_')}" for field in FIELDS}

    @wraps(command)
    def with_fields(**options: Any) -> int:
        found = {name: options.pop(parameter) for name, parameter in parameters.items()}
        typed = {name: value for name, value in found.items() if value not in (None, ())}
        house = house_of(options.pop("house_file"), ignored=options.pop("no_house"))
        return command(typed=typed, house=house, **options)

    taking: Command = takes_house(with_fields)
    for field in reversed(FIELDS):
        taking = field_option(field, parameters[field.name], method)(taking)
    return taking


def field_option(
    field: Field, parameter: str, method: str | None = None
) -> Callable[[Command], Command]:
    """The option of a field; that of the method names the one that the command takes itself."""
    kind, meaning = field.kind, field.meaning
    how: dict[str, Any] = {"metavar": kind.metavar, "multiple": kind.repeatable}
    if kind.flag:
        how = {"is_flag": True, "default": None}
    if field.name == "method" and method is not None:
        meaning = f"{meaning.partition(' [')[0]} [{method}]"
    return click.option(f"--{field.name}", parameter, help=meaning, **how)


def title_rows(
    name: str,
    where: str,
    defaults: Mapping[str, object],
    *,
    most: int,
    how: TableOptions,
    faults: RowFaults,
    pattern: Sequence[Mapping[str, object]] = (),
    house: House = NO_HOUSE,
) -> tuple[Described, ...]:
    """Every row of a table of titles; one with several texts for a label has these as its parts.

    Args:
        name: the file, or ``-``.
        where: the option that named it.
        defaults: values of fields for rows that do not say them.
        most: how many rows there may be.
        how: how it is to be read.
        faults: takes those of single rows: what cannot be read, volumes of a set, several texts on
            a back.
        pattern: ``[[text]]`` tables of a job file, whose order and rules hold for the rows.
        house: the file of a house.

    Raises:
        JobError: it cannot be read, or has more rows than ``most``.
        FieldError: its heading cannot be understood.
    """
    from spinefit.batch.cells import values_of
    from spinefit.cli.tables import opened_table, shown_name

    found: list[Described] = []
    with opened_table(name, where, how) as (table, _stream):
        headings = dict(zip(table.meanings, table.style.heading, strict=True))
        for number, row in enumerate(table.rows):
            at = f"{shown_name(name)}:{row.line}"
            if number == most:
                raise JobError(f"more than {most} titles", where=at, remedy="part the table")
            with faults.row(at):
                values = values_of(row.cells, defaults)
                one = _described_row(row, values, at, pattern, headings)
                found.append(one._replace(house=house))
        if table.foot.note is not None:
            output.complain(f"{shown_name(name)}: {table.foot.note}")
    return tuple(found)


def _place_in(row: Row) -> Callable[[str], str]:
    """Where the value of a field stands: in the row, or among the options."""
    return lambda name: f"column '{name}'" if name in row.cells else option_place(name)


def _described_row(
    row: Row,
    values: Mapping[str, object],
    at: str,
    pattern: Sequence[Mapping[str, object]],
    headings: Mapping[str, str],
) -> Described:
    """A row with its title, or the texts of its label, and where each was said."""
    from spinefit.batch.cells import label_texts
    from spinefit.job.texts import parts_of

    place = _place_in(row)
    title = _title(row, at, headings, on_back=bool(GIVES_A_WIDTH & set(values)))
    tables = label_texts(row.cells, pattern)
    if len(tables) < 2:
        return Described(title, values, place, at)

    def place_of(name: str) -> str:
        number = name.removeprefix("text ").partition(":")[0]
        return place(str(tables[int(number) - 1]["role"]) if number.isdigit() else name)

    try:
        return Described(None, values, place_of, at, parts_of(tables, at))
    except SpinefitError as fault:
        fault.where = f"{at}: {place_of(fault.where.removeprefix(f'{at}: '))}"
        raise


def _title(row: Row, at: str, headings: Mapping[str, str], *, on_back: bool) -> object:
    """The title; refused are a row at fault, sets, and several texts on a back.

    Args:
        row: the row.
        at: its table and line, for messages.
        headings: by what a column means how it is named there.
        on_back: whether it stands on a back, and not on a label of its own.
    """
    from spinefit.batch.columns import FIELD_NAMES, ROLES

    if row.fault is not None:
        raise FieldError(row.fault.line, where=at)
    if "title" not in row.cells:
        raise FieldError(
            "no title given", where=f"{at}: column 'title'", remedy="give the words to letter"
        )
    for name, cell in row.cells.items():
        is_text = name in ("title", "label") or (name in ROLES and not on_back)
        if name not in FIELD_NAMES and not is_text:
            raise FieldError(
                "one title a row is set here", value=cell, where=f"{at}: column '{name}'",
                remedy=f"--column '{headings.get(name, name)}=note' passes the column over; "
                "'spinefit batch' answers for sets and several texts",
            )  # fmt: skip
    return row.cells["title"]
