"""How is a scene written as SVG, at true size?

In: a scene in mm, y up. Out: one self-contained SVG 1.1 text in millimetres, the same bytes
for the same scene; y is flipped here and nowhere else. Words stay text: escaped, and held to
the width they were laid out with, whatever font the reader has.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape

from spinefit.drawing.scene import Area, Group, Item, Line, Pen, Scene, Text
from spinefit.errors import one_line
from spinefit.shaping.glyphs import Contour, Point

_FAMILY = "'Fira Sans Condensed', 'DejaVu Sans Condensed', 'Noto Sans', sans-serif"
_COMMANDS = {1: "L", 2: "Q", 3: "C"}


def to_svg(scene: Scene, *, paper: bool = True) -> str:
    """The whole file, one item a line.

    Args:
        scene: what is drawn.
        paper: whether the sheet is drawn white below it; a plotter would cut its edge.
    """
    width, height = _number(scene.width_mm), _number(scene.height_mm)
    return _file(
        scene,
        *([f'<rect width="{width}" height="{height}" fill="#fff"/>'] if paper else []),
        f'<g font-family="{_FAMILY}">',
        *_items(scene.items, scene.height_mm),
        "</g>",
    )


def artwork_svg(scene: Scene) -> str:
    """Filled areas alone, in black: no font, no line, no paper.

    Args:
        scene: groups of areas; each becomes one with its name as id, numbered where it comes again.
    """
    names = [group.name for group in scene.items if isinstance(group, Group)]
    lines: list[str] = []
    for at, group in enumerate(scene.items):
        assert isinstance(group, Group)
        again = names[:at].count(group.name)
        own = f"{group.name}-{again + 1}" if again else group.name
        lines += [f'<g id="{_escaped(own)}">', f"<title>{_escaped(group.title)}</title>"]
        lines += [*_items(group.items, scene.height_mm), "</g>"]
    return _file(scene, *lines)


def _file(scene: Scene, *lines: str) -> str:
    width, height = _number(scene.width_mm), _number(scene.height_mm)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" role="img" '
        f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}" '
        f'aria-label="{_escaped(scene.title)}">',
        f"<title>{_escaped(scene.title)}</title>",
        f"<desc>{_escaped(scene.description)}</desc>",
    )
    return "\n".join((*head, *lines, "</svg>")) + "\n"


def _path_data(contours: Iterable[Contour], height_mm: float) -> str:
    """Contours as path data, y downwards from ``height_mm``."""
    parts = []
    for contour in contours:
        parts.append("M" + _point(contour.start, height_mm))
        for segment in contour.segments:
            ends = " ".join(_point(point, height_mm) for point in segment)
            parts.append(_COMMANDS[len(segment)] + ends)
        parts.append("Z")
    return "".join(parts)


def _items(items: Iterable[Item], height_mm: float) -> Iterator[str]:
    for item in items:
        if isinstance(item, Group):
            yield f'<g class="{_escaped(item.name)}">'
            if item.title:
                yield f"<title>{_escaped(item.title)}</title>"
            yield from _items(item.items, height_mm)
            yield "</g>"
        elif isinstance(item, Text):
            yield _text(item, height_mm)
        elif isinstance(item, Line):
            points = " ".join(_point(point, height_mm) for point in item.points)
            yield f'<polyline points="{points}" fill="none"{_stroke(item.pen)}/>'
        else:
            yield _area(item, height_mm)


def _area(area: Area, height_mm: float) -> str:
    fill = "none" if area.grey is None else grey_in_hex(area.grey)
    stroke = "" if area.pen is None else _stroke(area.pen)
    return f'<path d="{_path_data(area.contours, height_mm)}" fill="{fill}"{stroke}/>'


def _text(text: Text, height_mm: float) -> str:
    x, y = text.at[0], height_mm - text.at[1]
    turn = ""
    if text.turn_deg:
        turn = f' transform="rotate({_number(-text.turn_deg)} {_number(x)} {_number(y)})"'
    anchor = "" if text.anchor == "start" else f' text-anchor="{text.anchor}"'
    weight = ' font-weight="bold"' if text.bold else ""
    colour = f' fill="{grey_in_hex(text.grey)}"' if text.grey else ""
    held = ""
    if text.width_mm:
        held = f' textLength="{_number(text.width_mm)}" lengthAdjust="spacingAndGlyphs"'
    return (
        f'<text x="{_number(x)}" y="{_number(y)}" font-size="{_number(text.size_mm)}"'
        f'{anchor}{weight}{colour}{held}{turn} xml:space="preserve">{_escaped(text.text)}</text>'
    )


def _stroke(pen: Pen) -> str:
    dash = ""
    if pen.dash_mm:
        dash = f' stroke-dasharray="{" ".join(_number(length) for length in pen.dash_mm)}"'
    return f' stroke="{grey_in_hex(pen.grey)}" stroke-width="{_number(pen.width_mm)}"{dash}'


def grey_in_hex(grey: float) -> str:
    """A grey, 0 for black and 1 for white, as SVG and CSS write it."""
    level = round(255 * grey)
    return f"#{level:02x}{level:02x}{level:02x}"


def _point(point: Point, height_mm: float) -> str:
    return f"{_number(point[0])} {_number(height_mm - point[1])}"


def _number(value: float) -> str:
    """A length with a tenth of a micrometre, no more: enough for any knife."""
    shown = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if shown == "-0" else shown


def _escaped(text: str) -> str:
    return escape(one_line(text), quote=True)
