"""Which labels are printed and cut? The command ``spinefit sheet``.

In: a title, a job file or a table of titles, with the options of a job and those of the sheet.
Out: a PDF of labels at true size, or one label as SVG or DXF, written whole or not at all; what
it holds and what was left out, as text or JSON; 0 where every title has a label, 1 where one
has none. Drawing and its libraries are loaded once all options have been read without fault.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

import click

from spinefit.cli import output
from spinefit.cli.files import refuse_existing, write_whole
from spinefit.cli.jobs import Described, GroupedCommand, JobRequest, takes_job, title_rows
from spinefit.cli.options import chosen_format, format_option
from spinefit.errors import FaultsAt, FieldError, SpinefitError
from spinefit.job.lengths import parse_choice, parse_count
from spinefit.say.screen import screen

if TYPE_CHECKING:
    from spinefit.drawing.sheet_page import Page
    from spinefit.drawing.sheet_settings import LabelSetting, LeftOut, Wishes
    from spinefit.job.model import Job
    from spinefit.job.values import Panel

_FORMATS = ("text", "json")
_STYLES = ("cut", "filled")
_SINGLE_ONLY = ("mirror", "weeding_box", "style")
_SHEET_ONLY = ("paper", "landscape", "margin", "gutter", "no_grain", "splits", "spares", "marks")
_MOST_COPIES, _MOST_SPLITS, _MOST_LABELS = 100, 10, 50
_MOST_TITLES = 500  # a sheet holds some dozens of labels; more books are for a table of answers
_METHOD = "paper-label"
_EXAMPLE = "sheet 'The Harbour Light' --panel 20x30mm --output a.pdf"

_OPTIONS: tuple[tuple[str, str | None, str], ...] = (
    ("--titles", "FILE", "A table of titles as of 'spinefit batch', or - for standard input."),
    ("--output", "FILE", "Where to write: .pdf; with --single .svg or .dxf."),
    ("--force", None, "Replace what stands there."),
    ("--labels", "WxH,...", "Labels to compare, such as 30x20,32x22mm. [as the ink needs]"),
    ("--splits", "N", "How many splits of the title to compare. [2; 1 with --titles]"),
    ("--spares", "N", "How many more of each. [1]"),
    ("--paper", "PAPER", "A5, A4, A3, A2, A1, Letter, Tabloid or WxH. [A4]"),
    ("--landscape", None, "Lay the paper on its longer side."),
    ("--margin", "LENGTH", "What the printer leaves blank at each edge. [5 mm]"),
    ("--gutter", "LENGTH", "Room for the knife between labels. [4 mm]"),
    ("--marks", "MARKS", "frame or ticks to cut by. [a frame where the method has one]"),
    ("--no-grain", None, "The material has no grain: labels may be turned to save sheets."),
    ("--single", None, "One label, for a plotter or another program."),
    ("--style", "STYLE", "With --single: cut, lines merged, or filled letters. [cut]"),
    ("--mirror", None, "With --single: a mirror image, as for heat-transfer vinyl."),
    ("--weeding-box", "MARGIN", "With --single: a box so far outside the ink to weed by."),
)


def _sheet_options(command: Callable[..., int]) -> Callable[..., int]:
    """Give a command every option of a sheet."""
    for name, metavar, meaning in reversed(_OPTIONS):
        how: dict[str, Any] = {"is_flag": True} if metavar is None else {"metavar": metavar}
        command = click.option(name, help=meaning, **how)(command)
    return command


@click.command(cls=GroupedCommand)
@takes_job(method=_METHOD)
@_sheet_options
@format_option(*_FORMATS)
def sheet(request: JobRequest, format_name: str, **options: Any) -> int:
    """Set labels on a sheet to print at true size and cut, or one label for a plotter.

    Give TITLE and a back or a panel as for 'spinefit check', and --output labels.pdf. Without
    --method a printed paper label is meant. Sizes a step apart and splits are set side by side,
    to choose by eye; --size, --sizes and --labels say which. Exit code 0: every title has a
    label; 1: one has none; 2: the input is at fault.
    """
    form = chosen_format(format_name, _FORMATS)
    _refuse_idle(options)
    _refuse_output(options)
    labels = _labels(options["labels"])
    jobs = _jobs(request, options["titles"], labels)
    return (_single if options["single"] else _sheet)(jobs, options, labels, form)


def _jobs(
    request: JobRequest, titles: str | None, labels: tuple[Panel, ...]
) -> list[tuple[Described, Job]]:
    """The jobs, each title's own values over those of the options and the job file."""
    in_file = request.one_title()
    if titles is None:
        described: tuple[Described, ...] = (request.described(in_file, example=_EXAMPLE),)
    else:
        if request.title is not None:
            raise FieldError(
                "a title beside a table of titles", value=request.title, where="TITLE",
                remedy="write it into the table",
            )  # fmt: skip
        defaults = {**in_file[1], **request.typed}
        described = title_rows(titles, "--titles", defaults, most=_MOST_TITLES)
    on_labels = [_on_label(one, labels) for one in described]
    return [(one, one.job(method=_METHOD)) for one in on_labels]


def _on_label(one: Described, labels: tuple[Panel, ...]) -> Described:
    """A title with neither panel nor back stands on the first of the labels to compare."""
    if not labels or {"panel", "width"} & set(one.values):
        return one
    panel = f"{labels[0].width_mm!r}x{labels[0].height_mm!r}mm"
    return one._replace(values={**one.values, "panel": panel})


def _sheet(
    jobs: list[tuple[Described, Job]],
    options: dict[str, Any],
    labels: tuple[Panel, ...],
    form: str,
) -> int:
    from spinefit.catalogue.trade import sheet_rules
    from spinefit.drawing.sheet_settings import Wishes

    rules, several, file = sheet_rules(), options["titles"] is not None, options["output"]
    page = _page(options)
    marks = _marks(options["marks"])
    usual_splits = 1 if several else int(rules.value("splits"))
    splits = _count(options, "splits", usual_splits, 1, _MOST_SPLITS)
    copies = 1 + _count(options, "spares", int(rules.value("spares")), 0, _MOST_COPIES)
    settings, left_out, lacking = _settings(jobs, Wishes(labels, splits, around=not several))
    if not settings:
        return _nothing(left_out, form)
    from spinefit.drawing.pdf import to_pdf
    from spinefit.drawing.sheet import build_sheet
    from spinefit.drawing.sheet_words import sheet_json, sheet_text

    built = build_sheet(settings, page, copies=copies, marks=marks)
    write_whole(file, to_pdf(built.scenes), "--output", force=options["force"])
    if form == "json":
        output.write_utf8(sheet_json(built, left_out, file))
    else:
        output.write_text(sheet_text(built, left_out, file, screen()))
    return 1 if lacking else 0


def _single(
    jobs: list[tuple[Described, Job]],
    options: dict[str, Any],
    labels: tuple[Panel, ...],
    form: str,
) -> int:
    from spinefit.drawing.sheet_settings import Wishes

    file, style = options["output"], _style(options["style"])
    dxf, filled = file.casefold().endswith(".dxf"), style == "filled"
    if dxf and filled:
        raise FieldError(
            "a DXF file holds lines to cut", value=style, where="--style",
            remedy="leave it out, or write an .svg",
        )  # fmt: skip
    if len(jobs) > 1 or len(labels) > 1:
        raise FieldError("one title and one label at a time", where="--single")
    weeding_mm = _weeding_mm(options["weeding_box"])
    settings, left_out, _ = _settings(jobs, Wishes(labels, drawer=False))
    if not settings:
        return _nothing(left_out, form)
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
        output.write_utf8(single_json(settings[0], cut, file))
    else:
        output.write_text(single_text(settings[0], cut, file, screen()))
    return 0


def _settings(
    jobs: list[tuple[Described, Job]], wishes: Wishes
) -> tuple[list[LabelSetting], list[LeftOut], bool]:
    """Settings and what is left out, of all titles; and whether a title has no label."""
    from spinefit.catalogue.trade import sheet_rules
    from spinefit.drawing.sheet_settings import settings_of

    settings: list[LabelSetting] = []
    left_out: list[LeftOut] = []
    lacking = False
    for described, job in jobs:
        try:
            kept, left = settings_of(job, wishes, sheet_rules())
        except SpinefitError as fault:
            raise described.placed(fault) from None
        settings.extend(kept)
        left_out.extend(left)
        lacking = lacking or not kept
    return settings, left_out, lacking


def _nothing(left_out: list[LeftOut], form: str) -> int:
    from spinefit.drawing.sheet_words import left_text, sheet_json

    if form == "json":
        output.write_utf8(sheet_json(None, left_out, None))
    else:
        output.write_text(left_text(left_out, screen()))
    return 1


def _refuse_idle(options: dict[str, Any]) -> None:
    """Refuse options of the sheet with a single label, and the other way round."""
    single = options["single"]
    for name in _SHEET_ONLY if single else _SINGLE_ONLY:
        if options[name]:
            raise FieldError(
                "not for a single label" if single else "for a single label only",
                where=f"--{name.replace('_', '-')}",
                remedy="leave out --single" if single else "give --single too",
            )


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


def _labels(typed: str | None) -> tuple[Panel, ...]:
    """The labels to compare; a unit on the last serves all."""
    if typed is None:
        return ()
    from spinefit.job.kinds import RECTANGLE

    mark = ";" if ";" in typed else ","  # which then may begin decimals
    parts = [part for part in typed.split(mark) if part.strip()]
    if not 1 <= len(parts) <= _MOST_LABELS:
        raise FieldError(
            f"{len(parts)} labels", value=typed, where="--labels",
            remedy=f"give 1 to {_MOST_LABELS}, such as 30x20,32x22mm",
        )  # fmt: skip
    unit = re.sub(".*[0-9¼-¾⅐-⅞]", "", parts[-1])
    whole = [part + unit if part.strip()[-1].isnumeric() else part for part in parts]
    with FaultsAt("--labels"):
        labels = [RECTANGLE.read(part) for part in whole]
    return tuple(RECTANGLE.check(label, "--labels") for label in labels)


def _page(options: dict[str, Any]) -> Page:
    """The page that was asked for, A4 unless another was."""
    from spinefit.drawing.sheet_page import page_of

    return page_of(
        options["paper"] or "A4",
        landscape=options["landscape"],
        margin=options["margin"],
        gutter=options["gutter"],
        grain=not options["no_grain"],
    )


def _marks(typed: str | None) -> Literal["frame", "ticks"] | None:
    """What labels are cut by; None where nothing was said."""
    from spinefit.drawing.sheet import MARKS

    if typed is None:
        return None
    with FaultsAt("--marks"):
        return "frame" if parse_choice(typed, MARKS) == "frame" else "ticks"


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


def _count(options: dict[str, Any], name: str, usual: int, least: int, most: int) -> int:
    """A number of copies or splits in bounds, or the usual one."""
    typed, where = options[name], f"--{name}"
    if typed is None:
        return usual
    with FaultsAt(where):
        found = parse_count(typed)
    if not least <= found <= most:
        raise FieldError(
            "out of bounds", value=typed, where=where, remedy=f"give {least} to {most}"
        )
    return found
