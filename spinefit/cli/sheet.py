"""Which labels are printed and cut? The command ``spinefit sheet``.

In: a title, a job file or a table of titles, with the options of a job and those of the sheet.
Out: a PDF of labels at true size, or one label as SVG or DXF, written whole or not at all; what
it holds and what was left out, as text or JSON; 0 where every title has a label, 1 where one
has none. Drawing and its libraries are loaded once all options have been read without fault.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from spinefit.cli import output
from spinefit.cli.files import write_whole
from spinefit.cli.jobs import one_title_of, placed, said_of, typed_fields
from spinefit.cli.options import (
    GroupedCommand,
    chosen_format,
    format_option,
    job_options,
    parameter_of,
)
from spinefit.cli.sheet_options import (
    chosen_labels,
    chosen_marks,
    chosen_page,
    chosen_style,
    count_of,
    output_file,
    refuse_idle,
    sheet_options,
    weeding_mm_of,
)
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.fields import assemble
from spinefit.say.screen import screen

if TYPE_CHECKING:
    from spinefit.drawing.sheet_settings import LeftOut, Setting, Wishes
    from spinefit.job.model import Job, Panel

__all__ = ["sheet"]

_FORMATS = ("text", "json")
_MOST_TITLES = 500  # a sheet holds some dozens of labels; more books are for a table of answers
_METHOD = "paper-label"
_EXAMPLE = "sheet 'The Harbour Light' --panel 20x30mm --output a.pdf"


class _Titled(NamedTuple):
    """A job, and what tells its faults at their place."""

    job: Job
    told: Callable[[SpinefitError], SpinefitError]


@click.command(cls=GroupedCommand)
@click.argument("title", metavar="[TITLE]", nargs=-1)
@job_options
@sheet_options
@format_option(*_FORMATS)
def sheet(title: tuple[str, ...], format_name: str, **options: Any) -> int:
    """Set labels on a sheet to print at true size and cut, or one label for a plotter.

    Give TITLE and a back or a panel as for 'spinefit check', and --output labels.pdf. Without
    --method a printed paper label is meant. Sizes a step apart and splits are set side by side,
    to choose by eye; --size, --sizes and --labels say which. Exit code 0: every title has a
    label; 1: one has none; 2: the input is at fault.
    """
    form = chosen_format(format_name, _FORMATS)
    refuse_idle(options)
    file = output_file(options)
    labels = chosen_labels(options["labels"])
    titled = _jobs(title, options, labels)
    if options["single"]:
        return _single(titled, options, labels, file, form)
    return _sheet(titled, options, labels, file, form)


for _option in sheet.params:
    if _option.name == parameter_of("method") and isinstance(_option, click.Option):
        _option.help = f"How it is made; 'spinefit methods' lists the ways. [{_METHOD}]"


def _sheet(
    titled: list[_Titled],
    options: dict[str, Any],
    labels: tuple[Panel, ...],
    file: str,
    form: str,
) -> int:
    from spinefit.catalogue.sheet_table import sheet_rules
    from spinefit.drawing.sheet_settings import Wishes

    rules, several = sheet_rules(), options["titles"] is not None
    page = chosen_page(options)
    marks = chosen_marks(options["marks"])
    splits = count_of(options, "splits", 1 if several else int(rules.value("splits")), 1)
    copies = 1 + count_of(options, "spares", int(rules.value("spares")), 0)
    wishes = Wishes(labels, splits, around=not several)
    settings, left_out, lacking = _checked(titled, wishes)
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
    titled: list[_Titled],
    options: dict[str, Any],
    labels: tuple[Panel, ...],
    file: str,
    form: str,
) -> int:
    from spinefit.drawing.sheet_settings import Wishes

    style = chosen_style(options["style"])
    dxf, filled = file.casefold().endswith(".dxf"), style == "filled"
    if dxf and filled:
        raise FieldError(
            "a DXF file holds lines to cut", value=style, where="--style",
            remedy="leave it out, or write an .svg",
        )  # fmt: skip
    if len(titled) > 1 or len(labels) > 1:
        raise FieldError("one title and one label at a time", where="--single")
    weeding_mm = weeding_mm_of(options["weeding_box"])
    settings, left_out, _ = _checked(titled, Wishes(labels, drawer=False))
    if not settings:
        return _nothing(left_out, form)
    from spinefit.drawing.label_cut import cut_label, cut_scene
    from spinefit.drawing.sheet_words import single_json, single_text

    cut = cut_label(
        settings[0], mirror=options["mirror"], weeding_mm=weeding_mm, filled=filled
    )  # fmt: skip
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


def _checked(titled: list[_Titled], wishes: Wishes) -> tuple[list[Setting], list[LeftOut], bool]:
    """Settings and what is left out, of all titles; and whether a title has no label."""
    from spinefit.catalogue.sheet_table import sheet_rules
    from spinefit.drawing.sheet_settings import settings_of

    settings: list[Setting] = []
    left_out: list[LeftOut] = []
    lacking = False
    for job, told in titled:
        try:
            kept, left = settings_of(job, wishes, sheet_rules())
        except SpinefitError as fault:
            raise told(fault) from None
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


def _jobs(
    title: tuple[str, ...], options: dict[str, Any], labels: tuple[Panel, ...]
) -> list[_Titled]:
    """The jobs, each title's own values over those of the options and the job file."""
    typed, in_file = typed_fields(options), one_title_of(options["job_file"])
    if options["titles"] is not None:
        if title:
            raise FieldError(
                "a title beside a table of titles", value=title[0], where="TITLE",
                remedy="write it into the table",
            )  # fmt: skip
        from spinefit.cli.tables import title_rows

        said = {**in_file[1], **typed}
        rows = title_rows(options["titles"], "--titles", said, most=_MOST_TITLES)
        return [_job(row.title, row.values, labels, row.place, row.told) for row in rows]
    words, values, place = said_of(
        title, options["job_file"], in_file, typed, example=_EXAMPLE
    )  # fmt: skip
    return [_job(words, values, labels, place, lambda fault: placed(fault, place))]


def _job(
    title: object,
    values: dict[str, object],
    labels: tuple[Panel, ...],
    place: Callable[[str], str],
    told: Callable[[SpinefitError], SpinefitError],
) -> _Titled:
    said = dict(values)
    if not {"method", "method-file", "tools"} & set(said):
        said["method"] = _METHOD
    if labels and not {"panel", "width"} & set(said):
        first = labels[0]
        said["panel"] = f"{first.width_mm!r}x{first.height_mm!r}mm"
    try:
        return _Titled(assemble(title, said, place=place), told)
    except SpinefitError as fault:
        raise told(fault) from None
