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
from collections.abc import Mapping, Sequence

from spinefit.say import phrasing as say
from spinefit.say.label_model import SpareReport
from spinefit.say.model import FindingReport, LayoutReport, Report, hazards_of
from spinefit.say.page import LABEL_WIDTH, Column, Page, StyledText, cells
from spinefit.say.screen import PLAIN, Screen
from spinefit.vocabulary import Level, LimitedBy, Orientation, Turn, Verdict

__all__ = ["assumed_rows", "closing", "mind_rows", "numbered_rows", "reason_rows", "render"]

_WIDEST_AS_IT_STANDS = 56
_AROUND_IT = 24  # the ends of the panel at its left and right
_TALLEST_PILLAR = 30
_MOST_OTHERS = 10  # more settings than these are for a program to read
_MOST_REMEDIES = 3  # where nobody asks why; the cheapest come first
_COLUMNS = (
    Column("way"),
    Column("lines", wraps=True),
    Column("largest", right=True),
    Column("judged", right=True),
    Column("spare", right=True),
    Column(""),
)
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
_REASONS = frozenset(
    {
        "across-broken", "across-does-not-fit", "across-larger", "across-least", "across-lines",
        "across-narrow", "across-small",
        "advised-floor", "along-does-not-fit", "axis-found", "edge-disagreed", "legibility-limit",
        "plan-order", "plan-panels", "plan-relation", "round-angle", "set-limit", "words-chosen",
    }
)  # fmt: skip
"""Notes that only say why the answer is as it is: nobody has to mind them at the bench."""
_LIMITS = {
    LimitedBy.WIDTH: "the width of the panel",
    LimitedBy.HEIGHT: "the height of the panel",
    LimitedBy.SHAPE: "the shape of the panel",
    LimitedBy.ANGLE: "the largest readable angle of the round",
}
"""What stops the lettering from being larger."""
_OF_WEIGHT = ("method", "stock", "die", "market", "font")
"""What is named of all that was assumed, where nobody asks why: it changes most."""


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
    page = Page(screen)
    page.paragraph(say.visible(report.answer), _ANSWER_STYLES[report.verdict])
    if layout is not None:
        _setting(page, report, layout, picture, why=why)
    findings = say.findings_by_weight(report, layout)
    mind_rows(page, [("", one) for one in findings], why=why)
    _remedies(page, report, why=why)
    if why:
        _others(page, [other for other in report.layouts if other is not layout])
        assumed_rows(page, report.assumed)
        reason_rows(page, findings)
    closing(page, [report], report.assumed, why=why)
    return page.text()


def closing(
    page: Page, reports: Sequence[Report], assumed: Sequence[str], *, why: bool = False
) -> None:
    """What can hurt in making it, then what was assumed of most weight and how to see more.

    Args:
        page: where it is written.
        reports: of every text that is made.
        assumed: every default taken.
        why: whether the reader has all of it already.
    """
    if why:
        page.heading("Take care")
        page.bulleted(dict.fromkeys(text for one in reports for text in one.cautions))
        return
    page.blank()
    for line in hazards_of(reports):
        page.row("Take care", line)
    of_weight = [text for text in assumed if text.partition(":")[0] in _OF_WEIGHT]
    of_weight = [one.partition(",")[0] if one.startswith("market:") else one for one in of_weight]
    if of_weight:
        page.row("Assumed", say.visible("; ".join(of_weight)))
    page.row("More", "--why adds reasons, sources, other settings, all that was assumed")


def mind_rows(
    page: Page,
    findings: Sequence[tuple[str, FindingReport]],
    *,
    parts: frozenset[str] = frozenset(),
    why: bool = False,
) -> None:
    """What to mind: every failure and warning, and notes that are more than a reason.

    Args:
        page: where it is written.
        findings: each with the name of the text or volume it is of, "" for the whole; what is
            found alike of several is said once.
        parts: the names of all texts or volumes; what is of all of them names none.
        why: whether who says so is wanted too, and the notes that are only reasons.
    """
    named: dict[FindingReport, list[str]] = {}
    for level in (Level.FAILURE, Level.WARNING, Level.NOTE):
        waits = frozenset() if why or level is not Level.NOTE else _REASONS
        for name, one in findings:
            if one.level is level and one.topic not in waits:
                named.setdefault(one, []).append(name)
    for one, names in named.items():
        if len(parts) > 1 and parts <= set(names):
            named[one] = ["All"]
    _finding_rows(page, "What to mind", named, sourced=why)


def reason_rows(page: Page, findings: Sequence[FindingReport]) -> None:
    """What speaks for the answer, and who says so."""
    good = {one: [""] for one in findings if one.level is Level.GOOD}
    _finding_rows(page, "Why", good, sourced=True)


def _finding_rows(
    page: Page, heading: str, named: Mapping[FindingReport, Sequence[str]], *, sourced: bool
) -> None:
    """Findings below their heading, each with its level."""
    if named:
        page.heading(heading)
    for finding, names in named.items():
        of = ", ".join(dict.fromkeys(filter(None, names)))
        source = say.source_in_words(finding.source, finding.status) if sourced else ""
        page.row(
            str(finding.level),
            say.visible(f"{of}: {finding.text}" if of else finding.text),
            style=_STYLES[finding.level],
            dim=f"[{source}]" if source else "",
        )


def _setting(
    page: Page, report: Report, layout: LayoutReport, picture: Sequence[str], *, why: bool
) -> None:
    page.heading("Recommended setting" if report.fits else "Nearest setting, which does not fit")
    _as_it_stands(page, layout)
    page.blank()
    for line in picture:
        page.exact(StyledText(line))
    if picture:
        page.blank()
    along = layout.orientation is Orientation.LONGITUDINAL
    way = say.way_in_words(report, layout) if why or not along else str(layout.reading)
    way += f", {say.lines_in_words(layout)}"
    if along:
        way += f"; {say.turn_in_words(layout)}"
    page.row("Lines", f"{way[0].upper()}{way[1:]}")
    page.row("Size", say.size_in_words(layout))
    if why:
        page.row("Limit", _LIMITS[layout.limited_by])
    page.row("Spare", _spares(report.spare_around(layout)))
    if why:
        page.row("Letters", _letters(report, layout))
    middle = say.middle_in_words(layout) if why else ""
    place = "; ".join(filter(None, (say.placing_in_words(layout), middle)))
    if layout.fits and place:
        page.row("Place", place)
    if layout.needs_back_mm is not None:
        page.row("Needs", f"{say.mm(layout.needs_back_mm)} of back, ends included")
    if why or report.panel.of == "label" or report.panel.number is not None:
        page.row("Panel", _panel(report, layout))
    if report.front_board is not None:
        page.row("Board", report.front_board.text)
    if report.recess is not None:
        page.row("Recess", report.recess.text)
    if report.old_lettering is not None:
        page.row("Old ink", report.old_lettering.text)
    if why or not any(text.startswith("font:") for text in report.assumed):
        page.row(_letters_of(report), say.visible(say.font_in_words(report.font)))


def _letters_of(report: Report) -> str:
    """What the letters are of: a font, or tools."""
    return "Tools" if report.font.of == "tools" else "Font"


def _as_it_stands(page: Page, layout: LayoutReport) -> None:
    """The lines centred between two strokes for the ends of the panel, turned level."""
    lines = [say.visible(line) for line in _stacked(layout)]
    widths = [cells(line) for line in lines]
    left, right = _ends(layout)
    if max(widths) > min(_WIDEST_AS_IT_STANDS, page.screen.columns - _AROUND_IT):
        for number, line in enumerate(lines, 1):
            page.row(str(number), line)
        return
    for line, wide in zip(lines, widths, strict=True):
        before, after = (max(widths) - wide) // 2, (max(widths) - wide + 1) // 2
        page.exact(
            StyledText(f"{left:>{LABEL_WIDTH}}  │  {' ' * before}"),
            StyledText(line, "bold"),
            StyledText(f"{' ' * after}  │  {right}"),
        )
        left = right = ""


def _stacked(layout: LayoutReport) -> Sequence[str]:
    """The lines; for a pillar its letters, each on a line, as long as the screen holds them."""
    if layout.orientation is not Orientation.PILLAR:
        return layout.lines
    columns = [say.letters_of(line) for line in layout.lines]
    if max(map(len, columns)) > _TALLEST_PILLAR:
        return layout.lines
    if len(columns) == 1:
        return columns[0]
    # The first column stands at the right; a letter of theirs is as wide as two others.
    rows = itertools.zip_longest(*reversed(columns), fillvalue="\u3000")
    return [" ".join(row) for row in rows]


def _ends(layout: LayoutReport) -> tuple[str, str]:
    """What lies at the left and right of the lines once they are turned level."""
    if layout.turn is Turn.CLOCKWISE:
        return "head", "tail"
    if layout.turn is Turn.ANTICLOCKWISE:
        return "tail", "head"
    return "", ""


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
    """The label over old lettering, in its room; else that, and how high the label must be."""
    old = report.old_lettering
    if old is not None and old.label_width_mm is not None and old.label_height_mm is not None:
        wide, high = say.bare_mm(old.label_width_mm), say.mm(old.label_height_mm)
        return f"label {wide} x {high}; its room {room}"
    room_mm, spare = report.panel.height_mm, layout.spare_mm
    text = f"room for a label, {room}"
    if room_mm is None or spare.head is None or spare.tail is None or not layout.fits:
        return text
    needed_mm = math.ceil(room_mm - spare.head - spare.tail)
    return f"{text}; these lines need one {needed_mm} mm high" if needed_mm < room_mm else text


def _of_a_range(report: Report) -> str:
    """Which of a range of widths the panel belongs to, where there is a range."""
    for finding in report.findings:
        if finding.topic == "width-range" and not isinstance(finding.value, str | None):
            least, widest = finding.value, finding.limit
            if isinstance(widest, int | float):
                widths = f"{say.bare_mm(least)} to {say.mm(widest)}"
                return f" (where the back is {say.mm(least)}, of {widths})"
    return ""


def _remedies(page: Page, report: Report, *, why: bool) -> None:
    if report.to_improve is None:
        return
    from spinefit.say.remedies import remedies  # for titles with something to wish for

    heading = "What else could be done" if report.fits else "What would make it fit"
    texts = [remedy.text for remedy in remedies(report)]
    # What fits asks for less, and the warning of a tight setting takes their room on the screen.
    most = _MOST_REMEDIES - report.fits - (report.verdict is Verdict.TIGHT)
    numbered_rows(page, heading, texts, why=why, most=most)


def numbered_rows(
    page: Page,
    heading: str,
    texts: Sequence[str],
    *,
    why: bool = False,
    most: int = _MOST_REMEDIES,
) -> None:
    """Texts below their heading, numbered from 1; only the first few unless it is asked why."""
    if texts:
        page.heading(heading)
    shown = texts if why else texts[:most]
    for number, text in enumerate(shown, 1):
        page.row(str(number), say.visible(text))
    if len(texts) > len(shown):
        page.row("", f"and {len(texts) - len(shown)} more, with --why")


def _others(page: Page, others: list[LayoutReport]) -> None:
    if not others:
        return
    page.heading("Other settings (sizes in pt, least spare in mm)")
    ranked = sorted(others, key=lambda layout: (not layout.fits, layout.over_bands))
    kept = ranked[:_MOST_OTHERS]
    page.table(_COLUMNS, (_other(layout) for layout in others if layout in kept))
    if len(others) > len(kept):
        page.paragraph(f"and {len(others) - len(kept)} more, all in --format json")


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


def assumed_rows(page: Page, assumed: Sequence[str]) -> None:
    """What was assumed of the book, each by itself; then in one row how it is set."""
    if not assumed:
        return
    of_book, of_setting = say.assumed_parted(assumed)
    page.heading("Assumed, as it was not stated")
    rows = list(of_book)
    if of_setting:
        rows.append(f"the setting: {'; '.join(of_setting)}")
    page.bulleted(say.visible(text) for text in rows)
