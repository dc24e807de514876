"""Do other engines set other scripts as we do?

HarfBuzz's own ``hb-shape`` from right to left, from top to bottom and level; and a headless
Chromium (``direction: rtl``, ``writing-mode: vertical-rl``), which says where each letter
stands and draws the ink. In open fonts of small Debian packages.
"""

from __future__ import annotations

import base64
import itertools
import json
import os
import re
import shutil
import struct
import subprocess
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from html import escape, unescape
from pathlib import Path
from typing import Any

import pytest

from spinefit.job import Job, Lettering, Panel
from spinefit.job.resolve import resolve
from spinefit.shaping.font_setter import CELL, RunShaper, set_column, stretches
from spinefit.shaping.fontfile import open_font
from spinefit.shaping.stack import shape_title
from spinefit.shaping.title import ShapedTitle


@dataclass(frozen=True)
class ScriptFont:
    """A font file, the package it comes in, and what is set in it.

    Attributes:
        path: where Debian puts the file.
        package: the package's name.
        script: ISO 15924 code.
        language: BCP 47 tag.
        direction: as it is set level, ltr or rtl.
        titles: invented titles.
        columns: titles that are set in columns.
    """

    path: str
    package: str
    script: str
    language: str
    direction: str
    titles: tuple[str, ...]
    columns: tuple[str, ...] = ()


_FONTS = "/usr/share/fonts"
HEBREW = ScriptFont(
    f"{_FONTS}/truetype/ezra/SILEOT.ttf",
    "fonts-sil-ezra",
    "Hebr",
    "he",
    "rtl",
    ("אור הנמל", "סֵפֶר הַגֵּאוּת", "שָׁלוֹם"),
)
ARABIC = ScriptFont(
    f"{_FONTS}/opentype/fonts-hosny-amiri/Amiri-Regular.ttf",
    "fonts-hosny-amiri",
    "Arab",
    "ar",
    "rtl",
    ("منارة الميناء", "سِجِلُّ المَدِّ وَالجَزْر", "لا إله"),
)
DEVANAGARI = ScriptFont(
    f"{_FONTS}/truetype/lohit-devanagari/Lohit-Devanagari.ttf",
    "fonts-lohit-deva",
    "Deva",
    "hi",
    "ltr",
    ("बंदरगाह का प्रकाश", "ज्वार की तालिकाएँ", "क्षत्रिय"),
)
THAI = ScriptFont(
    f"{_FONTS}/truetype/tlwg/Garuda.ttf",
    "fonts-tlwg-garuda-ttf",
    "Thai",
    "th",
    "ltr",
    ("ประภาคารท่าเรือ", "น้ำขึ้นน้ำลง", "กี่ที่นา"),
)
JAPANESE = ScriptFont(
    f"{_FONTS}/opentype/ipafont-gothic/ipag.ttf",
    "fonts-ipafont-gothic",
    "Hani",
    "ja",
    "ltr",
    ("港灯台", "潮汐表一八七〇年"),
    ("港の灯台日誌", "ハーバーライト（上）", "潮汐表、一八七〇年。", "第12巻港灯", "港HARBOUR灯"),
)
CHINESE = ScriptFont(
    f"{_FONTS}/truetype/arphic-gbsn00lp/gbsn00lp.ttf",
    "fonts-arphic-gbsn00lp",
    "Hani",
    "zh-Hans",
    "ltr",
    ("港口的灯", "潮汐表"),
    ("港口的灯塔", "潮汐表上"),
)
KOREAN = ScriptFont(
    f"{_FONTS}/truetype/nanum/NanumMyeongjo.ttf",
    "fonts-nanum",
    "Hang",
    "ko",
    "ltr",
    ("항구의 등대", "조수표"),
    ("항구의등대", "조수표"),
)
SCRIPT_FONTS = (HEBREW, ARABIC, DEVANAGARI, THAI, JAPANESE, CHINESE, KOREAN)


HB_SHAPE = shutil.which("hb-shape")
needs_hb_shape = pytest.mark.skipif(
    HB_SHAPE is None and not os.environ.get("CI"), reason="there is no hb-shape here"
)
every = pytest.mark.parametrize("font", SCRIPT_FONTS, ids=[one.language for one in SCRIPT_FONTS])
columns = pytest.mark.parametrize(
    "font",
    [one for one in SCRIPT_FONTS if one.columns],
    ids=[one.language for one in SCRIPT_FONTS if one.columns],
)


def _said(font: ScriptFont, text: str, direction: str) -> list[dict[str, Any]]:
    assert HB_SHAPE is not None, "install Debian's libharfbuzz-bin: nothing else has hb-shape"
    words = [
        *(HB_SHAPE, font.path, "--output-format=json", "--no-glyph-names", f"--text={text}"),
        *(f"--script={font.script}", f"--direction={direction}", f"--language={font.language}"),
    ]
    done = subprocess.run(words, capture_output=True, text=True, encoding="utf-8", check=True)
    found: list[dict[str, Any]] = json.loads(done.stdout)
    return found


def _shaper(font: ScriptFont, needs_font: Callable[[str, str], str]) -> RunShaper:
    return RunShaper(
        open_font(needs_font(font.path, font.package)),
        language=font.language,
        features={},
        tracking_em=0.0,
        right_to_left=font.direction == "rtl",
    )


@needs_hb_shape
@every
def test_level_lines_are_those_of_hb_shape(font, needs_font):
    """Source: hb-shape: glyph numbers, clusters, advances and offsets, marks among them."""
    shaper = _shaper(font, needs_font)
    em = 1 / shaper.font.shaper.upem
    for text in font.titles:
        theirs = _said(font, text, font.direction)
        ours = shaper.shape(text)
        assert [glyph.gid for glyph in ours] == [one["g"] for one in theirs]
        assert [glyph.cluster for glyph in ours] == [one["cl"] for one in theirs]
        for name, key in (("advance_em", "ax"), ("x_em", "dx"), ("y_em", "dy")):
            expected = [one[key] * em for one in theirs]
            assert [getattr(glyph, name) for glyph in ours] == pytest.approx(expected, abs=1e-9)


@needs_hb_shape
@columns
def test_columns_are_those_of_hb_shape(font, needs_font):
    """Source: hb-shape --direction=ttb: vertical forms, vertical advances and origins."""
    shaper = _shaper(font, needs_font)
    em = 1 / shaper.font.shaper.upem
    forms = 0
    for text in font.columns:
        if any(char.isascii() for char in text):
            continue  # turned letters and numbers in one cell are no business of hb-shape's
        theirs = _said(font, text, "ttb")
        ours = shaper.shape_down(text)
        assert [glyph.gid for glyph in ours] == [one["g"] for one in theirs]
        for name, key, sign in (("advance_em", "ay", -1), ("x_em", "dx", 1), ("y_em", "dy", 1)):
            expected = [one[key] * em * sign for one in theirs]
            assert [getattr(glyph, name) for glyph in ours] == pytest.approx(expected, abs=1e-9)
        level = [glyph.gid for glyph in shaper.shape(text)]
        forms += level != [glyph.gid for glyph in ours]
    assert forms or font.language != "ja"  # brackets and the long vowel mark have forms


CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
needs_browser = pytest.mark.skipif(
    CHROMIUM is None and not os.environ.get("CI"), reason="there is no Chromium here"
)
WITHIN = 0.005  # half a per cent is asked for
ENDS_PX = 1.0  # what pixels can tell: the two ends of the ink half a pixel out
WIDE_PX, MARGIN_PX, LENGTH_PX = 700, 100, 480


@dataclass(frozen=True)
class Set:
    """A title in a font, level or in a column."""

    font: ScriptFont
    title: str
    column: bool = False
    rtl: bool = False


MIXED = (
    Set(HEBREW, "NAVIS אור 12", rtl=False),
    Set(HEBREW, "אור (NAVIS) 12", rtl=True),
    Set(HEBREW, "ספר 1848-1870, ים", rtl=True),
    Set(ARABIC, "سنة 1848-1870", rtl=True),
    Set(ARABIC, "منارة Tide, Log", rtl=True),
)
CASES = (
    *(Set(f, title, rtl=f.direction == "rtl") for f in SCRIPT_FONTS for title in f.titles),
    *MIXED,
    *(Set(font, title, column=True) for font in SCRIPT_FONTS for title in font.columns),
)
case_of = pytest.mark.parametrize(
    "case", CASES, ids=[f"{c.font.language}-{c.title}-{'down' * c.column}" for c in CASES]
)


def _title(case: Set) -> ShapedTitle:
    lettering = Lettering(font=case.font.path)
    panel = Panel(width_mm=30, height_mm=30)
    job = Job(title=case.title, panel=panel, lettering=lettering, language=case.font.language)
    # The paragraph's direction is the first strong letter's here, as in the page.
    resolved = resolve(job)._replace(right_to_left=case.rtl)
    return shape_title(resolved)


def _shaper_of(case: Set) -> RunShaper:
    return RunShaper(
        open_font(case.font.path),
        language=case.font.language,
        features={},
        tracking_em=0.0,
        right_to_left=case.rtl,
    )


def _ink_em(case: Set) -> tuple[float, float]:
    """Width and height of the ink by our own reckoning, in em."""
    title = _title(case)
    box = title.column(case.title).box if case.column else title.run.ink
    assert box is not None
    return box[2] - box[0], box[3] - box[1]


def _px(case: Set) -> int:
    """A size at which the case fills its box."""
    return int(LENGTH_PX / max(_ink_em(case)))


def _tops_px() -> list[int]:
    """Where the box of each case begins on the page, and where the last one ends."""
    high = [LENGTH_PX if case.column else round(2 * _px(case)) for case in CASES]
    return [0, *itertools.accumulate(one + 2 * MARGIN_PX for one in high)]


def _page() -> str:
    fonts = {case.font.path: f"f{at}" for at, case in enumerate(CASES)}
    faces = "".join(
        f"@font-face {{ font-family: {name}; src: url(data:font/ttf;base64,"
        f"{base64.b64encode(Path(path).read_bytes()).decode()}) }}"
        for path, name in fonts.items()
    )
    shown = []
    for case, top in zip(CASES, _tops_px(), strict=False):
        words = escape(case.title)
        if case.column:  # a number of two figures stands in one cell
            words = re.sub(r"\d+", r"<b style='text-combine-upright:all'>\g<0></b>", words)
        style = (
            f"top:{top + MARGIN_PX}px;left:{MARGIN_PX}px;white-space:pre;"
            f"font:{_px(case)}px/1.5 {fonts[case.font.path]};"
            f"direction:{'rtl' if case.rtl else 'ltr'};"
            f"{'writing-mode:vertical-rl;text-orientation:mixed;' * case.column}"
        )
        shown.append(f'<p class=c lang={case.font.language} style="{style}">{words}</p>')
    return (
        "<!doctype html><meta charset=utf-8><style>*{margin:0;font-weight:400}"
        "p{position:absolute;font-kerning:normal;text-rendering:geometricPrecision}"
        f"pre{{visibility:hidden}}{faces}</style>{''.join(shown)}"
        f"<pre id=found></pre><script>{_SCRIPT}</script>"
    )


_SCRIPT = """
document.fonts.ready.then(() => {
  const found = [...document.querySelectorAll(".c")].map((p) => {
    const walk = document.createTreeWalker(p, NodeFilter.SHOW_TEXT), places = [];
    while (walk.nextNode())
      for (let i = 0; i < walk.currentNode.length; i++) {
        const range = document.createRange();
        range.setStart(walk.currentNode, i);
        range.setEnd(walk.currentNode, i + 1);
        const r = range.getBoundingClientRect(), b = p.getBoundingClientRect();
        places.push([r.left - b.left, r.right - b.left, r.top - b.top, r.bottom - b.top]);
      }
    const b = p.getBoundingClientRect();
    return {places, wide: b.width, high: b.height};
  });
  document.getElementById("found").textContent = JSON.stringify(found);
});
"""


def _chromium(folder: Path, page: Path, *words: str) -> str:
    assert CHROMIUM is not None, "install Debian's chromium: nothing else draws the pixels"
    switches = (
        "--headless --no-sandbox --disable-gpu --disable-quic --disable-dev-shm-usage "
        "--disable-background-networking --disable-component-update --disable-sync "
        "--disable-extensions --no-first-run --no-default-browser-check --hide-scrollbars "
        "--disable-lcd-text --font-render-hinting=none --force-device-scale-factor=1 "
        "--virtual-time-budget=60000"
    )
    done = subprocess.run(
        [
            CHROMIUM,
            *switches.split(),
            f"--user-data-dir={folder / 'profile'}",
            *words,
            page.as_uri(),
        ],
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=300,
        check=False,
    )
    return done.stdout


@pytest.fixture(scope="module")
def drawn(
    tmp_path_factory: pytest.TempPathFactory, needs_font: Callable[[str, str], str]
) -> dict[Set, dict[str, Any]]:
    """What the browser made of every case: places of letters in px, and ink in em."""
    for font in SCRIPT_FONTS:
        needs_font(font.path, font.package)
    folder = tmp_path_factory.mktemp("scripts")
    page, shot = folder / "scripts.html", folder / "scripts.png"
    page.write_text(_page(), encoding="utf-8")
    match = re.search(r'<pre id="found">(.*?)</pre>', _chromium(folder, page, "--dump-dom"), re.S)
    assert match and match[1], "the browser measured nothing"
    found = dict(zip(CASES, json.loads(unescape(match[1])), strict=True))
    tops = _tops_px()
    size = f"--window-size={WIDE_PX},{tops[-1]}"
    _chromium(folder, page, f"--screenshot={shot}", size)
    rows = _grey_rows(shot)
    for case, top, end in zip(CASES, tops, tops[1:], strict=False):
        found[case]["ink"] = _extents(rows[top:end])
    return found


def _grey_rows(path: Path) -> list[list[int]]:
    """Darkness of each pixel of a PNG file of eight-bit colours, without a library."""
    data, at, packed = path.read_bytes(), 8, b""
    wide = high = channels = 0
    while at < len(data):
        (length,) = struct.unpack(">I", data[at : at + 4])
        kind, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        if kind == b"IHDR":
            wide, high, depth, colour = struct.unpack(">IIBB", body[:10])
            assert depth == 8
            channels = {2: 3, 6: 4}[colour]
        packed += body if kind == b"IDAT" else b""
        at += length + 12
    raw, stride = zlib.decompress(packed), wide * channels
    before, rows = bytearray(stride), []
    for row in range(high):
        start = row * (stride + 1)
        line = bytearray(raw[start + 1 : start + 1 + stride])
        _unfilter(raw[start], line, before, channels)
        rows.append([255 - value for value in line[::channels]])
        before = line
    return rows


def _unfilter(kind: int, line: bytearray, before: bytearray, channels: int) -> None:
    """Undo a row's filter (PNG, third edition, section 9.2), in place."""
    if kind == 0:
        return
    if kind == 2:
        line[:] = bytes((a + b) & 255 for a, b in zip(line, before, strict=True))
        return
    for at in range(len(line)):
        left = line[at - channels] if at >= channels else 0
        above = before[at]
        corner = before[at - channels] if at >= channels else 0
        if kind == 1:
            guess = left
        elif kind == 3:
            guess = (left + above) // 2
        else:
            middle = left + above - corner
            guess = min((left, above, corner), key=lambda one: abs(middle - one))
        line[at] = (line[at] + guess) & 255


def _extents(rows: list[list[int]]) -> tuple[float, float]:
    """Width and height of the ink in px; the outermost pixels count as far as they are covered."""
    across = [max(column) for column in zip(*rows, strict=True)]
    down = [max(row) for row in rows]
    return _reach(across), _reach(down)


def _reach(line: list[int]) -> float:
    inked = [at for at, dark in enumerate(line) if dark]
    low, high = inked[0], inked[-1]
    return (high + line[high] / 255) - (low + 1 - line[low] / 255)


@pytest.mark.browser
@needs_browser
@case_of
def test_ink_is_that_of_the_browser_s_pixels(case, drawn):
    """Source: a headless Chromium's screenshot: width and height of the ink."""
    px = _px(case)
    for ours, theirs in zip(_ink_em(case), drawn[case]["ink"], strict=True):
        slack = max(WITHIN * ours, ENDS_PX / px)
        assert ours == pytest.approx(theirs / px, abs=slack)
    assert max(_ink_em(case)) * WITHIN > ENDS_PX / px  # there are pixels enough to tell


@pytest.mark.browser
@needs_browser
@pytest.mark.parametrize(
    "case", [c for c in CASES if not c.column], ids=[c.title for c in CASES if not c.column]
)
def test_letters_stand_where_the_browser_has_them(case, drawn):
    """Source: Chromium's ranges: left and right of each letter, both directions mixed."""
    px, glyphs = _px(case), _shaper_of(case).shape(case.title)
    pen, starts, ends = 0.0, {}, {}
    for glyph in glyphs:
        starts.setdefault(glyph.cluster, pen)
        pen += glyph.advance_em
        ends[glyph.cluster] = pen
    clusters = sorted(starts)
    compared = 0
    for cluster, after in zip(clusters, [*clusters[1:], len(case.title)], strict=True):
        if after - cluster == 1:  # the browser shares a cluster of several out as it pleases
            left, right = drawn[case]["places"][cluster][:2]
            assert starts[cluster] == pytest.approx(left / px, abs=WITHIN * pen)
            assert ends[cluster] == pytest.approx(right / px, abs=WITHIN * pen)
            compared += 1
    assert compared
    assert pen == pytest.approx(drawn[case]["wide"] / px, rel=WITHIN)


@pytest.mark.browser
@needs_browser
@pytest.mark.parametrize(
    "case", [c for c in CASES if c.column], ids=[c.title for c in CASES if c.column]
)
def test_columns_stand_where_the_browser_has_them(case, drawn):
    """Source: Chromium's ranges in vertical-rl: the top of each stretch, and the whole length."""
    px, shaper = _px(case), _shaper_of(case)
    length = set_column(case.title, shaper).length_em
    for start, _end, _way in stretches(case.title, shaper):
        top = drawn[case]["places"][start][2]
        ours = set_column(case.title[:start], shaper).length_em if start else 0.0
        assert ours == pytest.approx(top / px, abs=WITHIN * length)
    # Without vertical metrics in the font the browser takes whole pixels for each letter.
    slack = max(WITHIN * length, len(case.title) / px)
    assert length == pytest.approx(drawn[case]["high"] / px, abs=slack)


def test_a_short_number_and_a_word_are_among_the_columns(needs_font):
    """Source: UAX #50 and the cases above; else nothing of them would be compared."""
    needs_font(JAPANESE.path, JAPANESE.package)
    ways = {
        way
        for case in CASES
        if case.column and case.font is JAPANESE
        for _start, _end, way in stretches(case.title, _shaper_of(case))
    }
    assert ways == {"upright", "turned", CELL}
