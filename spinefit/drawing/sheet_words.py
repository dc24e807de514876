"""What is said of a sheet of labels on the screen, or to a program?

In: a `Sheet` and what was left out. Out: text of so many columns, or one JSON object. Lengths
in mm, rounded as reports round them; nothing is worked out here but counts.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Sequence
from typing import Any

from spinefit.drawing.label_cut import CutLabel
from spinefit.drawing.sheet import Sheet
from spinefit.drawing.sheet_settings import LeftOut, Setting
from spinefit.geometry.back import BentLabel
from spinefit.say import phrasing as say
from spinefit.say.model import LayoutReport
from spinefit.say.page import Column, Page
from spinefit.say.screen import PLAIN, Screen

__all__ = ["SCHEMA", "left_text", "sheet_json", "sheet_text", "single_json", "single_text"]

SCHEMA = "spinefit.sheet/1"

_DECIMALS = 4
_COLUMNS = (
    Column(""),
    Column("size", right=True),
    Column("label"),
    Column("lines", wraps=True),
    Column(""),
    Column("sheet"),
)


def sheet_text(sheet: Sheet, left_out: Sequence[LeftOut], file: str, screen: Screen = PLAIN) -> str:
    """What is on the sheet, what each letter stands for, and what was left out.

    Args:
        sheet: the sheet.
        left_out: what could not be set.
        file: where it was written.
        screen: what it is written for.
    """
    page = Page(screen)
    count = len(sheet.places)
    paper = f"{sheet.page.name} ({sheet.page.width_mm:g} x {sheet.page.height_mm:g} mm)"
    sheets = _per_sheet(sheet)
    said = f"{_counted(count, 'label')} on {_counted(len(sheets), 'sheet')} of {paper}"
    if len(sheets) > 1:
        said += f", {', '.join(map(str, sheets))} on each in turn"
    page.paragraph(f"{say.visible(file)}: {said}.", "bold")
    copies = "one of each" if sheet.copies == 1 else f"{sheet.copies} of each"
    page.paragraph(f"{_counted(len(sheet.settings), 'setting')}, {copies}.")
    page.blank()
    page.table(_COLUMNS, (_row(sheet, at) for at in range(len(sheet.settings))))
    _left(page, left_out)
    _bent(page, sheet.settings)
    page.blank()
    page.paragraph(
        "Print at 100 %, without 'fit to page', and measure the square and the rulers before "
        "anything is cut."
    )
    _cautions(page, sheet.settings[0])
    return page.text()


def single_text(setting: Setting, cut: CutLabel, file: str, screen: Screen = PLAIN) -> str:
    """What a file of one label holds."""
    page = Page(screen)
    way = "mirrored" if cut.mirrored else "as it reads"
    page.paragraph(
        f"{say.visible(file)}: one label, {way}, {cut.width_mm:.5g} x {cut.height_mm:.5g} mm.",
        "bold",
    )
    page.row("Lines", say.visible(" / ".join(setting.judged.layout.group.texts)))
    page.row("Size", say.pt(setting.judged.set_pt))
    width, height = setting.sides_mm
    page.row("Label", f"{width:.4g} x {height:.4g} mm")
    page.row("Contours", f"{len(cut.lettering)} of lettering")
    _bent(page, [setting])
    _cautions(page, setting)
    return page.text()


def left_text(left_out: Sequence[LeftOut], screen: Screen = PLAIN) -> str:
    """Where nothing can be set: what would fit."""
    page = Page(screen)
    page.paragraph("Nothing to set: no label was drawn.", "bold red")
    _left(page, left_out)
    return page.text()


def sheet_json(sheet: Sheet | None, left_out: Sequence[LeftOut], file: str | None) -> str:
    """The same for a program: one object.

    Args:
        sheet: the sheet; None where nothing could be set.
        left_out: what could not be set.
        file: where it was written, or None.
    """
    return _dumped(
        {
            "schema": SCHEMA,
            "file": file,
            "paper": None if sheet is None else _paper_dict(sheet),
            "sheets": 0 if sheet is None else len(sheet.scenes),
            "labels": 0 if sheet is None else len(sheet.places),
            "labels_per_sheet": [] if sheet is None else _per_sheet(sheet),
            "settings": [] if sheet is None else _settings(sheet),
            "left_out": [_left_dict(one) for one in left_out],
        }
    )


def single_json(setting: Setting, cut: CutLabel, file: str) -> str:
    """One label for a program."""
    return _dumped(
        {
            "schema": SCHEMA,
            "file": file,
            "drawing": {
                "width_mm": _round(cut.width_mm),
                "height_mm": _round(cut.height_mm),
                "mirrored": cut.mirrored,
                "contours": len(cut.lettering),
            },
            "settings": [_setting_dict(setting)],
            "left_out": [],
        }
    )


def _row(sheet: Sheet, at: int) -> tuple[str, ...]:
    setting = sheet.settings[at]
    width, height = setting.sides_mm
    on = sorted({place.page for place in sheet.places if place.setting == at})
    return (
        setting.letter,
        say.pt(setting.judged.set_pt),
        f"{width:.4g} x {height:.4g} mm",
        say.visible(" / ".join(setting.judged.layout.group.texts)),
        str(say.verdict_in_words(_layout(setting))),
        ", ".join(map(str, on)),
    )


def _left(page: Page, left_out: Sequence[LeftOut]) -> None:
    if not left_out:
        return
    page.heading("Left out")
    for one in left_out:
        what = [] if one.size_pt is None else [say.pt(one.size_pt)]
        if one.sides_mm is not None:
            what.append(f"on {one.sides_mm[0]:.4g} x {one.sides_mm[1]:.4g} mm")
        named = f"{say.visible(one.title)}{', ' if what else ''}{' '.join(what)}"
        page.bulleted([f"{named}: {say.visible(one.why)}"])


def _cautions(page: Page, setting: Setting) -> None:
    cautions = setting.answer.report.method.cautions
    if cautions:
        page.heading("Mind")
        page.bulleted(cautions)


def _layout(setting: Setting) -> LayoutReport:
    return setting.answer.report.layouts[setting.place]


def _per_sheet(sheet: Sheet) -> list[int]:
    counts = Counter(place.page for place in sheet.places)
    return [counts[page] for page in sorted(counts)]


def _paper_dict(sheet: Sheet) -> dict[str, Any]:
    page = sheet.page
    return {
        "name": page.name,
        "width_mm": _round(page.width_mm),
        "height_mm": _round(page.height_mm),
        "margin_mm": _round(page.margin_mm),
        "gutter_mm": _round(page.gutter_mm),
        "turned": sheet.turned,
    }


def _settings(sheet: Sheet) -> list[dict[str, Any]]:
    return [
        {
            **_setting_dict(setting),
            "places": [
                {
                    "sheet": place.page,
                    "left_mm": _round(place.left_mm),
                    "bottom_mm": _round(place.bottom_mm),
                    "width_mm": _round(place.width_mm),
                    "height_mm": _round(place.height_mm),
                }
                for place in sheet.places
                if place.setting == at
            ],
        }
        for at, setting in enumerate(sheet.settings)
    ]


def _setting_dict(setting: Setting) -> dict[str, Any]:
    layout, (width, height) = _layout(setting), setting.sides_mm
    return {
        "letter": setting.letter or None,
        "title": setting.answer.report.title,
        "label": {
            "width_mm": _round(width),
            "height_mm": _round(height),
            **({} if setting.bent is None else _bent_dict(setting.bent)),
        },
        "orientation": str(layout.orientation),
        "reading": str(layout.reading),
        "lines": list(layout.lines),
        "set_pt": layout.set_pt,
        "largest_pt": layout.largest_pt,
        "ink_width_mm": _round(layout.ink_width_mm),
        "ink_height_mm": _round(layout.ink_height_mm),
        "fits": layout.fits,
        "tight": layout.tight,
    }


def _bent_dict(bent: BentLabel) -> dict[str, float]:
    """How a label bends over a round; its width is then what it is cut to."""
    return {
        "covers_mm": _round(bent.covers_mm),
        "cut_width_mm": _round(bent.cut_width_mm),
        "thickness_mm": _round(bent.thickness_mm),
        "face_stretch": bent.face_stretch,
    }


def _bent(page: Page, settings: Sequence[Setting]) -> None:
    """That labels are drawn as they are cut, not as they lie over the round."""
    bent = {one.bent for one in settings if one.bent is not None}
    if not bent:
        return
    page.blank()
    for one in sorted(bent):
        page.paragraph(
            f"Drawn as it is cut: {one.cut_width_mm:.2f} mm wide it covers {one.covers_mm:.2f} mm "
            f"of the round, {one.thickness_mm:g} mm thick; its printed face is stretched by "
            f"{one.face_stretch - 1:.2%}."
        )


def _left_dict(one: LeftOut) -> dict[str, Any]:
    sides = one.sides_mm
    return {
        "title": one.title,
        "label": None
        if sides is None
        else {"width_mm": _round(sides[0]), "height_mm": _round(sides[1])},
        "set_pt": one.size_pt,
        "why": one.why,
    }


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}{'' if count == 1 else 's'}"


def _round(value: float) -> float:
    return round(value, _DECIMALS) + 0.0


def _dumped(value: dict[str, Any]) -> str:
    return json.dumps(value, ensure_ascii=False, indent=2, allow_nan=False)
