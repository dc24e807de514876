"""Artwork to place: the page is the back, the ink stands where the report says, in one ink.

PDF is drawn by poppler's two engines, SVG by librsvg, none of which the package sees; pixels are
held against the report.
"""

from __future__ import annotations

import base64
import re
import shutil
import subprocess
import zlib
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image

from spinefit import BackPlan, Job, Panel, Spine, pipeline
from spinefit.backs import plan_back, plan_set
from spinefit.drawing.artwork import artwork_files, artwork_pages
from spinefit.drawing.pdf import artwork_pdf
from spinefit.drawing.plate import Subject, subject_of, subject_of_plan
from spinefit.drawing.svg import artwork_svg
from spinefit.errors import FieldError
from spinefit.plan import BackText
from spinefit.plan.model import plan_of
from spinefit.vocabulary import Frame, Role
from tests.drawing.conftest import JOBS
from tests.drawing.rendered import MM_AN_INCH, Page, needs_pdftoppm, rendered

pytestmark = needs_pdftoppm

DPI = 1016  # forty pixels a mm
PAGE_MM, INK_MM = 0.05, 0.1
NAMES = ("pamphlet", "across", "folio", "round", "round-guessed", "ascending", "label", "pillar")
SVG = "{http://www.w3.org/2000/svg}"
ALLOWED = {"q", "Q", "cm", "m", "l", "c", "h", "f", "n", "k", "cs", "scn"}


def size_of(subject: Subject) -> tuple[float, float]:
    """The back as it was asked for, or the panel."""
    shown = subject.texts[0]
    panel, job = shown.panel, shown.answer.job
    if panel.back is None:
        return job.panel.width_mm, job.panel.height_mm
    return panel.back.arc_mm if panel.back.curve_known else job.spine.width_mm, job.spine.height_mm


@cache
def stamped_folio() -> Subject:
    """A label between bands; without a method they would be lettered by hand."""
    return subject_of(pipeline.answer(replace(JOBS["folio"], method="leather-label")))


def by_splash(scene: Any, folder: Path) -> Page:
    return rendered(artwork_pdf([scene]), folder, dpi=DPI)


def by_cairo(scene: Any, folder: Path) -> Page:
    program = shutil.which("pdftocairo")
    assert program, "install poppler-utils"
    (folder / "page.pdf").write_bytes(artwork_pdf([scene], "Gold foil"))
    words = ["-png", "-gray", "-singlefile", "-r", str(DPI), "page.pdf", "page"]
    subprocess.run([program, *words], cwd=folder, check=True)
    return opened(folder / "page.png")


def by_librsvg(scene: Any, folder: Path) -> Page:
    program = shutil.which("rsvg-convert")
    assert program, "install librsvg2-bin"
    (folder / "page.svg").write_text(artwork_svg(scene), encoding="utf-8")
    words = ["-b", "white", "-d", str(DPI), "-p", str(DPI), "-o", "page.png", "page.svg"]
    subprocess.run([program, *words], cwd=folder, check=True)
    return opened(folder / "page.png")


def opened(path: Path) -> Page:
    with Image.open(path) as image:
        return Page(np.asarray(image.convert("L")), MM_AN_INCH / DPI)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("look", [by_splash, by_cairo, by_librsvg])
def test_page_and_ink_are_those_of_the_report(
    name: str, look: Any, on: Any, tmp_path: Path
) -> None:
    """The page is as large as the back, and the spares stand round the ink."""
    subject = stamped_folio() if name == "folio" else on.subject(name)
    (scene,) = artwork_pages(subject)
    page = look(scene, tmp_path)
    assert page.size_mm == pytest.approx(size_of(subject), abs=PAGE_MM)
    shown = subject.texts[0]
    panel, spare = shown.panel, shown.layout.spare_mm
    clear_mm = shown.answer.job.lettering.clearance_mm
    left, bottom, right, top = page.ink_mm()
    wide, high = size_of(subject)
    assert left == pytest.approx(panel.margin_left_mm + clear_mm + spare.left, abs=INK_MM)
    assert wide - right == pytest.approx(panel.margin_right_mm + clear_mm + spare.right, abs=INK_MM)
    middle_mm = panel.middle_from_head_mm or panel.height_mm / 2
    head_mm = middle_mm - panel.height_mm / 2
    tail_mm = high - middle_mm - panel.height_mm / 2
    assert high - top == pytest.approx(head_mm + clear_mm + spare.head, abs=INK_MM)
    assert bottom == pytest.approx(tail_mm + clear_mm + spare.tail, abs=INK_MM)


def content(pdf: bytes) -> str:
    """What is drawn on its pages."""
    streams = re.findall(rb"/FlateDecode \][^>]*>>\s*stream\r?\n(.*?)endstream", pdf, re.DOTALL)
    assert streams
    return "\n".join(
        zlib.decompress(base64.a85decode(b"<~" + one.strip(), adobe=True)).decode("ascii")
        for one in streams
    )


@pytest.mark.parametrize(("spot", "ink"), [(None, "0 0 0 1 k"), ("Gold foil", "/Gold#20foil cs")])
def test_a_pdf_has_one_ink_no_font_and_no_line(spot: str | None, ink: str, on: Any) -> None:
    """Only paths, filled; the page is trimmed at its own edges."""
    pdf = artwork_pdf(artwork_pages(on.subject("round")), spot)
    drawn = content(pdf)
    operators = {word for word in drawn.split() if re.fullmatch(r"[A-Za-z*'\"]+", word)}
    assert operators <= ALLOWED and "f" in operators
    inks = {" ".join(one.split()) for one in re.findall(r"/\S+ cs|[\d. ]+ k\b", drawn)}
    assert inks == {ink}
    assert b"/Type /Font" not in pdf and b"DeviceRGB" not in pdf
    separations = re.findall(rb"/Separation (\S+) /DeviceCMYK", pdf)
    assert separations == ([] if spot is None else [b"/Gold#20foil"])
    (media,) = re.findall(rb"/MediaBox \[([^]]+)\]", pdf)
    assert re.findall(rb"/TrimBox \[([^]]+)\]", pdf) == [media]


@pytest.mark.parametrize("spot", ["Größe (x)%#{y}", "Info", "金箔"])
def test_any_name_of_an_ink_is_drawn(spot: str, on: Any, tmp_path: Path) -> None:
    """Brackets, letters of other scripts and the writer's own words among them."""
    pdf = artwork_pdf(artwork_pages(on.subject("pamphlet")), spot)
    assert rendered(pdf, tmp_path, dpi=200).pixels.min() == 0
    (name,) = re.findall(rb"/Separation /(\S+) /DeviceCMYK", pdf)
    plain = re.sub(rb"#(..)", lambda code: bytes.fromhex(code[1].decode()), name)
    assert plain.decode() == spot


def test_an_svg_holds_black_outlines_in_millimetres(on: Any) -> None:
    """A group by its name, with the words as its title; neither font nor line nor paper."""
    (scene,) = artwork_pages(on.subject("label"))
    text = artwork_svg(scene)
    root = ElementTree.fromstring(text)
    assert (root.get("width"), root.get("height")) == ("30mm", "45mm")
    assert root.get("viewBox") == "0 0 30 45"
    assert {one.tag.removeprefix(SVG) for one in root.iter()} == {
        "svg", "title", "desc", "g", "path",
    }  # fmt: skip
    assert [one.get("id") for one in root.iter(f"{SVG}g")] == ["lettering"]
    assert {one.get("fill") for one in root.iter(f"{SVG}path")} == {"#000000"}
    assert "font" not in text and "stroke" not in text


def test_several_texts_stand_on_one_page_and_volumes_on_one_each() -> None:
    """Each text has an id of its own; of SVG a file each."""
    texts = [(Role.AUTHOR, "M. Tregear"), (Role.TITLE, "Tides"), (Role.DATE, "1889")]
    back = plan_back(
        BackPlan(
            spine=Spine(width_mm=40, height_mm=240, bands=5),
            texts=tuple(
                BackText(role=role, text=text, panel=number)
                for number, (role, text) in enumerate(texts, 1)
            ),
            method="paper-label",
        )
    )
    assert back.fits
    (page,) = artwork_pages(subject_of_plan(back))
    ids = re.findall(r'<g id="([^"]+)"', artwork_svg(page))
    assert ids == ["author", "title", "date"]
    twice = artwork_svg(page._replace(items=(*page.items, *page.items)))
    assert re.findall(r'<g id="([^"]+)"', twice)[3:] == ["author-2", "title-2", "date-2"]
    volumes = [(name, plan_of(job(width))) for name, width in (("I", 14), ("II", 18))]
    subject = subject_of_plan(plan_set(volumes))
    assert [page.width_mm for page in artwork_pages(subject)] == [14, 18]
    names = [[file.path for file in artwork_files(subject, f"a.{kind}")] for kind in ("pdf", "svg")]
    assert names == [["a.pdf"], ["a-1.svg", "a-2.svg"]]


def job(width_mm: float) -> Any:
    return Job(title="Tides", spine=Spine(width_mm=width_mm, height_mm=200))


def test_tools_and_open_backs_have_none(on: Any) -> None:
    """Each with what to do."""
    tools = replace(job(30), method="hand-letters")
    with pytest.raises(FieldError, match="worksheet"):
        artwork_pages(subject_of(pipeline.answer(tools)))
    for width_mm in (9, 50):  # along, and across
        open_back = replace(job(30), spine=Spine(width_mm=width_mm))
        with pytest.raises(FieldError, match="give --height"):
            artwork_pages(subject_of(pipeline.answer(open_back)))


def test_a_frame_on_the_label_is_lettering_too(tmp_path: Path) -> None:
    """Its outer edge is the outermost ink, and the words stand inside, in a group of their own."""
    label = replace(
        job(30), spine=None, panel=Panel(width_mm=30, height_mm=40), method="paper-label",
        frame=Frame.DOUBLE,
    )  # fmt: skip
    subject = subject_of(pipeline.answer(label))
    (scene,) = artwork_pages(subject)
    middle_mm, wide_mm = subject.texts[0].panel.frame.lines_mm[0]
    edge_mm = middle_mm - wide_mm / 2
    wanted = (edge_mm, edge_mm, 30 - edge_mm, 40 - edge_mm)
    assert by_splash(scene, tmp_path).ink_mm() == pytest.approx(wanted, abs=INK_MM)
    ids = re.findall(r'<g id="([^"]+)"', artwork_svg(scene))
    assert ids == ["lettering", "ruled-frame"]


def test_a_label_of_given_size_on_the_back_is_the_page(tmp_path: Path) -> None:
    """It is printed by itself; the ink stands in it as it stands round it on the back."""
    given = replace(job(40), label_size=Panel(width_mm=30, height_mm=36), method="paper-label")
    subject = subject_of(pipeline.answer(given))
    (scene,) = artwork_pages(subject)
    page = by_splash(scene, tmp_path)
    assert page.size_mm == pytest.approx((30, 36), abs=PAGE_MM)
    left, bottom, right, top = page.ink_mm()
    layout = subject.texts[0].layout
    assert ((left + right) / 2, (bottom + top) / 2) == pytest.approx((15, 18), abs=INK_MM)
    assert right - left == pytest.approx(layout.ink_width_mm, abs=INK_MM)
