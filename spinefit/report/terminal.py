"""How does a person at the bench read the answer on a screen?

In: a `Report`. Out: text, the answer first, then the setting with its lines as they will
stand, the other settings, what was assumed and why. Readable at 80 columns, without colour
and when piped: what a colour says, a word says too. Titles are shown letter for letter.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence

from rich.console import Console, Group, RenderableType
from rich.table import Table
from rich.text import Text

from spinefit.report import phrasing as say
from spinefit.report.model import FindingReport, LayoutReport, Report
from spinefit.vocabulary import Level, Orientation, Reading, Turn, Verdict

__all__ = ["render"]

_NARROWEST, _WIDEST = 40, 110
_LABEL_WIDTH = 10
_TALLEST_PILLAR = 30
_MOST_OTHERS = 10  # more settings than these are for a program to read
_HEADING = "bold"
_STYLES = {
    Level.FAILURE: "bold red",
    Level.WARNING: "yellow",
    Level.NOTE: "",
    Level.GOOD: "green",
}
_ANSWER_STYLES = {
    Verdict.FITS: "bold green",
    Verdict.TIGHT: "bold yellow",
    Verdict.DOES_NOT_FIT: "bold red",
}


def render(report: Report, *, columns: int = 80, colour: bool = False) -> str:
    """The whole report as text, lines ended by newlines.

    Args:
        report: the answer to one job.
        columns: width of the screen in character cells.
        colour: whether to add the terminal's colours.
    """
    layout = say.shown_layout(report)
    others = [other for other in report.layouts if other is not layout]
    parts = [
        Text(say.visible(report.answer), style=_ANSWER_STYLES[report.verdict]),
        *_setting(report, layout),
        *_remedies(report),
        *_others(others),
        *_assumed(report),
        *_why(report, layout),
    ]
    return _printed(Group(*parts), columns=columns, colour=colour)


def _printed(content: RenderableType, *, columns: int, colour: bool) -> str:
    """What rich prints for ``content``, no line with spaces at its end.

    Args:
        content: what to print; its strings are taken letter for letter.
        columns: width of the screen in character cells.
        colour: whether to add the terminal's colours.
    """
    sink = io.StringIO()
    console = Console(
        file=sink,
        width=min(max(columns, _NARROWEST), _WIDEST),
        force_terminal=colour,
        color_system="standard" if colour else None,
        no_color=not colour,
        markup=False,
        emoji=False,
        highlight=False,
        legacy_windows=False,
    )
    console.print(content)
    lines = sink.getvalue().splitlines()
    return "\n".join(line.rstrip() for line in lines).rstrip("\n") + "\n"


def _rows(pairs: Iterable[tuple[str, RenderableType]]) -> Table:
    """Labels in a narrow column, what they label beside them."""
    grid = Table.grid(padding=(0, 2, 0, 0))
    grid.add_column(width=_LABEL_WIDTH, no_wrap=True)
    grid.add_column(overflow="fold")
    for label, content in pairs:
        grid.add_row(Text(label), content)
    return grid


def _headed(heading: str, *contents: RenderableType) -> list[RenderableType]:
    return [Text(""), Text(heading, style=_HEADING), *contents]


def _setting(report: Report, layout: LayoutReport | None) -> list[RenderableType]:
    if layout is None:
        return []
    heading = "Recommended setting" if report.fits else "Nearest setting, which does not fit"
    way = f"{say.way_in_words(layout)}, {say.lines_in_words(layout)}"
    if layout.orientation is Orientation.LONGITUDINAL:
        way += f"; {say.turn_in_words(layout)}"
    rows: list[tuple[str, RenderableType]] = [
        ("Lines", Text(f"{way[0].upper()}{way[1:]}")),
        ("Size", Text(say.size_in_words(layout))),
        ("Limit", Text(say.limit_in_words(layout))),
        ("Spare", Text(_spares(layout))),
        ("Letters", Text(_letters(layout))),
        *_places(layout),
        ("Panel", Text(_panel(report))),
        ("Font", Text(say.visible(report.font.name))),
    ]
    return _headed(heading, Text(""), _as_it_stands(layout), Text(""), _rows(rows))


def _as_it_stands(layout: LayoutReport) -> RenderableType:
    """The lines centred between two strokes for the ends of the panel, turned level."""
    lines = [Text(say.visible(line)) for line in _stacked(layout)]
    widest = max(line.cell_len for line in lines)
    left, right = _ends(layout)
    if widest > _NARROWEST + 16:
        return _rows((str(number), line) for number, line in enumerate(lines, 1))
    block = Text()
    for number, line in enumerate(lines):
        before = (widest - line.cell_len) // 2
        after = widest - line.cell_len - before
        ends = (left, right) if number == 0 else (" " * len(left), "")
        block.append(f"{ends[0]:>{_LABEL_WIDTH}}  │  {' ' * before}")
        block.append_text(Text(line.plain, style="bold"))
        block.append(f"{' ' * after}  │  {ends[1]}\n")
    block.rstrip()
    return block


def _stacked(layout: LayoutReport) -> Sequence[str]:
    """The lines; for a pillar its letters, each on a line, as long as the screen holds them."""
    if layout.orientation is not Orientation.PILLAR:
        return layout.lines
    letters = [letter for line in layout.lines for letter in say.letters_of(line)]
    return letters if len(letters) <= _TALLEST_PILLAR else layout.lines


def _ends(layout: LayoutReport) -> tuple[str, str]:
    """What lies at the left and right of the lines once they are turned level."""
    if layout.turn is Turn.CLOCKWISE:
        return "head", "tail"
    if layout.turn is Turn.ANTICLOCKWISE:
        return "tail", "head"
    return "", ""


def _spares(layout: LayoutReport) -> str:
    spare = layout.spare_mm
    sides = (
        ("left", spare.left),
        ("right", spare.right),
        ("head", spare.head),
        ("tail", spare.tail),
    )
    known = [f"{name} {say.mm(value)}" for name, value in sides if value is not None]
    text = f"{', '.join(known)} mm" if known else "not known"
    over = any(value is not None and value < 0 for _, value in sides)
    return f"{text} (below zero: too large by that much)" if over else text


def _letters(layout: LayoutReport) -> str:
    along, across = say.mm(layout.ink_width_mm), say.mm(layout.ink_height_mm)
    text = (
        f"capitals {say.mm(layout.cap_height_mm)} mm high, easily read up to "
        f"{layout.reads_from_mm / 1000:.2g} m away; all the ink {along} mm along the lines, "
        f"{across} mm across them"
    )
    if layout.foreshortening < 0.995:
        text += f"; outermost ink seen at {layout.foreshortening:.0%} of its width"
    return text


def _places(layout: LayoutReport) -> list[tuple[str, RenderableType]]:
    rows: list[tuple[str, RenderableType]] = []
    if layout.first_from_head_mm is not None and layout.fits:
        what = "first baseline" if layout.reading is Reading.ACROSS else "lettering begins"
        rows.append(("Place", Text(f"{what} {say.mm(layout.first_from_head_mm)} mm from the head")))
    if layout.needs_back_mm is not None:
        rows.append(("Needs", Text(f"{say.mm(layout.needs_back_mm)} mm of back, ends included")))
    return rows


def _panel(report: Report) -> str:
    panel = report.panel
    high = "open length" if panel.height_mm is None else f"{say.mm(panel.height_mm)} mm high"
    text = f"{say.mm(panel.width_mm)} mm wide, {high}"
    if panel.number is not None:
        text = f"number {panel.number} from the head, {text}"
    return f"{text}, measured round the back" if panel.developed else text


def _remedies(report: Report) -> list[RenderableType]:
    if not report.remedies:
        return []
    rows = [
        (str(number), Text(say.visible(remedy.text)))
        for number, remedy in enumerate(report.remedies, 1)
    ]
    heading = "What else could be done" if report.fits else "What would make it fit"
    return _headed(heading, _rows(rows))


def _others(others: list[LayoutReport]) -> list[RenderableType]:
    if not others:
        return []
    ranked = sorted(others, key=lambda layout: (not layout.fits, layout.over_bands))
    kept = ranked[:_MOST_OTHERS]
    table = Table(box=None, padding=(0, 2, 0, 0), header_style="", pad_edge=False)
    table.add_column("way", no_wrap=True)
    table.add_column("lines", overflow="fold")
    for heading in ("largest", "judged", "spare"):
        table.add_column(heading, justify="right", no_wrap=True)
    table.add_column("", no_wrap=True)
    for layout in (other for other in others if other in kept):
        table.add_row(*_other(layout))
    left_out = len(others) - len(kept)
    more = [Text(f"and {left_out} more, all in --format json")] if left_out else []
    units = "Other settings (sizes in pt, least spare in mm)"
    return _headed(units, table, *more)


def _other(layout: LayoutReport) -> list[Text]:
    pillar = layout.orientation is Orientation.PILLAR
    remarks = ["over the bands: avoid"] if layout.over_bands else []
    remarks += ["a word broken"] if layout.word_broken else []
    lines = "\n".join([say.joined(layout), *(f"({remark})" for remark in remarks)])
    least = say.least_spare_mm(layout)
    verdict = Text(say.verdict_in_words(layout).replace("does not fit", "no"))
    return [
        Text("pillar" if pillar else str(layout.reading)),
        Text(lines),
        Text(say.limit_pt(layout.largest_pt)),
        Text(f"{layout.set_pt:g}"),
        Text("-" if least is None else say.mm(least)),
        verdict,
    ]


def _assumed(report: Report) -> list[RenderableType]:
    if not report.assumed:
        return []
    return _headed("Assumed, as it was not stated", *_bulleted(report.assumed))


def _bulleted(texts: Iterable[str]) -> list[RenderableType]:
    grid = Table.grid(padding=(0, 1, 0, 0))
    grid.add_column(width=1)
    grid.add_column(overflow="fold")
    for text in texts:
        grid.add_row(Text("-"), Text(say.visible(text)))
    return [grid]


def _why(report: Report, layout: LayoutReport | None) -> list[RenderableType]:
    findings = say.findings_by_weight(report, layout)
    if not findings:
        return []
    grid = _rows([])
    for finding in findings:
        grid.add_row(Text(str(finding.level), style=_STYLES[finding.level]), _finding(finding))
    return _headed("Why", grid)


def _finding(finding: FindingReport) -> Text:
    source = say.source_in_words(finding.source, finding.status)
    text = Text(say.visible(finding.text))
    if source:
        text.append(f" [{source}]", style="dim")
    return text
