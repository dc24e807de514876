"""What do a screen and a program learn of a sheet of labels?

In: a `Sheet` and what was left out. Out: text of so many columns, or one JSON object. Lengths
in mm, rounded as reports round them; nothing is worked out here but counts.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from spinefit.drawing.label_cut import CutLabel
from spinefit.drawing.sheet import Sheet
from spinefit.drawing.sheet_settings import LabelSetting, LeftOut, Sides
from spinefit.geometry.back import BentLabel
from spinefit.say import phrasing as say
from spinefit.say.as_json import to_dict, to_json
from spinefit.say.model import doubts_of
from spinefit.say.page import Column, Page
from spinefit.say.screen import PLAIN, Screen
from spinefit.tolerances import SAME_MM
from spinefit.vocabulary import Letters, Place

SCHEMA = "spinefit.sheet/1"

_COLUMNS = (
    Column(""),
    Column("size", right=True),
    Column("label"),
    Column("lines", wraps=True),
    Column(""),
    Column("sheet"),
)
_AFTER_LABEL = 3


def sheet_text(sheet: Sheet, left_out: Sequence[LeftOut], file: str, screen: Screen = PLAIN) -> str:
    """What is on the sheet, what each letter stands for, and what was left out.

    Args:
        sheet: the sheet.
        left_out: what could not be set.
        file: where it was written.
        screen: what it is written for.
    """
    page = Page(screen)
    paper = f"{sheet.page.name} ({sheet.page.width_mm:g} x {sheet.page.height_mm:g} mm)"
    sheets = sheet.labels_per_sheet
    noun = "label" if sheet.settings[0].around_mm is None else "trial strip"
    count = f"{_counted(sum(sheets), noun)} on {_counted(len(sheets), 'sheet')} of {paper}"
    if len(sheets) > 1:
        count += f", {', '.join(map(str, sheets))} on each in turn"
    page.paragraph(f"{say.visible(file)}: {count}.", "bold")
    counts = {len(places) for places in sheet.places}
    copies = "one of each" if counts == {1} else f"{max(counts)} of each"
    if len(counts) > 1:
        spares = _counted(sheet.spares, "spare") if sheet.spares else "no spares"
        copies = f"of each its copies and {spares}"
    page.paragraph(f"{_counted(len(sheet.settings), 'setting')}, {copies}.")
    page.blank()
    _settings_table(page, sheet)
    _left(page, left_out)
    _bent(page, sheet.settings, ticked=True)
    _framed(page, sheet.settings)
    page.blank()
    page.paragraph(
        "Print at 100 %, without 'fit to page', and measure the square and the rulers before "
        "anything is cut."
    )
    _mind(page, sheet.settings)
    return page.text()


def single_text(setting: LabelSetting, cut: CutLabel, file: str, screen: Screen = PLAIN) -> str:
    """What a file of one label holds."""
    page = Page(screen)
    way = "mirrored" if cut.mirrored else "as it reads"
    page.paragraph(
        f"{say.visible(file)}: one label, {way}, {cut.width_mm:.5g} x {cut.height_mm:.5g} mm.",
        "bold",
    )
    page.row("Lines", say.joined(setting.layout))
    page.row("Size", say.pt(setting.judged.set_pt))
    page.row("Label", _sides(setting.sides))
    if setting.answer.report.panel.frame is not None:
        page.row("Frame", say.frame_in_words(setting.answer.report.panel.frame))
    page.row("Contours", f"{len(cut.lettering)} of lettering")
    _bent(page, [setting])
    _mind(page, [setting], single=True)
    return page.text()


def left_text(left_out: Sequence[LeftOut], screen: Screen = PLAIN) -> str:
    """Where nothing can be set: what would fit."""
    page = Page(screen)
    page.paragraph("Nothing to set: no label was drawn.", "bold red")
    _left(page, left_out)
    return page.text()


def sheet_json(
    sheet: Sheet | None, left_out: Sequence[LeftOut], file: str | None, of_house: Sequence[str]
) -> str:
    """The same for a program: one object.

    Args:
        sheet: the sheet; None where nothing could be set.
        left_out: what could not be set.
        file: where it was written, or None.
        of_house: what the file of a house says beside what was said.
    """
    settings = () if sheet is None else sheet.settings
    per_sheet = [] if sheet is None else sheet.labels_per_sheet
    return to_json(
        {
            "schema": SCHEMA,
            "file": file,
            "paper": None if sheet is None else _paper_dict(sheet),
            "sheets": len(per_sheet),
            "labels": sum(per_sheet),
            "labels_per_sheet": per_sheet,
            "settings": [] if sheet is None else _settings(sheet),
            "left_out": [to_dict(one) for one in left_out],
            "cautions": _cautions_of(settings),
            "warnings": _doubts(settings),
            "house_defaults": of_house,
        }
    )


def single_json(setting: LabelSetting, cut: CutLabel, file: str, of_house: Sequence[str]) -> str:
    """One label for a program."""
    return to_json(
        {
            "schema": SCHEMA,
            "file": file,
            "drawing": {
                **to_dict(Sides(cut.width_mm, cut.height_mm)),
                "mirrored": cut.mirrored,
                "contours": len(cut.lettering),
            },
            "settings": [_setting_dict(setting)],
            "left_out": [],
            "cautions": _cautions_of([setting]),
            "warnings": _doubts([setting], single=True),
            "house_defaults": of_house,
        }
    )


def _settings_table(page: Page, sheet: Sheet) -> None:
    """A row for each setting; what sets them apart, and how many there are, where that differs."""
    columns, rows = list(_COLUMNS), [_row(sheet, at) for at in range(len(sheet.settings))]
    counts = [str(len(places)) for places in sheet.places]
    for at, heading, cells in (
        (len(columns) - 1, "labels", counts if len(set(counts)) > 1 else []),
        (_AFTER_LABEL, "letters", [one.differs.in_words for one in sheet.settings]),
    ):
        if any(cells):
            columns.insert(at, Column(heading))
            for row, cell in zip(rows, cells, strict=True):
                row.insert(at, cell)
    page.table(columns, rows)


def _row(sheet: Sheet, at: int) -> list[str]:
    setting = sheet.settings[at]
    on = sorted({place.sheet for place in sheet.places[at]})
    return [
        setting.letter,
        say.pt(setting.judged.set_pt),
        _sides(setting.sides),
        say.joined(setting.layout),
        say.verdict_in_words(setting.layout),
        ", ".join(map(str, on)),
    ]


def _left(page: Page, left_out: Sequence[LeftOut]) -> None:
    if not left_out:
        return
    page.heading("Left out")
    for one in left_out:
        what = [] if one.set_pt is None else [say.pt(one.set_pt)]
        if one.label is not None:
            what.append(f"on {_sides(one.label)}")
        if one.differs.in_words:
            what.append(f"in {one.differs.in_words}")
        named = f"{say.visible(one.title)}{', ' if what else ''}{' '.join(what)}"
        page.bulleted([f"{named}: {say.visible(one.why)}"])


def _mind(page: Page, settings: Sequence[LabelSetting], *, single: bool = False) -> None:
    """What the labels are not for, then what to mind with each method."""
    doubts, cautions = _doubts(settings, single=single), _cautions_of(settings)
    if doubts or cautions:
        page.heading("Mind")
    for doubt in doubts:
        page.row("warning", doubt, style="yellow")
    page.bulleted(cautions)


def _doubts(settings: Sequence[LabelSetting], *, single: bool = False) -> list[str]:
    """Backs not measured, and methods that letter no label: tools print none, a back is no label.

    A single label may be the artwork of any other method.
    """
    found = [*doubts_of(one.answer.report for one in settings)]
    told = (finding for one in settings for finding in one.answer.report.findings)
    found += list(dict.fromkeys(one.text for one in told if one.topic == "width-estimated"))
    for method in dict.fromkeys(one.answer.job.method for one in settings if one.around_mm is None):
        if method.letters is Letters.TOOLS:
            found.append(
                f"A {method.name} strikes its letters one by one, and no label is printed with it: "
                "for the places of the letters and a paper pattern take 'spinefit "
                "worksheet', for labels to print --method paper-label."
            )
        elif method.place is not Place.LABEL and not single:
            found.append(
                f"A {method.name} letters the book itself, not a label: for its drawing take "
                "'spinefit check --drawing', for labels to print --method paper-label."
            )
    return [*found, *dict.fromkeys(text for one in settings for text in one.warnings)]


def _cautions_of(settings: Sequence[LabelSetting]) -> list[str]:
    """What to mind in making them, each once."""
    return list(dict.fromkeys(text for one in settings for text in one.answer.report.cautions))


def _paper_dict(sheet: Sheet) -> dict[str, Any]:
    """The page; whether labels were turned stands for whether its grain would let them."""
    paper = to_dict(sheet.page)
    del paper["grain"]
    return {**paper, "turned": sheet.turned}


def _settings(sheet: Sheet) -> list[dict[str, Any]]:
    return [
        {
            **_setting_dict(setting),
            "places": [to_dict(place) for place in places],
            "differs": to_dict(setting.differs),
            "commission": to_dict(setting.answer.job.commission),
            "texts": [to_dict(text) for text in setting.layout.texts],
            "rules": [to_dict(rule) for rule in setting.layout.rules],
        }
        for setting, places in zip(sheet.settings, sheet.places, strict=True)
    ]


def _setting_dict(setting: LabelSetting) -> dict[str, Any]:
    layout = setting.layout
    ink = to_dict(Sides(layout.ink_width_mm, layout.ink_height_mm))
    label = to_dict(setting.sides)
    if setting.bent is not None:  # its width is then what it is cut to
        label |= {**to_dict(setting.bent), "face_stretch": setting.bent.face_stretch}
    return {
        "letter": setting.letter or None,
        "title": setting.answer.report.title,
        "label": label,
        "orientation": str(layout.orientation),
        "reading": str(layout.reading),
        "lines": list(layout.lines),
        "set_pt": layout.set_pt,
        "largest_pt": layout.largest_pt,
        "ink_width_mm": ink["width_mm"],
        "ink_height_mm": ink["height_mm"],
        "fits": layout.fits,
        "tight": layout.tight,
    }


def _bent(page: Page, settings: Sequence[LabelSetting], *, ticked: bool = False) -> None:
    """That labels are drawn as they are cut, not as they lie over the round or joints."""
    bent = {one.bent for one in settings if one.bent is not None}
    if not bent:
        return
    page.blank()
    for one in sorted(bent, key=lambda one: one.cut_width_mm):
        if one.lap is not None:
            page.paragraph(
                f"Drawn as it is cut: {one.cut_width_mm:.2f} mm wide it covers {one.covers_mm:.2f} "
                f"mm of back{_more(one)}, and on each side {one.lap.joint_mm:.4g} mm of joint and "
                f"{one.lap.board_mm:.4g} mm of board"
                + ("; dashed ticks stand where it bends." if ticked else ".")
            )
            continue
        page.paragraph(
            f"Drawn as it is cut: {one.cut_width_mm:.2f} mm wide it covers {one.covers_mm:.2f} mm "
            f"of the round, {one.thickness_mm:g} mm thick; its printed face is stretched by "
            f"{one.face_stretch - 1:.2%}."
        )


def _more(label: BentLabel) -> str:
    """What the label's thickness takes over the round."""
    return f", {label.bend_mm:.2f} mm more as it bends" if label.bend_mm > SAME_MM else ""


def _framed(page: Page, settings: Sequence[LabelSetting]) -> None:
    """Which frames stay on the labels: no marks to cut by."""
    frames = [one.answer.report.panel.frame for one in settings]
    for words in dict.fromkeys(say.frame_in_words(one) for one in frames if one is not None):
        page.blank()
        page.paragraph(f"Frame, which stays on the label: {words}. Cut by the marks outside it.")


def _sides(sides: Sides) -> str:
    return f"{sides.width_mm:.4g} x {sides.height_mm:.4g} mm"


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}{'' if count == 1 else 's'}"
