"""Which curves does a group of lines consist of, and where do they stand?

In: a shaped title and a placed group. Out: every glyph's outline in em about the group's
placing point, level, y up. Lines are shaped afresh here, so that what is drawn and verified
does not rest on the same slices as the sizes do.
"""

from __future__ import annotations

from spinefit.errors import FontError
from spinefit.layout.group import Group
from spinefit.layout.splits import Split
from spinefit.shaping.outline import Placed
from spinefit.shaping.run import ShapedRun
from spinefit.shaping.title import ShapedTitle

__all__ = ["placed_as_cut", "placed_outlines"]


def placed_as_cut(run: ShapedRun, split: Split, group: Group) -> list[Placed]:
    """The outlines of a group of lines as `placed_outlines` gives them, from the run's own glyphs.

    Args:
        run: the run that the group's lines were cut out of.
        split: first and last piece of each line.
        group: the group, placed at one em.
    """
    found: list[Placed] = []
    for (first, last), baseline in zip(split, group.baselines_em, strict=True):
        line, box = run.line_placed(first, last)
        shift = -(box[0] + box[2]) / 2
        found.extend([(outline, x + shift, y + baseline) for outline, x, y in line])
    return found


def placed_outlines(title: ShapedTitle, group: Group, *, pillar: bool) -> list[Placed]:
    """Outlines of a group with where their origins stand, in em.

    Args:
        title: the shaped title.
        group: the group, placed at one em.
        pillar: True where the group is a pillar, a letter a baseline.

    Raises:
        FontError: a line without ink.
    """
    if group.columns_em:
        return [
            (outline, x + left, y + top)
            for text, (left, top) in zip(group.texts, group.columns_em, strict=True)
            for outline, x, y in title.column(text).placed
        ]
    texts = [text for text, _box in title.letters()] if pillar else list(group.texts)
    levels = group.levels or (None,) * len(texts)
    found: list[Placed] = []
    for text, baseline, of_line in zip(texts, group.baselines_em, levels, strict=True):
        if pillar and text.isspace():
            continue
        line, box = title.set_line(text, of_line)
        if box is None:
            raise FontError("a line without ink", value=text, where="TITLE")
        shift = -(box[0] + box[2]) / 2
        found.extend((outline, x + shift, y + baseline) for outline, x, y in line)
    return found
