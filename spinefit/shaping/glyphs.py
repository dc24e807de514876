"""What does a glyph look like, as plain curves, and how far does the ink of one or many reach?

Outlines in em (font units divided by the units per em), y growing upwards, origin on the
baseline at the pen. Extents come from the extrema of the curves, where the derivative of a Bézier
curve vanishes (any text on such curves); a font's stored boxes and boxes of control points are
wrong by hundredths of an em in some fonts. The glyphs of a text come in columns, one list for each
property: who measures a title reads whole columns, and a record of every glyph would take longer to
make than the shaping. `Reach` is the ink of many in a line, from which that of any stretch is cut;
the pen runs to the right, or down a column. Knows no font and no library.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from itertools import accumulate
from operator import add
from typing import Any, NamedTuple, overload

Point = tuple[float, float]


class Contour(NamedTuple):
    """One closed contour: a start and its segments.

    Attributes:
        start: first point in em; the contour closes back to it with a straight line.
        segments: each a tuple of 1 point (line), 2 points (quadratic: control, end) or
            3 points (cubic: two controls, end), in em.
    """

    start: Point
    segments: tuple[tuple[Point, ...], ...]


Outline = tuple[Contour, ...]
"""All contours of a glyph, filled by the non-zero winding rule; empty for a space."""


class KeptOutline(tuple[Contour, ...]):
    """An outline that keeps its hash: what is known of a glyph is looked up by its outline."""

    _hash: int | None = None

    def __hash__(self) -> int:
        if self._hash is None:
            self._hash = super().__hash__()
        return self._hash

    __eq__ = tuple.__eq__


Box = tuple[float, float, float, float]
"""Ink extents (left, bottom, right, top); emptiness is None, never a box of zeros."""

Placed = tuple[Outline, float, float]
"""An outline and where its origin stands (x, y), all in em."""


def ink_box(outline: Outline) -> Box | None:
    """Exact extents (left, bottom, right, top) of an outline, in its own units."""
    xs: list[float] = []
    ys: list[float] = []
    for contour in outline:
        x, y = contour.start
        xs.append(x)
        ys.append(y)
        for segment in contour.segments:
            end_x, end_y = segment[-1]
            for control_x, control_y in segment[:-1]:
                # Only a control point outside the ends can make the curve turn back.
                if not (x <= control_x <= end_x or end_x <= control_x <= x):
                    xs.extend(_extrema(x, segment, 0))
                if not (y <= control_y <= end_y or end_y <= control_y <= y):
                    ys.extend(_extrema(y, segment, 1))
            x, y = end_x, end_y
            xs.append(x)
            ys.append(y)
    if not xs:
        return None
    return min(xs), min(ys), max(xs), max(ys)


@lru_cache(maxsize=1024)
def scaled_outline(outline: Outline, scale: float) -> Outline:
    """An outline so many times as large."""
    return KeptOutline(
        Contour(
            (start[0] * scale, start[1] * scale),
            tuple(tuple((x * scale, y * scale) for x, y in segment) for segment in segments),
        )
        for start, segments in outline
    )


def union(boxes: Iterable[Box | None]) -> Box | None:
    """The least box around all; None around nothing."""
    found = [box for box in boxes if box is not None]
    if not found:
        return None
    lefts, bottoms, rights, tops = zip(*found, strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)


def _extrema(start: float, segment: tuple[Point, ...], axis: int) -> list[float]:
    """Values of one coordinate where a curve turns back inside the segment."""
    values = (start, *[point[axis] for point in segment])
    return [_at(t, *values) for t in turns_back(*values)]


def turns_back(a: float, b: float, c: float, d: float | None = None) -> list[float]:
    """Parameters inside a segment at which one coordinate of its curve turns back.

    Args:
        a: the coordinate at the start.
        b: of the first control point.
        c: of the second one, or of the end of a quadratic.
        d: of the end of a cubic; None for a quadratic.
    """
    if d is None:
        bend = a - 2 * b + c
        roots = [(a - b) / bend] if bend != 0 else []
    else:
        # Derivative / 3: p t^2 + q t + r, solved in the form that does not cancel for small p.
        p, q, r = d - 3 * c + 3 * b - a, 2 * (a - 2 * b + c), b - a
        inside = q * q - 4 * p * r
        if inside < 0:
            return []
        half = -(q + math.copysign(math.sqrt(inside), q)) / 2
        roots = [top / below for top, below in ((half, p), (r, half)) if below != 0]
    return [t for t in roots if 0 < t < 1]


def _at(t: float, a: float, b: float, c: float, d: float | None = None) -> float:
    s = 1 - t
    if d is None:
        return s * s * a + 2 * s * t * b + t * t * c
    return s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d


# What adds nothing to any ink, so that columns of boxes have no holes.
_NO_INK: Box = (math.inf, math.inf, -math.inf, -math.inf)
_UNSAFE_TO_BREAK = 1  # of HarfBuzz's flags of a glyph (hb_glyph_flags_t)


class Glyph(NamedTuple):
    """A glyph of a shaped run, in em.

    Attributes:
        gid: glyph number; 0 stands for a missing character.
        cluster: index of its first character in the text.
        advance_em: how far the pen moves, to the right; down, in a column.
        x_em, y_em: offset of the glyph from the pen.
    """

    gid: int
    cluster: int
    advance_em: float
    x_em: float
    y_em: float


class Glyphs(Sequence[Glyph]):
    """The glyphs of a text in the order in which they are set.

    Args:
        gids, clusters, advances_em, xs_em, ys_em: as of `Glyph`, a list of each.
        infos: what HarfBuzz says of each beside; None for letters that it did not set.
    """

    __slots__ = ("_infos", "advances_em", "clusters", "gids", "xs_em", "ys_em")

    def __init__(
        self,
        gids: list[int],
        clusters: list[int],
        advances_em: list[float],
        xs_em: list[float],
        ys_em: list[float],
        infos: Sequence[Any] | None = None,
    ) -> None:
        self.gids = gids
        self.clusters = clusters
        self.advances_em = advances_em
        self.xs_em = xs_em
        self.ys_em = ys_em
        self._infos = infos

    @overload
    def __getitem__(self, at: int) -> Glyph: ...

    @overload
    def __getitem__(self, at: slice) -> Glyphs: ...

    def __getitem__(self, at: int | slice) -> Glyph | Glyphs:
        gids, clusters, advances_em = self.gids[at], self.clusters[at], self.advances_em[at]
        xs_em, ys_em = self.xs_em[at], self.ys_em[at]
        if isinstance(at, slice):
            infos = None if self._infos is None else self._infos[at]
            return Glyphs(gids, clusters, advances_em, xs_em, ys_em, infos)  # type: ignore[arg-type]
        return Glyph(gids, clusters, advances_em, xs_em, ys_em)  # type: ignore[arg-type]

    def __len__(self) -> int:
        return len(self.gids)

    def unsafe(self, places: Iterable[int]) -> bool:
        """Whether the text may not be cut before one of these glyphs, each the first of a cluster.

        Where it would change the shaping; all glyphs of a cluster have the same flag. Asked of
        HarfBuzz where it is needed, at the ends of words only: flags take long to read.
        """
        infos, count = self._infos, len(self.gids)
        if infos is None:
            return False
        # At either end of the text nothing is cut.
        flags = [infos[at].flags for at in places if 0 < at < count]
        # An enum's own `&` takes longer still.
        return any(flags) and any([int.__and__(flag, _UNSAFE_TO_BREAK) for flag in flags])

    def ends(self, length: int) -> dict[int, int]:
        """Where each cluster ends, by where it starts, in a text of that length."""
        starts = sorted(set(self.clusters))
        return dict(zip(starts, [*starts[1:], length], strict=True))

    def moved(self, by: int) -> Glyphs:
        """The same glyphs, their text standing further on in a longer one."""
        clusters = [cluster + by for cluster in self.clusters]
        return self._with(clusters=clusters)

    def numbered_from(self, first: int) -> Glyphs:
        """The same glyphs numbered on from another font's; a missing one stays 0."""
        return self._with(gids=[gid + first if gid else 0 for gid in self.gids])

    def tracked(self, tracking_em: float) -> Glyphs:
        """The same glyphs with space added after the last one of every cluster."""
        nexts = [*self.clusters[1:], None]
        advances_em = [
            advance_em + tracking_em if cluster != following else advance_em
            for advance_em, cluster, following in zip(
                self.advances_em, self.clusters, nexts, strict=True
            )
        ]
        return self._with(advances_em=advances_em)

    def _with(
        self,
        *,
        gids: list[int] | None = None,
        clusters: list[int] | None = None,
        advances_em: list[float] | None = None,
    ) -> Glyphs:
        return Glyphs(
            self.gids if gids is None else gids,
            self.clusters if clusters is None else clusters,
            self.advances_em if advances_em is None else advances_em,
            self.xs_em,
            self.ys_em,
            self._infos,
        )

    @staticmethod
    def joined(parts: Sequence[Glyphs]) -> Glyphs:
        """The glyphs of several runs, one run after another."""
        if len(parts) == 1:
            return parts[0]
        whole = Glyphs([], [], [], [], [], [])
        for part in parts:
            whole.gids += part.gids
            whole.clusters += part.clusters
            whole.advances_em += part.advances_em
            whole.xs_em += part.xs_em
            whole.ys_em += part.ys_em
            whole._infos = [*(whole._infos or ()), *(part._infos or ())]
        return whole


class Extents(dict[int, Box]):
    """The ink extents of the glyphs of a face by their numbers, each asked for once.

    Args:
        ink_of: extents of a glyph in em from the pen, None for a glyph without ink.
    """

    def __init__(self, ink_of: Callable[[int], Box | None]) -> None:
        super().__init__()
        self._ink_of = ink_of

    def __missing__(self, gid: int) -> Box:
        found = self[gid] = self._ink_of(gid) or _NO_INK
        return found


class Reach:
    """How far each of some glyphs reaches, set one after another.

    Args:
        glyphs: in the order in which they are set.
        extents: of their face.
        pen_em: where the pen stands before the first.

    Attributes:
        pens_em: where the pen stands before each glyph, and after the last.
    """

    __slots__ = ("_bottoms", "_lefts", "_rights", "_tops", "pens_em")

    def __init__(self, glyphs: Glyphs, extents: Extents, pen_em: float) -> None:
        self.pens_em = origins = list(accumulate(glyphs.advances_em, initial=pen_em))
        boxes = list(map(extents.__getitem__, glyphs.gids))
        lefts, bottoms, rights, tops = zip(*boxes, strict=True) if boxes else ((), (), (), ())
        # In most titles no glyph stands off the pen.
        if any(glyphs.xs_em):
            origins = list(map(add, origins, glyphs.xs_em))
        if any(glyphs.ys_em):
            bottoms, tops = (tuple(map(add, each, glyphs.ys_em)) for each in (bottoms, tops))
        self._lefts = list(map(add, lefts, origins))
        self._rights = list(map(add, rights, origins))
        self._bottoms, self._tops = bottoms, tops

    def blanks(self) -> list[int]:
        """Places of the glyphs without ink."""
        lefts, found = self._lefts, []
        at = -1
        for _ in range(lefts.count(math.inf)):
            at = lefts.index(math.inf, at + 1)
            found.append(at)
        return found

    def box(self, start: int, end: int) -> Box | None:
        """Extents of the ink of the glyphs from start to end; None for no ink."""
        if start >= end:
            return None
        left = min(self._lefts[start:end])
        if left == math.inf:
            return None
        bottom, top = min(self._bottoms[start:end]), max(self._tops[start:end])
        return left, bottom, max(self._rights[start:end]), top

    def boxes(self, stretches: Iterable[tuple[int, int]]) -> list[Box | None]:
        """Extents of the ink of several stretches of glyphs, each from its start to its end."""
        return [self.box(start, end) for start, end in stretches]
