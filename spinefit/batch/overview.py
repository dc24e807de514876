"""How do many books stand on one page of HTML?

In: answered rows. Out: a self-contained page in three parts, head, rows and foot, so that rows
can be written as they come: a table with a thumbnail a book that can be sorted and searched, also
while it is still incomplete. It asks nothing of a network; its policy (W3C, Content Security
Policy Level 3) lets its own style and script run, known by their digests, and nothing else. A
thumbnail is the panel of one title, or the whole back with every text in its place, the letters
that were checked in few bytes: lettering along the back lies level, a heavy edge marks the head.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from functools import lru_cache

from spinefit.batch.books import Answered
from spinefit.batch.model import Settings, Totals
from spinefit.batch.text_table import figure, summary
from spinefit.drawing.back import bands_mm
from spinefit.drawing.frame import ShownText, box_raised, frame_of, ink_box_mm, shown_text
from spinefit.drawing.html import digest, filled, plain
from spinefit.drawing.svg import grey_in_hex
from spinefit.errors import one_line
from spinefit.geometry import turn_box, turn_point
from spinefit.pipeline import Answer
from spinefit.say.plan_model import BackReport
from spinefit.shaping.glyphs import Box, Outline, Placed, Point, union
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Turn

_PACKAGE = "spinefit.batch"
_TALL_PX, _WIDE_PX = 112.0, 240.0  # a thumb's room
_DECIMALS = 2  # mm: nothing so small is seen
_GRID = 200  # steps to an em: a letter as high as a screen shows no corner that is not its own
_SMALL = 4  # steps: what stays so near is a softened corner, 0.1 mm at 16 pt
_COMMANDS = {1: "l", 2: "q", 3: "c"}
_GLYPHS_KEPT = 4096  # of all fonts at work: a few megabytes


def head(settings: Settings) -> str:
    """The page as far as its first row."""
    columns = [("Line", True), *((name, False) for name in settings.kept), ("Title", False)]
    columns += [("Panel", False), ("Verdict", False), ("Set", True), ("Largest", True)]
    columns += [("Way", False), ("Spare", True), ("Answer", False)]
    style, script = plain(_PACKAGE, "overview.css"), plain(_PACKAGE, "overview.js")
    return filled(
        _PACKAGE,
        "head.html",
        policy=f"default-src 'none'; style-src {digest(style)}; script-src {digest(script)}; "
        "base-uri 'none'; form-action 'none'",
        style=style,
        script=script,
        columns=columns,
    )


def rows(answered: Iterable[Answered], settings: Settings) -> str:
    """The rows of the table."""
    return filled(_PACKAGE, "rows.html", rows=map(_shown, answered))


def foot(totals: Totals, settings: Settings) -> str:
    """The page from its last row on."""
    return filled(_PACKAGE, "foot.html", summary=summary(totals), hazards=totals.hazards)


def _shown(one: Answered) -> dict[str, object]:
    found = one.result
    return {
        "line": found.line,
        "kept": [one_line(cell) for cell in one.row.kept],
        "title": one_line(found.title),
        "picture": _thumbnail(one.answers, f"b{found.line}") if one.answers else None,
        "shows": _shows(one),
        "fits": found.verdict in ("fits", "tight"),
        "verdict": found.verdict or "at fault",
        "set_pt": figure(found.set_pt),
        "largest_pt": figure(found.largest_pt),
        "reading": found.reading,
        "spare_mm": figure(found.spare_mm),
        "answer": f"{found.answer} {found.mind}".rstrip()
        if found.fault is None
        else one_line(found.fault.line),
    }


def _shows(one: Answered) -> str:
    """What the picture shows, for those who cannot see it."""
    if isinstance(one.report, BackReport):
        return one_line(", ".join(text.text for text in one.report.texts))
    return one_line(one.result.title)


def _thumbnail(answers: Sequence[Answer], name: str) -> dict[str, object]:
    """The panel of one title, or the back that several texts share.

    Args:
        answers: of the texts, from head to tail, as advised or nearest to fitting.
        name: begins the names of the letters in it; no other picture of the page has it.
    """
    texts = [shown_text(answer) for answer in answers]
    frame = frame_of(texts)
    inks = (
        box_raised(ink_box_mm(shown.judged), middle_mm)
        for shown, middle_mm in zip(texts, frame.middles_mm, strict=True)
    )
    ground = frame.panels_mm[0]
    bands = ""
    if len(texts) > 1:
        ground = (frame.left_mm, frame.tail_mm, frame.right_mm, 0.0)
        path = "".join(map(_box, bands_mm(frame)))
        bands = f'<path class="band" d="{path}"/>' if path else ""
    turns = {shown.judged.layout.candidate.turn for shown in texts}
    turn = turns.pop() if len(turns) == 1 else Turn.NONE
    letters = (
        _letters(shown, middle_mm, f"{name}-{at}")
        for at, (shown, middle_mm) in enumerate(zip(texts, frame.middles_mm, strict=True))
    )
    head = "" if frame.open_head else f'<path class="head" d="{_head(ground)}"/>'
    greys, fill, inked = texts[0].greys, "", "".join(letters)
    if (greys.ground, greys.ink) != (1.0, 0.0):
        grey = greys.ground if len(texts) == 1 else greys.bare
        fill = f' style="fill:{grey_in_hex(grey)}"'
        inked = f'<g fill="{grey_in_hex(greys.ink)}">{inked}</g>'
    svg = f'<path class="ground"{fill} d="{_box(ground)}"/>{bands}{inked}{head}'
    seen = union([ground, *inks]) or ground
    if turn is not Turn.NONE:
        svg = f'<g transform="rotate({turn.degrees:g})">{svg}</g>'
        seen = turn_box(seen, turn.undone)
    sides = (seen[0], -seen[3], seen[2] - seen[0], seen[3] - seen[1])
    *_corner, wide_mm, tall_mm = box = [round(value, _DECIMALS) for value in sides]
    return {
        "svg": svg,
        "box": " ".join(f"{value:g}" for value in box),
        "tall_px": round(tall_mm * min(_TALL_PX / tall_mm, _WIDE_PX / wide_mm), 1),
    }


def _letters(shown: ShownText, middle_mm: float, name: str) -> str:
    """The letters of a text, turned and moved to where they stand."""
    layout = shown.judged.layout
    x, y = turn_point((mm_from_pt(shown.judged.set_pt) / _GRID, 0.0), layout.candidate.turn)
    x_mm, y_mm = shown.judged.centre_mm
    matrix = (x, -y, y, x, x_mm, -y_mm - middle_mm)  # y downwards
    numbers = " ".join(f"{value + 0.0:.5g}" for value in matrix)
    return f'<g transform="matrix({numbers})">{_letters_svg(layout.placed(), name)}</g>'


def _box(box: Box) -> str:
    """A rectangle, y downwards."""
    left, bottom, right, top = box
    return f"M{_mm(left)} {_mm(-top)}H{_mm(right)}V{_mm(-bottom)}H{_mm(left)}z"


def _head(box: Box) -> str:
    return f"M{_mm(box[0])} {_mm(-box[3])}H{_mm(box[2])}"


def _mm(value: float) -> str:
    return f"{round(value, _DECIMALS) + 0.0:g}"


def _letters_svg(placed: Sequence[Placed], name: str) -> str:
    """Paths of the letters, in steps of the grid from the point they are placed about.

    Args:
        placed: outlines with where their origins stand, in em.
        name: begins the names of the glyphs that are used again; no other in the page has it.

    >>> from spinefit.shaping.glyphs import Contour
    >>> corner = (Contour((0.0, 0.0), (((0.1, 0.0),), ((0.1, 0.1),))),)
    >>> _letters_svg([(corner, 0.0, 0.0)], "b2")
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
    """The contours of a glyph, drawn from the start of the first, and that start."""
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
    """Whole numbers in a row, the space left out where a sign separates them."""
    words = " ".join(f"{x} {y}" for x, y in steps)
    return words.replace(" -", "-")


def _grid(point: Point) -> tuple[int, int]:
    return _step(point[0]), -_step(point[1])


def _step(value_em: float) -> int:
    return round(value_em * _GRID)
