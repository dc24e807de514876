"""How does a page draw the lettering of a book, in few bytes?

In: the answers for the texts of one back. Out: a `Thumbnail`: the line of figures that the page's
script draws from once the row is seen, and the outlines of its letters, each under a name made
of its own curves, so that a page needs it but once. It is the panel of one title, or the
whole back with every text in its place: the letters that were checked. Lengths in mm, y downwards,
origin at the head on the middle of the back; letters in steps of a grid.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from spinefit.drawing.back import bands_mm
from spinefit.drawing.frame import Frame, ShownText, box_raised, frame_of, ink_box_mm, shown_text
from spinefit.drawing.svg import grey_in_hex
from spinefit.geometry import turn_box, turn_point
from spinefit.pipeline import Answer
from spinefit.shaping.glyphs import Box, Outline, Placed, Point, union
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Turn

_DECIMALS = 2  # mm: nothing so small is seen
_GRID = 200  # steps to an em: a letter as high as a screen shows no corner that is not its own
_SMALL = 4  # steps: what stays so near is a softened corner, 0.1 mm at 16 pt
_COMMANDS = {1: "l", 2: "q", 3: "c"}
_GLYPHS_KEPT = 4096  # of all fonts at work: a few megabytes
_NAME_BYTES = 6  # two of ten thousand outlines have the same name once in five million pages
_AROUND, _LEAST_AROUND_MM = 0.6, 2.0  # beside the ink, in parts of its shorter side
_NEAR = 2.0  # an edge of the panel no farther than so many times that is shown
_NEAREST = 1.1  # and the nearest of all with a little past it


class Thumbnail(NamedTuple):
    """What a page draws for a book.

    Attributes:
        figures: parted by semicolons: the turn in degrees that brings the lettering level; the
            box to show and that of the whole, each from its upper left corner, once turned;
            paths of the ground, the bands and the head; greys of ground and ink, "" for white
            paper and black ink; then of each text how it is placed and its letters.
        outlines: paths of the letters in it by their names.
    """

    figures: str
    outlines: Mapping[str, str]


def thumbnail(answers: Sequence[Answer]) -> Thumbnail:
    """The panel of one title, or the back that several texts share.

    Args:
        answers: of the texts, from head to tail, as advised or nearest to fitting.
    """
    texts = [shown_text(answer) for answer in answers]
    frame = frame_of(texts)
    pairs = list(zip(texts, frame.middles_mm, strict=True))
    inks = [box_raised(ink_box_mm(shown.judged), middle_mm) for shown, middle_mm in pairs]
    ground, bands = _ground(frame)
    turns = {shown.judged.layout.candidate.turn for shown in texts}
    turn = turns.pop() if len(turns) == 1 else Turn.NONE
    panel, ink = (_level(one, turn) for one in (ground, union(inks) or ground))
    greys, fill, inked = texts[0].greys, "", ""
    if (greys.ground, greys.ink) != (1.0, 0.0):
        fill = grey_in_hex(greys.ground if len(texts) == 1 else greys.bare)
        inked = grey_in_hex(greys.ink)
    outlines: dict[str, str] = {}
    letters = [_letters(shown, middle_mm, outlines) for shown, middle_mm in pairs]
    head = "" if frame.open_head else f"M{_mm(ground[0])} {_mm(-ground[3])}H{_mm(ground[2])}"
    boxes = (_sides(_cropped(ink, panel)), _sides(union([panel, ink]) or panel))
    figures = (f"{turn.degrees:g}", *boxes, _box(ground), bands, head, fill, inked, *letters)
    return Thumbnail(";".join(figures), outlines)


def _ground(frame: Frame) -> tuple[Box, str]:
    """What the letters stand on, and the bands over it."""
    if len(frame.texts) == 1:
        return frame.panels_mm[0], ""
    ground = (frame.left_mm, frame.tail_mm, frame.right_mm, 0.0)
    return ground, "".join(map(_box, bands_mm(frame)))


def _level(box: Box, turn: Turn) -> Box:
    return turn_box(box, turn.undone)


def _cropped(ink: Box, panel: Box) -> Box:
    """The ink with a little around it, and the edges of the panel that are near."""
    around_mm = max(_LEAST_AROUND_MM, _AROUND * min(ink[2] - ink[0], ink[3] - ink[1]))
    spares = (ink[0] - panel[0], ink[1] - panel[1], panel[2] - ink[2], panel[3] - ink[3])
    seen_mm = max(_NEAR * around_mm, _NEAREST * min(spares))
    # An edge in view has room for its line; where ink stands over there is no more than that.
    left, bottom, right, top = (
        max(spare, 0.0) + around_mm / 4 if spare <= seen_mm else around_mm for spare in spares
    )
    return ink[0] - left, ink[1] - bottom, ink[2] + right, ink[3] + top


def _letters(shown: ShownText, middle_mm: float, outlines: dict[str, str]) -> str:
    """The letters of a text, turned and moved to where they stand; adds their outlines."""
    layout = shown.judged.layout
    x, y = turn_point((mm_from_pt(shown.judged.set_pt) / _GRID, 0.0), layout.candidate.turn)
    x_mm, y_mm = shown.judged.centre_mm
    matrix = (x, -y, y, x, x_mm, -y_mm - middle_mm)  # y downwards
    numbers = " ".join(f"{value + 0.0:.5g}" for value in matrix)
    return f"{numbers},{places(layout.placed(), outlines)}"


def places(placed: Iterable[Placed], outlines: dict[str, str]) -> str:
    """Where letters stand: for each outline its name, then x and y of every place it has.

    Args:
        placed: outlines with where their origins stand, in em.
        outlines: paths by name, to which those of these letters are added.

    >>> from spinefit.shaping.glyphs import Contour
    >>> corner = (Contour((0.0, 0.0), (((0.1, 0.0),), ((0.1, 0.1),))),)
    >>> found = {}
    >>> places([(corner, 0.0, 0.0), (corner, 0.5, 0.1)], found), found
    ('1Hc5nKHc 0 0 100 -20', {'1Hc5nKHc': 'h20v-20z'})
    """
    at: dict[str, list[str]] = {}
    for outline, x_em, y_em in placed:
        if outline:
            name, path, (x, y) = _glyph(outline)
            outlines[name] = path
            at.setdefault(name, []).append(f"{x + _step(x_em)} {y - _step(y_em)}")
    return ",".join(f"{name} {' '.join(each)}" for name, each in at.items())


@lru_cache(maxsize=_GLYPHS_KEPT)
def _glyph(outline: Outline) -> tuple[str, str, tuple[int, int]]:
    """Name and contours of a glyph, drawn from the start of the first, and that start."""
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
            # A command that comes again need not be written again.
            gap = "" if command != before or numbers.startswith("-") else " "
            parts.append(gap + numbers if command == before else command + numbers)
            at, before = points[-1], command
        parts.append("z")
        at = start
    path = "".join(parts)
    digest = hashlib.blake2s(path.encode(), digest_size=_NAME_BYTES).digest()
    return base64.urlsafe_b64encode(digest).decode(), path, begin


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
    """Whole numbers in a row, the space left out where a sign separates them."""
    words = " ".join(f"{x} {y}" for x, y in steps)
    return words.replace(" -", "-")


def _grid(point: Point) -> tuple[int, int]:
    return _step(point[0]), -_step(point[1])


def _step(value_em: float) -> int:
    return round(value_em * _GRID)


def _box(box: Box) -> str:
    """A rectangle, y downwards."""
    left, bottom, right, top = box
    return f"M{_mm(left)} {_mm(-top)}H{_mm(right)}V{_mm(-bottom)}H{_mm(left)}z"


def _sides(box: Box) -> str:
    """A rectangle by its upper left corner, its width and its height, y downwards."""
    left, bottom, right, top = box
    return " ".join(map(_mm, (left, -top, right - left, top - bottom)))


def _mm(value: float) -> str:
    return f"{round(value, _DECIMALS) + 0.0:g}"
