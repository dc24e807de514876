"""Where does each line of a group stand, at a size of one em?

In: the ink of the lines, their distance, and what is put on the middle. Out: a `Group` in
em about its placing point, level, y up; every line's ink is centred on x = 0. Baselines are
equally far apart, in em, so that the whole group scales; never so near that the ink of two
lines could meet (common practice, rules.toml lines.*).
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import NamedTuple

from spinefit.catalogue import Rules
from spinefit.layout.shapes import shape_name
from spinefit.layout.splits import Split
from spinefit.shaping.outline import Box, Point
from spinefit.shaping.run import ShapedRun
from spinefit.shaping.setter import Levels
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import Centre

__all__ = [
    "Group",
    "Lines",
    "columns_of",
    "group_of",
    "leading_em",
    "least_leading_em",
    "lines_of",
    "pillar_of",
    "vertical_reach",
]


class Group(NamedTuple):
    """Lines placed at one em.

    Attributes:
        texts: the lines.
        widths_em: ink width of each.
        baselines_em: y of each baseline from the placing point.
        box: ink extents about the placing point, level.
        shape: the name of the group's shape.
        broken: for each line, whether it ends inside a word.
        penalty: how badly the split reads; 0 is good.
        centre: what the placing point is the middle of.
        levels: for each line, the embedding levels of its characters, or None; empty where
            every letter reads from left to right.
        columns_em: for columns, where the top of each one's middle stands; else empty. Their
            ``baselines_em`` are those tops, their ``widths_em`` the widths of their ink.
    """

    texts: tuple[str, ...]
    widths_em: tuple[float, ...]
    baselines_em: tuple[float, ...]
    box: Box
    shape: str
    broken: tuple[bool, ...]
    penalty: float
    centre: Centre
    levels: tuple[Levels, ...] = ()
    columns_em: tuple[Point, ...] = ()


def leading_em(title: ShapedTitle, asked_em: float | None, rules: Rules) -> float:
    """The distance of baselines in em, the same for every split of a title.

    Args:
        title: the shaped title.
        asked_em: the distance the person asked for, or None.
        rules: for the usual distances and the least gap.
    """
    cap = title.cap_height_em
    usual = (
        rules.value("lines.capitals_leading") * cap
        if title.all_capitals
        else rules.value("lines.mixed_leading_em")
    )
    return max(usual if asked_em is None else asked_em, least_leading_em(title, rules))


def least_leading_em(title: ShapedTitle, rules: Rules) -> float:
    """Greatest ink ascent plus greatest ink descent plus the least gap, in em."""
    gap = rules.value("lines.least_gap") * title.cap_height_em
    return title.ascent_em + title.descent_em + gap


def vertical_reach(
    title: ShapedTitle, top: float, bottom: float, depth_em: float, centre: Centre
) -> tuple[float, float]:
    """Reach of a group's ink above and below its placing point, in em.

    Args:
        title: for the heights of its capitals and small letters.
        top: ink top of the first line over its baseline.
        bottom: ink bottom of the last line over its baseline (negative below).
        depth_em: from the first baseline to the last.
        centre: ink, or capitals.
    """
    middle = _middle(title, top, bottom - depth_em, depth_em, centre)
    return top - middle, bottom - depth_em - middle


def _middle(
    title: ShapedTitle, top: float, bottom: float, depth_em: float, centre: Centre
) -> float:
    """Y of the placing point over the first baseline."""
    if centre is Centre.CAPITALS:
        band = title.x_height_em if title.mostly_small else title.cap_height_em
        return (band - depth_em) / 2
    return (top + bottom) / 2


class Lines(NamedTuple):
    """The lines of a split, whatever they are centred on.

    Attributes:
        texts, widths_em, shape, broken, penalty: as of the group.
        levels: as of the group.
        depths_em: from the first baseline down to each.
        half_em: half the ink width of the widest.
        top_em, bottom_em: greatest reach of the ink over and under the first baseline.
    """

    texts: tuple[str, ...]
    widths_em: tuple[float, ...]
    shape: str
    broken: tuple[bool, ...]
    penalty: float
    levels: tuple[Levels, ...]
    depths_em: tuple[float, ...]
    half_em: float
    top_em: float
    bottom_em: float


def lines_of(
    run: ShapedRun, split: Split, leading: float, penalty: float, equal_share: float
) -> Lines:
    """The lines of a split.

    Args:
        run: the run the split's pieces belong to.
        split: first and last piece of each line.
        leading: distance of baselines in em.
        penalty: how badly the split reads.
        equal_share: as of `shape_name`.
    """
    boxes = [run.line_ink(first, last) for first, last in split]
    levels = tuple([run.line_levels(first, last) for first, last in split])
    depths = tuple([leading * at for at in range(len(split))])
    widths = tuple([box[2] - box[0] for box in boxes])
    pieces, last_piece = run.pieces, len(run.pieces) - 1
    return Lines(
        texts=tuple([run.line_text(first, last) for first, last in split]),
        widths_em=widths,
        shape=shape_name(widths, equal_share),
        broken=tuple([pieces[last].in_word and last < last_piece for _first, last in split]),
        penalty=penalty,
        levels=levels if any(levels) else (),
        depths_em=depths,
        half_em=max(widths) / 2,
        top_em=max([box[3] - depth for box, depth in zip(boxes, depths, strict=True)]),
        bottom_em=min([box[1] - depth for box, depth in zip(boxes, depths, strict=True)]),
    )


def group_of(title: ShapedTitle, lines: Lines, *, centre: Centre) -> Group:
    """Lines, placed.

    Args:
        title: the shaped title.
        lines: its lines.
        centre: ink, or capitals.
    """
    top, bottom = lines.top_em, lines.bottom_em
    middle = _middle(title, top, bottom, lines.depths_em[-1], centre)
    return Group(
        texts=lines.texts,
        widths_em=lines.widths_em,
        baselines_em=tuple([-depth - middle for depth in lines.depths_em]),
        box=(-lines.half_em, bottom - middle, lines.half_em, top - middle),
        shape=lines.shape,
        broken=lines.broken,
        penalty=lines.penalty,
        centre=centre,
        levels=lines.levels,
    )


def pillar_of(title: ShapedTitle, rules: Rules) -> Group:
    """The title as a pillar: upright letters one under another at a constant pitch.

    Each letter is centred on its ink; a space takes the pitch of a letter. The placing point
    is the middle of the ink.
    """
    letters = title.letters()
    boxes = [box for _text, box in letters if box is not None]
    ascent = max(box[3] for box in boxes)
    descent = max(0.0, *(-box[1] for box in boxes))
    pitch = ascent + descent + rules.value("lines.pillar_gap") * title.cap_height_em
    places = [-pitch * at for at in range(len(letters))]
    inked = [(place, box) for place, (_t, box) in zip(places, letters, strict=True) if box]
    top = max(place + box[3] for place, box in inked)
    bottom = min(place + box[1] for place, box in inked)
    middle = (top + bottom) / 2
    half = max(box[2] - box[0] for box in boxes) / 2
    return Group(
        texts=(title.text,),
        widths_em=(2 * half,),
        baselines_em=tuple(place - middle for place in places),
        box=(-half, bottom - middle, half, top - middle),
        shape="pillar",
        broken=(False,),
        penalty=0.0,
        centre=Centre.INK,
    )


def columns_of(
    title: ShapedTitle, texts: Sequence[str], *, leading: float, rules: Rules, penalty: float
) -> Group:
    """Columns of upright characters side by side, the second to the left of the first.

    Their first cells stand level; the placing point is the middle of the ink. From the middle
    of one to that of the next it is the leading, or as much more as keeps their ink apart.

    Args:
        title: the shaped title.
        texts: the text of each column.
        leading: the distance of lines in em.
        rules: for the least gap.
        penalty: how badly the split reads.
    """
    boxes = [title.column(text).box or (0.0, 0.0, 0.0, 0.0) for text in texts]
    gap = rules.value("lines.least_gap") * title.cap_height_em
    nearest = [after[2] - before[0] + gap for before, after in itertools.pairwise(boxes)]
    pitch = max(leading, *nearest) if nearest else 0.0
    lefts = [-pitch * at for at in range(len(boxes))]
    left = min(x + box[0] for x, box in zip(lefts, boxes, strict=True))
    right = max(x + box[2] for x, box in zip(lefts, boxes, strict=True))
    bottom, top = min(box[1] for box in boxes), max(box[3] for box in boxes)
    x_middle, y_middle = (left + right) / 2, (top + bottom) / 2
    return Group(
        texts=tuple(texts),
        widths_em=tuple(box[2] - box[0] for box in boxes),
        baselines_em=(-y_middle,) * len(boxes),
        box=(left - x_middle, bottom - y_middle, right - x_middle, top - y_middle),
        shape="pillar",
        broken=(False,) * len(boxes),
        penalty=penalty,
        centre=Centre.INK,
        columns_em=tuple((x - x_middle, -y_middle) for x in lefts),
    )
