"""Which options does a sheet of labels have, and what do their values mean?

In: the texts of the command line. Out: pages, labels, marks and counts, each fault said with
its option. The options of a job are for `spinefit.cli.options`.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, TypeVar

import click

from spinefit.cli.files import refuse_existing
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.numbers import parse_choice, parse_count

if TYPE_CHECKING:
    from spinefit.drawing.sheet_page import Page
    from spinefit.job.model import Panel

__all__ = [
    "chosen_labels",
    "chosen_marks",
    "chosen_page",
    "chosen_style",
    "count_of",
    "output_file",
    "refuse_idle",
    "sheet_options",
    "weeding_mm_of",
]

F = TypeVar("F", bound=Callable[..., Any])

_STYLES = ("cut", "filled")
_SINGLE_ONLY = ("mirror", "weeding_box", "style")
_SHEET_ONLY = ("paper", "landscape", "margin", "gutter", "no_grain", "splits", "spares", "marks")
_MOST_COPIES, _MOST_SPLITS, _MOST_LABELS = 100, 10, 50


_OPTIONS: tuple[tuple[str, str | None, str], ...] = (
    ("--job", "FILE", "A TOML file with title and options; files it names lie beside it."),
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


def sheet_options(command: F) -> F:
    """Give a command every option of a sheet."""
    for name, metavar, meaning in reversed(_OPTIONS):
        flag = metavar is None
        target = {"--job": "job_file", "--output": "file"}.get(name, name[2:].replace("-", "_"))
        extra: dict[str, Any] = {"is_flag": True} if flag else {"metavar": metavar}
        command = click.option(name, target, help=meaning, **extra)(command)
    return command


def refuse_idle(options: dict[str, Any]) -> None:
    """Refuse options that would say nothing here.

    Raises:
        FieldError: an option of the sheet with a single label, or the other way round.
    """
    single = options["single"]
    for name in _SHEET_ONLY if single else _SINGLE_ONLY:
        if options[name]:
            raise FieldError(
                "not for a single label" if single else "for a single label only",
                where=f"--{name.replace('_', '-')}",
                remedy="leave out --single" if single else "give --single too",
            )


def output_file(options: dict[str, Any]) -> str:
    """Where to write, refused before anything is worked out.

    Raises:
        FieldError: no file, or one of another kind than is drawn.
        OutputError: something stands there.
    """
    file, single = options["file"], options["single"]
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
    return str(file)


def chosen_labels(typed: str | None) -> tuple[Panel, ...]:
    """The labels to compare; a unit on the last serves all."""
    if typed is None:
        return ()
    from spinefit.job.checks import length_mm
    from spinefit.job.values import panel

    parts = [part for part in typed.replace(";", ",").split(",") if part.strip()]
    if not 1 <= len(parts) <= _MOST_LABELS:
        raise FieldError(
            f"{len(parts)} labels", value=typed, where="--labels",
            remedy=f"give 1 to {_MOST_LABELS}, such as 30x20,32x22mm",
        )  # fmt: skip
    unit = parts[-1].strip().lstrip("0123456789.xX×/ ")
    try:
        found = tuple(
            panel(part if part.strip()[-1:].isalpha() or not unit else part + unit)
            for part in parts
        )
    except SpinefitError as fault:
        raise fault.at("--labels") from None
    for label in found:
        length_mm(label.width_mm, "--labels")
        length_mm(label.height_mm, "--labels")
    return found


def chosen_page(options: dict[str, Any]) -> Page:
    """The page that was asked for, A4 unless another was."""
    from spinefit.drawing.sheet_page import page_of

    return page_of(
        options["paper"] or "A4",
        landscape=options["landscape"],
        margin=options["margin"],
        gutter=options["gutter"],
        grain=not options["no_grain"],
    )


def chosen_marks(typed: str | None) -> Literal["frame", "ticks"] | None:
    """What labels are cut by; None where nothing was said."""
    from spinefit.drawing.sheet import MARKS

    if typed is None:
        return None
    return "frame" if _choice(typed, MARKS, "--marks") == "frame" else "ticks"


def chosen_style(typed: str | None) -> str:
    """How one label is drawn: cut or filled."""
    return _choice(typed or _STYLES[0], _STYLES, "--style")


def weeding_mm_of(typed: str | None) -> float | None:
    """Space between the ink and the box to weed by, in mm; None for no box."""
    from spinefit.job.checks import length_mm

    where = "--weeding-box"
    return None if typed is None else length_mm(_length(typed, where), where, zero=True)


def _choice(typed: str, choices: tuple[str, ...], where: str) -> str:
    try:
        return parse_choice(typed, choices)
    except SpinefitError as fault:
        raise fault.at(where) from None


def count_of(options: dict[str, Any], name: str, usual: int, least: int) -> int:
    """A number of copies or splits.

    Args:
        options: the texts of the command line.
        name: the option without its dashes.
        usual: what it is where nothing was said.
        least: the least it may be.

    Raises:
        FieldError: no such number.
    """
    typed = options[name]
    if typed is None:
        return usual
    most = _MOST_SPLITS if name == "splits" else _MOST_COPIES
    try:
        found = parse_count(typed)
    except SpinefitError as fault:
        raise fault.at(f"--{name}") from None
    if not least <= found <= most:
        raise FieldError(
            "out of bounds", value=typed, where=f"--{name}", remedy=f"give {least} to {most}"
        )
    return found


def _length(typed: str, where: str) -> float:
    from spinefit.job.lengths import parse_length

    try:
        return parse_length(typed).value_mm
    except SpinefitError as fault:
        raise fault.at(where) from None
