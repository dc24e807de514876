"""Backs, rules and real letters for the geometry tests."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from fontTools.pens.basePen import BasePen

from spinefit.catalogue import Rules
from spinefit.catalogue import rules as catalogue_rules
from spinefit.job.resolved import ResolvedSpine
from spinefit.shaping.glyphs import Contour, Outline
from spinefit.vocabulary import BackForm, BindingSide, Measured

CHECKS = Path(__file__).parents[2] / "shared" / "checks"


@pytest.fixture(scope="session")
def rules() -> Rules:
    return catalogue_rules()


@pytest.fixture(scope="session")
def spine() -> Callable[..., ResolvedSpine]:
    """A flat back 30 x 200 mm with nothing kept free, but for what a test changes."""

    def build(**changed: Any) -> ResolvedSpine:
        said: dict[str, Any] = {
            "width_mm": 30.0,
            "height_mm": 200.0,
            "measured": Measured.BACK,
            "form": BackForm.FLAT,
            "rise_mm": None,
            "radius_mm": None,
            "arc_mm": None,
            "bands": 0,
            "band_height_mm": 4.0,
            "bands_at_mm": None,
            "tail_ratio": 1.1,
            "band_clearance_mm": 1.0,
            "title_panel": 1,
            "edge_mm": 0.0,
            "head_mm": 0.0,
            "foot_mm": 0.0,
            "max_angle_deg": 90.0,
            "binding_side": BindingSide.LEFT,
            "typed": frozenset(),
        }
        assert changed.keys() <= said.keys()
        said.update(changed)
        return ResolvedSpine(**{**said, "typed": frozenset(said["typed"])})

    return build


class OutlinePen(BasePen):
    """Draws a glyph as our own curves, in em."""

    def __init__(self, glyphs, units_per_em):
        super().__init__(glyphs)
        self.outline, self._upem = [], units_per_em

    def _em(self, *points):
        return tuple((x / self._upem, y / self._upem) for x, y in points)

    def _moveTo(self, point):
        self._start, self._segments = self._em(point)[0], []

    def _lineTo(self, point):
        self._segments.append(self._em(point))

    def _qCurveToOne(self, control, end):
        self._segments.append(self._em(control, end))

    def _curveToOne(self, first, second, end):
        self._segments.append(self._em(first, second, end))

    def _closePath(self):
        self.outline.append(Contour(self._start, tuple(self._segments)))

    _endPath = _closePath


@pytest.fixture(scope="session")
def drawn() -> Callable[..., Outline]:
    """The outline of a named glyph of a fontTools glyph set."""

    def draw(glyphs: Any, name: str, units_per_em: int) -> Outline:
        pen = OutlinePen(glyphs, units_per_em)
        glyphs[name].draw(pen)
        return tuple(pen.outline)

    return draw


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """One test for each published value: arguments named below take its rows."""
    for argument, file in (("segment", "circular_segments.toml"), ("division", "panels.toml")):
        if argument in metafunc.fixturenames:
            with (CHECKS / file).open("rb") as stream:
                rows = tomllib.load(stream)["check"]
            metafunc.parametrize(argument, rows, ids=[row["id"] for row in rows])
