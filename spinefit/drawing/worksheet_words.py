"""What do a person at the bench and a program learn of a worksheet?

In: a `Worksheet`. Out: text for a screen, one JSON object, and the sentences that the printed
sheet carries. Figures from the middle of the panel are negative to the left, as the letters
stand upright; to a hundredth, since errors add up over a line.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from spinefit.drawing.struck import Near, StruckLetter, StruckLine
from spinefit.drawing.worksheet_places import NOT_SHOWN_MM, Worksheet
from spinefit.say.as_json import to_json as as_json
from spinefit.say.label_model import RuleReport
from spinefit.say.label_texts import rule_in_words
from spinefit.say.page import Column, Page
from spinefit.say.phrasing import bare_mm, grave, mm, pt, visible
from spinefit.say.screen import PLAIN, Screen
from spinefit.vocabulary import Orientation, Turn

SCHEMA = "spinefit.worksheet/1"

_TRACKING_STEP = 5  # thousandths of an em: less is not seen
_MINUS = "\N{MINUS SIGN}"
_COLUMNS = (
    Column("no.", right=True),
    Column("letter"),
    Column("from middle", right=True),
    Column("by count", right=True),
    Column("width", right=True),
    Column("from head", right=True),
    Column("", wraps=True),
)


def letter_cells(letter: StruckLetter) -> tuple[str, ...]:
    """Number, letter, place, place by count and width, for a row of a table."""
    return (
        str(letter.number),
        "space" if letter.is_space else visible(letter.letter),
        as_figure(letter.from_middle_mm),
        as_figure(letter.by_count_mm),
        "" if letter.is_space else f"{letter.width_mm:.2f}",
    )


def as_figure(value_mm: float) -> str:
    """A distance with its sign, to a hundredth.

    >>> as_figure(-0.456), as_figure(0.001)
    ('−0.46', '0.00')
    """
    rounded = round(value_mm, 2) + 0.0
    return f"{_MINUS if rounded < 0 else ''}{abs(rounded):.2f}"


def heading(worksheet: Worksheet) -> str:
    """The title and the size, with what it is struck with."""
    judged = worksheet.judged
    title = judged.layout.title
    return f"{visible(title.text)}: {pt(judged.set_pt)}, {visible(title.font.name)}"


def line_heading(number: int, line: StruckLine, worksheet: Worksheet) -> str:
    """Which line it is, how long, and where its foot stands."""
    text = f"Line {number}: {visible(line.text)}, {mm(line.length_mm)} long"
    if worksheet.judged.layout.title.stack:
        text += f", {pt(line.set_pt)}"
    if line.foot_from_head_mm is not None:
        return f"{text}, foot {mm(line.foot_from_head_mm)} from the head"
    if worksheet.turn is Turn.NONE:
        return text
    to_right = (line.foot_mm > 0) == (worksheet.turn is Turn.CLOCKWISE)
    side = "right" if to_right else "left"
    return f"{text}, foot {mm(abs(line.foot_mm))} {side} of the middle"


def rules_in_words(worksheet: Worksheet) -> list[str]:
    """Each rule of a label: how thick and long, and where; on a back from its head as well."""
    panel, found = worksheet.judged.layout.panel, []
    for number, rule in enumerate(_rules(worksheet), 1):
        text = f"Rule {number}: {rule_in_words(rule)} from the label's"
        if panel.middle_from_head_mm is not None and panel.height_mm is not None:
            edge_mm = panel.middle_from_head_mm - panel.height_mm / 2
            if worksheet.turn is Turn.NONE and edge_mm >= NOT_SHOWN_MM:
                text += f", {mm(edge_mm + rule.from_head_mm)} from the head"
        found.append(text)
    return found


def _rules(worksheet: Worksheet) -> Sequence[RuleReport]:
    report = worksheet.answer.report
    return () if report.recommended is None else report.layouts[report.recommended].rules


def middle_in_words(line: StruckLine) -> str:
    """Which letter is the middle one, by count, and where it comes to stand."""
    if line.places == 1:
        return "one letter, on the middle"
    by_number = {letter.number: letter for letter in line.letters}
    if line.middle.is_integer():
        middle = by_number[int(line.middle)]
        what = f"{line.places} places, the middle one is {_named(middle)}"
    else:
        one, other = by_number[int(line.middle)], by_number[int(line.middle) + 1]
        what = (
            f"{line.places} places, the middle falls between {one.number} and {other.number}, "
            f"{_named(one)} and {_named(other)}"
        )
    away_mm = line.middle_from_middle_mm
    if abs(away_mm) < NOT_SHOWN_MM:
        return f"{what}, on the middle"
    return f"{what}, {abs(away_mm):.2f} mm to the {'right' if away_mm > 0 else 'left'} by widths"


def _named(letter: StruckLetter) -> str:
    return "the space" if letter.is_space else visible(letter.letter)


def how_to(worksheet: Worksheet) -> list[str]:
    """What to do with the pattern, step by step."""
    on_back = worksheet.judged.layout.panel.back is not None
    place = "the back, its sides at the joints" if on_back else "the panel it was made for"
    steps = [
        "1. Print at 100 %, not fitted to the page, and measure the bar of 50 mm.",
        f"2. Cut along the outline and try the pattern on {place}, its HEAD towards the head of "
        f"the book{_beside(worksheet)}.",
        "3. Mark the middle of the back, lay the dash-dotted line on it and fix the paper with "
        "tabs that lift without a trace.",
        "4. Impress each letter, or the line from the holder, lightly through the paper: its "
        "foot on the foot line, its face between the two lines, its middle at the tick. Numbers, "
        "below the feet where there is room and in the table, give the order; a space has one too. "
        "The thick tick is the middle of the line by count.",
        "5. Lift the paper, look at the line from a distance, then work the impressions as you "
        "were taught.",
    ]
    if worksheet.pitch_mm is not None:
        steps.append(
            f"All middles stand {worksheet.pitch_mm:.2f} mm apart, narrow letters with more air."
        )
    return steps


def _beside(worksheet: Worksheet) -> str:
    """What the figures beside the pattern mean, where there are any."""
    line = worksheet.lines[0]
    if line.foot_from_head_mm is not None:
        return "; the figures beside it are from the head to the foot of each line, in mm"
    if line.letters[0].from_head_mm is not None:
        return (
            "; the figures beside it are from the head to the middle of the first line's first and "
            "last letter, in mm"
        )
    return ""


def cautions(worksheet: Worksheet) -> list[str]:
    """What to mind with this method, and who has the last word."""
    return [
        *worksheet.answer.job.method.cautions,
        "A pattern is a guide: the eye, the rules of the workshop and trained practice come first.",
    ]


def refusal_in_words(worksheet: Worksheet) -> str:
    """Why lettering at one pitch does not fit, and at which it would."""
    near = worksheet.nearest
    assert near is not None and worksheet.pitch_mm is not None
    if worksheet.excess_mm > NOT_SHOWN_MM:
        longest = max(worksheet.lines, key=lambda line: line.length_mm)
        why = (
            f"{visible(longest.text)} would be {mm(longest.length_mm)} long, "
            f"{mm(worksheet.excess_mm)} beyond the panel at one end"
        )
    else:
        why = f"{_pair(near)} would {_overlap(near)}"
    return f"It does not fit at a pitch of {worksheet.pitch_mm:.2f} mm: {why}. {_cure(worksheet)}"


def _pair(near: Near) -> str:
    return f"{visible(near.one)} and {visible(near.other)} of {visible(near.text)}"


def _overlap(near: Near) -> str:
    return "touch" if near.apart_mm > -NOT_SHOWN_MM else f"overlap by {-near.apart_mm:.2f} mm"


def _cure(worksheet: Worksheet) -> str:
    """At which pitch letters stand apart, and which still fits."""
    least_mm, widest_mm = worksheet.least_pitch_mm, worksheet.widest_pitch_mm
    fits = "" if widest_mm == math.inf else f"{widest_mm:.2f} mm is the widest pitch that fits"
    apart = (
        f"letters keep {worksheet.least_gap_mm:g} mm apart, so that gold does not bridge, "
        f"from {least_mm:.2f} mm on"
    )
    if not least_mm:
        return f"{fits or 'Take a wider pitch'}."
    if widest_mm < least_mm:
        return f"{fits}, but {apart}: take them by their widths, or a smaller size."
    return f"{apart[0].upper()}{apart[1:]}{'; ' if fits else ''}{fits}."


def to_text(
    worksheet: Worksheet,
    screen: Screen = PLAIN,
    *,
    file: str | None = None,
    pages: int = 0,
    whole: bool = True,
) -> str:
    """The worksheet as text.

    Args:
        worksheet: the letters and their places.
        screen: what it is written for.
        file: the file that holds the pattern, where one was written.
        pages: how many pages that has.
        whole: whether all places are given, and how to use the pattern; else only what to mind.
    """
    page = Page(screen)
    page.paragraph(heading(worksheet), "bold")
    if file is not None:
        sheets = "1 page" if pages == 1 else f"{pages} pages"
        page.paragraph(f"{visible(file)}: the paper pattern, {sheets}.")
    if whole:
        _places(page, worksheet)
    page.heading("Mind")
    for warning in warnings(worksheet):
        page.row("warning", warning, style="yellow")
    page.bulleted(cautions(worksheet))
    return page.text()


def _places(page: Page, worksheet: Worksheet) -> None:
    """Every letter of every line, and how to use the pattern."""
    page.paragraph(
        "Middles of the letters in mm from the middle of the panel, to the left below zero; "
        "a space counts as a letter."
    )
    if worksheet.pitch_mm is not None:
        page.paragraph(f"One pitch: all middles {worksheet.pitch_mm:.2f} mm apart.")
    for number, line in enumerate(worksheet.lines, 1):
        page.heading(line_heading(number, line, worksheet))
        page.paragraph(middle_in_words(line))
        page.table(_COLUMNS, (_cells(letter, line) for letter in line.letters))
    for rule in rules_in_words(worksheet):
        page.heading(rule)
    page.heading("How to use the pattern of --output FILE.pdf")
    for step in how_to(worksheet):
        page.paragraph(step)


def warnings(worksheet: Worksheet) -> list[str]:
    """What would spoil the work: letters too near, and what the check warns of."""
    close = _close(worksheet)
    return [*([close] if close else []), *(one.text for one in grave(worksheet.answer.report))]


def _close(worksheet: Worksheet) -> str:
    """A warning where letters stand nearer than the method keeps open."""
    near, gap_mm = worksheet.nearest, worksheet.least_gap_mm
    if near is None or near.apart_mm >= gap_mm - NOT_SHOWN_MM:
        return ""
    stand = (
        f"stand {near.apart_mm:.2f} mm apart" if near.apart_mm >= NOT_SHOWN_MM else _overlap(near)
    )
    if worksheet.pitch_mm is not None:
        return f"{_pair(near)} {stand}. {_cure(worksheet)}"
    lacking_em = (gap_mm - near.apart_mm) / worksheet.size_mm
    tracking = (worksheet.answer.job.lettering.tracking_em + lacking_em) * 1000
    about = _TRACKING_STEP * math.ceil(tracking / _TRACKING_STEP)
    return (
        f"{_pair(near)} {stand}; {gap_mm:g} mm are kept open, so that gold does not bridge: take "
        f"--tracking, about {about}, or --pitch equal, or shift them by eye."
    )


def _cells(letter: StruckLetter, line: StruckLine) -> tuple[str, ...]:
    return (
        *letter_cells(letter),
        "" if letter.from_head_mm is None else bare_mm(letter.from_head_mm),
        "middle" if letter.number == line.middle else "",
    )


def to_json(worksheet: Worksheet, file: str | None = None) -> str:
    """The worksheet as one JSON object, lengths in mm to four decimals; its pattern in ``file``."""
    judged = worksheet.judged
    return as_json(
        _WorksheetJson(
            schema=SCHEMA,
            title=judged.layout.title.text,
            font=judged.layout.title.font.name,
            method=worksheet.answer.job.method.key,
            set_pt=judged.set_pt,
            orientation=judged.layout.candidate.orientation,
            turn=worksheet.turn,
            pitch_mm=worksheet.pitch_mm,
            head_mm=worksheet.head_mm,
            least_gap_mm=worksheet.least_gap_mm,
            lines=worksheet.lines,
            assumed=worksheet.answer.report.assumed,
            cautions=cautions(worksheet),
            warnings=warnings(worksheet),
            file=file,
            rules=_rules(worksheet),
        )
    )


class _WorksheetJson(NamedTuple):
    """The keys of the JSON."""

    schema: str
    title: str
    font: str
    method: str
    set_pt: float
    orientation: Orientation
    turn: Turn
    pitch_mm: float | None
    head_mm: float
    least_gap_mm: float
    lines: Sequence[StruckLine]
    assumed: Sequence[str]
    cautions: Sequence[str]
    warnings: Sequence[str]
    file: str | None
    rules: Sequence[RuleReport]
