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

__all__ = ["DPI", "MM_A_PIXEL", "Page", "needs_pdftoppm", "rendered"]

DPI = 508  # twenty pixels a mm
MM_A_PIXEL = 25.4 / DPI

PDFTOPPM = shutil.which("pdftoppm")
needs_pdftoppm = pytest.mark.skipif(
    PDFTOPPM is None and not os.environ.get("CI"), reason="there is no pdftoppm here"
)


class Page(NamedTuple):
    """A page as grey pixels, 0 for black, the first row at the top."""

    pixels: npt.NDArray[np.uint8]

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of the page."""
        rows, columns = self.pixels.shape
        return columns * MM_A_PIXEL, rows * MM_A_PIXEL

    def cut(self, left: float, bottom: float, right: float, top: float) -> Page:
        """A part of the page, in mm from its lower left corner."""
        height = self.pixels.shape[0]
        rows = slice(round(height - top / MM_A_PIXEL), round(height - bottom / MM_A_PIXEL))
        return Page(self.pixels[rows, round(left / MM_A_PIXEL) : round(right / MM_A_PIXEL)])

    def ink_mm(self, *, below: int = 128) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of what is darker than a grey, in mm."""
        rows, columns = np.nonzero(self.pixels < below)
        height = self.pixels.shape[0]
        return (
            columns.min() * MM_A_PIXEL,
            (height - rows.max() - 1) * MM_A_PIXEL,
            (columns.max() + 1) * MM_A_PIXEL,
            (height - rows.min()) * MM_A_PIXEL,
        )

    def upright_strokes_mm(self, *, below: int = 128) -> list[float]:
        """Middles of the dark strokes from left to right, over the whole height of this part."""
        return _runs(np.all(self.pixels < below, axis=0))

    def level_strokes_mm(self, *, below: int = 128) -> list[float]:
        """Middles of the dark strokes from the bottom up, over the whole width of this part."""
        return _runs(np.all(self.pixels < below, axis=1)[::-1])


def _runs(dark: npt.NDArray[np.bool_]) -> list[float]:
    """Middles in mm of the stretches that are dark."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], dark.astype(int), [0]))))
    return [
        float(start + end) / 2 * MM_A_PIXEL
        for start, end in zip(edges[::2], edges[1::2], strict=True)
    ]


def rendered(pdf: bytes, folder: Path, *, page: int = 1) -> Page:
    """A page of a PDF as poppler draws it.

    Args:
        pdf: the file's bytes.
        folder: for files of passage.
        page: which page, from 1.
    """
    assert PDFTOPPM is not None
    source = folder / "drawn.pdf"
    source.write_bytes(pdf)
    command = [PDFTOPPM, "-r", str(DPI), "-gray", "-f", str(page), "-l", str(page), str(source)]
    raw = subprocess.run(command, capture_output=True, check=True).stdout
    kind, size, deepest, pixels = raw.split(b"\n", 3)
    assert (kind, deepest) == (b"P5", b"255")
    columns, rows = map(int, size.split())
    return Page(np.frombuffer(pixels, dtype=np.uint8).reshape(rows, columns))
