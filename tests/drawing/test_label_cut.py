"""One label for a plotter: the lines that were checked, each cut once, mirrored exactly.

DXF files are read back by ezdxf; areas are counted in pixels drawn by poppler.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from decimal import Decimal
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import ezdxf
import pytest
import shapely
from click.testing import CliRunner
from ezdxf import bbox
from PIL import Image, ImageChops, ImageFilter

from spinefit.catalogue.trade import sheet_rules
from spinefit.cli.main import main
from spinefit.drawing.label_cut import CutLabel, cut_label
from spinefit.drawing.pdf import to_pdf
from spinefit.drawing.scene import Area, Scene
from spinefit.drawing.sheet_settings import LabelSetting, settings_of
from spinefit.geometry.plane import flatten
from spinefit.job import Job, Lettering, Panel
from spinefit.job.sheet import SheetWishes
from spinefit.vocabulary import Orientation
from tests.drawing.rendered import needs_pdftoppm, rendered

FONTS = ("Alegreya Sans", "EB Garamond", "Fira Sans Condensed Bold", "IBM Plex Sans Var")
SVG = "{http://www.w3.org/2000/svg}"
VINYL = ("--method", "transfer-vinyl", "--font", "Fira Sans Condensed Bold", "--panel", "90x40")


def single(file: Path, title: str, *words: str) -> dict[str, Any]:
    command = ["sheet", title, "--single", "--output", str(file), "--format", "json", *words]
    done = CliRunner().invoke(main, command)
    assert done.exit_code == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def setting(font: str, title: str = "The Harbour Light", **lettering: Any) -> LabelSetting:
    job = Job(
        title=title,
        panel=Panel(width_mm=80, height_mm=60),
        lettering=Lettering(font=font, **lettering),
        method="paper-label",
    )
    kept, _ = settings_of(job, SheetWishes(sizes=1), sheet_rules())
    return kept[0]


def rings(cut: CutLabel) -> list[list[tuple[float, float]]]:
    return [[one.start, *(part[0] for part in one.segments)] for one in cut.lettering]


def numbers(svg: Path) -> list[list[tuple[Decimal, Decimal]]]:
    """The points of every path of an SVG."""
    paths = ElementTree.parse(svg).getroot().iter(f"{SVG}path")
    found = [re.findall(r"-?[\d.]+", path.get("d", "")) for path in paths]
    return [[(Decimal(x), Decimal(y)) for x, y in zip(p[::2], p[1::2], strict=True)] for p in found]


@pytest.mark.parametrize("orientation", [Orientation.TRANSVERSE, Orientation.LONGITUDINAL])
@pytest.mark.parametrize("font", FONTS)
def test_the_ink_is_as_large_as_the_report_says(font: str, orientation: Orientation) -> None:
    """Of cut lines to 0.01 mm, and where it was judged to stand."""
    one = setting(font, orientation=orientation)
    layout = one.answer.report.layouts[one.place]
    xs, ys = zip(*(point for ring in rings(cut_label(one)) for point in ring), strict=True)
    across, up = max(xs) - min(xs), max(ys) - min(ys)
    if orientation is Orientation.LONGITUDINAL:
        across, up = up, across
    assert across == pytest.approx(layout.ink_width_mm, abs=0.01)
    assert up == pytest.approx(layout.ink_height_mm, abs=0.01)
    clearance = one.answer.job.lettering.clearance_mm
    assert min(xs) == pytest.approx(layout.spare_mm.left + clearance, abs=0.01)
    assert 60 - max(ys) == pytest.approx(layout.spare_mm.head + clearance, abs=0.01)


@pytest.mark.parametrize("font", FONTS)
def test_every_edge_is_cut_once_and_near_its_curve(font: str) -> None:
    """No two cut lines meet, none crosses itself; no point of a curve is 0.01 mm off."""
    one = setting(font, "Quay & Office @ 8")
    lines = [shapely.LinearRing(ring) for ring in rings(cut_label(one))]
    assert all(line.is_simple for line in lines)
    tree = shapely.STRtree(lines)
    assert len(tree.query(lines, predicate="intersects")[0]) == len(lines)
    curves = cut_label(one, filled=True).lettering
    fine = [point for ring in flatten(curves, tolerance_em=1e-4) for point in ring]
    cut = shapely.union_all(lines)
    body = shapely.union_all([shapely.Polygon(line) for line in lines])
    far = [
        shapely.Point(p).distance(cut) for p in fine if not body.contains(shapely.Point(p))
    ]  # what lies inside is an overlap, merged away
    assert max(far) < 0.01
    assert len(far) > 100


@needs_pdftoppm
@pytest.mark.parametrize("font", FONTS)
def test_merged_lines_bound_the_same_ink_as_the_filled_letters(font: str, tmp_path: Path) -> None:
    """Counters stay open and overlaps are no holes: poppler fills both alike."""
    one = setting(font, "Quay & Office @ 8")
    shown = []
    for filled in (False, True):
        cut = cut_label(one, filled=filled)
        scene = Scene(cut.width_mm, cut.height_mm, "t", "", (Area(cut.lettering),))
        shown.append(Image.fromarray(rendered(to_pdf([scene]), tmp_path, dpi=300).pixels))
    assert shown[0].size == shown[1].size
    apart = ImageChops.difference(*shown).point(lambda grey: 255 if grey > 64 else 0)
    assert sum(grey < 128 for grey in shown[1].tobytes()) > 5000
    assert apart.filter(ImageFilter.MinFilter(3)).getbbox() is None  # no spot three pixels wide


def test_a_font_with_overlapping_contours_is_among_them() -> None:
    """Else merging would not be tested: there are fewer cut lines than contours."""
    fewer = [
        len(cut_label(one).lettering) < len(cut_label(one, filled=True).lettering)
        for one in (setting(font, "Quay & Office @ 8") for font in FONTS)
    ]
    assert any(fewer)


@pytest.mark.parametrize("style", ["cut", "filled"])
def test_a_mirror_image_is_exact(tmp_path: Path, style: str) -> None:
    """Every x is the width less the other x, to the last decimal; every y is the same."""
    plain, mirrored = tmp_path / "plain.svg", tmp_path / "mirrored.svg"
    words = (*VINYL, "--weeding-box", "5.3mm", "--style", style)
    said = single(plain, "Office", *words)
    assert single(mirrored, "Office", *words, "--mirror")["drawing"]["mirrored"]
    width = Decimal(ElementTree.parse(plain).getroot().get("width", "").removesuffix("mm"))
    assert float(width) == said["drawing"]["width_mm"]
    there, back = numbers(plain), numbers(mirrored)
    assert [[(width - x, y) for x, y in path] for path in back] == there
    assert there != back
    assert sum(map(len, there)) > 50


def test_vinyl_gets_lines_and_a_box_to_weed_by(tmp_path: Path) -> None:
    """Nothing filled, no sheet to cut out, no label's edge; the box where it was asked for."""
    file = tmp_path / "vinyl.svg"
    said = single(file, "Office", *VINYL, "--weeding-box", "5")
    root = ElementTree.parse(file).getroot()
    assert not list(root.iter(f"{SVG}rect"))
    assert {path.get("fill") for path in root.iter(f"{SVG}path")} == {"none"}
    assert {group.get("class") for group in root.iter(f"{SVG}g")} - {None} == {
        "lettering", "weeding-box",
    }  # fmt: skip
    ink, box = ([[float(one[axis]) for one in path] for axis in (0, 1)] for path in numbers(file))
    for axis, side in ((0, "ink_width_mm"), (1, "ink_height_mm")):
        assert min(ink[axis]) - min(box[axis]) == pytest.approx(5, abs=0.003)
        assert max(box[axis]) - min(box[axis]) == pytest.approx(
            said["settings"][0][side] + 10, abs=0.001
        )


def test_a_box_larger_than_the_label_makes_the_drawing_larger(tmp_path: Path) -> None:
    said = single(tmp_path / "a.svg", "Office", *VINYL, "--weeding-box", "60")["drawing"]
    assert said["width_mm"] > 90
    assert said["height_mm"] > 40
    for path in numbers(tmp_path / "a.svg"):
        assert all(0 <= x <= Decimal(str(said["width_mm"])) for x, _ in path)


def test_a_dxf_has_the_right_extents_units_and_layers(tmp_path: Path) -> None:
    """Read back by ezdxf: closed polylines in mm, the label's edge on a layer of its own."""
    file = tmp_path / "label.dxf"
    said = single(file, "The Harbour Light", "--panel", "40x30", "--font", "Alegreya Sans",
                  "--weeding-box", "2")  # fmt: skip
    drawing = ezdxf.readfile(file)
    assert not drawing.audit().errors
    assert drawing.units == ezdxf.units.MM
    space = drawing.modelspace()
    by_layer = {name: space.query(f'*[layer=="{name}"]') for name in ("LETTERING", "LABEL")}
    layers = {"LETTERING", "LABEL", "WEEDING_BOX", "CAUTION_NOT_CUT"}
    assert {one.dxf.layer for one in space} == layers
    cut = space.query("LWPOLYLINE")
    assert len(cut) + len(space.query("TEXT")) == len(space)
    assert all(one.closed for one in cut)
    assert len(by_layer["LETTERING"]) == said["drawing"]["contours"]
    label = bbox.extents(by_layer["LABEL"])
    assert tuple(label.extmin)[:2] == pytest.approx((0, 0), abs=1e-4)
    assert tuple(label.extmax)[:2] == pytest.approx((40, 30), abs=1e-4)
    ink = bbox.extents(by_layer["LETTERING"]).size
    setting = said["settings"][0]
    assert ink.x == pytest.approx(setting["ink_width_mm"], abs=0.01)
    assert ink.y == pytest.approx(setting["ink_height_mm"], abs=0.01)


def test_what_can_hurt_stands_in_the_file_and_is_never_cut(tmp_path: Path) -> None:
    """In DXF as words below the label on a layer that is not plotted, in SVG as its description."""
    for name in ("label.dxf", "label.svg"):
        said = single(tmp_path / name, "Tides", *VINYL)
        assert said["cautions"][0] in (tmp_path / name).read_text(encoding="utf-8")
    drawing = ezdxf.readfile(tmp_path / "label.dxf")
    (words,) = drawing.modelspace().query("TEXT")
    assert words.dxf.insert.y + words.dxf.height < 0
    assert not drawing.layers.get(words.dxf.layer).dxf.plot
    cut = (tmp_path / "label.svg").read_text(encoding="utf-8")
    assert "<desc>" in cut and "<text" not in cut


def test_the_same_label_gives_the_same_bytes_in_any_process(tmp_path: Path) -> None:
    """Neither a clock nor the seed of hashes goes into a file."""
    for ending in ("dxf", "svg"):
        found = []
        for seed in ("1", "2"):
            file = tmp_path / f"{seed}.{ending}"
            subprocess.run(
                [sys.executable, "-m", "spinefit", "sheet", "Office", *VINYL, "--single",
                 "--output", str(file)],
                check=True, capture_output=True, env={**os.environ,
                                                      "PYTHONHASHSEED": seed},
            )  # fmt: skip
            found.append(file.read_bytes())
        assert found[0] == found[1]
        assert b"2026" not in found[0]
    assert not ezdxf.options.write_fixed_meta_data_for_testing


def test_curves_are_no_cut_lines() -> None:
    from spinefit.drawing.label_cut import to_dxf

    with pytest.raises(ValueError, match="curve"):
        to_dxf(cut_label(setting("Alegreya Sans"), filled=True))
