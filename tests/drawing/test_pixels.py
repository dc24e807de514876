"""Are printed and shown drawings true to the millimetre? Looked at by programs of others.

PDF by poppler's pdftoppm, SVG by librsvg's rsvg-convert and by Chromium, each into pixels; the
pixels are measured and held against the report, never against the drawing's own numbers.
"""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from spinefit.drawing.marks import extents_mm
from spinefit.drawing.paper import BAR_MM
from spinefit.drawing.pdf import to_pdf
from spinefit.drawing.plate import plate
from spinefit.drawing.scene import Scene
from spinefit.drawing.svg import to_svg
from spinefit.vocabulary import Orientation
from tests.browser import browsed, browser_marks
from tests.drawing.rendered import MM_AN_INCH, Page, rendered
from tests.fuzz.judging import outcome

CLOSE_MM = 0.1
DARK = 90  # black, softened at its edges; the dotted box about the ink is grey of 102
NAMES = ("pamphlet", "across", "ascending", "label", "pillar", "folio")


def by_poppler(scene: Scene, folder: Path) -> Page:
    """The PDF at 600 dpi."""
    return rendered(to_pdf([scene]), folder, dpi=600)


def by_librsvg(scene: Scene, folder: Path) -> Page:
    """The SVG at 400 dpi."""
    program = shutil.which("rsvg-convert")
    assert program, "install librsvg2-bin"
    words = [program, "-d", "400", "-p", "400", "-o", "sheet.png", svg(scene, folder).name]
    subprocess.run(words, cwd=folder, check=True)
    return opened(folder / "sheet.png", 400)


def by_chromium(scene: Scene, folder: Path) -> Page:
    """The SVG at 384 dots to the inch, four for each of its own pixels.

    The browser's window is a little larger than the sheet, which stands in its upper left.
    """
    wide, high = (round(side / MM_AN_INCH * 96) + 20 for side in scene[:2])
    browsed(
        svg(scene, folder), "--hide-scrollbars", "--force-device-scale-factor=4",
        f"--window-size={wide},{high}", f"--screenshot={folder / 'sheet.png'}",
    )  # fmt: skip
    page = opened(folder / "sheet.png", 384)
    assert all(
        own < seen < own + 6 for own, seen in zip(scene[:2], page.size_mm, strict=True)
    )  # fmt: skip
    return page.cut(0, page.size_mm[1] - scene.height_mm, scene.width_mm, page.size_mm[1])


def svg(scene: Scene, folder: Path) -> Path:
    path = folder / "sheet.svg"
    path.write_text(to_svg(scene), encoding="utf-8")
    return path


def opened(path: Path, dpi: float) -> Page:
    with Image.open(path) as image:
        return Page(np.asarray(image.convert("L")), MM_AN_INCH / dpi)


Look = Callable[[Scene, Path], Page]


@pytest.fixture(
    scope="module",
    params=[
        *(pytest.param((by_poppler, name), id=f"poppler-{name}") for name in NAMES),
        *(pytest.param((by_librsvg, name), id=f"librsvg-{name}") for name in NAMES[:4]),
        *(
            pytest.param((by_chromium, name), id=f"chromium-{name}", marks=browser_marks)
            for name in NAMES[:2]
        ),
    ],
)
def looked(
    request: pytest.FixtureRequest, on: Any, tmp_path_factory: pytest.TempPathFactory
) -> tuple[str, Scene, Page]:  # fmt: skip
    """A sheet and what another program makes of it."""
    look, name = request.param
    scene = plate(on.subject(name))
    return name, scene, look(scene, tmp_path_factory.mktemp("look"))


def test_the_ink_is_as_large_as_the_report_says(on: Any, looked: tuple[str, Scene, Page]) -> None:
    """Black pixels of the lettering reach as far as `ink_width_mm` and `ink_height_mm`."""
    name, scene, page = looked
    left, bottom, right, top = extents_mm(on.group(scene, "lettering").items)
    # Nearer than the edge of the panel, which is 0.5 mm from the ink of one of them.
    dark = page.ink_within_mm(left - 0.3, bottom - 0.3, right + 0.3, top + 0.3, below=DARK)
    layout = on.subject(name).texts[0].layout
    wanted = (layout.ink_width_mm, layout.ink_height_mm)
    if layout.orientation is Orientation.LONGITUDINAL:
        wanted = wanted[::-1]
    assert dark[2] - dark[0] == pytest.approx(wanted[0], abs=CLOSE_MM)
    assert dark[3] - dark[1] == pytest.approx(wanted[1], abs=CLOSE_MM)


def test_the_sides_are_as_far_apart_as_the_book_is_wide(
    on: Any, looked: tuple[str, Scene, Page]
) -> None:
    """From the middle of the one line to the middle of the other; and the ink lies between."""
    name, scene, page = looked
    job = on.subject(name).texts[0].answer.job
    outer = "back" if job.spine is not None else "usable-panel"
    left, _bottom, right, top = extents_mm(on.group(scene, outer).items)
    middles = []
    for side in (left, right):
        line = page.ink_within_mm(side - 0.8, top - 2.6, side + 0.8, top - 1.6, below=DARK)
        middles.append((line[0] + line[2]) / 2)
    width_mm = job.panel.width_mm if job.spine is None else job.spine.width_mm
    assert middles[1] - middles[0] == pytest.approx(width_mm, abs=CLOSE_MM)
    ink = extents_mm(on.group(scene, "lettering").items)
    dark = page.ink_within_mm(ink[0] - 0.3, ink[1] - 0.3, ink[2] + 0.3, ink[3] + 0.3, below=DARK)
    panel = on.subject(name).texts[0].answer.panel
    spare = on.subject(name).texts[0].layout.spare_mm
    edge = panel.margin_left_mm + job.lettering.clearance_mm
    assert dark[0] - middles[0] == pytest.approx(edge + spare.left, abs=CLOSE_MM)
    assert middles[1] - dark[2] == pytest.approx(edge + spare.right, abs=CLOSE_MM)


def test_the_bar_is_50_mm(on: Any, looked: tuple[str, Scene, Page]) -> None:
    """From the outer edge of its first black part to that of its last."""
    _name, scene, page = looked
    left, bottom, right, top = extents_mm(on.group(scene, "check-bar").items)
    dark = page.ink_within_mm(left - 1, bottom + 0.5, right + 1, top - 0.5, below=DARK)
    assert dark[2] - dark[0] == pytest.approx(BAR_MM, abs=CLOSE_MM)


def test_the_sheet_has_its_size(looked: tuple[str, Scene, Page]) -> None:
    """To a pixel."""
    _name, scene, page = looked
    assert page.size_mm == pytest.approx(scene[:2], abs=CLOSE_MM)


WIDE_WORDS = {
    "one long word": ("Donaudampfschifffahrtsgesellschaftskapitaensmuetzenabzeichen", "Quay"),
    "capitals": ("TIDES OF 1931 AND 1932 WITH MAPS", "WRACKNESS & SONS, WORCESTERSHIRE " * 3),
    "figures": ("1931/1932/1933 1934/1935", "1931/1932/1933/" * 12),
    "ideographs": ("Tides", "港" * 60),
    "pictures": ("Tides", "\U0001f600" * 40),
}


@pytest.mark.parametrize("name", WIDE_WORDS)
def test_no_words_leave_the_frame_in_a_wider_font(name: str, tmp_path: Path) -> None:
    """Of another reader of SVG, which has not ours and keeps no text to its length."""
    title, whose = WIDE_WORDS[name]
    words = ["check", title, "--customer", whose, "--width", "9", "--height", "210"]
    done = outcome([*words, "--drawing", str(tmp_path / "sheet.svg")])
    assert done.code in (0, 1), done.err
    program = shutil.which("rsvg-convert")
    assert program, "install librsvg2-bin"
    subprocess.run(
        [program, "-d", "150", "-p", "150", "-o", "sheet.png", "sheet.svg"],
        cwd=tmp_path,
        check=True,
    )
    with Image.open(tmp_path / "sheet.png") as image:
        flat = Image.new("L", image.size, 255)
        flat.paste(image.convert("L"), mask=image.convert("RGBA").getchannel("A"))
    edge = round(6.0 / MM_AN_INCH * 150) - 3
    assert np.asarray(flat)[:, -edge:].min() > 250
