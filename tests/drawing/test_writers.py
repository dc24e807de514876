"""SVG, PDF and HTML: the same bytes every time, and every word as text."""

from __future__ import annotations

import base64
import hashlib
import re
import shutil
import subprocess
import xml.etree.ElementTree as ET
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from spinefit import pipeline
from spinefit.drawing import html
from spinefit.drawing.html import to_html
from spinefit.drawing.marks import covers, measured, text_width_mm, wrapped
from spinefit.drawing.pdf import to_pdf
from spinefit.drawing.plate import Subject, plate, subject_of
from spinefit.drawing.scene import Scene, Text
from spinefit.drawing.svg import to_svg
from spinefit.job.model import Job, Spine

HOSTILE = '</title><script>alert("x")</script> & "Tides" \'n\' <b>'
SVG = "{http://www.w3.org/2000/svg}"


def hostile() -> Subject:
    return subject_of(pipeline.answer(Job(title=HOSTILE, spine=Spine(width_mm=30, height_mm=240))))


def in_pdf(data: bytes, folder: Path) -> str:
    program = shutil.which("pdftotext")
    assert program, "install poppler-utils"
    (folder / "one.pdf").write_bytes(data)
    words = [program, "-raw", "one.pdf", "-"]
    return subprocess.run(words, cwd=folder, check=True, capture_output=True).stdout.decode()


def test_the_same_job_gives_the_same_bytes() -> None:
    """Of all three kinds, from answers worked out twice."""
    first, second = hostile(), hostile()
    assert first is not second
    assert to_svg(plate(first)) == to_svg(plate(second))
    assert to_pdf([plate(first)]) == to_pdf([plate(second)])
    assert to_html(first) == to_html(second)


def test_a_hostile_title_is_text_in_svg() -> None:
    """Well-formed, no element of the title's, the title whole in what is read out."""
    root = ET.fromstring(to_svg(plate(hostile())))
    tags = {each.tag for each in root.iter()}
    allowed = ["svg", "title", "desc", "rect", "g", "path", "polyline", "text"]
    assert tags <= {f"{SVG}{name}" for name in allowed}
    assert root.findtext(f"{SVG}title") == HOSTILE


def test_a_hostile_title_is_text_in_html() -> None:
    """No element and no attribute comes out of it."""
    page = to_html(hostile())
    found: list[str] = []

    class Reader(HTMLParser):
        heading = ""
        inside = False

        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            found.append(tag)
            found.extend(f"@{name}" for name, _value in attrs)
            self.inside = tag == "h1"

        def handle_data(self, data: str) -> None:
            if self.inside:
                self.heading += data

        def handle_endtag(self, tag: str) -> None:
            self.inside = self.inside and tag != "h1"

    reader = Reader()
    reader.feed(page)
    assert reader.heading == HOSTILE
    assert not {"script", "b", "a", "img", "iframe", "link", "object"} & set(found)
    assert not [each for each in found if each.startswith("@on") or each in ("@style", "@src")]


def test_a_hostile_title_is_text_in_pdf(tmp_path: Path) -> None:
    """Every character of it can be read out again."""
    said = re.sub(r"\s+", "", in_pdf(to_pdf([plate(hostile())]), tmp_path))
    assert re.sub(r"\s+", "", HOSTILE) in said


def test_what_hides_or_reorders_is_shown() -> None:
    """Control and bidi characters come out as their escapes."""
    scene = Scene(60, 20, "a\u202eb", "c\x00d", (Text((5, 5), "x\u202ey\x07", 3),))
    svg = to_svg(scene)
    assert "a\\u202eb" in svg and "x\\u202ey\\x07" in svg and "c\\x00d" in svg
    ET.fromstring(svg)
    assert "\u202e" not in svg and "\x07" not in svg


@pytest.mark.parametrize("title", ["אור הנמל", "港の灯り"])
def test_words_of_other_scripts_are_text_and_legible(title: str, tmp_path: Path) -> None:
    """Real text in SVG; in the PDF their escapes, or the outlines where they are known."""
    assert not covers(title)
    bare = Scene(80, 20, title, title, (measured(Text((5, 5), title, 4)),))
    assert ET.fromstring(to_svg(bare)).findtext(f".//{SVG}text") == title
    assert title.encode("unicode_escape").decode().split(" ")[0] in in_pdf(to_pdf([bare]), tmp_path)
    box = (((0.0, 0.0), (((0.7, 0.0),), ((0.7, 0.7),), ((0.0, 0.7),))),)
    from spinefit.shaping.glyphs import Contour

    outline = tuple(Contour(start, segments) for start, segments in box)
    drawn = measured(
        Text((5, 5), title, 4), lambda _text: ([(outline, 0.0, 0.0)], (0.0, 0.0, 0.7, 0.7))
    )
    assert drawn.drawn and drawn.width_mm == pytest.approx(2.8)
    assert "\\u" not in in_pdf(to_pdf([bare._replace(items=(drawn,))]), tmp_path)


def test_widths_are_those_of_the_pdfs_own_font() -> None:
    """Held against reportlab's own reading of the font's table of widths."""
    from reportlab.pdfbase import pdfmetrics

    to_pdf([Scene(10, 10, "", "", (Text((1, 1), "x", 3), Text((1, 1), "x", 3, bold=True)))])
    for bold, name in ((False, "FiraSansCondensed"), (True, "FiraSansCondensedBold")):
        for words in ("first baseline 54.8", "reads from the head down", "0123456789"):
            own = pdfmetrics.stringWidth(words, name, 100)
            assert text_width_mm(words, 100, bold=bold) == pytest.approx(own, rel=1e-3)


def test_wrapped_lines_keep_their_room_and_their_words() -> None:
    """Nothing is lost at a break."""
    words = "It fits along the spine on one line, reading from head to tail: 12.8 pt is advised"
    lines = wrapped(words, 3.1, 40)
    assert " ".join(lines) == words and len(lines) > 2
    assert all(text_width_mm(line, 3.1) <= 40 for line in lines)


def test_nothing_between_two_spaces_is_no_line_and_no_width() -> None:
    long = "x" * 90
    assert wrapped(f"{long}  {long} ", 3.1, 40) == [long, long]
    assert wrapped("", 3.1, 40) == []
    assert text_width_mm("", 3.1) == 0


def test_the_page_asks_for_nothing(on: Any) -> None:
    """No script, nothing from elsewhere, and its style is the one it vouches for."""
    page = to_html(on.subject("pamphlet"))
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', page)
    style = re.search(r"<style>(.*?)</style>", page, re.DOTALL)
    assert policy and style
    digest = base64.b64encode(hashlib.sha256(style[1].encode()).digest()).decode()
    assert policy[1].startswith(f"default-src 'none'; style-src 'sha256-{digest}'")
    assert "<script" not in page and "url(" not in page and "@import" not in page
    assert set(re.findall(r"https?://[^\"' <]*", page)) <= {"http://www.w3.org/2000/svg"}


def test_the_page_holds_what_the_report_says(on: Any) -> None:
    """Every setting, finding, assumption and task."""
    report = on.subject("pamphlet").texts[0].answer.report
    page = to_html(on.subject("pamphlet"))
    assert page.count('<li class="') == len(report.layouts)
    assert page.count('type="checkbox"') > 15
    for text in (report.answer, *report.assumed):
        assert text in page
    assert len(re.findall(r'<th scope="row">', page)) == len(
        {*report.findings, *on.subject("pamphlet").texts[0].layout.findings}
    )


def _luminance(colour: str) -> float:
    """Relative luminance of a colour #rrggbb, as WCAG 2.2 defines it."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts]
    return sum(share * one for share, one in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def test_what_has_the_focus_is_seen() -> None:
    """WCAG 2.2, 1.4.11 and 2.4.13: an outline of 3:1 at least, here beside paper as for text."""
    css = (Path(html.__file__).parent / "templates" / "report.css").read_text(encoding="utf-8")
    (outline,) = re.findall(r":focus-visible \{ outline: \d+px solid (#\w{6});", css)
    assert (1 + 0.05) / (_luminance(outline) + 0.05) > 7
    assert _luminance("#ffffff") == pytest.approx(1) and _luminance("#000000") == 0
