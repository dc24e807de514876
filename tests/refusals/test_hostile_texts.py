"""Texts that are laid as a trap: nothing in a drawing or a page runs, whoever wrote its words.

Titles, notes, names of fonts and of files, methods and where their figures come from; in every
format that a browser opens, judged by a parser and by a browser.
"""

from __future__ import annotations

import csv
import re
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pytest

from tests.browser import browsed, browser_marks
from tests.fuzz.judging import outcome

ROOT = Path(__file__).parents[2]
GARAMOND = ROOT / "fonts_open" / "eb-garamond" / "EBGaramond-Regular.ttf"
BACK = ("--width", "45mm", "--height", "210mm")
RUNS = "document.title='strange'"
TRAPS = {
    "a script": f"<script>{RUNS}</script>",
    "out of an attribute": f'"><img src=x onerror="{RUNS}">',
    "out of a single one": f"' onload='{RUNS}' x='",
    "out of a style": f"</style><script>{RUNS}</script>",
    "out of a script": f"</script><script>{RUNS}</script>",
    "out of a title": f"</title><script>{RUNS}</script>",
    "out of data": f"]]><script>{RUNS}</script>",
    "out of a remark": f"--><script>{RUNS}</script>",
    "a picture": f"<svg onload={RUNS}></svg>",
    "an entity": f"&lt;script&gt;{RUNS}&lt;/script&gt;",
    "a template": "{{ 7 * 7 }}{% raw %}${7*7}",
    "a base": "<base href=//x.example/>",
    "a frame": "<iframe src=javascript:alert(1)>",
}
QUIET = frozenset(("script", "img", "iframe", "object", "embed", "base", "link", "form", "a",
                   "foreignobject", "image", "use", "animate", "set"))  # fmt: skip


class Tags(HTMLParser):
    """Every tag with its attributes, the texts, and what stands in scripts."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.texts = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.texts += data


def loud(text: str, scripts: int = 0) -> list[object]:
    """Tags and attributes of a page or a drawing by which anything could run or be fetched."""
    tags = Tags(text).tags
    found: list[object] = [
        (tag, attrs)
        for tag, attrs in tags
        if tag in QUIET - {"script"} and not (tag == "use" and _is_own(attrs.get("href")))
    ]
    names = [tag for tag, _ in tags]
    if names.count("script") != scripts:
        found.append(f"{names.count('script')} scripts")
    for _, attrs in tags:
        for name, value in attrs.items():
            fetched = name in ("href", "src", "srcset", "xlink:href", "action")
            if name.startswith("on") or (fetched and not _is_own(value)):
                found.append((name, value))
    return found


def _is_own(target: str | None) -> bool:
    """Whether it is a place in the page itself, as of a glyph that is drawn again."""
    return target is not None and target.startswith("#")


def trapped_font(folder: Path, trap: str) -> Path:
    """A font whose family, style and file bear the trap."""
    from fontTools.ttLib import TTFont

    font = TTFont(GARAMOND)
    for record in font["name"].names:
        if record.nameID in (1, 2, 3, 4, 6, 16, 17):
            record.string = trap
    path = folder / f"{trap.replace('/', '')[:60]}.ttf"
    font.save(path)
    return path


def trapped_methods(folder: Path, trap: str) -> Path:
    """A binder's methods that cite the trap as their source, and bear it in their name."""
    said = trap.replace("\\", "").replace('"', '\\"')
    path = folder / "methods.toml"
    path.write_text(
        f'["{said}"]\nlike = "leather-label"\n'
        f'stroke_mm = {{ value = "0.05mm", source = "{said}" }}\n',
        encoding="utf-8",
    )
    return path


@pytest.mark.parametrize("name", TRAPS)
def test_nothing_in_a_drawing_runs(tmp_path: Path, name: str) -> None:
    """Title, font, method and its source at once, in the picture and the page."""
    trap = TRAPS[name]
    font, methods = trapped_font(tmp_path, trap), trapped_methods(tmp_path, trap)
    svg, html = tmp_path / "DRAWING.svg", tmp_path / "DRAWING.html"
    words = ["check", f"Tides {trap}", *BACK, "--font", str(font), "--method-file", str(methods),
             "--drawing", str(svg), "--drawing", str(html)]  # fmt: skip
    done = outcome(words)
    assert done.code in (0, 1), done.err
    drawn, page = svg.read_text(encoding="utf-8"), html.read_text(encoding="utf-8")
    ElementTree.fromstring(drawn)
    assert not loud(drawn)
    assert not loud(page)
    assert trap in Tags(page).texts.replace("\u00a0", " ")  # shown as it is
    policy = re.search(r'<meta http-equiv="Content-Security-Policy" content="([^"]*)"', page)
    assert policy
    assert "default-src 'none'" in policy[1]
    assert "unsafe" not in policy[1]
    assert "script-src" not in policy[1]


@pytest.mark.parametrize("kind", ["sheet", "recess", "single"])
def test_nothing_in_the_other_drawings_runs(tmp_path: Path, kind: str) -> None:
    """Those that are SVG; the words of a PDF are letters drawn, and text for none to run."""
    for at, trap in enumerate(TRAPS.values()):
        methods = trapped_methods(tmp_path, trap)
        out = tmp_path / f"DRAWING{at}.{'pdf' if kind == 'sheet' else 'svg'}"
        command = ["recess"] if kind == "recess" else ["sheet", *(["--single"] * (kind != "sheet"))]
        done = outcome([*command, f"Tides {trap}", "--width", "60", "--height", "220",
                        "--edge", "6", "--method-file", str(methods),
                        "--output", str(out)])  # fmt: skip
        assert done.code == 0, (done.err, done.out)
        if kind != "sheet":
            text = out.read_text(encoding="utf-8")
            ElementTree.fromstring(text)
            assert not loud(text)
        else:
            raw = out.read_bytes()
            assert b"/JavaScript" not in raw
            assert b"/OpenAction" not in raw


WRITERS = {
    "check": ("--width", "60", "--height", "220", "--drawing"),
    "worksheet": ("--width", "60", "--height", "220", "--method", "hand-letters", "--output"),
    "recess": ("--width", "60", "--height", "220", "--edge", "6", "--method", "leather-label",
               "--output"),
    "sheet": ("--panel", "30x10", "--output"),
}  # fmt: skip
CUSTOMERS = ("\u200b", "\u202e", "\ufffd", "x" * 90 + "  " + "x" * 90, "  a", "a\n\tb",
             "\u00a0 \u00a0b", "\U000e0041b")  # fmt: skip


@pytest.mark.parametrize("command", WRITERS)
def test_no_customer_stops_a_drawing(tmp_path: Path, command: str) -> None:
    for at, whose in enumerate(CUSTOMERS):
        out = tmp_path / f"OUT{at}.pdf"
        words = [command, "Tides", "--customer", whose, "--job-number", whose, *WRITERS[command]]
        done = outcome([*words, str(out)])
        assert done.code == (2 if not out.exists() else 0), done.err
        assert "internal fault" not in done.err


def overview(folder: Path) -> Path:
    """A page of many books, every word of which is a trap."""
    table, page = folder / "books.csv", folder / "books.html"
    with table.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["title", "width", "height", "note", "author", TRAPS["a picture"]])
        for trap in TRAPS.values():
            writer.writerow([f"Tides {trap}", 45, 210, trap, "", trap])
            writer.writerow([f"Fog {trap}", trap, 210, trap, trap, trap])
        writer.writerow(["Quay", 45, 210, "", "", ""])
    done = outcome(["batch", str(table), "--output", str(page), "--keep", "all", "--jobs", "1"])
    assert done.code == 2
    return page


def test_nothing_in_an_overview_runs_but_its_own_script(tmp_path: Path) -> None:
    page = overview(tmp_path).read_text(encoding="utf-8")
    assert not loud(page, scripts=1)
    for trap in TRAPS.values():
        assert trap in Tags(page).texts


class TestInABrowser:
    """What a browser makes of them."""

    pytestmark = browser_marks

    def test_a_browser_runs_nothing_of_a_title(self, tmp_path: Path) -> None:
        """The policy is taken off too: escaping alone has to hold."""
        trap = "".join(TRAPS.values())
        svg, html = tmp_path / "DRAWING.svg", tmp_path / "DRAWING.html"
        done = outcome(["check", trap[:150], *BACK, "--drawing", str(svg), "--drawing", str(html)])
        assert done.code in (0, 1), done.err
        page = html.read_text(encoding="utf-8")
        html.write_text(re.sub("<meta http-equiv[^>]*>", "", page), encoding="utf-8")
        for file in (svg, html):
            assert "<title>strange" not in browsed(file, "--dump-dom")

    def test_its_own_script_and_style_work_under_the_policy(self, tmp_path: Path) -> None:
        """Nothing taken off: it counts the rows, as it sorts and searches, and no trap runs."""
        shown = browsed(overview(tmp_path), "--dump-dom")
        assert f"{2 * len(TRAPS) + 1} of {2 * len(TRAPS) + 1} rows" in shown
        assert "<title>strange" not in shown
