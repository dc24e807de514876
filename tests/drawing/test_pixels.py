"""Are printed and shown drawings true to the millimetre? Looked at by programs of others.

PDF by poppler's pdftoppm, SVG by librsvg's rsvg-convert and by Chromium, each into pixels; the
pixels are measured and held against the report, never against the drawing's own numbers.
"""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from PIL import Image

from spinefit.drawing.check_bar import BAR_MM
from spinefit.drawing.marks import extents_mm
from spinefit.drawing.pdf import to_pdf
from spinefit.drawing.plate import plate
from spinefit.drawing.scene import Scene
from spinefit.drawing.svg import to_svg
from spinefit.vocabulary import Orientation

MM_PER_INCH = 25.4
CLOSE_MM = 0.1
DARK = 90  # black, softened at its edges; the dotted box about the ink is grey of 102
NAMES = ("pamphlet", "across", "ascending", "label", "pillar", "folio")


class Pixels(NamedTuple):
    """A picture of a whole sheet, in grey."""

    image: Any
    per_mm: float
    height_mm: float

    def dark_box(self, left: float, bottom: float, right: float, top: float) -> list[float]:
        """Extents in mm of what is dark within a part of the sheet, y up."""
        corner = (round(left * self.per_mm), round((self.height_mm - top) * self.per_mm))
        end = (round(right * self.per_mm), round((self.height_mm - bottom) * self.per_mm))
        part = self.image.crop((*corner, *end)).point(lambda level: 255 * (level < DARK))
        box = part.getbbox()
        assert box is not None, "nothing dark there"
        x, y = corner[0], corner[1]
        return [
            (box[0] + x) / self.per_mm,
            self.height_mm - (box[3] + y) / self.per_mm,
            (box[2] + x) / self.per_mm,
            self.height_mm - (box[1] + y) / self.per_mm,
        ]


def by_poppler(scene: Scene, folder: Path, _chromium: str) -> Pixels:
    """The PDF at 600 dpi."""
    program = shutil.which("pdftoppm")
    assert program, "install poppler-utils"
    (folder / "sheet.pdf").write_bytes(to_pdf([scene]))
    subprocess.run(
        [program, "-r", "600", "-gray", "-singlefile", "sheet.pdf", "sheet"],
        cwd=folder,
        check=True,
    )
    return opened(folder / "sheet.pgm", 600, scene)


def by_librsvg(scene: Scene, folder: Path, _chromium: str) -> Pixels:
    """The SVG at 400 dpi."""
    program = shutil.which("rsvg-convert")
    assert program, "install librsvg2-bin"
    (folder / "sheet.svg").write_text(to_svg(scene), encoding="utf-8")
    words = [program, "-d", "400", "-p", "400", "-o", "sheet.png", "sheet.svg"]
    subprocess.run(words, cwd=folder, check=True)
    return opened(folder / "sheet.png", 400, scene)


def by_chromium(scene: Scene, folder: Path, chromium: str) -> Pixels:
    """The SVG at 384 dots to the inch, four for each of its own pixels."""
    (folder / "sheet.svg").write_text(to_svg(scene), encoding="utf-8")
    wide, high = (round(side / MM_PER_INCH * 96) + 20 for side in scene[:2])
    subprocess.run(
        [
            chromium, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
            "--disable-background-networking", "--no-first-run", "--hide-scrollbars",
            f"--user-data-dir={folder / 'profile'}", "--force-device-scale-factor=4",
            f"--window-size={wide},{high}", f"--screenshot={folder / 'sheet.png'}",
            (folder / "sheet.svg").as_uri(),
        ],
        capture_output=True, timeout=240, check=True,
    )  # fmt: skip
    return opened(folder / "sheet.png", 384, scene)


def opened(path: Path, dpi: float, scene: Scene) -> Pixels:
    with Image.open(path) as image:
        return Pixels(image.convert("L"), dpi / MM_PER_INCH, scene.height_mm)


Look = Callable[[Scene, Path, str], Pixels]


@pytest.fixture(
    scope="module",
    params=[
        *(pytest.param((by_poppler, name), id=f"poppler-{name}") for name in NAMES),
        *(pytest.param((by_librsvg, name), id=f"librsvg-{name}") for name in NAMES[:4]),
        *(
            pytest.param((by_chromium, name), id=f"chromium-{name}", marks=pytest.mark.browser)
            for name in NAMES[:2]
        ),
    ],
)
def looked(
    request: pytest.FixtureRequest, on: Any, tmp_path_factory: pytest.TempPathFactory,
    chromium: str,
) -> tuple[str, Scene, Pixels]:  # fmt: skip
    """A sheet and what another program makes of it."""
    look, name = request.param
    scene = plate(on.subject(name))
    return name, scene, look(scene, tmp_path_factory.mktemp("look"), chromium)


def test_the_ink_is_as_large_as_the_report_says(on: Any, looked: tuple[str, Scene, Pixels]) -> None:
    """Black pixels of the lettering reach as far as `ink_width_mm` and `ink_height_mm`."""
    name, scene, pixels = looked
    left, bottom, right, top = extents_mm(on.group(scene, "lettering").items)
    dark = pixels.dark_box(left - 0.5, bottom - 0.5, right + 0.5, top + 0.5)
    layout = on.subject(name).pieces[0].layout
    wanted = (layout.ink_width_mm, layout.ink_height_mm)
    if layout.orientation is Orientation.LONGITUDINAL:
        wanted = wanted[::-1]
    assert dark[2] - dark[0] == pytest.approx(wanted[0], abs=CLOSE_MM)
    assert dark[3] - dark[1] == pytest.approx(wanted[1], abs=CLOSE_MM)


def test_the_sides_are_as_far_apart_as_the_book_is_wide(
    on: Any, looked: tuple[str, Scene, Pixels]
) -> None:
    """From the middle of the one line to the middle of the other; and the ink lies between."""
    name, scene, pixels = looked
    job = on.subject(name).pieces[0].answer.job
    outer = "back" if job.spine is not None else "usable-panel"
    left, _bottom, right, top = extents_mm(on.group(scene, outer).items)
    middles = []
    for side in (left, right):
        line = pixels.dark_box(side - 0.8, top - 2.6, side + 0.8, top - 1.6)
        middles.append((line[0] + line[2]) / 2)
    width_mm = job.panel.width_mm if job.spine is None else job.spine.width_mm
    assert middles[1] - middles[0] == pytest.approx(width_mm, abs=CLOSE_MM)
    ink = extents_mm(on.group(scene, "lettering").items)
    dark = pixels.dark_box(ink[0] - 0.5, ink[1] - 0.5, ink[2] + 0.5, ink[3] + 0.5)
    panel = on.subject(name).pieces[0].answer.panel
    spare = on.subject(name).pieces[0].layout.spare_mm
    edge = panel.margin_left_mm + job.lettering.clearance_mm
    assert dark[0] - middles[0] == pytest.approx(edge + spare.left, abs=CLOSE_MM)
    assert middles[1] - dark[2] == pytest.approx(edge + spare.right, abs=CLOSE_MM)


def test_the_bar_is_50_mm(on: Any, looked: tuple[str, Scene, Pixels]) -> None:
    """From the outer edge of its first black part to that of its last."""
    _name, scene, pixels = looked
    left, bottom, right, top = extents_mm(on.group(scene, "check-bar").items)
    dark = pixels.dark_box(left - 1, bottom + 0.5, right + 1, top - 0.5)
    assert dark[2] - dark[0] == pytest.approx(BAR_MM, abs=CLOSE_MM)


def test_the_sheet_has_its_size(looked: tuple[str, Scene, Pixels]) -> None:
    """To a pixel; a browser's window is a little larger."""
    _name, scene, pixels = looked
    wide, high = (length / pixels.per_mm for length in pixels.image.size)
    assert scene.width_mm - CLOSE_MM < wide < scene.width_mm + 6
    assert scene.height_mm - CLOSE_MM < high < scene.height_mm + 6
