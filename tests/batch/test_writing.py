"""What is written can be read by others, and runs nowhere.

CSV is read back by the standard library; JSON by its own; HTML by its parser.
"""

from __future__ import annotations

import base64
import csv
import hashlib
import io
import json
import math
import re
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pytest
from fontTools.misc.transform import Transform
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.transformPen import TransformPen
from fontTools.svgLib.path import parse_path

from spinefit.batch.books import answer_book, answer_set
from spinefit.batch.csv_table import safe_cell
from spinefit.batch.model import RESULT_COLUMNS, Fault, Row, Settings, Totals
from spinefit.batch.work import Unit, failed, work
from spinefit.batch.writing import foot_of, head_of, rows_of
from spinefit.say.page import cells as cells_of
from spinefit.say.phrasing import shown_layout
from spinefit.say.screen import Screen
from tests.browser import browsed, browser_marks

FORMULAS = ["=1+1", "+1+1", "-1+cmd|' /C calc'!A0", "@SUM(1)", "\tx", "\r=1", "  =1", "＝1"]
KEPT = ("id",)


def book(title: str = "Tides", *, kept: str = "7", line: int = 2, **cells: object):
    said = {"title": title, "width": 20, "height": 200, **cells}
    said = {name: value for name, value in said.items() if value is not None}
    return answer_book(Row(line, said, (kept,)), Settings(form="html"))


def as_csv(*books) -> list[dict[str, str]]:
    settings = Settings(form="csv", kept=KEPT)
    text = head_of(settings) + rows_of(books, settings)
    return list(csv.DictReader(io.StringIO(text)))


@pytest.mark.parametrize("text", FORMULAS)
def test_no_cell_runs_as_a_formula(text: str) -> None:
    """Whether it is carried along, a title, or in a message about a fault."""
    assert safe_cell(text) == f"'{text}"
    found = as_csv(book(text.strip(), kept=text), book(kept=text, width=text))
    for row in found:
        for name, cell in row.items():
            assert not cell.lstrip(" ").startswith(tuple("=+@\t\r＝")), name
            assert not cell.startswith("-") or float(cell) < 0


def test_numbers_stay_numbers() -> None:
    """A negative spare is no formula; a leading nought is no number."""
    (found,) = as_csv(book("The Harbour Light of Wrackness", width=4, height=20, size=30))
    assert float(found["spare_mm"]) < 0
    assert safe_cell("-3.1") == "-3.1"
    settings = Settings(form="csv", kept=KEPT)
    assert rows_of([book(kept="007")], settings).startswith("2,007,Tides")
    assert rows_of([book(kept="7")], settings).startswith("2,7,Tides")


def test_a_semicolon_begins_no_cell() -> None:
    """A spreadsheet that parts cells by semicolons finds every text in quotes."""
    settings = Settings(form="csv", kept=KEPT)
    text = rows_of([book("Tides;=1+1")], settings)
    (row,) = csv.reader(io.StringIO(text), delimiter=",")
    assert row[2] == "Tides;=1+1"
    assert '"Tides;=1+1"' in text


def test_the_heading_names_every_column() -> None:
    (row,) = as_csv(book())
    assert list(row) == [RESULT_COLUMNS[0], "id", *RESULT_COLUMNS[1:]]


def test_json_lines_hold_the_whole_report() -> None:
    from spinefit.say.as_json import to_dict

    one = book()
    bad = book(width="9,500", line=3)
    lines = rows_of([one, bad], Settings(kept=KEPT)).splitlines()
    first, second = map(json.loads, lines)
    assert first == {
        "line": 2,
        "kept": {"id": "7"},
        "report": json.loads(json.dumps(to_dict(one.report))),
    }
    assert (second["line"], second["column"]) == (3, "width")
    assert "report" not in second


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
        elif self.rows and self.rows[-1]:
            self.rows[-1][-1] += data

    def handle_endtag(self, tag):
        if tag in ("script", "style", "title"):
            self._inside = ""


def page(*books) -> str:
    settings = Settings(form="html", kept=KEPT)
    counts = {"fits": len(books), "tight": 0, "does not fit": 0, "": 0}
    return head_of(settings) + rows_of(books, settings) + foot_of(settings, Totals(counts))


def test_the_overview_holds_a_row_and_a_picture_a_book() -> None:
    parsed = Parsed(page(book(), book("Quay", line=3), book(width="9,500", line=4)))
    assert [row[2] for row in parsed.rows] == ["Title", "Tides", "Quay", "Tides"]
    assert [tag for tag, _ in parsed.tags].count("svg") == 2


def pictures(text: str) -> list[ElementTree.Element]:
    return [ElementTree.fromstring(one) for one in re.findall(r"<svg.*?</svg>", text)]


def glyph_boxes(drawn: ElementTree.Element) -> list[tuple[float, float, float, float]]:
    """Left, top, right and bottom of each path of letters, mm as it is shown.

    Read with the path parser and pens of fontTools, which know nothing of how it was written.
    """
    named = {one.get("id"): one for one in drawn.iter("path") if one.get("id")}
    found = []

    def walk(node: ElementTree.Element, transform: Transform) -> None:
        said = node.get("transform", "")
        numbers = [float(number) for number in re.findall(r"-?[0-9.]+(?:e-?[0-9]+)?", said)]
        if said.startswith("matrix"):
            transform = transform.transform(numbers)
        elif said.startswith("rotate"):
            transform = transform.rotate(math.radians(numbers[0]))
        shape = node
        if node.tag == "use":
            shape = named[node.get("href", "")[1:]]
            transform = transform.translate(float(node.get("x", 0)), float(node.get("y", 0)))
        if shape.tag == "path" and not shape.get("class"):
            pen = BoundsPen(None, ignoreSinglePoints=True)
            parse_path(shape.get("d"), TransformPen(pen, transform))
            found.append(pen.bounds)
        for child in node:
            walk(child, transform)

    walk(drawn, Transform())
    return found


def ink_of(drawn: ElementTree.Element) -> tuple[float, float, float, float]:
    lefts, tops, rights, bottoms = zip(*glyph_boxes(drawn), strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def view_of(drawn: ElementTree.Element) -> tuple[float, float, float, float]:
    left, top, wide, high = map(float, drawn.get("viewBox", "").split())
    return left, top, left + wide, top + high


def test_several_texts_stand_in_one_picture_of_their_back() -> None:
    """As high as the back, every text at its height: the baselines are where the plan has them."""
    one = book("NILE", author="HILT", date="1848", width=30, height=240, bands=5)
    (drawn,) = pictures(page(one))
    assert view_of(drawn) == pytest.approx((-15, 0, 15, 240))
    assert drawn.get("aria-label") == "NILE, HILT, 1848"
    assert float(drawn.get("height", "")) == pytest.approx(112, abs=0.1)
    ground, bands = [path for path in drawn.iter("path") if path.get("class")][:2]
    assert (ground.get("class"), bands.get("class")) == ("ground", "band")
    assert bands.get("d", "").count("z") == 5
    bottoms = [box[3] for box in glyph_boxes(drawn)]
    for text in one.report.texts[:2]:  # of the capitals; figures may hang below
        wanted = shown_layout(text.report).first_from_head_mm
        assert [end for end in bottoms if abs(end - wanted) < 0.1]


def test_one_text_is_shown_in_its_panel() -> None:
    (drawn,) = pictures(page(book("HILT")))
    assert drawn.get("aria-label") == "HILT"


@pytest.mark.parametrize(
    ("cells", "lies"),
    [
        ({"width": 30}, None),
        ({"width": 9, "market": "GB"}, "rotate(-90)"),
        ({"width": 9, "market": "DE"}, "rotate(90)"),
        ({"width": 12, "orientation": "pillar", "case": "capitals"}, None),
        ({"width": 30, "font": "Fira Sans Condensed", "lines": 2}, None),
        ({"width": 45, "back": "rounded", "rise": 6, "bands": 5}, None),
        ({"panel": "30x20mm", "width": None, "height": None}, None),
    ],
)
def test_the_picture_stands_where_the_report_says(cells, lies) -> None:
    """Its ink keeps the distances from the panel's edges, curves and all.

    What reads along the back lies level, the head to the left where it descends, to the right
    where it ascends.
    """
    one = book("Tide Hill", **cells)
    (drawn,) = pictures(page(one))
    groups = [group.get("transform", "") for group in drawn.iter("g")]
    assert [said for said in groups if said.startswith("rotate")] == ([lies] if lies else [])
    left, top, right, bottom = ink_of(drawn)
    layout = shown_layout(one.report)
    spare, panel = layout.spare_mm, one.report.panel
    sides = (spare.left, spare.head, spare.right, spare.tail)
    wide, high = panel.width_mm, panel.height_mm
    if lies == "rotate(-90)":
        sides = (spare.head, spare.right, spare.tail, spare.left)
    if lies == "rotate(90)":
        sides = (spare.tail, spare.left, spare.head, spare.right)
    if lies:
        wide, high = high, wide
    # A back's frame begins at its head; the panel alone is shown, so the view says where.
    x_mm, y_mm = view_of(drawn)[:2]
    found = (left - x_mm, top - y_mm, x_mm + wide - right, y_mm + high - bottom)
    assert found == pytest.approx(sides, abs=0.1)


def test_ink_that_stands_over_is_seen() -> None:
    one = book("Commissioners", width=None, height=None, panel="12x30", size=14,
               orientation="transverse")  # fmt: skip
    (drawn,) = pictures(page(one))
    view, ink = view_of(drawn), ink_of(drawn)
    assert one.report.layouts[0].spare_mm.left < 0
    assert ink[0] == pytest.approx(view[0], abs=0.1)
    assert ink[2] == pytest.approx(view[2], abs=0.1)
    assert view[2] - view[0] > 20


def test_a_back_of_open_height_has_a_picture_too() -> None:
    (drawn,) = pictures(page(book("Tides", height=None, width=9)))
    ink, view = ink_of(drawn), view_of(drawn)
    ends = pytest.approx((view[0], view[2]), abs=0.1)  # as much of the back as it needs
    assert (ink[0], ink[2]) == ends
    assert view[1] < ink[1] < ink[3] < view[3]


def test_volumes_and_repeated_letters_have_names_of_their_own() -> None:
    """No name twice in a page, and none asked for that is not there."""
    said = {"width": 30, "height": 210, "set": "tides"}
    rows = [Row(at, {"title": f"Tide Tables {at}", **said}, ("7",)) for at in (2, 3)]
    settings = Settings(form="html", kept=KEPT)
    books = [*answer_set(rows, settings), book("Tide Tables", author="E. Tellett", line=4)]
    text = page(*books)
    names = re.findall(r' id="([^"]+)"', text)
    assert len(names) == len(set(names)) > 3
    assert set(re.findall(r'href="#([^"]+)"', text)) <= set(names)


def test_nothing_in_the_overview_runs_but_its_own_script() -> None:
    """Its digests are those of what stands there; a title is text; no address of a network."""
    text = page(book("<script>alert(1)</script>", kept='"><img src=x onerror=alert(1)>'))
    parsed = Parsed(text)
    assert [tag for tag, _ in parsed.tags].count("script") == 1
    assert "img" not in [tag for tag, _ in parsed.tags]
    (policy,) = [
        attrs["content"] for tag, attrs in parsed.tags if tag == "meta" and "http-equiv" in attrs
    ]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    for code in parsed.scripts:
        digest = base64.b64encode(hashlib.sha256(code.encode()).digest()).decode()
        assert f"'sha256-{digest}'" in policy
    assert len(parsed.scripts) == 2
    assert not re.search(r"https?://|//[a-z]", text)
    assert not [
        attrs
        for _, attrs in parsed.tags
        if "style" in attrs or any(n.startswith("on") for n in attrs)
    ]


class TestInABrowser:
    """What a browser makes of the page, its policy in force."""

    pytestmark = browser_marks

    def shown(self, folder: Path, text: str) -> Parsed:
        return Parsed(self.dumped(folder, text))

    def books(self):
        return [
            book("Tides", width=20),
            book("Égalité", width=9, line=3),
            book("Quay", width="9,500", line=4),
            book("Fog", width=60, line=5),
        ]

    def test_the_policy_lets_its_script_run_also_where_the_page_ends_early(self, tmp_path) -> None:
        """The script says how many rows there are: of an interrupted batch too."""
        whole = page(*self.books())
        for text in (whole, whole[: whole.index("</tbody>")]):
            assert "4 of 4 rows" in self.shown(tmp_path, text).text

    def test_the_policy_lets_its_style_in(self, tmp_path) -> None:
        """Its rules are there to be read, which those of a style that is kept out are not."""
        act = "document.querySelector('td:nth-child(3)').textContent ="
        act += "[...document.styleSheets].map((sheet) => sheet.cssRules.length > 5).join();"
        assert self.after(tmp_path, act)[0] == "true"

    def test_the_policy_stops_any_other_script(self, tmp_path) -> None:
        strange = "<script>document.title = 'strange'</script></body>"
        text = page(*self.books()).replace("</body>", strange)
        assert "strange" not in self.shown(tmp_path, text).titles

    @pytest.mark.parametrize(
        ("clicks", "order"),
        [(1, ["Égalité", "Tides", "Fog", "Quay"]), (2, ["Fog", "Tides", "Égalité", "Quay"])],
    )
    def test_a_column_of_figures_sorts_as_figures(self, tmp_path, clicks, order) -> None:
        """Up, then down; a row without a figure is last both times."""
        act = "document.querySelectorAll('th button')[5].click();" * clicks
        assert self.after(tmp_path, act) == order

    def test_a_search_forgives_accents_and_case(self, tmp_path) -> None:
        act = "const s = document.querySelector('input'); s.value = 'EGAL fits';"
        act += "s.dispatchEvent(new Event('input'));"
        act += "document.querySelectorAll('tr[hidden]').forEach((row) => row.remove());"
        assert self.after(tmp_path, act) == ["Égalité"]

    def test_a_picture_is_shown_at_its_true_size(self, tmp_path) -> None:
        """By a button, for hands and for keys; with its name, its letters and its answer."""
        text = re.sub("<meta http-equiv[^>]*>", "", page(*self.books()))
        act = "document.querySelector('td button').click()"
        doing = f"<script>addEventListener('load', () => {{{act}}})</script></body>"
        shown = self.dumped(tmp_path, text.replace("</body>", doing))
        opened = shown[shown.index("<dialog") :]
        assert re.match(r'<dialog[^>]* open=""', opened)
        assert 'aria-label="Tides"' in opened
        (drawn,) = re.findall(r"<svg[^>]*>", opened)
        box = dict(re.findall(r'(viewBox|width|height)="([^"]+)"', drawn))
        wide, high = box["viewBox"].split()[2:]
        assert (box["width"], box["height"]) == (f"{wide}mm", f"{high}mm")
        assert "<path" in opened
        assert "It fits" in opened

    def dumped(self, folder: Path, text: str) -> str:
        file = folder / "books.html"
        file.write_text(text, encoding="utf-8")
        return browsed(file, "--dump-dom")

    def after(self, folder: Path, act: str) -> list[str]:
        """Titles as they stand once a reader has done something, the policy in force.

        The reader's own doing is let in by its digest; the page's still has only its own.
        """
        code = f"addEventListener('load', () => {{{act}}})"
        digest = base64.b64encode(hashlib.sha256(code.encode()).digest()).decode()
        text = page(*self.books())
        assert text.count("script-src &#39;sha256-") + text.count("script-src 'sha256-") == 1
        text = re.sub("script-src (?=&#39;|')", f"script-src 'sha256-{digest}' ", text)
        found = self.shown(folder, text.replace("</body>", f"<script>{code}</script></body>"))
        return [row[2] for row in found.rows[1:]]


def test_a_text_table_keeps_to_its_width() -> None:
    settings = Settings(form="text", kept=KEPT)
    long = "The Harbour Light and the Keepers of the Lamp " * 3
    text = head_of(settings) + rows_of([book(long), book("灯台"), book(width="9,500")], settings)
    assert max(cells_of(line) for line in text.splitlines()) <= 80
    assert "a comma in a number" in text


@pytest.mark.parametrize("columns", [40, 72, 73])
def test_a_narrow_text_table_loses_no_figure(columns: int) -> None:
    settings = Settings(form="text", kept=KEPT, screen=Screen(columns))
    answered = book("The Harbour Light and the Keepers of the Lamp")
    said = head_of(settings) + rows_of([answered], settings)
    found = answered.result
    assert max(cells_of(line) for line in said.splitlines()) <= columns
    for figure in (found.set_pt, found.largest_pt, found.spare_mm):
        assert f" {math.floor(figure * 10) / 10} " in said
    assert f"  {found.reading}\n" in said and said.count("\n") == (3 if columns == 73 else 5)


@pytest.mark.parametrize("form", ["csv", "jsonl", "text", "html"])
def test_volumes_and_several_texts_are_written_in_every_format(form: str) -> None:
    said = {"width": 30, "height": 210, "set": "tides"}
    volumes = [Row(at, {"title": f"Tides {at}", **said}, ("7",)) for at in (2, 3)]
    several = Row(4, {"title": "Fog", "author": "H. Quay", "width": 30, "height": 210}, ("7",))
    units = [Unit(tuple(volumes), "tides"), Unit((several,))]
    found = work(Settings(form=form, kept=KEPT), units)
    assert (found.verdicts, found.faults) == (("fits",) * 3, ())
    assert found.text.count("Tides 3") >= 1


@pytest.mark.parametrize("form", ["csv", "jsonl", "text", "html"])
def test_rows_are_the_same_alone_and_together(form: str) -> None:
    """So that chunks of any size make the same bytes."""
    books = [book(), book("Quay", line=3), book(width="9,500", line=4)]
    settings = Settings(form=form, kept=KEPT)
    assert rows_of(books, settings) == "".join(rows_of([one], settings) for one in books)


def test_a_book_that_was_not_worked_on_is_written_too() -> None:
    unit = Unit((Row(5, {"title": "Tides"}, ("7",)),))
    found = failed(Settings(form="csv", kept=KEPT), unit, "the process ended")
    assert found.faults == ((5, Fault("", "the process ended")),)
    assert found.text.startswith("5,7,Tides,,")


def test_half_characters_never_reach_a_file() -> None:
    """The name of a column at fault may hold bytes that are no text."""
    row = Row(2, {}, ("",), Fault("ti\udce9", "bytes that are no UTF-8: \udce9"))
    for form in ("csv", "jsonl", "text", "html"):
        work(Settings(form=form, kept=KEPT), [Unit((row,))]).text.encode()
