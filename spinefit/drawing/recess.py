"""How is a recess for a label cut, drawn for the bench?

In: an answer with a recess. Out: one scene in mm: the opening and the pressing piece at true
size, the edges that come near the opening, a section through the build-up with its thicknesses
drawn larger, and what to do and to mind; of a recess that should not be cut so, why not. The
section is a picture, its figures count.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.drawing.dimensions import dimension
from spinefit.drawing.marks import CENTRE, CUT, DASHED, FINE, WORDS_MM, column, held
from spinefit.drawing.paper import BENCH_MARGIN_MM, bench_title, check_bar, paper_sizes
from spinefit.drawing.scene import (
    Area,
    Group,
    Item,
    Line,
    Scene,
    Text,
    box_contour,
    centred_contour,
    moved,
    ring_contour,
)
from spinefit.judgement.recess import RecessPlan
from spinefit.pipeline import Answer
from spinefit.say.model import FindingReport, doubts_of
from spinefit.say.phrasing import grave, mm, visible
from spinefit.shaping.glyphs import Point
from spinefit.vocabulary import Level

_GAP_MM = 14.0
_DIM_MM = 9.0  # from a part to its dimension line and beyond
_TALL_MM = 120.0  # parts taller than that have the words beside them
_COLUMN_MM = 84.0
_ENLARGED = 12.0
_WALL_MM, _OPEN_MM = 24.0, 34.0
_CARD_GREY, _BOARD_GREY, _COVERING_GREY, _LABEL_GREY = 0.93, 0.8, 0.62, 0.15
_BOTTOM_MM = 22.0
_NEAR_MM, _PAST_MM = 3.2, 2.0  # edges so near are drawn, and so far past the opening


class _Block(NamedTuple):
    """Items from (0, 0) at the upper left, y up, and the room they take."""

    items: tuple[Item, ...]
    width_mm: float
    height_mm: float


def faults(answer: Answer) -> list[str]:
    """Why the recess of an answer should not be cut as it stands; nothing where it may be."""
    return [one.text for one in _warned(answer) if one.level is Level.FAILURE]


def _warned(answer: Answer) -> list[FindingReport]:
    """What is grave of the recess."""
    return [one for one in grave(answer.report) if one.topic.startswith("recess-")]


def recess_scene(answer: Answer) -> Scene:
    """The cutting drawing of an answer.

    Raises:
        ValueError: there is no recess.
    """
    plan = answer.judgement.recess
    if plan is None:
        raise ValueError("no recess to draw")
    title = f"Recess for the label {visible(answer.report.title)}"
    parts = (_opening(plan), _pressing(plan))
    section = _section(plan)
    width_mm, height_mm, items = _laid_out(answer, plan, parts, section)
    heading = bench_title(title, height_mm, answer.job.commission.on_paper)
    described = (
        "Opening and pressing piece at true size with their dimensions, and a section through "
        "the layers of the board."
    )
    items = held((heading, *items, *check_bar((BENCH_MARGIN_MM, BENCH_MARGIN_MM + 6.0))))
    return Scene(width_mm, height_mm, title, described, items)


def _laid_out(
    answer: Answer, plan: RecessPlan, parts: tuple[_Block, ...], section: _Block
) -> tuple[float, float, tuple[Item, ...]]:
    """Everything on the smallest usual paper that holds it, or on a sheet of its own size."""
    sheets = [size[:2] for size in paper_sizes(("A4", "A3"))]
    across = sum(part.width_mm for part in parts) + _GAP_MM
    own = (max(across + 2 * BENCH_MARGIN_MM + _COLUMN_MM + _GAP_MM, sheets[-1][0]), 0.0)
    for width_mm, height_mm in (*sheets, own):
        items, lowest = _on_sheet(answer, plan, parts, section, width_mm)
        if items and (not height_mm or height_mm + lowest >= BENCH_MARGIN_MM + _BOTTOM_MM):
            height = height_mm or -lowest + BENCH_MARGIN_MM + _BOTTOM_MM
            return width_mm, height, moved(items, (0.0, height))
    raise AssertionError("a sheet of its own size holds everything")


def _on_sheet(
    answer: Answer,
    plan: RecessPlan,
    parts: tuple[_Block, ...],
    section: _Block,
    width_mm: float,
) -> tuple[list[Item], float]:
    """Items below y = 0, the top of a sheet of that width, and the lowest y; none if too wide."""
    x, y = BENCH_MARGIN_MM, -BENCH_MARGIN_MM - 12.0
    items: list[Item] = []
    lowest = y
    for part in parts:
        if x > BENCH_MARGIN_MM and x + part.width_mm > width_mm - BENCH_MARGIN_MM:
            x, y = BENCH_MARGIN_MM, lowest - _GAP_MM / 2
        if x + part.width_mm > width_mm - BENCH_MARGIN_MM:
            return [], 0.0
        items += moved(part.items, (x, y))
        lowest = min(lowest, y - part.height_mm)
        x += part.width_mm + _GAP_MM
    beside = max(part.height_mm for part in parts) > _TALL_MM
    if beside and x + _COLUMN_MM > width_mm - BENCH_MARGIN_MM:
        return [], 0.0
    left, top = (x, -BENCH_MARGIN_MM - 12.0) if beside else (BENCH_MARGIN_MM, lowest - _GAP_MM / 2)
    items += moved(section.items, (left, top))
    room_mm = min(width_mm - BENCH_MARGIN_MM - left, 186.0)
    words, end = column(_words(answer, plan), (left, top - section.height_mm - 8.0), room_mm)
    return [*items, Group("how-to", tuple(words))], min(lowest, end)


def _words(answer: Answer, plan: RecessPlan) -> list[str | tuple[str, bool]]:
    cards = sum(layer.cut for layer in plan.layers)
    what = "the card" if cards == 1 else f"{cards} cards, pasted together first,"
    why_not = faults(answer)
    return [
        *([("Does not fit: not to be cut as it stands", True)] if why_not else []),
        *((fault, True) for fault in why_not),
        ("How to make it", True),
        f"1. Cut the opening, {mm(plan.opening_width_mm)} x {mm(plan.opening_height_mm)}, in "
        f"{what} for the face. It leaves room for the label and the covering on every side; "
        f"covered, it measures {mm(plan.covered_width_mm)} x {mm(plan.covered_height_mm)}.",
        "2. Paste the face and as much whole card on the other face to the board, so that it is "
        "pulled alike on both sides; dry it under weight.",
        "3. Trim the piece that was cut out to the pressing piece, cover the board, and press the "
        "covering into the recess with it.",
        "4. When all is dry, paste the label in.",
        ("Mind", True),
        *((visible(text), True) for text in doubts_of([answer.report])),
        *((one.text, True) for one in _warned(answer) if one.text not in why_not),
        *answer.report.cautions,
    ]


def _opening(plan: RecessPlan) -> _Block:
    """The opening, the label in it dashed."""
    label = Area((centred_contour(plan.label_width_mm, plan.label_height_mm),), None, DASHED)
    sides = (plan.opening_width_mm, plan.opening_height_mm)
    words, words_mm, edges = "opening, cut here; the label dashed", 58.0, _edges(plan)
    if edges:
        words, words_mm = f"{words}, edges dash-dotted", 71.0
    inside = (Group("label", (label,)), *([Group("edges", edges)] if edges else []))
    return _part("opening", sides, words, words_mm, inside)


def _edges(plan: RecessPlan) -> tuple[Item, ...]:
    """The edges that come near the opening, about its middle, for the eye to judge the card by."""
    if plan.card_mm is None:
        return ()
    halves = plan.opening_width_mm / 2, plan.opening_height_mm / 2
    found: list[Item] = []
    for card_mm, (x, y) in zip(plan.card_mm, ((-1, 0), (1, 0), (0, 1), (0, -1)), strict=True):
        half, other = halves if x else reversed(halves)
        if card_mm is not None and card_mm < _NEAR_MM:
            out, along = half + card_mm, other + _PAST_MM
            ends = [(x * out + y * end, y * out + x * end) for end in (-along, along)]
            found.append(Line((ends[0], ends[1]), CENTRE))
    return tuple(found)


def _pressing(plan: RecessPlan) -> _Block:
    sides = (plan.pressing_width_mm, plan.pressing_height_mm)
    if min(sides) <= 0:
        return _Block((), 0.0, 0.0)
    return _part("pressing-piece", sides, "pressing piece, trimmed", 42.0)


def _part(
    name: str, sides: Point, words: str, words_mm: float, inside: tuple[Item, ...] = ()
) -> _Block:
    """A rectangle at true size with its sides, and words below it that need so much room.

    Args:
        name: what it is, for readers of the file.
        sides: width and height in mm.
        words: what it is, for the binder.
        words_mm: how wide the block is at least.
        inside: what is drawn about its middle.
    """
    (wide, high), left, top = sides, _DIM_MM, -_DIM_MM
    above, beside = top + 3.5, left - 3.5
    items: tuple[Item, ...] = (
        Group(name, (Area((box_contour(left, top - high, left + wide, top),), None, CUT),)),
        *moved(inside, (left + wide / 2, top - high / 2)),
        *(Line(((x, top + 0.8), (x, above + 1.2)), FINE) for x in (left, left + wide)),
        dimension((left, above), (left + wide, above), f"{wide:.1f}"),
        *(Line(((left - 0.8, y), (beside - 1.2, y)), FINE) for y in (top, top - high)),
        dimension((beside, top - high), (beside, top), f"{high:.1f}"),
        Text((left, top - high - 5.0), words, WORDS_MM),
    )
    return _Block(items, max(left + wide, words_mm), _DIM_MM + high + 7.0)


def _section(plan: RecessPlan) -> _Block:
    """The layers, the covering drawn into the opening, the label on it; thicknesses enlarged."""
    left, right = 12.0, 12.0 + 2 * _WALL_MM + _OPEN_MM
    open_left, open_right = left + _WALL_MM, right - _WALL_MM
    covering_mm = (plan.opening_width_mm - plan.covered_width_mm) / 2 * _ENLARGED
    y = face = -8.0 - covering_mm
    items: list[Item] = [Text((0.0, -3.0), "Section, thicknesses twelvefold", WORDS_MM, bold=True)]
    marks: list[tuple[float, str]] = []
    for layer in plan.layers:
        thick = layer.thickness.value_mm * _ENLARGED
        spans = [(left, open_left), (open_right, right)] if layer.cut else [(left, right)]
        grey = _CARD_GREY if layer.what == "card" else _BOARD_GREY
        for start, end in spans:
            items.append(Area((box_contour(start, y - thick, end, y),), grey, FINE))
        cut = ", cut through" if layer.cut else ""
        marks.append((y - thick / 2, f"{layer.what} {layer.thickness.value_mm:.4g} mm{cut}"))
        y -= thick
    floor = face - plan.depth_mm * _ENLARGED
    items += _covering(left, right, (open_left, open_right), (face, floor), covering_mm)
    lying = floor + covering_mm
    label = plan.label_thickness_mm * _ENLARGED
    gap = covering_mm + 2.0
    box = box_contour(open_left + gap, lying, open_right - gap, lying + label)
    items.append(Area((box,), _LABEL_GREY))
    items += _marked([(face + covering_mm / 2, "covering"), *marks], right)
    items.append(dimension((left - 3.0, floor), (left - 3.0, face), f"{plan.depth_mm:.4g}"))
    items.append(dimension((left - 9.0, y), (left - 9.0, face), f"{plan.total_mm:.4g}"))
    middle = (open_left + open_right) / 2
    label_words = f"label {plan.label_thickness_mm:.4g} mm"
    items.append(Text((middle, face + covering_mm + 1.2), label_words, WORDS_MM, "middle"))
    items.append(Line(((middle, face + covering_mm + 0.6), (middle, lying + label)), FINE))
    return _Block((Group("section", tuple(items)),), right + 50.0, -y + 2.0)


def _covering(
    left: float,
    right: float,
    opening: tuple[float, float],
    levels: tuple[float, float],
    thick: float,
) -> list[Item]:
    """The covering over the face and down into the opening."""
    (open_left, open_right), (face, floor) = opening, levels
    if thick <= 0:
        return []
    corners = [
        (left, face), (open_left, face), (open_left, floor), (open_right, floor),
        (open_right, face), (right, face), (right, face + thick),
        (open_right - thick, face + thick), (open_right - thick, floor + thick),
        (open_left + thick, floor + thick),
        (open_left + thick, face + thick), (left, face + thick),
    ]  # fmt: skip
    return [Area((ring_contour(corners),), _COVERING_GREY, FINE)]


def _marked(marks: list[tuple[float, str]], right: float) -> list[Item]:
    """Words beside the layers, spread so that none covers another, each with its line."""
    items: list[Item] = []
    step = WORDS_MM * 1.2
    middle = sum(y for y, _said in marks) / len(marks)
    top = middle + step * (len(marks) - 1) / 2
    for number, (y, words) in enumerate(marks):
        at = top - number * step
        items.append(Line(((right + 0.6, y), (right + 6.0, at)), FINE))
        items.append(Text((right + 7.0, at - 0.32 * WORDS_MM), words, WORDS_MM))
    return items
