"""What does a printed page show, measured in pixels?

Poppler's ``pdftoppm`` draws a page of a PDF, a renderer that the package never sees. Places
are given in mm from the lower left corner of the page, as in a scene.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import pytest

__all__ = ["MM_AN_INCH", "MM_A_PIXEL", "Page", "needs_pdftoppm", "rendered"]

DPI = 508  # twenty pixels a mm
MM_AN_INCH = 25.4
MM_A_PIXEL = MM_AN_INCH / DPI

PDFTOPPM = shutil.which("pdftoppm")
needs_pdftoppm = pytest.mark.skipif(
    PDFTOPPM is None and not os.environ.get("CI"), reason="there is no pdftoppm here"
)


class Page(NamedTuple):
    """A page as grey pixels, 0 for black, the first row at the top.

    Attributes:
        pixels: rows of them.
        mm_a_pixel: the side of one.
    """

    pixels: npt.NDArray[np.uint8]
    mm_a_pixel: float = MM_A_PIXEL

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of the page."""
        rows, columns = self.pixels.shape
        return columns * self.mm_a_pixel, rows * self.mm_a_pixel

    def cut(self, left: float, bottom: float, right: float, top: float) -> Page:
        """A part of the page, in mm from its lower left corner."""
        row, column = self._corner(left, top)
        end_row, end_column = self._corner(right, bottom)
        return self._replace(pixels=self.pixels[row:end_row, column:end_column])

    def _corner(self, x: float, y: float) -> tuple[int, int]:
        """Row and column at a place; at the edge where that lies off the page."""
        row = round(self.pixels.shape[0] - y / self.mm_a_pixel)
        return max(0, row), max(0, round(x / self.mm_a_pixel))

    def ink_within_mm(
        self, left: float, bottom: float, right: float, top: float, *, below: int = 128
    ) -> tuple[float, float, float, float]:
        """As `ink_mm`, of a part of the page, but measured from the page's own corner."""
        part = self.cut(left, bottom, right, top)
        row, column = self._corner(left, top)
        x = column * self.mm_a_pixel
        y = (self.pixels.shape[0] - row - part.pixels.shape[0]) * self.mm_a_pixel
        ink = part.ink_mm(below=below)
        return ink[0] + x, ink[1] + y, ink[2] + x, ink[3] + y

    def ink_mm(self, *, below: int = 128) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of what is darker than a grey, in mm."""
        rows, columns = np.nonzero(self.pixels < below)
        assert rows.size, "nothing is drawn there"
        height = self.pixels.shape[0]
        return (
            columns.min() * self.mm_a_pixel,
            (height - rows.max() - 1) * self.mm_a_pixel,
            (columns.max() + 1) * self.mm_a_pixel,
            (height - rows.min()) * self.mm_a_pixel,
        )

    def upright_strokes_mm(self, *, below: int = 128) -> list[float]:
        """Middles of the dark strokes from left to right, over the whole height of this part."""
        return self._runs(np.all(self.pixels < below, axis=0))

    def level_strokes_mm(self, *, below: int = 128) -> list[float]:
        """Middles of the dark strokes from the bottom up, over the whole width of this part."""
        return self._runs(np.all(self.pixels < below, axis=1)[::-1])

    def _runs(self, dark: npt.NDArray[np.bool_]) -> list[float]:
        """Middles in mm of the stretches that are dark."""
        edges = np.flatnonzero(np.diff(np.concatenate(([0], dark.astype(int), [0]))))
        return [
            float(start + end) / 2 * self.mm_a_pixel
            for start, end in zip(edges[::2], edges[1::2], strict=True)
        ]


def rendered(
    pdf: bytes, folder: Path, *, page: int = 1, dpi: int = DPI, smooth: bool = True
) -> Page:
    """A page of a PDF as poppler draws it.

    Args:
        pdf: the file's bytes.
        folder: for files of passage.
        page: which page, from 1.
        dpi: pixels an inch.
        smooth: whether edges are softened.
    """
    assert PDFTOPPM is not None, "install Debian's poppler-utils"
    source = folder / "drawn.pdf"
    source.write_bytes(pdf)
    hard = () if smooth else ("-aa", "no", "-aaVector", "no")
    words = ("-r", str(dpi), "-gray", "-f", str(page), "-l", str(page), *hard, str(source))
    raw = subprocess.run([PDFTOPPM, *words], capture_output=True, check=True).stdout
    kind, size, deepest, pixels = raw.split(b"\n", 3)
    assert (kind, deepest) == (b"P5", b"255")
    columns, rows = map(int, size.split())
    return Page(np.frombuffer(pixels, dtype=np.uint8).reshape(rows, columns), MM_AN_INCH / dpi)
