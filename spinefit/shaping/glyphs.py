"""Which glyphs is a text set in, one after another?

In columns, one list for each thing said of a glyph: who measures a title reads whole columns,
and a record of every glyph would take longer to make than the shaping. Read as a sequence it
gives the records. In em, pen running to the right, or down a column; knows no library.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple, overload

__all__ = ["Glyph", "Glyphs"]

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
