"""How does the setting look, in a few lines of a terminal?

In: an answer. Out: lines of braille patterns, 2 x 4 dots a cell, square dots where a cell is
twice as high as wide; drawn from the outlines that were checked, filled by the non-zero winding
rule. The panel's sides are dotted; as much of its length is shown as the letters leave room
for. Lines along the back are turned level, as one reads them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, pairwise

from spinefit.drawing.frame import ink_box_mm, lettering_mm, shown_text
from spinefit.geometry import UsablePanel, turn_box, turn_point
from spinefit.geometry.plane import Ring, box_ring, flatten
from spinefit.judgement import Judged
from spinefit.pipeline import Answer
from spinefit.shaping.glyphs import Box, Point
from spinefit.units import mm_from_pt

_INDENT = 12
_WIDEST, _HIGHEST = 84, 14  # cells
_LOWEST = 4.0  # dots of a capital: below that nothing can be read
_ACROSS, _DOWN = 2, 4  # dots of a cell
_SCANS = 4  # lines looked at in each row of dots
_ENOUGH = 0.34  # of a dot covered by ink
_AROUND_SHARE = 0.12
_BLANK = 0x2800
_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))


def picture(answer: Answer, *, columns: int) -> tuple[str, ...]:
    """The setting shown of an answer, in its panel.

    Args:
        answer: with its outlines.
        columns: width of the screen in cells.

    Returns:
        The lines, without newlines; none where the letters would be too small to be read.
    """
    shown = shown_text(answer)
    back = shown.layout.turn.undone
    rings = flatten(lettering_mm(shown.judged), tolerance_em=0.01)
    ink = turn_box(ink_box_mm(shown.judged), back)
    level, sides = (
        [tuple(turn_point(point, back) for point in corners) for corners in each]
        for each in (rings, _sides(answer, shown.judged))
    )
    window = _window(ink, sides)
    wide = min(_WIDEST, columns - _INDENT - 1) * _ACROSS
    scale = min(wide / (window[2] - window[0]), _HIGHEST * _DOWN / (window[3] - window[1]))
    if shown.layout.cap_height_mm * scale < _LOWEST:
        return ()
    size = (
        math.ceil((window[2] - window[0]) * scale / _ACROSS) * _ACROSS,
        math.ceil((window[3] - window[1]) * scale / _DOWN) * _DOWN,
    )

    def dot(point: Point) -> Point:
        return (point[0] - window[0]) * scale, (window[3] - point[1]) * scale

    dots = _inked([tuple(map(dot, corners)) for corners in level], size)
    # A rule is thinner than a dot that is set: it has a row of them.
    size_mm, centre = mm_from_pt(shown.judged.set_pt), turn_point(shown.judged.centre_mm, back)
    for left, low, right, top in chain.from_iterable(shown.judged.layout.group.rules):
        y_mm = (low + top) / 2 * size_mm + centre[1]
        begins, row = dot((left * size_mm + centre[0], y_mm))
        ends, _row = dot((right * size_mm + centre[0], y_mm))
        dots |= {(at, int(row)) for at in range(int(begins), min(size[0], int(ends) + 1))}
    for corners in sides:
        dots |= set(_dotted([dot(point) for point in corners], size))
    lines = [" " * _INDENT + line for line in _lines(dots, size)]
    while not lines[-1].strip():
        lines.pop()
    return tuple(lines)


def _sides(answer: Answer, one: Judged) -> list[Ring]:
    """The outline of the panel and of areas kept free; of old ink, and of the label over it."""
    panel, over = answer.panel, one.over_old
    if over is not None and panel.outline_mm is None:
        whole = [] if over.label_mm is None else [box_ring(*over.label_mm)]
        return [*(whole or _of_panel(panel)), box_ring(*over.ink_mm)]
    return _of_panel(panel)


def _of_panel(panel: UsablePanel) -> list[Ring]:
    half = panel.width_mm / 2
    end = 1e4 if panel.height_mm is None else panel.height_mm / 2  # beyond any window
    plain: Ring = ((-half, -end), (half, -end), (half, end), (-half, end))
    return [panel.outline_mm or plain, *panel.holes_mm]


def _window(ink: Box, sides: Sequence[Ring]) -> Box:
    """What is shown: the ink, and as much of the panel about it as is near."""
    xs = [x for x, _y in sides[0]]
    ys = [y for _x, y in sides[0]]
    around = _AROUND_SHARE * max(ink[2] - ink[0], ink[3] - ink[1])
    near = 2.5 * around
    left, right = min(xs), max(xs)
    bottom, top = min(ys), max(ys)
    return (
        min(ink[0], left if ink[0] - left < near else ink[0] - around) - around / 6,
        min(ink[1], bottom if ink[1] - bottom < near else ink[1] - around) - around / 6,
        max(ink[2], right if right - ink[2] < near else ink[2] + around) + around / 6,
        max(ink[3], top if top - ink[3] < near else ink[3] + around) + around / 6,
    )


def _inked(rings: Sequence[Ring], size: tuple[int, int]) -> set[tuple[int, int]]:
    """Dots of which enough is covered: spans of ink, a few lines to each row of dots."""
    edges = [
        (a, b, 1) if a[1] < b[1] else (b, a, -1)
        for corners in rings
        for a, b in pairwise((*corners, corners[0]))
        if a[1] != b[1]
    ]
    found: set[tuple[int, int]] = set()
    for row in range(size[1]):
        covered = [0.0] * size[0]
        near = [edge for edge in edges if edge[0][1] < row + 1 and edge[1][1] > row]
        for scan in range(_SCANS):
            for begins, ends in _spans(near, row + (scan + 0.5) / _SCANS):
                for at in range(max(0, int(begins)), min(size[0], int(ends) + 1)):
                    covered[at] += max(0.0, min(ends, at + 1) - max(begins, at)) / _SCANS
        found |= {(at, row) for at, share in enumerate(covered) if share >= _ENOUGH}
    return found


def _spans(edges: Iterable[tuple[Point, Point, int]], y: float) -> Iterator[tuple[float, float]]:
    """Where a level line runs through ink."""
    crossings = sorted(
        (low[0] + (high[0] - low[0]) * (y - low[1]) / (high[1] - low[1]), way)
        for low, high, way in edges
        if low[1] <= y < high[1]
    )
    winding, begins = 0, 0.0
    for x, way in crossings:
        if winding == 0:
            begins = x
        winding += way
        if winding == 0:
            yield begins, x


def _dotted(corners: Sequence[Point], size: tuple[int, int]) -> Iterator[tuple[int, int]]:
    """Every other dot along the sides of a ring, as far as they are in view."""
    wide, high = size
    inside = [(min(max(x, -1.0), wide + 1.0), min(max(y, -1.0), high + 1.0)) for x, y in corners]
    for begin, end in pairwise((*inside, inside[0])):
        steps = max(1, math.ceil(max(abs(end[0] - begin[0]), abs(end[1] - begin[1]))))
        for step in range(steps + 1):
            column, row = (
                math.floor(begin[axis] + (end[axis] - begin[axis]) * step / steps)
                for axis in (0, 1)
            )
            if 0 <= column < wide and 0 <= row < high and (column + row) % 2 == 0:
                yield column, row


def _lines(dots: set[tuple[int, int]], size: tuple[int, int]) -> Iterator[str]:
    for top in range(0, size[1], _DOWN):
        cells = []
        for left in range(0, size[0], _ACROSS):
            code = sum(
                _DOTS[y][x]
                for y in range(_DOWN)
                for x in range(_ACROSS)
                if (left + x, top + y) in dots
            )
            cells.append(chr(_BLANK + code) if code else " ")
        yield "".join(cells).rstrip()
