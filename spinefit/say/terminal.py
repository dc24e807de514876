"""How does a person at the bench read the answer on a screen?

In: a `Report`. Out: text that a screen holds: the answer first, then the setting with its lines
as they will stand, what to mind, the method's line of caution and what was assumed of most
weight. Where it is asked why, also the other settings, all that was assumed, every reason and who
says so. Readable at 80 columns, without colour and when piped: what a colour says, a word says
too. Titles are shown letter for letter.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator, Sequence

from spinefit.job.title import SHORT_NUMBER, sets_upright
from spinefit.layout.group import FLUSH_LEFT
from spinefit.say import phrasing as say
from spinefit.say.below import (
    MOST_REMEDIES,
    assumed_rows,
    closing,
    doubt_rows,
    mind_rows,
    numbered_rows,
    on_a_screen,
    reason_rows,
)
from spinefit.say.label_model import SpareReport
from spinefit.say.model import FindingReport, LayoutReport, Report, doubts_of
from spinefit.say.page import LABEL_WIDTH, Column, Page, StyledText, cells
from spinefit.say.screen import PLAIN, Screen
from spinefit.vocabulary import Level, LimitedBy, Orientation, Turn, Verdict

_WIDEST_AS_IT_STANDS = 56
_AROUND_IT = 24  # the ends of the panel at its left and right
_TALLEST_PILLAR = 30
_TURNED = r"[A-Za-z0-9À-ɏ](?:[ .,:/–-]*[A-Za-z0-9À-ɏ])*"  # in a column, by UAX #50
_MOST_OTHERS = 10  # more settings than these are for a program to read
_COLUMNS = (
    Column("way"),
    Column("lines", wraps=True),
    Column("largest", right=True),
    Column("judged", right=True),
    Column("spare", right=True),
    Column(""),
)
_SHAPE_COLUMNS = (
    Column("shape"),
    Column("lines", wraps=True),
    Column("largest", right=True),
    Column("judged", right=True),
    Column(""),
)
_ANSWER_STYLES = {
    Verdict.FITS: "bold green",
    Verdict.TIGHT: "bold yellow",
    Verdict.DOES_NOT_FIT: "bold red",
}
_LIMITS = {
    LimitedBy.WIDTH: "the width of the panel",
    LimitedBy.HEIGHT: "the height of the panel",
    LimitedBy.SHAPE: "the shape of the panel",
    LimitedBy.ANGLE: "the largest readable angle of the round",
}
"""What stops the lettering from being larger."""


def render(
    report: Report, screen: Screen = PLAIN, *, picture: Sequence[str] = (), why: bool = False
) -> str:
    """The report as text, lines ended by newlines.

    Args:
        report: the answer to one job.
        screen: what it is written for.
        picture: lines that show the lettering in its panel, to stand below its words.
        why: whether reasons, sources, other settings and all that was assumed are wanted too.
    """
    layout = say.shown_layout(report)
    found = say.findings_by_weight(report, layout)
    doubts = doubts_of([report])
    findings = [
        ("", one)
        for one in found
        if one.text not in doubts and (why or layout is None or not _in_label_row(one))
    ]
    heading, texts, most = _remedies(report)

    def draw(most_notes: int | None) -> Page:
        page = Page(screen)
        page.paragraph(say.visible(report.answer), _ANSWER_STYLES[report.verdict])
        doubt_rows(page, doubts)
        if layout is not None:
            _setting(page, report, layout, picture, why=why, is_roomy=most_notes is None)
        withheld = mind_rows(page, findings, why=why, most_notes=most_notes)
        numbered_rows(page, heading, texts, why=why, most=most)
        if why:
            _others(page, [other for other in report.layouts if other is not layout])
            _shapes(page, report)
            assumed_rows(page, report.assumed)
            reason_rows(page, found)
        closing(page, [report], report.assumed, why=why, withheld=withheld)
        return page

    return on_a_screen(draw, findings, why=why or bool(picture))


def _in_label_row(one: FindingReport) -> bool:
    """Whether it only says how wide a lapped label is cut, which stands beside the setting."""
    return one.topic == "label-lap" and one.level is Level.NOTE


def _setting(
    page: Page,
    report: Report,
    layout: LayoutReport,
    picture: Sequence[str],
    *,
    why: bool,
    is_roomy: bool,
) -> None:
    page.heading("Recommended setting" if report.fits else "Nearest setting, which does not fit")
    _as_it_stands(page, layout)
    between = [""] * is_roomy
    for line in [*between, *picture, *(between if picture else ())]:
        page.exact(StyledText(line))
    along = layout.orientation is Orientation.LONGITUDINAL
    way = say.way_in_words(report, layout) if why or not along else str(layout.reading)
    way += f", {say.lines_in_words(layout)}"
    if along:
        way += f"; {say.turn_in_words(layout)}"
    page.row("Lines", f"{way[0].upper()}{way[1:]}")
    for name, words in _sizes(layout):
        page.row(name, words)
    if why:
        page.row("Limit", _LIMITS[layout.limited_by])
    page.row("Spare", _spares(report.spare_around(layout)) + _taken_by_rule(layout))
    if why:
        page.row("Letters", _letters(report, layout))
    middle = say.middle_in_words(layout) if why else ""
    place = "; ".join(filter(None, (say.placing_in_words(layout), middle)))
    if layout.fits and place and not layout.texts:
        page.row("Place", place)
    if layout.needs_back_mm is not None:
        page.row("Needs", f"{say.mm(layout.needs_back_mm)} of back, ends included")
    if why or report.panel.of == "label" or report.panel.number is not None:
        page.row("Panel", _panel(report, layout))
    for name, words in _beside(report):
        page.row(name, words)
    if why or not any(text.startswith("font:") for text in report.assumed):
        page.row(_letters_of(report), say.visible(say.font_in_words(report.font)))


def _sizes(layout: LayoutReport) -> Iterator[tuple[str, str]]:
    """The size, and where the texts of a label stand and how large."""
    yield "Size", say.size_in_words(layout)
    if layout.nudges:
        from spinefit.say.by_hand import by_hand_in_words  # for few jobs

        yield "By hand", by_hand_in_words(layout)
    if layout.texts:
        from spinefit.say.label_texts import rows_of  # for labels with several

        yield from rows_of(layout)


def _beside(report: Report) -> Iterator[tuple[str, str]]:
    """What there is beside the lettering: frame, label over the joints, board, recess, old ink."""
    label = report.label
    if report.panel.frame is not None:
        yield "Frame", say.frame_in_words(report.panel.frame)
    if label is not None and label.lap is not None:
        yield "Label", say.lapping_in_words(label, label.lap)
    for name, part in (
        ("Board", report.front_board),
        ("Recess", report.recess),
        ("Old ink", report.old_lettering),
    ):
        if part is not None:
            yield name, part.text


def _letters_of(report: Report) -> str:
    """What the letters are of: a font, or tools."""
    return "Tools" if report.font.of == "tools" else "Font"


def _as_it_stands(page: Page, layout: LayoutReport) -> None:
    """The lines, centred or flush left, between strokes for the ends of the panel, turned level."""
    lines = [say.visible(line) for line in _stacked(layout)]
    lines = _with_rules(layout, lines)
    widths = [cells(line) for line in lines]
    left, right = _ends(layout)
    if max(widths) > min(_WIDEST_AS_IT_STANDS, page.screen.columns - _AROUND_IT):
        for number, line in enumerate(lines, 1):
            page.row(str(number), line)
        return
    for line, wide in zip(lines, widths, strict=True):
        before = 0 if layout.shape == FLUSH_LEFT else (max(widths) - wide) // 2
        after = max(widths) - wide - before
        page.exact(
            StyledText(f"{left:>{LABEL_WIDTH}}  │  {' ' * before}"),
            StyledText(line, "bold"),
            StyledText(f"{' ' * after}  │  {right}"),
        )
        left = right = ""


def _with_rules(layout: LayoutReport, lines: list[str]) -> list[str]:
    """The lines of a label with its rules between them, as long beside the widest as they are."""
    places_mm = [place for text in layout.texts for place in text.baselines_mm]
    rows = list(zip(places_mm, lines, strict=True)) if layout.rules else []
    widest = max(map(cells, lines))
    for rule in layout.rules:
        share = min(1.0, rule.length_mm / max(layout.line_widths_mm))
        rows.append((rule.from_head_mm, "\u2500" * max(1, round(share * widest))))
    return [line for _place_mm, line in sorted(rows)] or lines


def _cells_of(line: str, *, upright: bool) -> list[str]:
    """The letters of a column from its head; a short number or what is drawn turned as one."""
    found: list[str] = []
    parts = re.split(f"({SHORT_NUMBER}|{_TURNED})", line) if upright else [line]
    for at, part in enumerate(parts):
        turned = at % 2 and not re.fullmatch(SHORT_NUMBER, part)
        found += [f"{part} (turned)" if turned else part] if at % 2 else say.letters_of(part)
    return found


def _stacked(layout: LayoutReport) -> Sequence[str]:
    """The lines; for a pillar its letters, each on a line, as long as the screen holds them."""
    if layout.orientation is not Orientation.PILLAR:
        return layout.lines
    upright = any(map(sets_upright, layout.lines))
    columns = [_cells_of(line, upright=upright) for line in layout.lines]
    if max(map(len, columns)) > _TALLEST_PILLAR:
        return layout.lines
    if len(columns) == 1:
        return columns[0]
    # The first column stands at the right; a letter of theirs is as wide as two others.
    wide = max(cells(cell) for column in columns for cell in column)
    rows = itertools.zip_longest(*reversed(columns), fillvalue="")
    return [" ".join(cell + " " * (wide - cells(cell)) for cell in row) for row in rows]


def _ends(layout: LayoutReport) -> tuple[str, str]:
    """What lies at the left and right of the lines once they are turned level."""
    if layout.turn is Turn.CLOCKWISE:
        return "head", "tail"
    if layout.turn is Turn.ANTICLOCKWISE:
        return "tail", "head"
    return "", ""


def _taken_by_rule(layout: LayoutReport) -> str:
    """That a rule from margin to margin leaves nothing, where the letters do."""
    longest_mm = max((rule.length_mm for rule in layout.rules), default=0.0)
    return "; the rule takes its full measure" if longest_mm > max(layout.line_widths_mm) else ""


def _spares(spare: SpareReport) -> str:
    sides = spare._asdict().items()
    known = [f"{name} {say.bare_mm(value)}" for name, value in sides if value is not None]
    text = f"{', '.join(known)} mm" if known else "not known"
    over = any(value is not None and value < 0 for _, value in sides)
    return f"{text} (minus: too large)" if over else text


def _letters(report: Report, layout: LayoutReport) -> str:
    along, across = say.mm(layout.ink_width_mm), say.mm(layout.ink_height_mm)
    letters = say.capitals_or_letters(report.title)
    text = (
        f"{letters} {say.mm(layout.cap_height_mm)} high, easily read up to "
        f"{layout.reads_from_mm / 1000:.2g} m away; all the ink {along} along the lines, "
        f"{across} across them"
    )
    if layout.foreshortening < 0.995:
        along_back = layout.orientation is Orientation.LONGITUDINAL
        part = "height" if along_back else "width"
        text += f"; outermost ink seen at {layout.foreshortening:.0%} of its {part}"
    return text


def _panel(report: Report, layout: LayoutReport) -> str:
    panel = report.panel
    high = "open length" if panel.height_mm is None else f"{say.mm(panel.height_mm)} high"
    text = f"{say.mm(panel.width_mm)} wide, {high}"
    if panel.number is not None:
        text = f"number {panel.number} from the head, {text}"
    if panel.of == "label":
        text = _label_in_room(report, layout, text)
    elif panel.of == "front board":
        text = f"on the front board, {text}"
    elif panel.developed:
        text += ", measured round the back"
    return f"{text}{_of_a_range(report)}"


def _label_in_room(report: Report, layout: LayoutReport, room: str) -> str:
    """The label over old lettering, or of given size; else its room, and how high it must be."""
    if report.panel.label_from_head_mm is not None:
        return f"label, {room}, its middle {say.mm(report.panel.label_from_head_mm)} from the head"
    old = report.old_lettering
    if old is not None and old.label_width_mm is not None and old.label_height_mm is not None:
        wide, high = say.bare_mm(old.label_width_mm), say.mm(old.label_height_mm)
        return f"label {wide} x {high}; its room {room}"
    room_mm, spare = report.panel.height_mm, layout.spare_mm
    text = f"room for a label, {room}"
    if room_mm is None or spare.head is None or spare.tail is None or not layout.fits:
        return text
    needed_mm = math.ceil(room_mm - spare.head - spare.tail)
    return f"{text}; these lines need {needed_mm} mm" if needed_mm < room_mm else text


def _of_a_range(report: Report) -> str:
    """Which of a range of widths the panel belongs to, where there is a range."""
    for finding in report.findings:
        if finding.topic == "width-range" and not isinstance(finding.value, str | None):
            least, widest = finding.value, finding.limit
            if isinstance(widest, int | float):
                widths = f"{say.bare_mm(least)} to {say.mm(widest)}"
                return f" (where the back is {say.mm(least)}, of {widths})"
    return ""


def _remedies(report: Report) -> tuple[str, list[str], int]:
    """A heading, what could be done, and how much of it is told where nobody asks why."""
    heading = "What else could be done" if report.fits else "What would make it fit"
    if report.to_improve is None:
        return heading, [], 0
    from spinefit.say.remedies import remedies  # for titles with something to wish for

    # What fits asks for less, and the warning of a tight setting takes their room on the screen.
    most = MOST_REMEDIES - report.fits - (report.verdict is Verdict.TIGHT)
    return heading, [remedy.text for remedy in remedies(report)], most


def _others(page: Page, others: list[LayoutReport]) -> None:
    if not others:
        return
    page.heading("Other settings (sizes in pt, least spare in mm)")
    ranked = sorted(others, key=lambda layout: (not layout.fits, layout.over_bands))
    kept = ranked[:_MOST_OTHERS]
    page.table(_COLUMNS, (_other(layout) for layout in others if layout in kept))
    if len(others) > len(kept):
        page.paragraph(f"and {len(others) - len(kept)} more, all in --format json")


def _shapes(page: Page, report: Report) -> None:
    """The largest split of each shape, for a binder to choose by eye."""
    from spinefit.say.shapes import shapes  # for those who ask why

    found = shapes(report)
    if not found:
        return
    page.heading("Shapes of the lines, the largest of each; --shape asks for one (sizes in pt)")
    page.table(
        _SHAPE_COLUMNS,
        (
            (
                one.shape,
                say.visible(" / ".join(one.lines)),
                _aligned(say.bare_limit_pt(one.largest_pt)),
                _aligned(say.bare_pt(one.set_pt)),
                "" if one.fits else "no",
            )
            for one in found
        ),
    )


def _other(layout: LayoutReport) -> tuple[str, ...]:
    pillar = layout.orientation is Orientation.PILLAR
    remarks = ["over the bands: avoid"] if layout.over_bands else []
    remarks += ["a word broken"] if layout.word_broken else []
    least = say.least_spare_mm(layout)
    return (
        "upright" if pillar else str(layout.reading),
        "\n".join([say.joined(layout), *(f"({remark})" for remark in remarks)]),
        _aligned(say.bare_limit_pt(layout.largest_pt)),
        _aligned(say.bare_pt(layout.set_pt)),
        "-" if least is None else _aligned(say.bare_mm(least)),
        say.verdict_in_words(layout).replace("does not fit", "no"),
    )


def _aligned(figure: str) -> str:
    """A figure with at least one decimal, so that points stand under one another.

    >>> _aligned("5"), _aligned("12.79")
    ('5.0', '12.79')
    """
    return figure if "." in figure else f"{figure}.0"
