"""What does HarfBuzz say of a run of text, and of a glyph's outline?

The one door to uharfbuzz. In: bytes of a vetted font, text with its script, direction and
language all set (HarfBuzz would take the language from the process otherwise). Out: plain
glyph records and curves, in em. The caller sees to it that the font is sound.
"""

from __future__ import annotations

from copy import copy
from functools import lru_cache
from typing import Any, NamedTuple

import uharfbuzz as hb

from spinefit.errors import FontBrokenError
from spinefit.shaping.glyphs import Contour, Glyphs, KeptOutline, Outline, Point
from spinefit.shaping.vetting import REMEDY
from spinefit.tolerances import NO_AREA_EM2

AxisValues = tuple[tuple[str, float], ...]
"""Values by axis tag, in the units of each axis."""


class Axis(NamedTuple):
    """A variation axis: its tag and how far it runs, in its own units."""

    tag: str
    least: float
    usual: float
    most: float


class Instance(NamedTuple):
    """A named instance of a variable font: its name and its place on the axes."""

    name: str
    axes: AxisValues


class HarfBuzzFont:
    """A font opened by HarfBuzz, at one place of its variation axes.

    Args:
        data: bytes of the whole file, vetted.
        index: face of a collection.
        axes: variation settings, design units by axis tag.

    Raises:
        FontBrokenError: HarfBuzz reads nothing of it.
    """

    def __init__(self, data: bytes, index: int, axes: AxisValues) -> None:
        self._face = hb.Face(hb.Blob(data), index)
        if not self._face.glyph_count:  # it takes nothing of a file with one wrong offset
            raise FontBrokenError("no glyph of the file can be read", remedy=REMEDY)
        self.upem: int = self._face.upem
        self._font = self._at(axes)

    def _at(self, axes: AxisValues) -> Any:
        font = hb.Font(self._face)
        if axes:
            font.set_variations(dict(axes))
        return font

    def at(self, axes: AxisValues) -> HarfBuzzFont:
        """The same font at another place of its axes."""
        other = copy(self)
        other._font = self._at(axes)
        return other

    @property
    def axes(self) -> tuple[Axis, ...]:
        """The variation axes of the font; none of a static one."""
        return tuple(
            Axis(info.tag, info.min_value, info.default_value, info.max_value)
            for info in self._face.axis_infos
        )

    @property
    def instances(self) -> tuple[Instance, ...]:
        """The named instances of the font."""
        tags = [axis.tag for axis in self.axes]
        return tuple(
            Instance(
                self._name(found.subfamily_name_id),
                tuple(zip(tags, found.design_coords, strict=True)),
            )
            for found in self._face.named_instances
        )

    @property
    def weight_and_width(self) -> tuple[float, float]:
        """Weight class from 1 to 1000, and width in per cent of the normal."""
        weight = self._font.get_style_value(hb.StyleTag.WEIGHT)
        return weight, self._font.get_style_value(hb.StyleTag.WIDTH)

    def names(self) -> tuple[tuple[str, ...], ...]:
        """Names in every language: families, styles, full names with the PostScript name."""
        ids = hb.OTNameIdPredefined
        kinds = (
            (ids.TYPOGRAPHIC_FAMILY, ids.FONT_FAMILY, ids.WWS_FAMILY),
            (ids.TYPOGRAPHIC_SUBFAMILY, ids.FONT_SUBFAMILY, ids.WWS_SUBFAMILY),
            (ids.FULL_NAME, ids.POSTSCRIPT_NAME),
        )
        entries = self._face.list_names()
        return tuple(
            tuple(
                dict.fromkeys(
                    name
                    for name_id in kind
                    for entry in entries
                    if entry.name_id == name_id
                    and (name := self._face.get_name(name_id, entry.language))
                )
            )
            for kind in kinds
        )

    def family_and_style(self) -> tuple[str, str]:
        """Names by which menus show the font; empty where it has none."""
        names = hb.OTNameIdPredefined
        family = self._name(names.TYPOGRAPHIC_FAMILY) or self._name(names.FONT_FAMILY)
        style = self._name(names.TYPOGRAPHIC_SUBFAMILY) or self._name(names.FONT_SUBFAMILY)
        return family, style

    def _name(self, name_id: Any) -> str:
        return self._face.get_name(name_id) or ""

    def middle_em(self) -> float:
        """Height over the baseline of the middle between ascender and descender, in em."""
        extents = self._font.get_font_extents("ltr")
        return float(extents.ascender + extents.descender) / 2 / self.upem

    def nominal(self, char: str) -> int:
        """The glyph mapped to a character, 0 for none."""
        return self._font.get_nominal_glyph(ord(char)) or 0

    def covered(self) -> frozenset[int]:
        """Every code point the font maps."""
        return frozenset(self._face.unicodes)

    def shape(
        self,
        text: str,
        *,
        script: str,
        direction: str,
        language: str | None,
        features: dict[str, bool] | None,
    ) -> Glyphs:
        """The glyphs of one run, left to right, or from the top of a column.

        Args:
            text: of one script and one direction.
            script: ISO 15924 code.
            direction: ltr or rtl, or ttb for a column.
            language: BCP 47 tag or None.
            features: OpenType features switched on or off besides the default ones.
        """
        buffer = hb.Buffer()
        buffer.add_str(text)
        buffer.script = script
        buffer.direction = direction
        buffer.language = language or "und"
        hb.shape(self._font, buffer, features)
        # None where there was no text.
        infos, places = buffer.glyph_infos or [], buffer.glyph_positions or []
        em = 1 / self.upem
        positions = [place.position for place in places]
        xs, ys, rights, ups = zip(*positions, strict=True) if positions else [()] * 4
        advances_em = [-up * em for up in ups] if direction == "ttb" else [x * em for x in rights]
        gids = [info.codepoint for info in infos]
        clusters = [info.cluster for info in infos]
        if any(xs) or any(ys):
            xs_em, ys_em = [x * em for x in xs], [y * em for y in ys]
        else:
            xs_em = ys_em = [0.0] * len(gids)
        return Glyphs(gids, clusters, advances_em, xs_em, ys_em, infos)

    def outline(self, gid: int) -> Outline:
        """The curves of a glyph in em, origin at the pen; empty for a space."""
        pen = _Pen(1 / self.upem)
        self._font.draw_glyph(gid, _DRAW, pen)
        return pen.finished()


class _Pen:
    """Collects one glyph's contours as HarfBuzz draws them."""

    def __init__(self, em: float) -> None:
        self._em = em
        self._contours: list[Contour] = []
        self._start: Point | None = None
        self._segments: list[tuple[Point, ...]] = []

    def move(self, x: float, y: float) -> None:
        self._close()
        self._start = (x * self._em, y * self._em)

    def add(self, *numbers: float) -> None:
        em = self._em
        self._segments.append(
            tuple((numbers[at] * em, numbers[at + 1] * em) for at in range(0, len(numbers), 2))
        )

    def _close(self) -> None:
        if self._start is not None and _bounds_area(self._start, self._segments):
            self._contours.append(Contour(self._start, tuple(self._segments)))
        self._start, self._segments = None, []

    def finished(self) -> Outline:
        self._close()
        return KeptOutline(self._contours)


def _bounds_area(start: Point, segments: list[tuple[Point, ...]]) -> bool:
    """Whether a contour encloses anything: a point or a line, as some fonts hold, has no ink."""
    x, y = start
    along: Point | None = None
    for segment in segments:
        for to_x, to_y in segment:
            way = (to_x - x, to_y - y)
            if along is None:
                along = way if way != (0.0, 0.0) else None
            elif abs(along[0] * way[1] - along[1] * way[0]) > NO_AREA_EM2:
                return True
    return False


def _draw_functions() -> Any:
    functions = hb.DrawFuncs()
    functions.set_move_to_func(lambda x, y, pen: pen.move(x, y))
    functions.set_line_to_func(lambda x, y, pen: pen.add(x, y))
    functions.set_quadratic_to_func(lambda a, b, x, y, pen: pen.add(a, b, x, y))
    functions.set_cubic_to_func(lambda a, b, c, d, x, y, pen: pen.add(a, b, c, d, x, y))
    functions.set_close_path_func(lambda pen: None)
    return functions


_DRAW = _draw_functions()


@lru_cache(maxsize=4096)
def script_and_direction(char: str) -> tuple[str | None, str]:
    """ISO 15924 script of a character (None where many scripts share it) and its direction."""
    buffer = hb.Buffer()
    buffer.add_str(char)
    buffer.guess_segment_properties()
    return buffer.script, buffer.direction
