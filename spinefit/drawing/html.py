"""How is the whole answer written as one page for a browser, and for paper?

In: a subject. Out: HTML in one file: the answer, the drawing, the settings side by side (all at
true size, with the same length of back in view), findings with their sources, and the checklist
with boxes to tick. The same bytes for the same subject. The one door to jinja2: every value is
escaped, so that nothing of the binder's is taken for markup, and a missing one is a fault. A page
asks nothing of the network and names its own style and script by their digests, so that its
Content-Security-Policy (W3C, level 3) lets nothing else run.
"""

from __future__ import annotations

import base64
import hashlib
import math
from collections.abc import Iterator
from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined

from spinefit.drawing.frame import (
    Greys,
    ShownText,
    greys_of,
    ink_extents_mm,
    lettering_mm,
    shown_letters,
)
from spinefit.drawing.marks import DASHED, EXTENTS, OUTLINE, box, end_line
from spinefit.drawing.old_ink import old_ink
from spinefit.drawing.plate import Subject, figures
from spinefit.drawing.ruled import ruled_frame
from spinefit.drawing.scene import Area, Group, Item, Line, Scene, moved, ring_contour
from spinefit.drawing.svg import to_svg
from spinefit.geometry import UsablePanel
from spinefit.judgement import Judged
from spinefit.pipeline import Answer
from spinefit.say import phrasing as say
from spinefit.say.checklist import CAUTION, checked_tasks, measuring_tasks, plain_task, tasks_by_eye
from spinefit.say.label_texts import rows_of
from spinefit.say.model import LayoutReport, doubts_of
from spinefit.say.remedies import remedies
from spinefit.shaping.glyphs import Contour
from spinefit.tolerances import SAME_MM
from spinefit.vocabulary import Orientation

_PACKAGE = "spinefit.drawing"
_AROUND_MM = 5.0
_EDGE_MM = 3.0


def filled(package: str, name: str, **values: object) -> str:
    """A template of a room with its values.

    Args:
        package: the room, such as ``spinefit.drawing``.
        name: the template's file.
        values: what it asks for.
    """
    return _environment(package).get_template(name).render(**values)


def plain(package: str, name: str) -> str:
    """A file of a room's templates that asks for no values: a style, a script."""
    return f"\n{filled(package, name)}"


def digest(text: str) -> str:
    """A style or script as a policy names it."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


@cache
def _environment(package: str) -> Environment:
    found = Environment(
        loader=PackageLoader(package, "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    found.filters |= {"visible": say.visible, "figure": _figure}
    return found


def _figure(value: float | str | None, unit: str) -> str:
    if value is None or unit == "arcmin":  # an angle tells a reader nothing; the text has mm
        return ""
    if isinstance(value, str):
        return say.visible(value)
    return f"{say.figure(value)} {unit}".rstrip()


def to_html(subject: Subject) -> str:
    """The whole page."""
    style = plain(_PACKAGE, "report.css")
    return filled(
        _PACKAGE,
        "report.html",
        subject=subject,
        doubts=doubts_of(shown.answer.report for shown in subject.texts),
        style=style,
        style_hash=digest(style),
        drawing="".join(map(to_svg, figures(subject))),
        on_board=subject.on_board,
        parts=list(_parts(subject)),
        caution=CAUTION,
    )


def _parts(subject: Subject) -> Iterator[dict[str, object]]:
    for texts, back in zip(subject.backs, subject.names, strict=True):
        for shown in texts:
            text = shown.name if back else shown.name.capitalize()
            yield _part(shown, ", ".join(filter(None, (back, text))))


def _part(shown: ShownText, name: str) -> dict[str, object]:
    """What the page has of one text or volume."""
    report = shown.answer.report
    found = remedies(report)
    return {
        "name": name,
        "answer": report.answer,
        "settings": settings(shown),
        "findings": say.findings_by_weight(report, shown.layout),
        "remedies": [remedy.text for remedy in found],
        "convention": convention(shown),
        "tasks": (
            (
                "To be measured again, with the figures used",
                map(plain_task, measuring_tasks(report)),
            ),
            ("What was checked", map(plain_task, checked_tasks(report, found))),
            ("To be checked by a person", [(False, text) for text in tasks_by_eye(report)]),
        ),
        "method": report.method.name,
        "cautions": report.cautions,
        "assumed": report.assumed,
    }


def settings(shown: ShownText) -> list[dict[str, object]]:
    """Every setting as it is shown beside the others, the advised one first."""
    report = shown.answer.report
    found = [
        {
            "layout": layout,
            "picture": to_svg(scene),
            "name": _way(layout),
            "verdict": say.verdict_in_words(layout),
            "kind": say.verdict_in_words(layout).replace(" ", "-"),
            "advised": layout is shown.layout and report.fits,
            "facts": tuple(_facts(layout)),
        }
        for scene, layout in zip(_setting_scenes(shown.answer), report.layouts, strict=True)
    ]
    return sorted(found, key=lambda one: (not one["advised"], one["kind"] == "does-not-fit"))


def _way(layout: LayoutReport) -> str:
    pillar = layout.orientation is Orientation.PILLAR
    way = "upright letters" if pillar else str(layout.reading)
    over = ", over the bands: avoid" if layout.over_bands else ""
    return f"{way.capitalize()}, {say.lines_in_words(layout)}{over}"


def _facts(layout: LayoutReport) -> Iterator[tuple[str, str]]:
    yield "Lines", say.joined(layout)
    yield "Size", say.pt(layout.set_pt)
    yield from rows_of(layout)
    yield "Largest", say.limit_pt(layout.largest_pt) if layout.largest_pt > 0 else "none"
    least = say.least_spare_mm(layout)
    if least is not None:
        yield ("Least spare", say.mm(least)) if least >= 0 else ("Too large by", say.mm(-least))
    letters = say.capitals_or_letters(" ".join(layout.lines)).capitalize()
    yield letters, say.mm(layout.cap_height_mm)


def convention(shown: ShownText) -> str:
    """Which way lettering along the back reads in the market, and who says so."""
    rule = shown.answer.report.convention
    market = f"Market {rule.name}" if rule.market else "No market given"
    reads = f"lettering along the back reads {say.way(rule.reading)} ({rule.firmness})."
    note = f" {rule.note}" if rule.note else ""
    return f"{market}: {reads}{note} [{say.source_in_words(rule.source, rule.status)}]"


def _setting_scenes(answer: Answer) -> tuple[Scene, ...]:
    """A picture of every layout, in the order of the report."""
    judged = answer.judgement.judged
    inks = [lettering_mm(one) for one in judged]
    boxes = [ink_extents_mm(ink) for ink in inks]
    high = max(box[3] - box[1] for box in boxes) + 2 * _AROUND_MM
    wide = max(answer.panel.width_mm, *(2 * max(-box[0], box[2]) for box in boxes))
    return tuple(
        _setting_scene(one, layout, ink, (wide, high), greys_of(answer.job))
        for one, layout, ink in zip(judged, answer.report.layouts, inks, strict=True)
    )


def _setting_scene(
    one: Judged,
    layout: LayoutReport,
    letters: tuple[Contour, ...],
    window_mm: tuple[float, float],
    greys: Greys,
) -> Scene:
    """The lettering in its panel, as much of it as the window shows about the ink's middle."""
    wide, high = window_mm[0] + 2 * _EDGE_MM, window_mm[1] + 2 * _EDGE_MM
    ink = ink_extents_mm(letters)
    middle = (ink[1] + ink[3]) / 2
    items: list[Item] = [
        *_panel(one.layout.panel, middle - window_mm[1] / 2, middle + window_mm[1] / 2, greys),
        Group("extents", (box(*ink, pen=EXTENTS),)),
        Group("lettering", shown_letters(one, letters, greys.ink)),
    ]
    items += ruled_frame(one.layout.panel, grey=greys.ink)
    if one.over_old is not None:
        items.insert(1, Group("old-lettering", old_ink(one.over_old)))
    title = f"{layout.reading}: {say.joined(layout)}, {say.pt(layout.set_pt)}"
    return Scene(wide, high, title, title, moved(items, (wide / 2, high / 2 - middle)))


def _panel(panel: UsablePanel, bottom: float, top: float, greys: Greys) -> list[Item]:
    """The panel's sides as far as they are in view, whole or broken off at its ends."""
    side = panel.width_mm / 2
    fill = greys.ground if greys.ground < 1.0 else None  # the page is white
    if panel.outline_mm is not None:
        rings = (ring_contour(panel.outline_mm), *(ring_contour(hole) for hole in panel.holes_mm))
        return [
            Area((one,), None if at else fill, DASHED if at else OUTLINE)
            for at, one in enumerate(rings)
        ]
    half = math.inf if panel.height_mm is None else panel.height_mm / 2
    ends = (max(bottom, -half), min(top, half))
    found: list[Item] = []
    if fill is not None:
        found.append(box(-side, ends[0], side, ends[1], grey=fill))
    found += [Line(((x, ends[0]), (x, ends[1])), OUTLINE) for x in (-side, side)]
    found += [end_line(-side, side, y, goes_on=abs(abs(y) - half) >= SAME_MM) for y in ends]
    found += [Area((ring_contour(hole),), None, DASHED) for hole in panel.holes_mm]
    return found
