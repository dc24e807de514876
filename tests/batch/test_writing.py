"""What is written can be read by others, and runs nowhere.

CSV is read back by the standard library; JSON by its own; HTML by its parser.
"""

from __future__ import annotations

import base64
import csv
import hashlib
import io
import json
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from spinefit.batch.books import answer_book
from spinefit.batch.model import RESULT_COLUMNS, Fault, Row, Settings
from spinefit.batch.work import Unit, failed, work
from spinefit.batch.writing import foot_of, head_of, rows_of, safe_cell
from spinefit.report.phrasing import shown_layout
from tests.browser import browsed, browser_marks

FORMULAS = ["=1+1", "+1+1", "-1+cmd|' /C calc'!A0", "@SUM(1)", "\tx", "\r=1", "  =1", "＝1"]
KEPT = ("id",)


def book(title: str = "Tides", *, kept: str = "7", line: int = 2, **cells: object):
    said = {"title": title, "width": 20, "height": 200, **cells}
    return answer_book(Row(line, said, (kept,)), Settings())


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
    assert rows_of([book(kept="007")], settings).startswith('2,"007","Tides"')
    assert rows_of([book(kept="7")], settings).startswith('2,7,"Tides"')


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
    from spinefit.report.as_json import to_dict

    one = book()
    bad = book(width="9,5", line=3)
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
    return head_of(settings) + rows_of(books, settings) + foot_of(settings, counts)


def test_the_overview_holds_a_row_and_a_picture_a_book() -> None:
    parsed = Parsed(page(book(), book("Quay", line=3)))
    assert [row[2] for row in parsed.rows] == ["Title", "Tides", "Quay"]
    paths = [attrs["d"] for tag, attrs in parsed.tags if tag == "path"]
    assert len(paths) == 2
    assert all(re.fullmatch(r"(M[0-9.]+ [0-9.]+(L[0-9.]+ [0-9.]+)+Z)+", path) for path in paths)


def test_several_texts_stand_in_one_picture_of_their_back() -> None:
    """As high as the back, every text at its height: the baselines are where the plan has them."""
    one = book("NILE", author="HILT", date="1848", width=30, height=240, bands=5)
    parsed = Parsed(page(one))
    (drawn,) = [attrs for tag, attrs in parsed.tags if tag == "svg"]
    assert drawn["viewbox"] == "0 0 30.0 240.0"
    assert drawn["aria-label"] == "NILE, HILT, 1848"
    assert float(drawn["height"]) == pytest.approx(112, abs=0.1)
    bands, letters = [attrs["d"] for tag, attrs in parsed.tags if tag == "path"]
    assert bands.count("Z") == 5
    ends = [
        max(float(pair.split()[1]) for pair in re.split("[ML]", ring) if pair)
        for ring in letters.split("Z")
        if ring
    ]
    for text in one.report.texts[:2]:  # of the capitals; figures may hang below
        wanted = shown_layout(text.report).first_from_head_mm
        assert len([end for end in ends if abs(end - wanted) < 0.6]) >= 4


def test_one_text_is_shown_in_its_panel() -> None:
    (drawn,) = [attrs for tag, attrs in Parsed(page(book("HILT"))).tags if tag == "svg"]
    assert drawn["aria-label"] == "HILT"


def test_the_picture_stands_where_the_report_says() -> None:
    """Its ink keeps the distances from the panel's edges, as well as straight lines can."""
    one = book("HILT", width=30)
    parsed = Parsed(page(one))
    (path,) = [attrs["d"] for tag, attrs in parsed.tags if tag == "path"]
    (box,) = [attrs["viewbox"] for tag, attrs in parsed.tags if tag == "svg"]
    wide, high = map(float, box.split()[2:])
    points = [tuple(map(float, pair.split())) for pair in re.split("[MLZ]+", path) if pair]
    xs, ys = zip(*points, strict=True)
    best = one.report.layouts[one.report.recommended]
    assert (wide, high) == pytest.approx((one.report.panel.width_mm, one.report.panel.height_mm))
    assert min(xs) == pytest.approx(best.spare_mm.left, abs=0.3)
    assert wide - max(xs) == pytest.approx(best.spare_mm.right, abs=0.3)
    assert min(ys) == pytest.approx(best.spare_mm.head, abs=0.3)
    assert high - max(ys) == pytest.approx(best.spare_mm.tail, abs=0.3)


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
        file = folder / "books.html"
        file.write_text(text, encoding="utf-8")
        return Parsed(browsed(file, "--dump-dom"))

    def books(self):
        return [
            book("Tides", width=20),
            book("Égalité", width=9, line=3),
            book("Quay", width="9,5", line=4),
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
    settings = Settings(form="text", kept=KEPT, columns=80)
    long = "The Harbour Light and the Keepers of the Lamp " * 3
    text = head_of(settings) + rows_of([book(long), book("灯台"), book(width="9,5")], settings)
    from spinefit.report.page import cells

    assert max(cells(line) for line in text.splitlines()) <= 80
    assert "a comma in a number" in text


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
    books = [book(), book("Quay", line=3), book(width="9,5", line=4)]
    settings = Settings(form=form, kept=KEPT)
    assert rows_of(books, settings) == "".join(rows_of([one], settings) for one in books)


def test_a_book_that_was_not_worked_on_is_written_too() -> None:
    unit = Unit((Row(5, {"title": "Tides"}, ("7",)),))
    found = failed(Settings(form="csv", kept=KEPT), unit, "the process ended")
    assert found.faults == ((5, "the process ended"),)
    assert found.text.startswith('5,7,"Tides","",')


def test_half_characters_never_reach_a_file() -> None:
    """The name of a column at fault may hold bytes that are no text."""
    row = Row(2, {}, ("",), Fault("ti\udce9", "bytes that are no UTF-8: \udce9"))
    for form in ("csv", "jsonl", "text", "html"):
        work(Settings(form=form, kept=KEPT), [Unit((row,))]).text.encode()
