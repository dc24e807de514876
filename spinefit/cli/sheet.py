"""Which labels are printed and cut? The command ``spinefit sheet``.

In: a title, a job file or a table of titles, with the options of a job and those of the sheet.
Out: a PDF of labels at true size, or one label as SVG or DXF, written whole or not at all; what
it holds and what was left out, as text or JSON; 0 where every title has a label, 1 where one
has none. Drawing and its libraries are loaded once all options have been read without fault.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import wraps
from math import prod
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from spinefit.asked import Described, JobRequest
from spinefit.cli import output
from spinefit.cli.files import refuse_existing, write_whole
from spinefit.cli.house import tell
from spinefit.cli.jobs import (
    GroupedCommand,
    field_option,
    takes_job,
    title_rows,
)
from spinefit.cli.options import format_option
from spinefit.cli.tables import RowFaults, takes_table
from spinefit.errors import FaultsAt, FieldError, SpinefitError
from spinefit.job.fields import GIVES_A_WIDTH
from spinefit.job.lengths import parse_choice
from spinefit.job.sheet import SHEET_KEYS, SheetWishes, sheet_wishes, ways_asked
from spinefit.say.screen import screen

if TYPE_CHECKING:
    from spinefit.drawing.sheet_settings import LabelSetting, LeftOut
    from spinefit.job.model import Job
    from spinefit.job.read import JobTables

_FORMATS = ("text", "json")
_STYLES = ("cut", "filled")
_SINGLE_ONLY = ("mirror", "weeding_box", "style")
_ON_A_SINGLE = ("labels",)  # of what is said of sheets
_MOST_WAYS = 1000  # each is a check of its own
_MOST_TITLES = 500  # a sheet holds some dozens of labels; more books are for a table of answers
_METHOD = "paper-label"
_EXAMPLE = "sheet 'The Harbour Light' --panel 20x30mm --output a.pdf"

_OPTIONS: tuple[tuple[str, str | None, str], ...] = (
    ("--titles", "FILE", "A table of titles as of 'spinefit batch', or - for standard input."),
    ("--output", "FILE", "Where to write: .pdf; with --single .svg or .dxf."),
    ("--force", None, "Replace what stands there."),
    ("--single", None, "One label, for a plotter or another program."),
    ("--style", "STYLE", "With --single: cut, lines merged, or filled letters. [cut]"),
    ("--mirror", None, "With --single: a mirror image, as for heat-transfer vinyl."),
    ("--weeding-box", "MARGIN", "With --single: a box so far outside the ink to weed by."),
)


def _sheet_options(command: Callable[..., int]) -> Callable[..., int]:
    """Give a command every option of a sheet; those of its fields as ``typed``, by their keys."""
    parameters = {key: f"sheet_{field.attribute}" for key, field in SHEET_KEYS.items()}

    @wraps(command)
    def with_wishes(request: JobRequest, **options: Any) -> int:
        found = {key: options.pop(parameter) for key, parameter in parameters.items()}
        typed = {key: value for key, value in found.items() if value is not None}
        return command(request, asked=typed, **options)

    taking: Callable[..., int] = with_wishes
    for key, field in reversed(tuple(SHEET_KEYS.items())):
        taking = field_option(field, parameters[key])(taking)
    for name, metavar, meaning in reversed(_OPTIONS):
        how: dict[str, Any] = {"is_flag": True} if metavar is None else {"metavar": metavar}
        taking = click.option(name, help=meaning, **how)(taking)
    return taking


class _Wanted(NamedTuple):
    """What is wanted of a sheet, the options over the job file.

    Attributes:
        wishes: what was said.
        place: where the value of a key was said.
        of_house: what the file of a house says beside them.
    """

    wishes: SheetWishes
    place: Callable[[str], str]
    of_house: Sequence[str] = ()

    def placed(self, fault: SpinefitError) -> SpinefitError:
        """The fault of a later stage, at the place where the value was said."""
        keys = {f"--{field.name}": key for key, field in SHEET_KEYS.items()}
        if self.wishes.cases:
            keys["--case"] = "cases"
        if fault.where in keys:
            fault.where = self.place(keys[fault.where])
        return fault


@click.command(cls=GroupedCommand)
@takes_job(method=_METHOD)
@_sheet_options
@takes_table
@format_option(*_FORMATS)
def sheet(request: JobRequest, form: str, asked: Mapping[str, object], **options: Any) -> int:
    """Set labels on a sheet to print at true size and cut, or one label for a plotter.

    Give TITLE and a back or a panel as for 'spinefit check', and --output labels.pdf. Without
    --method a printed paper label is meant. Sizes a step apart and splits are set side by side,
    to choose by eye; --size-count, --labels, --cases and --weights say which, or the [sheet]
    table of a job file. Exit code 0: every title has a label; 1: one has none; 2: the input is
    at fault.
    """
    _refuse_idle(options, asked)
    _refuse_output(options)
    tables = request.tables()
    wanted = _wanted(request, {} if tables is None else tables.sheet, asked)
    faults = RowFaults(options["titles"] or "")
    jobs = _jobs(request, request.one_job(tables), options, wanted.wishes, faults)
    of_job = {} if tables is None else {**tables.values, **tables.sheet}
    method = None if wanted.wishes.trial else _METHOD
    said = {*of_job, *request.typed, *asked}
    wanted = wanted._replace(of_house=request.house.in_words(said, method, SHEET_KEYS))
    tell(wanted.of_house)
    return (_single if options["single"] else _sheet)(jobs, options, wanted, form, faults)


def _wanted(
    request: JobRequest, in_file: Mapping[str, object], asked: Mapping[str, object]
) -> _Wanted:
    """What the options say, and the ``[sheet]`` tables of job file and house, read and checked."""
    house = request.house

    def place(key: str) -> str:
        if key in asked or key not in (*in_file, *house.sheet):
            return f"--{SHEET_KEYS[key].name}"
        from spinefit.job.read import place_in_sheet

        return place_in_sheet(str(request.file if key in in_file else house.file))(key)

    return _Wanted(sheet_wishes({**house.sheet, **in_file, **asked}, place), place)


def _jobs(
    request: JobRequest,
    in_file: JobTables | None,
    options: Mapping[str, Any],
    wishes: SheetWishes,
    faults: RowFaults,
) -> list[tuple[Described, Job]]:
    """The jobs, each title's own values over those of the options and the job file.

    Rows at fault are left out, and put down in ``faults``.
    """
    titles, how = options["titles"], options["how"]
    if titles is None:
        if any(how):
            raise FieldError(
                "an option of a table without one", where="--titles",
                value=next(f"{one}" for one in how if one),
                remedy="give FILE, or leave out --column, --heading-row, --sheet and --encoding",
            )  # fmt: skip
        described: tuple[Described, ...] = (request.described(in_file, example=_EXAMPLE),)
    else:
        if request.title is not None:
            raise FieldError(
                "a title beside a table of titles", value=request.title, where="TITLE",
                remedy="write it into the table",
            )  # fmt: skip
        defaults = {**(in_file.values if in_file else {}), **request.typed}
        texts = in_file.texts if in_file else ()
        described = title_rows(
            titles,
            "--titles",
            defaults,
            most=_MOST_TITLES,
            how=how,
            faults=faults,
            pattern=texts,
            house=request.house,
        )
    found = []
    for one in (_on_label(one, wishes) for one in described):
        with faults.row(one.row):
            found.append((one, one.job(method=None if wishes.trial else _METHOD)))
    return found


def _on_label(one: Described, wishes: SheetWishes) -> Described:
    """A title with neither panel nor back stands on the first of the labels to compare."""
    if not wishes.labels or ({"panel"} | GIVES_A_WIDTH) & set(one.values):
        return one
    first = wishes.labels[0]
    panel = f"{first.width_mm!r}x{first.height_mm!r}mm"
    return one._replace(values={**one.values, "panel": panel})


def _sheet(
    jobs: list[tuple[Described, Job]],
    options: dict[str, Any],
    wanted: _Wanted,
    form: str,
    faults: RowFaults,
) -> int:
    from spinefit.catalogue.trade import sheet_rules

    rules, several, file = sheet_rules(), options["titles"] is not None, options["output"]
    usual_sizes = 1 if several else int(rules.value("sizes"))
    _refuse_too_many(len(jobs), wanted)
    from spinefit.drawing.sheet_page import page_wished
    from spinefit.drawing.sheet_settings import completed

    wishes = completed(wanted.wishes, rules, several=several)
    try:
        page = page_wished(wishes)
        settings, left_out, lacking = _settings(jobs, wishes, faults, usual_sizes)
        if not settings:
            return _nothing(left_out, form, wanted.of_house)
        from spinefit.drawing.sheet import build_sheet

        built = build_sheet(settings, page, spares=wishes.spares or 0, marks=wishes.marks)
    except SpinefitError as fault:
        raise wanted.placed(fault) from None
    from spinefit.drawing.pdf import to_pdf
    from spinefit.drawing.sheet_words import sheet_json, sheet_text

    write_whole(file, to_pdf(built.scenes), "--output", force=options["force"])
    if form == "json":
        output.write_utf8(sheet_json(built, left_out, file, wanted.of_house))
    else:
        output.write_text(sheet_text(built, left_out, file, screen()))
    return 1 if lacking else 0


def _refuse_too_many(titles: int, wanted: _Wanted) -> None:
    """Refuse to compare what nobody could, before hours are spent on it."""
    ways = ways_asked(wanted.wishes)
    count = titles * prod(ways.values())
    if count > max(titles, _MOST_WAYS):
        raise FieldError(
            f"{count} settings to compare", where=wanted.place(max(ways, key=ways.__getitem__)),
            remedy=f"at most {_MOST_WAYS} at a time: give fewer {', '.join(ways)}",
        )  # fmt: skip


def _single(
    jobs: list[tuple[Described, Job]],
    options: dict[str, Any],
    wanted: _Wanted,
    form: str,
    faults: RowFaults,
) -> int:
    file, style = options["output"], _style(options["style"])
    dxf, filled = file.casefold().endswith(".dxf"), style == "filled"
    if dxf and filled:
        raise FieldError(
            "a DXF file holds lines to cut", value=style, where="--style",
            remedy="leave it out, or write an .svg",
        )  # fmt: skip
    labels = wanted.wishes.labels
    if len(labels) > 1 and wanted.place("labels") != "--labels":
        labels = ()  # those of the job file are for its sheet; one label is the job's own
    wishes = SheetWishes(labels=labels, sizes=1)
    if len(jobs) > 1 or len(labels) > 1:
        raise FieldError("one title and one label at a time", where="--single")
    weeding_mm = _weeding_mm(options["weeding_box"])
    settings, left_out, _ = _settings(jobs, wishes, faults)
    if not settings:
        return _nothing(left_out, form, wanted.of_house)
    from spinefit.drawing.label_cut import cut_label, cut_scene
    from spinefit.drawing.sheet_words import single_json, single_text

    cut = cut_label(settings[0], mirror=options["mirror"], weeding_mm=weeding_mm, filled=filled)
    if dxf:
        from spinefit.drawing.label_cut import to_dxf

        content = to_dxf(cut)
    else:
        from spinefit.drawing.svg import to_svg

        content = to_svg(cut_scene(cut, filled=filled), paper=False)
    write_whole(file, content, "--output", force=options["force"])
    if form == "json":
        output.write_utf8(single_json(settings[0], cut, file, wanted.of_house))
    else:
        output.write_text(single_text(settings[0], cut, file, screen()))
    return 0


def _settings(
    jobs: list[tuple[Described, Job]],
    wishes: SheetWishes,
    faults: RowFaults,
    usual_sizes: int = 1,
) -> tuple[list[LabelSetting], list[LeftOut], bool]:
    """Settings and what is left out, of all titles; and whether a title has no label.

    Raises:
        SpinefitError: a title is at fault; of rows of a table all that are have been told.
    """
    from spinefit.catalogue.trade import sheet_rules
    from spinefit.drawing.sheet_settings import settings_of

    settings: list[LabelSetting] = []
    left_out: list[LeftOut] = []
    lacking = False
    for described, job in jobs:
        with faults.row(described.row):
            try:
                kept, left = settings_of(job, wishes, sheet_rules(), usual_sizes=usual_sizes)
            except SpinefitError as fault:
                raise described.placed(fault) from None
            settings.extend(kept)
            left_out.extend(left)
            lacking = lacking or not kept
    faults.tell()
    return settings, left_out, lacking


def _nothing(left_out: list[LeftOut], form: str, of_house: Sequence[str]) -> int:
    from spinefit.drawing.sheet_words import left_text, sheet_json

    if form == "json":
        output.write_utf8(sheet_json(None, left_out, None, of_house))
    else:
        output.write_text(left_text(left_out, screen()))
    return 1


def _refuse_idle(options: dict[str, Any], asked: Mapping[str, object]) -> None:
    """Refuse options of the sheet with a single label, and the other way round."""
    single = options["single"]
    of_sheet = [SHEET_KEYS[key].name for key in asked if key not in _ON_A_SINGLE]
    of_single = [name.replace("_", "-") for name in _SINGLE_ONLY if options[name]]
    for name in of_sheet if single else of_single:
        raise FieldError(
            "not for a single label" if single else "for a single label only",
            where=f"--{name}", remedy="leave out --single" if single else "give --single too",
        )  # fmt: skip


def _refuse_output(options: dict[str, Any]) -> None:
    """Refuse, before anything is worked out, a file that cannot be written or is none of ours."""
    file, single = options["output"], options["single"]
    endings = (".svg", ".dxf") if single else (".pdf",)
    example = "label.svg" if single else "labels.pdf"
    if file is None:
        raise FieldError(
            "no file to write to", where="--output", remedy=f"such as --output {example}"
        )
    if Path(file).suffix.casefold() not in endings:
        drawn = "one label is drawn as" if single else "a sheet is written as"
        more = "" if single else ", or give --single for one label as .svg or .dxf"
        raise FieldError(
            f"{drawn} {' or '.join(endings)}", value=file, where="--output",
            remedy=f"such as --output {example}{more}",
        )  # fmt: skip
    if not options["force"]:
        refuse_existing(file, "--output")


def _style(typed: str | None) -> str:
    """How one label is drawn: cut or filled."""
    with FaultsAt("--style"):
        return parse_choice(typed or _STYLES[0], _STYLES)


def _weeding_mm(typed: str | None) -> float | None:
    """Space between the ink and the box to weed by, in mm; None for no box."""
    if typed is None:
        return None
    from spinefit.job.kinds import ROOM

    with FaultsAt("--weeding-box"):
        margin_mm: float = ROOM.check(ROOM.read(typed), "--weeding-box")
        return margin_mm
