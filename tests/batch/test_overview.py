"""The page of many books: light, and read by other hands than those that wrote it.

HTML is read by the standard library's parser, pictures by fontTools' parser of paths, from the
figures in the page; what its script makes of them is asked of a browser.
"""

from __future__ import annotations

import base64
import hashlib
import math
import re
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from fontTools.misc.transform import Transform
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.transformPen import TransformPen
from fontTools.svgLib.path import parse_path

from spinefit.batch.books import answer_book, answer_set
from spinefit.batch.model import Row, Settings, Totals
from spinefit.batch.overview import once
from spinefit.batch.writing import foot_of, head_of, rows_of
from spinefit.say.phrasing import shown_layout
from tests.benchmarks.titles import books as invented
from tests.browser import browsed, browser_marks

KEPT = ("id",)
SETTINGS = Settings(form="html", kept=KEPT)
MOST_ELEMENTS = 20  # of a row, before it is seen


def book(title: str = "Tides", *, kept: str = "7", line: int = 2, **cells: object):
    said = {"title": title, "width": 20, "height": 200, **cells}
    said = {name: value for name, value in said.items() if value is not None}
    return answer_book(Row(line, said, (kept,)), SETTINGS)


def page(*books, kept: tuple[str, ...] = KEPT) -> str:
    settings = SETTINGS._replace(kept=kept)
    counts = {"fits": len(books), "tight": 0, "does not fit": 0, "": 0}
    rows, _names = once(rows_of(books, settings), {})
    return head_of(settings) + rows + foot_of(settings, Totals(counts))


class Parsed(HTMLParser):
    """Rows of cells, and every tag with its attributes."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.scripts: list[str] = []
        self.rows: list[list[str]] = []
        self.text = self.titles = ""
        self._inside = ""
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        self._inside = tag
        if tag == "tr":
            self.rows.append([])
        if tag in ("td", "th"):
            self.rows[-1].append("")

    def handle_data(self, data):
        self.text += data
        if self._inside == "title":
            self.titles += data
        if self._inside in ("script", "style"):
            self.scripts.append(data)
        elif self._inside != "template" and self.rows and self.rows[-1]:
            self.rows[-1][-1] += data

    def handle_endtag(self, tag):
        if tag in ("script", "style", "title", "template"):
            self._inside = ""

    @property
    def named(self) -> list[dict[str, str]]:
        """The rows below the first, each cell by the name of its column."""
        names, *rows = ([cell.strip() for cell in row] for row in self.rows)
        return [dict(zip(names, row, strict=True)) for row in rows]


class Drawn(NamedTuple):
    """A picture as the page has it: boxes left, top, right and bottom; mm, y down."""

    turn_deg: float
    view: tuple[float, ...]
    whole: tuple[float, ...]
    ground: str
    bands: str
    letters: list[tuple[float, ...]]


def outlines_of(text: str) -> list[tuple[str, str]]:
    """Each outline in a page, with its name."""
    found = re.findall("<template>(.*?)</template>", text)
    return [tuple(one.split(" ", 1)) for said in found for one in said.split(",")]  # type: ignore[misc]


def pictures(text: str) -> list[Drawn]:
    """What is drawn in each row, the letters where the figures place them."""
    outlines = dict(outlines_of(text))
    found = []
    for said in map(unescape, re.findall(r'data-drawn="(.*?)"', text)):
        turn, view, whole, ground, bands, _head, _paper, _ink, *lines = said.split(";")
        level = Transform().rotate(math.radians(float(turn)))
        letters = []
        for line in lines:
            matrix, *glyphs = line.split(",")
            placed = level.transform([float(number) for number in matrix.split()])
            for name, *places in (glyph.split() for glyph in glyphs):
                for x, y in zip(places[::2], places[1::2], strict=True):
                    pen = BoundsPen(None, ignoreSinglePoints=True)
                    path = f"M{x} {y}{outlines[name]}"
                    parse_path(path, TransformPen(pen, placed))
                    letters.append(pen.bounds)
        boxes = (_box(view), _box(whole))
        found.append(Drawn(float(turn), *boxes, ground, bands, letters))
    return found


def _box(said: str) -> tuple[float, ...]:
    left, top, wide, high = map(float, said.split())
    return left, top, left + wide, top + high


def ink_of(drawn: Drawn) -> tuple[float, float, float, float]:
    lefts, tops, rights, bottoms = zip(*drawn.letters, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def test_the_overview_holds_a_row_and_a_picture_a_book() -> None:
    text = page(book(), book("Quay", line=3), book(width="9,500", line=4))
    found = Parsed(text).named
    assert [row["Title"] for row in found] == ["Tides", "Quay", "Tides"]
    assert len(pictures(text)) == 2


def test_a_row_says_what_was_measured_and_how_it_is_made() -> None:
    """The figures it was judged by; of a row at fault what was typed."""
    books = [
        book(market="GB", method="leather-label", width="24..26mm", height=210.4),
        book(width=None, height=None, panel="30x20mm", method="paper-label"),
        book(width="9,500", market="DE", method="foil"),
    ]
    found = [[row[name] for name in ("Width", "Height", "Market", "Method")]
             for row in Parsed(page(*books)).named]  # fmt: skip
    assert found == [
        ["24", "210.4", "GB", "foil-blocked leather label"],
        ["30", "20", "", "printed paper label"],
        ["9,500", "200", "DE", "foil"],
    ]


def test_the_caption_says_in_which_order_the_rows_stand() -> None:
    said = "in the order of their lines"
    assert said in head_of(SETTINGS)
    assert said not in head_of(SETTINGS._replace(sort=("method",)))


def test_what_is_to_be_minded_stands_by_the_answer() -> None:
    marked, thin = book("Tides, #3"), book(width=4)
    found = [row["Answer, and what to mind"] for row in Parsed(page(marked, thin)).named]
    assert found[0].startswith("It fits")
    assert "Letter “Tides, No. 3”" in found[0]
    assert thin.result.warnings and thin.result.warnings in found[1]


def test_texts_and_volumes_that_belong_together_say_so() -> None:
    """Each text with what it is; volumes of a set in rows that are marked as such."""
    said = {"width": 30, "height": 210, "set": 'tides "old"'}
    rows = [Row(at, {"title": f"Tide Tables {at}", **said}, ("7",)) for at in (2, 3)]
    several = book("NILE", author="HILT", date="1848", width=30, height=240, line=4)
    text = page(*answer_set(rows, SETTINGS), several)
    titles = [row["Title"] for row in Parsed(text).named]
    assert titles == ['Tide Tables 2set: tides "old"', 'Tide Tables 3set: tides "old"',
                      "NILEauthor: HILT; date: 1848"]  # fmt: skip
    sets = [attrs.get("data-set") for tag, attrs in Parsed(text).tags if tag == "tr"]
    assert sets == [None, 'tides "old"', 'tides "old"', None]


def test_several_texts_stand_in_one_picture_of_their_back() -> None:
    """As high as the back, every text at its height: the baselines are where the plan has them."""
    one = book("NILE", author="HILT", date="1848", width=30, height=240, bands=5)
    (drawn,) = pictures(page(one))
    assert drawn.whole == pytest.approx((-15, 0, 15, 240))
    assert drawn.bands.count("z") == 5
    bottoms = [box[3] for box in drawn.letters]
    for text in one.report.texts[:2]:  # of the capitals; figures may hang below
        wanted = shown_layout(text.report).first_from_head_mm
        assert [end for end in bottoms if abs(end - wanted) < 0.1]


PLACES = [
    ({"width": 30}, 0),
    ({"width": 9, "market": "GB"}, -90),
    ({"width": 9, "market": "DE"}, 90),
    ({"width": 12, "orientation": "pillar", "case": "capitals"}, 0),
    ({"width": 30, "font": "Fira Sans Condensed", "lines": 2}, 0),
    ({"width": 45, "back": "rounded", "rise": 6, "bands": 5}, 0),
    ({"panel": "30x20mm", "width": None, "height": None}, 0),
]


@pytest.mark.parametrize(("cells", "lies"), PLACES)
def test_the_picture_stands_where_the_report_says(cells, lies) -> None:
    """Its ink keeps the distances from the panel's edges, curves and all.

    What reads along the back lies level, the head to the left where it descends, to the right
    where it ascends.
    """
    one = book("Tide Hill", **cells)
    (drawn,) = pictures(page(one))
    assert drawn.turn_deg == lies
    left, top, right, bottom = ink_of(drawn)
    layout = shown_layout(one.report)
    spare, panel = layout.spare_mm, one.report.panel
    sides = (spare.left, spare.head, spare.right, spare.tail)
    wide, high = panel.width_mm, panel.height_mm
    if lies:
        wide, high = high, wide
        sides = (spare.head, spare.right, spare.tail, spare.left)
        sides = sides if lies < 0 else (sides[2], sides[3], sides[0], sides[1])
    # A back's frame begins at its head; the panel alone is shown, so the view says where.
    x_mm, y_mm = drawn.whole[:2]
    found = (left - x_mm, top - y_mm, x_mm + wide - right, y_mm + high - bottom)
    assert found == pytest.approx(sides, abs=0.1)


@pytest.mark.parametrize(("cells", "lies"), PLACES)
def test_a_picture_is_cropped_to_its_lettering(cells, lies) -> None:
    """All the ink is in view; beside it the nearest edge, but no empty stretch of back."""
    (drawn,) = pictures(page(book("Tide Hill", **cells)))
    ink, view, whole = ink_of(drawn), drawn.view, drawn.whole
    inside = (ink[0] - view[0], ink[1] - view[1], view[2] - ink[2], view[3] - ink[3])
    spares = (ink[0] - whole[0], ink[1] - whole[1], whole[2] - ink[2], whole[3] - ink[3])
    assert min(inside) > 0
    nearest = spares.index(min(spares))
    assert inside[nearest] > spares[nearest]
    sides = (ink[2] - ink[0], ink[3] - ink[1])
    assert max(inside) < max(4.5, 1.3 * min(sides), 1.2 * min(spares) + min(sides))


def test_ink_that_stands_over_is_seen() -> None:
    one = book("Commissioners", width=None, height=None, panel="12x30", size=14,
               orientation="transverse")  # fmt: skip
    (drawn,) = pictures(page(one))
    ink = ink_of(drawn)
    assert one.report.layouts[0].spare_mm.left < 0
    assert ink[0] == pytest.approx(drawn.whole[0], abs=0.1)
    assert ink[2] == pytest.approx(drawn.whole[2], abs=0.1)
    assert drawn.view[0] < ink[0] < ink[2] < drawn.view[2]
    assert ink[2] - ink[0] > 20


def test_a_back_of_open_height_has_a_picture_too() -> None:
    (drawn,) = pictures(page(book("Tides", height=None, width=9)))
    ink, view = ink_of(drawn), drawn.whole
    ends = pytest.approx((view[0], view[2]), abs=0.1)  # as much of the back as it needs
    assert (ink[0], ink[2]) == ends
    assert view[1] < ink[1] < ink[3] < view[3]


def many(count: int) -> list[Any]:
    """Invented books on their backs; every tenth with an author and a date."""
    further = {5: {"author": "E. Quillfeather", "date": "1889"}}
    return [
        book(one.title, width=one.width_mm, height=one.height_mm, line=at + 2, kept=f"W {at:04}",
             **further.get(at % 10, {}))
        for at, one in enumerate(invented(count))
    ]  # fmt: skip


def test_two_thousand_rows_take_three_megabytes_at_most() -> None:
    """A row's own bytes, those of ten times the letters of sixty, and the rest of the page."""
    text = page(*many(60))
    outlines = sum(len(f"{name} {path},") for name, path in outlines_of(text))
    rows = text[text.index("<tbody>") : text.index("</tbody>")]
    a_row = (len(rows.encode()) - outlines) / 60
    assert a_row < 1000
    assert len(text.encode()) - len(rows.encode()) + 10 * outlines + 2000 * a_row < 3_000_000
    elements = [tag for tag, _ in Parsed(f"<table>{rows}").tags]
    assert elements.count("tr") == 60
    assert len(elements) / 60 < MOST_ELEMENTS
    assert "path" not in elements


def test_an_outline_stands_once_in_a_page_however_it_comes() -> None:
    """Row by row or all at once, the same bytes; every outline that is asked for is there."""
    books = many(12)
    whole = rows_of(books, SETTINGS)
    first, names = once(rows_of(books[:5], SETTINGS), {})
    rest, more = once(rows_of(books[5:], SETTINGS), names)
    assert first + rest == once(whole, {})[0]
    found = [name for name, _path in outlines_of(first + rest)]
    assert len(found) == len(set(found)) == len(names | more)
    assert len(outlines_of(whole)) > 2 * len(found)
    assert len(pictures(first + rest)) == 12  # which looks up every name


def test_nothing_in_the_overview_runs_but_its_own_script() -> None:
    """Its digests are those of what stands there; a title is text; no address of a network."""
    evil = "</style><script>alert(1)</script>{}\\"
    text = page(book("<script>alert(1)</script>", kept='"><img src=x onerror=alert(1)>'),
                kept=(evil,))  # fmt: skip
    parsed = Parsed(text)
    assert [tag for tag, _ in parsed.tags].count("script") == 1
    assert "img" not in [tag for tag, _ in parsed.tags]
    assert evil in parsed.rows[0]
    (policy,) = [
        attrs["content"] for tag, attrs in parsed.tags if tag == "meta" and "http-equiv" in attrs
    ]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    for code in parsed.scripts:
        assert f"'sha256-{_digest(code)}'" in policy
    assert len(parsed.scripts) == 2
    assert not re.search(r"https?://|//[a-z]", text)
    assert not [
        attrs
        for _, attrs in parsed.tags
        if "style" in attrs or any(n.startswith("on") for n in attrs)
    ]


def _digest(code: str) -> str:
    return base64.b64encode(hashlib.sha256(code.encode()).digest()).decode()


class TestInABrowser:
    """What a browser makes of the page, its policy in force."""

    pytestmark = browser_marks

    def books(self):
        return [
            book("Tides", width=20),
            book("Égalité", width=9, line=3, kept="12"),
            book("Quay", width="9,500", line=4),
            book("Fog", width=60, line=5),
        ]

    def test_the_policy_lets_its_script_run_also_where_the_page_ends_early(self, tmp_path) -> None:
        """The script says how many rows there are: of an interrupted batch too."""
        whole = page(*self.books())
        for text in (whole, whole[: whole.index("</tbody>")]):
            found = Parsed(self.dumped(tmp_path, text)).text
            assert "4 of 4 rows" in found
            assert re.search(r"fits\s+2\s+tight\s+1\s+does not fit\s+0\s+at fault\s+1", found)

    def test_the_policy_lets_its_style_in(self, tmp_path) -> None:
        """Its rules are there to be read, which those of a style that is kept out are not."""
        act = "[...document.styleSheets].map((sheet) => sheet.cssRules.length > 5).join()"
        assert self.said(tmp_path, act) == "true"

    def test_the_policy_stops_any_other_script(self, tmp_path) -> None:
        strange = "<script>document.title = 'strange'</script></body>"
        text = page(*self.books()).replace("</body>", strange)
        assert "strange" not in Parsed(self.dumped(tmp_path, text)).titles

    @pytest.mark.parametrize(
        ("name", "clicks", "order"),
        [
            ("Largest", 1, "Égalité Tides Fog Quay"),
            ("Largest", 2, "Fog Tides Égalité Quay"),
            ("Title", 1, "Égalité Fog Quay Tides"),
            ("id", 2, "Égalité Tides Quay Fog"),
            ("Verdict", 2, "Quay Égalité Tides Fog"),
            ("Width", 1, "Égalité Quay Tides Fog"),
        ],
    )
    def test_any_column_sorts(self, tmp_path, name, clicks, order) -> None:
        """Up, then down; figures as figures, a row without one last both times."""
        act = "[...document.querySelectorAll('th button')]"
        act += f".find((one) => one.textContent === '{name}').click();"
        assert self.said(tmp_path, self.titles, act * clicks) == order

    @pytest.mark.parametrize(
        ("search", "ticks", "order"),
        [
            ("EGAL tight", (), "Égalité"),
            ("12", (), "Égalité"),
            ("spine", (), ""),  # a word of every answer, and of no title
            ("", ("at fault",), "Quay"),
            ("", ("fits", "at fault"), "Tides Quay Fog"),
            ("fog", ("at fault",), ""),
        ],
    )
    def test_a_search_and_verdicts_narrow_the_rows(self, tmp_path, search, ticks, order) -> None:
        """The search forgives accents and case, and looks at titles and what is carried along."""
        act = f"const s = document.querySelector('[type=search]'); s.value = '{search}';"
        act += "s.dispatchEvent(new Event('input'));"
        for tick in ticks:
            act += f"document.querySelector('[value=\"{tick}\"]').click();"
        shown = f"{self.titles} + '|' + document.querySelector('output').textContent"
        count = len(order.split())
        assert self.said(tmp_path, shown, act) == f"{order}|{count} of 4 rows"

    def test_volumes_stay_joined_only_where_they_stand_together(self, tmp_path) -> None:
        said = {"width": 30, "height": 210, "set": "tides"}
        rows = [Row(at, {"title": f"Tide {at}", **said}, ("7",)) for at in (2, 3)]
        between = [book("Tide 2 and a half", line=4)]
        text = page(*answer_set(rows, SETTINGS), *between)
        joined = "[...document.querySelectorAll('.joined b')].map((b) => b.textContent).join()"
        assert self.said(tmp_path, joined, text=text) == "Tide 3"
        act = "[...document.querySelectorAll('th button')][2].click();"  # by title
        assert self.said(tmp_path, joined, act, text=text) == ""

    def test_pictures_are_drawn_when_they_are_seen(self, tmp_path) -> None:
        """Of many rows only those on the screen and a little beyond; all of them to be printed."""
        text = page(*[book(f"Tides {at}", line=at) for at in range(2, 102)])
        count = "document.querySelectorAll('td svg').length"
        seen = int(self.said(tmp_path, count, text=text))
        assert 5 < seen < 60
        act = "dispatchEvent(new Event('beforeprint'));"
        assert self.said(tmp_path, count, act, text=text) == "100"

    @pytest.mark.parametrize(("cells", "_lies"), PLACES[:4])
    def test_the_script_draws_what_the_figures_say(self, tmp_path, cells, _lies) -> None:
        """The ink's box as the browser has it is that which another parser reads, in mm."""
        text = page(book("Tide Hill", **cells))
        (drawn,) = pictures(text)
        ask = """(() => {
          const svg = document.querySelector('td svg'), ink = svg.querySelector('.ink path');
          const to = svg.getScreenCTM().inverse().multiply(ink.getScreenCTM());
          const box = ink.getBBox();
          const at = [[box.x, box.y], [box.x + box.width, box.y + box.height]]
            .map(([x, y]) => new DOMPoint(x, y).matrixTransform(to));
          return [Math.min(at[0].x, at[1].x), Math.min(at[0].y, at[1].y),
                  Math.max(at[0].x, at[1].x), Math.max(at[0].y, at[1].y)].join(' ');
        })()"""
        said = self.said(tmp_path, ask, "dispatchEvent(new Event('beforeprint'));", text=text)
        found = [float(number) for number in said.split()]
        assert found == pytest.approx(ink_of(drawn), abs=0.02)

    def test_a_picture_is_shown_at_its_true_size(self, tmp_path) -> None:
        """By a button, for hands and for keys; the whole panel, with its name and its answer."""
        text = page(*self.books())
        (drawn, *_others) = pictures(text)
        act = "dispatchEvent(new Event('beforeprint'));"
        act += "document.querySelector('td button').click();"
        ask = """(() => {
          const box = document.querySelector('dialog[open]'), svg = box.querySelector('svg');
          return [box.ariaLabel, svg.getAttribute('width'), svg.getAttribute('height'),
                  box.textContent].join('|');
        })()"""
        name, wide, high, words = self.said(tmp_path, ask, act, text=text).split("|")
        left, top, right, bottom = drawn.whole
        assert name == "Tides"
        assert (wide, high) == (f"{right - left:g}mm", f"{bottom - top:g}mm")
        assert "It fits" in words

    titles = (
        "[...document.querySelectorAll('tbody tr:not([hidden]) b')]"
        ".map((b) => b.textContent).join(' ')"
    )

    def dumped(self, folder: Path, text: str) -> str:
        file = folder / "books.html"
        file.write_text(text, encoding="utf-8")
        wanted = ("--virtual-time-budget=5000", "--run-all-compositor-stages-before-draw")
        return browsed(file, "--window-size=1280,900", *wanted, "--dump-dom")

    def said(self, folder: Path, ask: str, act: str = "", *, text: str = "") -> str:
        """What a reader finds, once pictures are drawn and they have done something.

        The reader's own doing is let in by its digest; the page's still has only its own.
        """
        code = f"""addEventListener('load', () => setTimeout(() => {{
          {act}
          const found = document.createElement('pre');
          found.id = 'found';
          found.textContent = {ask};
          document.body.append(found);
        }}, 1000))"""
        text = text or page(*self.books())
        assert len(re.findall("script-src (?=&#39;|')", text)) == 1
        text = re.sub("script-src (?=&#39;|')", f"script-src 'sha256-{_digest(code)}' ", text)
        text = text.replace("</body>", f"<script>{code}</script></body>")
        shown = self.dumped(folder, text)
        found = re.search('<pre id="found">(.*?)</pre>', shown, re.DOTALL)
        assert found, shown[-500:]
        return unescape(found[1]).strip()
