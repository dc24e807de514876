"""How are scenes written as PDF, at true size?

The one door to reportlab. In: scenes in mm, a page each. Out: the bytes of one file, the same
for the same scenes (no clock, no random name). Words stay text, in the drawing's font, which
is embedded.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from functools import cache
from typing import Any

from reportlab.lib.colors import CMYKColor, CMYKColorSep
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import FILL_NON_ZERO, Canvas

from spinefit.catalogue import font_named, fonts_folder
from spinefit.drawing.marks import FACES, covers
from spinefit.drawing.scene import Area, Group, Item, Line, Pen, Scene, Text
from spinefit.errors import one_line
from spinefit.shaping.glyphs import Contour, Point
from spinefit.units import pt_from_mm


def to_pdf(scenes: Sequence[Scene]) -> bytes:
    """One file, a page for each scene; at least one.

    Raises:
        ValueError: no scene at all.
    """
    return _file(scenes, None)


def artwork_pdf(scenes: Sequence[Scene], spot: str | None = None) -> bytes:
    """Filled areas alone in one ink, each page trimmed at its own edges.

    Args:
        scenes: a page each, of areas and groups of them; at least one.
        spot: the ink's name, a separation shown as black; None for 100 % of process black.
    """
    if spot is None:
        return _file(scenes, CMYKColor(black=1))
    name = spot.encode().decode("latin-1")  # reportlab escapes a name character by character
    return _file(scenes, CMYKColorSep(black=1, spotName=name))


def _file(scenes: Sequence[Scene], ink: CMYKColor | None) -> bytes:
    if not scenes:
        raise ValueError("a PDF needs at least one page")
    held = io.BytesIO()
    canvas = Canvas(held, invariant=1, pageCompression=1, initialFontName=_face(False))
    canvas.setTitle(one_line(scenes[0].title))
    canvas.setSubject(one_line(scenes[0].description))
    canvas.setCreator("spinefit")
    canvas.setViewerPreference("PrintScaling", "None")  # true size, where the viewer heeds it
    for scene in scenes:
        size = _pt((scene.width_mm, scene.height_mm))
        canvas.setPageSize(size)
        if ink is not None:
            canvas.setTrimBox((0, 0, *size))
        _draw(canvas, scene.items, ink)
        canvas.showPage()
    canvas.save()
    return held.getvalue()


def _draw(canvas: Any, items: Iterable[Item], ink: CMYKColor | None) -> None:
    for item in items:
        if isinstance(item, Group):
            _draw(canvas, item.items, ink)
        elif isinstance(item, Text):
            _text(canvas, item)
        elif isinstance(item, Line):
            _pen(canvas, item.pen)
            path = canvas.beginPath()
            path.moveTo(*_pt(item.points[0]))
            for point in item.points[1:]:
                path.lineTo(*_pt(point))
            canvas.drawPath(path, stroke=1, fill=0)
        else:
            _area(canvas, item, ink)


def _area(canvas: Any, area: Area, ink: CMYKColor | None = None) -> None:
    path = canvas.beginPath()
    for contour in area.contours:
        _contour(path, contour)
    if ink is not None:
        canvas.setFillColor(ink)
    elif area.grey is not None:
        canvas.setFillGray(area.grey)
    if area.pen is not None:
        _pen(canvas, area.pen)
    canvas.drawPath(
        path,
        stroke=int(area.pen is not None),
        fill=int(area.grey is not None),
        fillMode=FILL_NON_ZERO,
    )


def _contour(path: Any, contour: Contour) -> None:
    path.moveTo(*_pt(contour.start))
    last = contour.start
    for segment in contour.segments:
        if len(segment) == 1:
            path.lineTo(*_pt(segment[0]))
        else:
            first, second, end = segment if len(segment) == 3 else _cubic(last, *segment)
            path.curveTo(*_pt(first), *_pt(second), *_pt(end))
        last = segment[-1]
    path.close()


def _cubic(start: Point, control: Point, end: Point) -> tuple[Point, Point, Point]:
    """The same quadratic curve as a cubic one, exactly."""
    first = tuple(a + (c - a) * 2 / 3 for a, c in zip(start, control, strict=True))
    second = tuple(b + (c - b) * 2 / 3 for b, c in zip(end, control, strict=True))
    return (first[0], first[1]), (second[0], second[1]), end


def _text(canvas: Any, text: Text) -> None:
    """A line of words; those that the font lacks as outlines, or else as their escapes."""
    name, size = _face(text.bold), pt_from_mm(text.size_mm)
    shown = _shown(text)
    natural = pdfmetrics.stringWidth(shown, name, size)
    wanted = pt_from_mm(text.width_mm) or natural
    canvas.saveState()
    canvas.setFillGray(text.grey)
    canvas.translate(*_pt(text.at))
    canvas.rotate(text.turn_deg)
    canvas.translate({"start": 0.0, "middle": -wanted / 2, "end": -wanted}[text.anchor], 0)
    if text.drawn:
        _area(canvas, Area(text.drawn))
    else:
        canvas.scale(wanted / natural if natural else 1.0, 1)
        canvas.setFont(name, size)
        canvas.drawString(0, 0, shown)
    canvas.restoreState()


def _shown(text: Text) -> str:
    return "".join(
        char if covers(char, bold=text.bold) else char.encode("unicode_escape").decode()
        for char in one_line(text.text)
    )


def _pen(canvas: Any, pen: Pen) -> None:
    canvas.setStrokeGray(pen.grey)
    canvas.setLineWidth(pt_from_mm(pen.width_mm))
    canvas.setDash([pt_from_mm(length) for length in pen.dash_mm])


@cache
def _face(bold: bool) -> str:
    row = font_named(FACES[bold])
    assert row is not None  # it is bundled
    name = row.name.replace(" ", "")
    pdfmetrics.registerFont(TTFont(name, str(fonts_folder() / row.file)))
    return name


def _pt(point: Point) -> tuple[float, float]:
    return pt_from_mm(point[0]), pt_from_mm(point[1])
