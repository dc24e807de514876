"""Does a browser draw the same ink?

Every title is drawn by a headless Chromium on a canvas, from the same font file, with kerning
and default ligatures on, and its ink is measured in pixels. That is a second engine for the
whole chain: the shaper the browser bundles, its own outline reader, its rasteriser, pixels.
"""

from __future__ import annotations

import base64
import json
import re
from dataclasses import dataclass
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from spinefit import catalogue
from spinefit.cli.main import main
from spinefit.units import pt_from_mm
from tests.browser import browsed, browser_marks

pytestmark = browser_marks

WITHIN = 0.005  # half a per cent is asked for
# What pixels can tell: a thousandth, or the two ends of the ink half a pixel out.
CLOSER = 0.001
ENDS_PX = 1.0
_SMALL_CAPITALS = "small-capitals"


@dataclass(frozen=True)
class Drawn:
    """A title, and how it is set."""

    font: str
    title: str
    case: str = "as-typed"
    tracking: int = 0


SERIF = "EB Garamond"
BASKERVILLE = "Libre Baskerville Bold"
CFF = "Source Serif 4"
CONDENSED = "Fira Sans Condensed"
INSCRIPTION = "Cinzel"
VARIABLE = tuple(row.name for row in catalogue.font_rows() if row.name.startswith("IBM Plex"))

_LATIN = (
    "The Harbour Light",
    "TIDE TABLES",
    "1848–1870",
    "0123456789",
    "AVAVA To Ty LT",
    "L’Avenir",
    "Ågot, Égalité & Ö",
    "gypsy jpqy",
    "O",
    "jumping foxy Quay",
    "É",
    "f",
    "W. T. Yawl, Vol. 2",
)
_LIGATURES = ("Officer’s fluff", "The fjord of Thistle", "Kniffliges Schiff", "offiziell fft")
_GREEK = ("Ή θάλασσα και το λιμάνι", "ΛΙΜΑΝΙ", "Ώρα, Ύδρα, Άγκυρα", "ϊΐ ξψφ")
_CYRILLIC = ("Маяк у моря", "ЙОД И ЁЛКА", "Щука, ґанок, љубав")

CASES = (
    *(Drawn(SERIF, title) for title in (*_LATIN, *_LIGATURES, *_GREEK, *_CYRILLIC)),
    *(Drawn(CFF, title) for title in (*_LATIN, *_LIGATURES, *_GREEK, *_CYRILLIC)),
    *(Drawn(BASKERVILLE, title) for title in (*_LATIN, *_LIGATURES)),
    *(Drawn(CONDENSED, title) for title in (*_LATIN, *_LIGATURES, *_GREEK, *_CYRILLIC)),
    *(Drawn(INSCRIPTION, title) for title in _LATIN),
    *(
        Drawn(font, title)
        for font in VARIABLE
        for title in ("The Harbour Light", "Éphémérides fi", "Ή θάλασσα", "Маяк ёй", "1848 AVATy")
    ),
    *(Drawn("EB Garamond Bold", title) for title in ("Tyne & Wear", "Ofﬁce of Works")),
    *(Drawn("Source Serif 4 Bold", title) for title in ("Tyne & Wear", "Ώρες")),
    *(Drawn("Alegreya Sans Bold", title) for title in ("Tyne & Wear", "Маяк", "fjord")),
    *(Drawn(font, "The Harbour Light", _SMALL_CAPITALS) for font in (SERIF, CFF, CONDENSED)),
    *(Drawn(font, "The Officer’s AV", tracking=80) for font in (SERIF, CFF, BASKERVILLE)),
)

_SCRIPT = """
const found = [];
function edges(data, wide, high) {
  // Ink reaches as far into its outermost row or column as its fullest pixel is covered.
  const columns = new Uint8Array(wide), rows = new Uint8Array(high);
  for (let y = 0, at = 3; y < high; y++)
    for (let x = 0; x < wide; x++, at += 4) {
      const alpha = data[at];
      if (alpha > columns[x]) columns[x] = alpha;
      if (alpha > rows[y]) rows[y] = alpha;
    }
  const reach = (line) => {
    let low = 0, high = line.length - 1;
    while (low < line.length && !line[low]) low++;
    while (high >= 0 && !line[high]) high--;
    return [low + 1 - line[low] / 255, high + line[high] / 255];
  };
  return [...reach(columns), ...reach(rows)];
}
function draw(one) {
  const canvas = document.createElement("canvas");
  const pen = canvas.getContext("2d", {willReadFrequently: true});
  const set = (px) => {
    pen.font = `${one.style} ${px}px "${one.family}"`;
    pen.fontKerning = "normal";
    pen.fontVariantCaps = one.caps;
    pen.letterSpacing = `${one.tracking * px / 1000}px`;
    pen.textRendering = "geometricPrecision";
    pen.textBaseline = "alphabetic";
    pen.lang = "";
  };
  set(100);
  const em = pen.measureText(one.title).width / 100;
  const px = Math.min(1000, Math.floor(9000 / em));
  canvas.width = Math.ceil((em + 1.6) * px);
  canvas.height = Math.ceil(2.4 * px);
  set(px);
  pen.fillText(one.title, 0.8 * px, 1.5 * px);
  const [left, right, top, bottom] =
    edges(pen.getImageData(0, 0, canvas.width, canvas.height).data, canvas.width, canvas.height);
  canvas.width = canvas.height = 0;
  return {wide: (right - left) / px, high: (bottom - top) / px, px: px, font: one.family};
}
(async () => {
  try {
    for (const one of cases) {
      const faces = await document.fonts.load(`${one.style} 100px "${one.family}"`, one.title);
      if (faces.length !== 1) throw new Error(`no face ${one.family}`);
      found.push(draw(one));
    }
    document.getElementById("found").textContent = JSON.stringify(found);
  } catch (fault) {
    document.getElementById("found").textContent = JSON.stringify({fault: String(fault)});
  }
})();
"""


def _page() -> str:
    rows = {row.name: row for row in catalogue.font_rows()}
    faces, cases = [], []
    for name in sorted({case.font for case in CASES}):
        row = rows[name]
        data = base64.b64encode((catalogue.fonts_folder() / row.file).read_bytes()).decode()
        axes = ", ".join(f'"{tag}" {at:g}' for tag, at in row.axes)
        # A variable face is pinned to one place of its axes; the canvas then asks for it plainly.
        settings = f"font-variation-settings: {axes};" if axes else ""
        faces.append(
            f'@font-face {{ font-family: "{name}"; src: url(data:font/otf;base64,{data});'
            f" font-weight: 400; font-stretch: 100%; {settings} }}"
        )
    for case in CASES:
        caps = "small-caps" if case.case == _SMALL_CAPITALS else "normal"
        cases.append(
            {"family": case.font, "title": case.title, "style": "", "caps": caps}
            | {"tracking": case.tracking}
        )
    said = json.dumps(cases).replace("<", "\\u003c")
    return (
        f'<!doctype html><html lang=""><meta charset="utf-8"><style>{"".join(faces)}</style>'
        f'<pre id="found"></pre><script>const cases = {said};{_SCRIPT}</script></html>'
    )


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> dict[Drawn, dict[str, Any]]:
    """Ink width and height of every case in em, as the browser drew it in one session."""
    folder: Path = tmp_path_factory.mktemp("browser")
    page = folder / "titles.html"
    page.write_text(_page(), encoding="utf-8")
    shown = browsed(page, "--virtual-time-budget=600000", "--dump-dom", seconds=420)
    match = re.search(r'<pre id="found">(.*?)</pre>', shown, re.DOTALL)
    assert match and match[1], f"the browser measured nothing: {shown[-2000:]}"
    found = json.loads(unescape(match[1]))
    assert isinstance(found, list), found
    return dict(zip(CASES, found, strict=True))


def _largest_pt(case: Drawn, width_mm: float, height_mm: float) -> float:
    words = (
        *("check", case.title, "--panel", f"{width_mm}x{height_mm}mm", "--clearance", "0"),
        *("--lines", "1", "--orientation", "transverse", "--font", case.font),
        *("--case", case.case, "--tracking", str(case.tracking), "--format", "json"),
    )
    result = CliRunner().invoke(main, list(words))
    assert result.stderr == ""
    layout = json.loads(result.stdout)["layouts"][0]
    assert layout["lines"] == [case.title]
    return float(layout["largest_pt"])


@pytest.mark.parametrize(
    "case", CASES, ids=[f"{c.font}-{c.title}-{c.case}-{c.tracking}" for c in CASES]
)
def test_largest_size_is_that_of_the_pixels(
    case: Drawn, drawn: dict[Drawn, dict[str, Any]]
) -> None:
    """Source: ink a headless Chromium draws; the largest size is min(W / width, H / height)."""
    ink = drawn[case]
    slack = max(ENDS_PX / ink["px"] / min(ink["wide"], ink["high"]), CLOSER)
    assert slack < WITHIN  # there are pixels enough to tell
    for width_mm, height_mm in ((30.0, 2000.0), (2000.0, 20.0), (22.0, 34.0)):
        expected = pt_from_mm(min(width_mm / ink["wide"], height_mm / ink["high"]))
        found = _largest_pt(case, width_mm, height_mm)
        assert found == pytest.approx(expected, rel=slack)


def test_the_browser_set_every_font(drawn: dict[Drawn, dict[str, Any]]) -> None:
    """Source: the same Chromium; a fallback font would give two fonts the same ink."""
    light = [ink for case, ink in drawn.items() if case.title == "The Harbour Light"]
    assert len({round(ink["wide"], 4) for ink in light}) == len(light) > 10
