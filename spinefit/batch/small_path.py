"""How are the curves of letters written in few bytes, so that thousands of books fill one page?

In: placed outlines in em, y up. Out: SVG in whole steps of a grid, y down: every glyph once,
curves and all, told from its own start so that the same letter is the same text wherever it
stands; what comes again is used again by its name. Who shows it scales the grid by a transform.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from functools import lru_cache

from spinefit.shaping.outline import Outline, Placed, Point

__all__ = ["GRID", "letters_svg"]

GRID = 200
"""Steps to an em: a letter as high as a screen shows no corner that is not its own."""

_SMALL = 4  # steps: what stays so near is a softened corner, 0.1 mm at 16 pt
_COMMANDS = {1: "l", 2: "q", 3: "c"}
_GLYPHS_KEPT = 4096  # of all fonts at work: a few megabytes


def letters_svg(placed: Sequence[Placed], name: str) -> str:
    """Paths of the letters, in steps of the grid from the point they are placed about.

    Args:
        placed: outlines with where their origins stand, in em.
        name: begins the names of the glyphs that are used again; no other in the page has it.

    >>> from spinefit.shaping.outline import Contour
    >>> corner = (Contour((0.0, 0.0), (((0.1, 0.0),), ((0.1, 0.1),))),)
    >>> letters_svg([(corner, 0.0, 0.0)], "b2")
    '<path d="M0 0h20v-20z"/>'
    """
    glyphs = []
    for outline, x_em, y_em in placed:
        if outline:
            path, (x, y) = _glyph(outline)
            glyphs.append((path, x + _step(x_em), y - _step(y_em)))
    count = Counter(path for path, _x, _y in glyphs)
    first: dict[str, tuple[str, int, int]] = {}
    once, again = [], []
    for path, x, y in glyphs:
        if count[path] == 1:
            once.append(f"M{x} {y}{path}")
        elif path in first:
            of, x_first, y_first = first[path]
            again.append(f'<use href="#{of}" x="{x - x_first}" y="{y - y_first}"/>')
        else:
            first[path] = found = f"{name}-{len(first)}", x, y
            again.append(f'<path id="{found[0]}" d="M{x} {y}{path}"/>')
    whole = f'<path d="{"".join(once)}"/>' if once else ""
    return whole + "".join(again)


@lru_cache(maxsize=_GLYPHS_KEPT)
def _glyph(outline: Outline) -> tuple[str, tuple[int, int]]:
    """The contours of a glyph, told from the start of the first, and that start."""
    parts: list[str] = []
    begin = at = _grid(outline[0].start)
    for contour in outline:
        start = _grid(contour.start)
        if parts:
            parts.append("m" + _numbers([_from(at, start)]))
        at, before = start, ""
        for segment in contour.segments:
            points = [_grid(point) for point in segment]
            if _is_small(at, points):
                continue  # the next one goes on from here
            command, numbers = _segment(at, points)
            # A command that comes again need not be said again.
            gap = "" if command != before or numbers.startswith("-") else " "
            parts.append(gap + numbers if command == before else command + numbers)
            at, before = points[-1], command
        parts.append("z")
        at = start
    return "".join(parts), begin


def _is_small(at: tuple[int, int], points: list[tuple[int, int]]) -> bool:
    return all(abs(x - at[0]) + abs(y - at[1]) < _SMALL for x, y in points)


def _segment(at: tuple[int, int], points: list[tuple[int, int]]) -> tuple[str, str]:
    """The command and the numbers of a segment."""
    steps = [_from(at, point) for point in points]
    if len(steps) == 1:
        ((x, y),) = steps
        if not y:
            return "h", f"{x}"
        if not x:
            return "v", f"{y}"
    return _COMMANDS[len(steps)], _numbers(steps)


def _from(at: tuple[int, int], point: tuple[int, int]) -> tuple[int, int]:
    return point[0] - at[0], point[1] - at[1]


def _numbers(steps: list[tuple[int, int]]) -> str:
    """Whole numbers in a row, the space left out where a sign parts them."""
    said = " ".join(f"{x} {y}" for x, y in steps)
    return said.replace(" -", "-")


def _grid(point: Point) -> tuple[int, int]:
    return _step(point[0]), -_step(point[1])


def _step(value_em: float) -> int:
    return round(value_em * GRID)
