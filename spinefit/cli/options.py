"""How is an answer to be given, and how does it reach screen and files?

In: the texts of the command line, each fault said with its option; then a report and what draws
and words it. Out: everything complete before its first letter is written, files whole or none,
and the exit code: 1 where it does not fit, or where ``--fail-on`` has findings count, else 0.
Writers are loaded when they are asked for. The options of a job are for `spinefit.cli.jobs`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from spinefit.cli import output
from spinefit.errors import FaultsAt, FieldError
from spinefit.job.lengths import parse_choice
from spinefit.say.screen import Screen, encoding, screen, shows_unicode
from spinefit.vocabulary import Level

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from spinefit.cli.files import Finished
    from spinefit.drawing.plate import Subject
    from spinefit.job.model import Job
    from spinefit.say.plan_model import AnyReport

Command = Callable[..., int]

FORMAT = "--format"
SPOT_HELP = "One ink by this name in the PDF of --artwork, such as 'Gold foil'. [100 % black]"

_FORMATS = ("text", "json", "checklist", "junit")


class Wanted(NamedTuple):
    """How an answer is to be given.

    Attributes:
        form: text, json (jsonl: on a single line), checklist or junit.
        fail_on: the level of findings from which on the exit code is 1; None for none.
        drawings: files to draw into.
        artwork: files for the lettering alone.
        spot: name of the ink of artwork; None for black.
        pattern_file: where a pattern is to be saved, or None.
        match_file: the pattern to judge by, or None.
        force: whether files that stand there may be replaced.
        picture: whether a picture is shown on the screen; None where the terminal decides.
        why: whether the text holds the reasons too.
        of: the job file, for a form that names what was asked; "" for none.
        suites: where JUnit XML goes that stands in a document with that of others.
    """

    form: str
    fail_on: Level | None
    drawings: tuple[str, ...]
    artwork: tuple[str, ...]
    spot: str | None
    pattern_file: str | None
    match_file: str | None
    force: bool
    picture: bool | None
    why: bool
    of: str = ""
    suites: list[Element] | None = None


class OneOf:
    """What an option makes of a word: one of some, read and refused as the choices of a job are.

    Args:
        choices: the words, or members of an enumeration of them.
    """

    def __init__(self, *choices: str) -> None:
        self.choices = choices

    def __call__(self, _: click.Context, param: click.Parameter, typed: str | None) -> str | None:
        """The choice that was typed; None where nothing was.

        Raises:
            FieldError: there is none of that name.
        """
        with FaultsAt(param.opts[0]):
            return None if typed is None else parse_choice(typed, self.choices)


def format_option(*formats: str, usual: str | None = "") -> Callable[[Command], Command]:
    """The option ``--format``.

    Args:
        formats: what may be chosen, the usual one first.
        usual: what is taken where none is chosen, in words; "" for the first format.
    """
    return click.option(
        FORMAT, "form", metavar="FORMAT", callback=OneOf(*formats),
        default=None if usual else formats[0],
        help=f"{', '.join(formats[:-1])} or {formats[-1]}. [{usual or formats[0]}]",
    )  # fmt: skip


fail_on_option = click.option(
    "--fail-on", "fail_on", metavar="LEVEL", callback=OneOf(Level.WARNING, Level.FAILURE),
    help="warning or failure: exit 1 also where a finding of the job or of the advised "
    "setting is as grave; a failure of legibility counts too. [only what does not fit]",
)  # fmt: skip
"""Which findings count beside what does not fit, as `spinefit.say.junit` has it."""


def answer_options(command: Command) -> Command:
    """The options about patterns, drawings and the form of an answer, for `wanted_of`."""
    for option in reversed(_ANSWER_OPTIONS):
        command = option(command)
    return command


_ANSWER_OPTIONS: tuple[Callable[[Command], Command], ...] = (
    click.option(
        "--save-pattern", "pattern_file", metavar="FILE",
        help="Save size, lines, font and heights for the next volume of a set to match.",
    ),
    click.option(
        "--match", "match_file", metavar="FILE",
        help="Judge by a saved pattern: nothing is solved, and what differs is said.",
    ),
    click.option(
        "--drawing", "drawings", metavar="FILE", multiple=True,
        help="Draw the back at true size into a .svg or .pdf, or give the whole answer as "
        ".html; repeatable.",
    ),
    click.option(
        "--artwork", "artwork", metavar="FILE", multiple=True,
        help="The lettering alone as outlines, to be placed: a .svg or .pdf of exactly the size of "
        "the back, label or panel; repeatable. A set has a page each in a .pdf, or NAME-1.svg, "
        "NAME-2.svg; for a die NAME-placing.pdf is written too.",
    ),
    click.option("--spot", metavar="NAME", help=SPOT_HELP),
    click.option(
        "--force", is_flag=True,
        help="Replace the files of --drawing, --artwork and --save-pattern.",
    ),
    click.option(
        "--picture/--no-picture", "picture", default=None,
        help="Show the lettering in its panel on the screen. [on a terminal that can]",
    ),
    click.option(
        "--why", is_flag=True,
        help="Add to the text its reasons and sources, notes, the other settings and all that was "
        "assumed; the other forms hold them anyway.",
    ),
    format_option(*_FORMATS),
    fail_on_option,
)  # fmt: skip


def wanted_of(options: Mapping[str, Any]) -> Wanted:
    """How the answer is to be given, refused before anything is worked out where it cannot be.

    Raises:
        FieldError: options that say nothing here.
        OutputError: a file that cannot be written.
    """
    wanted = Wanted(**options)
    _refuse_picture(wanted)
    _refuse_files(wanted)
    return wanted


def _refuse_picture(wanted: Wanted) -> None:
    if wanted.picture and wanted.form != "text":
        raise FieldError(
            "a picture stands in the text only", value=wanted.form, where="--picture",
            remedy="leave out --format",
        )  # fmt: skip
    if wanted.picture and not shows_unicode():
        raise FieldError(
            "this terminal cannot show a picture", value=encoding(), where="--picture",
            remedy="set it to UTF-8, or draw into a file with --drawing",
        )  # fmt: skip


def _refuse_files(wanted: Wanted) -> None:
    pattern_file = wanted.pattern_file
    drawings = [(path, "--drawing") for path in wanted.drawings]
    drawings += ((path, "--artwork") for path in wanted.artwork)
    if wanted.force and pattern_file is None and not drawings:
        raise FieldError(
            "nothing to replace",
            where="--force",
            remedy="it goes with --drawing, --artwork and --save-pattern",
        )
    if pattern_file is not None and wanted.match_file is not None:
        raise FieldError(
            "a pattern both matched and saved", where="--save-pattern",
            remedy="what matches has that pattern already",
        )  # fmt: skip
    if wanted.spot is not None:
        from spinefit.cli.artwork import refuse_spot

        refuse_spot(wanted.spot, any(path.lower().endswith(".pdf") for path in wanted.artwork))
    if pattern_file is None and not drawings:
        return
    from spinefit.cli.files import refuse_drawings, refuse_existing

    if pattern_file is not None and not wanted.force:
        refuse_existing(pattern_file, "--save-pattern")
    if drawings:
        others = [] if pattern_file is None else [(pattern_file, "--save-pattern")]
        refuse_drawings(drawings, others, force=wanted.force)


def give(
    report: AnyReport,
    wanted: Wanted,
    *,
    text: Callable[[Screen], str],
    subject: Callable[[], Subject],
    job: Job | None = None,
) -> int:
    """Write the answer and its files, and say the exit code.

    Args:
        report: the answer to a job, or a plan.
        wanted: how it is to be given.
        text: words it for a screen.
        subject: what is to be drawn of it.
        job: the job of a report, for its pattern.
    """
    files: list[Finished] = []
    if wanted.pattern_file is not None:
        files += _pattern(report, job, wanted.pattern_file)
    if wanted.drawings:
        from spinefit.cli.files import drawn

        files += drawn(subject(), wanted.drawings)
    said: list[str] = []
    if wanted.artwork:
        from spinefit.cli.artwork import artwork

        made, said = artwork(subject(), wanted.artwork, wanted.spot, fits=report.fits)
        files += made
    write, written = _written(report, wanted, text)
    if files:
        from spinefit.cli.files import write_all

        write_all(files, force=wanted.force)
    write(written)
    for line in said:
        output.complain(line)
    if wanted.fail_on is None:
        return int(not report.fits)
    from spinefit.say.junit import fails

    return int(fails(report, wanted.fail_on))


def _pattern(report: AnyReport, job: Job | None, path: str) -> list[Finished]:
    """The file of a pattern; none of what does not fit."""
    if not report.fits:
        output.complain("no pattern saved: what does not fit is none")
        return []
    from spinefit.backs import pattern_of
    from spinefit.cli.files import Finished
    from spinefit.plan.pattern import pattern_text

    return [Finished(path, pattern_text(pattern_of(report, job)), "--save-pattern")]


def _written(
    report: AnyReport, wanted: Wanted, text: Callable[[Screen], str]
) -> tuple[Callable[[str], None], str]:
    """What writes the answer, and the answer as it is written."""
    if wanted.form in ("json", "jsonl"):
        from spinefit.say.as_json import to_json

        return output.write_utf8, to_json(report, indent=2 if wanted.form == "json" else None)
    if wanted.form == "checklist":
        from spinefit.say.checklist import to_markdown

        return output.write_text, to_markdown(report)
    if wanted.form == "junit":
        from spinefit.say import junit

        if wanted.suites is not None:
            wanted.suites.extend(junit.suites(report, wanted.fail_on, wanted.of))
            return (lambda _: None), ""
        return output.write_utf8, junit.to_junit(report, wanted.fail_on, wanted.of)
    return output.write_text, text(screen())
