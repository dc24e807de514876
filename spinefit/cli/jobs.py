"""Which job do a command line and a job file describe?

In: a title, the options of a job as typed, and a job file's name; `takes_job` gives them to a
command, name for name as the fields of a job. Out: the `Job`, the options having the last word,
and for every value the place where it was said, so that a fault found by a later stage is told
where it can be mended. Values stay texts: our own readers read them, and say what is wrong.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import wraps
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from spinefit.errors import FieldError, SpinefitError
from spinefit.job.fields import FIELDS, assemble, option_place
from spinefit.job.kinds import Field
from spinefit.job.model import HEADINGS

if TYPE_CHECKING:
    from spinefit.job.model import Job
    from spinefit.job.read import JobTables
    from spinefit.pipeline import Answer

__all__ = ["Described", "GroupedCommand", "JobRequest", "takes_fields", "takes_job"]

Command = Callable[..., int]

_JOB_FILE = "A TOML file with title and options; files it names lie beside it."
_HEADING_OF = {f"--{field.name}": field.heading for field in FIELDS}
_REST = "This command"


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


class Described(NamedTuple):
    """A title with what was said of it, in a job file and options or in a row of a table.

    Attributes:
        title: the words to letter.
        values: field name to what was said of it.
        place: where the value of a field was said.
        row: file and line of a row, for messages; "" where it is none.
    """

    title: object
    values: Mapping[str, object]
    place: Callable[[str], str]
    row: str = ""

    def job(self, *, method: str | None = None) -> Job:
        """The job, lettered by a method where neither a method nor tools were named.

        Raises:
            SpinefitError: a value that cannot be.
        """
        values = dict(self.values)
        if method is not None and not {"method", "method-file", "tools"} & set(values):
            values["method"] = method
        try:
            return assemble(self.title, values, place=self.place)
        except SpinefitError as fault:
            raise self.placed(fault) from None

    def answered(self, job: Job) -> Answer:
        """The answer to its job with what a drawing needs, verified."""
        from spinefit import pipeline

        try:
            return pipeline.answer(job, verify=True)
        except SpinefitError as fault:
            raise self.placed(fault) from None

    def placed(self, fault: SpinefitError) -> SpinefitError:
        """The fault of a later stage, at the place where the value was said."""
        if fault.where in _NAME_OF:
            fault.where = self.place(_NAME_OF[fault.where])
        if self.row:
            fault.where = f"{self.row}: {fault.where}" if fault.where else self.row
        return fault


_NAME_OF = {option_place(name): name for name in ("title", *(field.name for field in FIELDS))}


class JobRequest(NamedTuple):
    """What a command line says of a job, before any file is read.

    Attributes:
        title: the words given for it, or None.
        file: a job file's name, or None.
        typed: the options that were typed, by field; they have the last word.
    """

    title: str | None
    file: str | None
    typed: Mapping[str, object]

    def tables(self) -> JobTables | None:
        """What stands in the job file, several texts or volumes too, where one is named."""
        if self.file is None:
            return None
        from spinefit.job.read import read_job_tables

        return read_job_tables(self.file)

    def one_title(self) -> tuple[str | None, dict[str, object]]:
        """The title and the values of a job file that has one title, where one is named."""
        if self.file is None:
            return None, {}
        from spinefit.job.read import read_job_file

        return read_job_file(self.file)

    def described(
        self,
        in_file: tuple[str | None, Mapping[str, object]],
        example: str = "check 'The Harbour Light' --width 13mm",
    ) -> Described:
        """The title, the values, and where each of them was said.

        Args:
            in_file: the title and the values that stand in the job file.
            example: how a title is given, for the message where there is none.

        Raises:
            FieldError: no title.
        """
        file_title, file_values = in_file
        title = file_title if self.title is None else self.title
        if title is None:
            raise FieldError(
                "no title given", where=self.file or "TITLE",
                remedy=f"such as: spinefit {example}",
            )  # fmt: skip

        def place(name: str) -> str:
            typed = self.title is not None if name == "title" else name in self.typed
            in_file = self.file is not None and (name == "title" or name in file_values)
            return f"{self.file}: {name}" if in_file and not typed else option_place(name)

        return Described(title, {**file_values, **self.typed}, place)


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
        def with_request(
            title: tuple[str, ...], job_file: str | None, typed: Mapping[str, object], **rest: Any
        ) -> int:
            if len(title) > 1:
                raise FieldError(
                    "more than one title", value=" ".join(title), where="TITLE",
                    remedy="put a title of several words in quotes",
                )  # fmt: skip
            return command(JobRequest(title[0] if title else None, job_file, typed), **rest)

        of_file = click.option("--job", "job_file", metavar="FILE", help=file_help)
        argument = click.argument("title", metavar="[TITLE]", nargs=-1)
        return argument(takes_fields(of_file(with_request), method=method))

    return decorate


def takes_fields(command: Command, *, method: str | None = None) -> Command:
    """Give a command every option of a job, those that were typed as ``typed``, by field."""
    parameters = {field.name: f"job_{field.name.replace('-', '_')}" for field in FIELDS}

    @wraps(command)
    def with_fields(**options: Any) -> int:
        found = {name: options.pop(parameter) for name, parameter in parameters.items()}
        typed = {name: value for name, value in found.items() if value not in (None, ())}
        return command(typed=typed, **options)

    taking: Command = with_fields
    for field in reversed(FIELDS):
        taking = _option(field, parameters[field.name], method)(taking)
    return taking


def _option(field: Field, parameter: str, method: str | None) -> Callable[[Command], Command]:
    """The option of a field; that of the method names the one that the command takes itself."""
    kind, meaning = field.kind, field.meaning
    how: dict[str, Any] = {"metavar": kind.metavar, "multiple": kind.repeatable}
    if kind.flag:
        how = {"is_flag": True, "default": None}
    if field.name == "method" and method is not None:
        meaning = f"{meaning.partition(' [')[0]} [{method}]"
    return click.option(f"--{field.name}", parameter, help=meaning, **how)
