"""The command ``spinefit sheet``: what is set, what is left out, what is refused."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from reportlab.lib import pagesizes

from spinefit import pipeline
from spinefit.catalogue.trade import papers, sheet_rules
from spinefit.cli.main import main
from spinefit.job import Job, Lettering, Panel
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Orientation

JOBS = Path(__file__).parents[2] / "shared" / "jobs"
FONT = ("--font", "Alegreya Sans")
LABEL = ("The Harbour Light", "--panel", "30x24", *FONT)


def run(*words: str, typed: str | None = None) -> Result:
    return CliRunner().invoke(main, ["sheet", *words], input=typed)


def said(file: Path, *words: str, code: int = 0, typed: str | None = None) -> dict[str, Any]:
    done = run(*words, "--output", str(file), "--format", "json", typed=typed)
    assert done.exit_code == code, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "labels.pdf"


@pytest.mark.parametrize("name", sorted(papers()))
def test_papers_are_as_large_as_another_library_has_them(name: str) -> None:
    """The page sizes of reportlab, in points."""
    row = papers()[name]
    known = getattr(pagesizes, {"Letter": "LETTER", "Tabloid": "TABLOID"}.get(name, name))
    assert (row.width_mm.value, row.height_mm.value) == pytest.approx(
        tuple(map(mm_from_pt, known)), abs=1e-6
    )


def test_the_numbers_of_the_page_have_their_provenance() -> None:
    for row in sheet_rules().values():
        assert row.source
        assert row.status in ("practice", "chosen")


def test_without_wishes_sizes_a_step_apart_and_two_splits(file: Path) -> None:
    """The advised size of each split, and what fits a step above and below it."""
    found = said(file, *LABEL, "--orientation", "transverse")
    assert found["schema"] == "spinefit.sheet/1"
    job = Job(
        title="The Harbour Light",
        panel=Panel(width_mm=30, height_mm=24),
        lettering=Lettering(font="Alegreya Sans", orientation=Orientation.TRANSVERSE),
        method="paper-label",
    )
    report = pipeline.check(job)
    advised = {layout.lines: layout.set_pt for layout in report.layouts}
    splits = {tuple(one["lines"]) for one in found["settings"]}
    assert len(splits) == 2
    assert report.layouts[report.recommended or 0].lines in splits
    for lines in splits:
        sizes = [one["set_pt"] for one in found["settings"] if tuple(one["lines"]) == lines]
        assert advised[lines] in sizes
        assert sizes == sorted(sizes, reverse=True)
        assert {round(size - advised[lines], 6) for size in sizes} <= {-1.0, 0.0, 1.0}
    assert file.read_bytes().startswith(b"%PDF")


def test_every_setting_fits_as_a_check_of_its_own_says(file: Path) -> None:
    """The size, the lines and the label, typed into ``spinefit check``."""
    found = said(file, "Tide Tables of Wrackness", "--width", "28", "--height", "200", *FONT)
    assert found["settings"]
    for one in found["settings"]:
        label = one["label"]
        done = CliRunner().invoke(
            main,
            ["check", " / ".join(one["lines"]), "--panel",
             f"{label['width_mm']}x{label['height_mm']}", "--size", str(one["set_pt"]),
             "--method", "paper-label", "--orientation", one["orientation"], "--format", "json",
             *FONT],
        )  # fmt: skip
        assert done.exit_code == 0
        layout = json.loads(done.stdout)["layouts"][0]
        assert layout["ink_width_mm"] == pytest.approx(one["ink_width_mm"], abs=1e-4)


def test_a_label_is_cut_to_its_ink_where_none_is_asked_for(file: Path) -> None:
    """As wide as the back leaves, 1.25 mm from each joint; long enough for ink and margins."""
    for one in said(file, "Tide Tables", "--width", "30", "--height", "200", *FONT)["settings"]:
        assert one["label"]["width_mm"] == 27.5
        along = one["ink_height_mm" if one["orientation"] == "transverse" else "ink_width_mm"]
        assert 0 <= one["label"]["height_mm"] - along - 2 * 1.85 < 1


def test_sizes_and_labels_that_are_asked_for(file: Path) -> None:
    """Each size on each label that holds it; the rest is named with what would fit."""
    found = said(file, *LABEL, "--labels", "30x24,20x12mm", "--sizes", "10,12,40", "--splits", "1")
    assert {
        (one["label"]["width_mm"], one["set_pt"]) for one in found["settings"]
    } >= {(30, 12), (30, 10)}  # fmt: skip
    assert all(one["set_pt"] in (10, 12, 40) for one in found["settings"])
    out = {(one["label"]["width_mm"], one["set_pt"]): one["why"] for one in found["left_out"]}
    assert {(30, 40), (20, 40)} <= set(out)
    assert "at most" in out[30, 40] or "the most" in out[30, 40]
    asked = {(width, size) for width in (30, 20) for size in (10, 12, 40)}
    set_ = {(one["label"]["width_mm"], one["set_pt"]) for one in found["settings"]}
    assert set_ | set(out) == asked
    assert not set_ & set(out)


def test_a_split_that_does_not_fit_at_a_size_is_not_set(file: Path) -> None:
    """However many splits are wished for."""
    found = said(file, *LABEL, "--sizes", "8,12,16", "--splits", "9")["settings"]
    assert len({tuple(one["lines"]) for one in found}) == 3
    assert all(one["set_pt"] <= one["largest_pt"] and one["fits"] for one in found)
    at_16 = {tuple(one["lines"]) for one in found if one["set_pt"] == 16}
    assert ("The Harbour Light",) not in at_16


def test_what_other_lines_could_take_is_not_promised(file: Path) -> None:
    """The step above the advised size is left out with the most of its own lines."""
    words = ("--width", "20..22", "--method", "hand-letters", "--splits", "1")
    words += ("--orientation", "transverse")
    found = said(file, "Tides", *words, *FONT)
    assert [one["set_pt"] for one in found["settings"]] == [18, 14]
    (out,) = found["left_out"]
    assert out["set_pt"] == 24
    assert out["why"] == "In these lines 22.4 pt is the most: Tides."


def test_a_label_larger_than_the_back_is_left_out(file: Path) -> None:
    found = said(
        file, "Tides", "--width", "20", "--height", "200", "--labels", "30x20,15x30mm", *FONT
    )
    assert {one["label"]["width_mm"] for one in found["settings"]} == {15}
    assert [one["label"]["width_mm"] for one in found["left_out"]] == [30]
    assert "17.5 mm wide" in found["left_out"][0]["why"]


def test_spares_and_counts(file: Path) -> None:
    found = said(file, *LABEL, "--spares", "3", "--size", "12", "--splits", "1")
    assert found["labels"] == 4 == sum(found["labels_per_sheet"])
    (one,) = found["settings"]
    assert one["letter"] == "A"
    assert len({(place["left_mm"], place["bottom_mm"]) for place in one["places"]}) == 4


def test_many_titles_fill_many_sheets(file: Path, tmp_path: Path) -> None:
    """Each row its own label and size; the options are for all; no label over another."""
    table = tmp_path / "titles.csv"
    rows = "\n".join(f"Tide Tables {year},40x{30 + year % 5}mm," for year in range(1848, 1908))
    table.write_text(f"title,panel,size\n{rows}\nHerring,20x14mm,12\n", encoding="utf-8")
    found = said(file, "--titles", str(table), *FONT, "--spares", "0")
    assert found["labels"] == 61 == len(found["settings"])
    assert found["sheets"] == len(found["labels_per_sheet"]) > 1
    assert found["settings"][-1]["set_pt"] == 12
    assert found["settings"][-1]["letter"] == "BI"
    places = [place for one in found["settings"] for place in one["places"]]
    for at, one in enumerate(places):
        for other in places[:at]:
            apart = max(
                one["left_mm"] - other["left_mm"] - other["width_mm"],
                other["left_mm"] - one["left_mm"] - one["width_mm"],
                one["bottom_mm"] - other["bottom_mm"] - other["height_mm"],
                other["bottom_mm"] - one["bottom_mm"] - one["height_mm"],
            )
            assert one["sheet"] != other["sheet"] or apart >= 4


def test_a_title_without_a_label_is_named_and_the_rest_is_set(file: Path) -> None:
    table = "title,panel\nTides,30x20mm\nThe Harbour Commissioners,5x5mm\n"
    found = said(file, "--titles", "-", *FONT, code=1, typed=table)
    assert {one["title"] for one in found["settings"]} == {"Tides"}
    assert [one["title"] for one in found["left_out"]] == ["The Harbour Commissioners"]
    assert file.exists()


def test_where_nothing_fits_there_is_no_file(file: Path) -> None:
    """Exit code 1, and what would fit."""
    done = run("The Harbour Light", "--panel", "8x8", "--output", str(file))
    assert done.exit_code == 1
    assert "3.6 pt at most" in " ".join(done.stdout.split())
    assert not file.exists()
    assert said(file, "Tides", "--panel", "5x5", code=1)["settings"] == []
    assert not list(file.parent.iterdir())


def test_the_text_names_labels_paper_and_cautions(file: Path) -> None:
    done = run(*LABEL, "--output", str(file), "--sizes", "10,40")
    shown = " ".join(done.stdout.split())
    assert "on 1 sheet of A4 (210 x 297 mm)" in shown
    assert "A 10 pt 30 x 24 mm" in shown
    assert "Left out - The Harbour Light, 40 pt on 30 x 24 mm" in shown
    assert "Print at 100 %" in shown
    assert "fingers clear" in shown
    assert all(len(line) <= 80 for line in done.stdout.splitlines() if str(file) not in line)


def test_labels_are_turned_only_without_a_grain(file: Path) -> None:
    """Long labels lie down where that saves a sheet, and nothing says how the grain runs."""
    wide = ("Tides", "--panel", "20x180", "--orientation", "transverse", "--spares", "9", *FONT)
    size = ("--size", "12", "--paper", "A4", "--landscape", "--force", "--output", str(file))
    upright = run(*wide, *size)
    assert upright.exit_code == 2
    assert "larger than the paper has room for" in upright.stderr
    assert not file.exists()
    found = said(file, *wide, *size[:-2], "--no-grain")
    assert found["paper"]["turned"]
    assert {place["width_mm"] for place in found["settings"][0]["places"]} == {180}


def test_job_files_serve_too(file: Path, tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text('title = "Tides"\npanel = "30x20mm"\nfont = "Alegreya Sans"\n')
    assert said(file, "--job", str(job))["settings"][0]["title"] == "Tides"
    assert said(file, "--job", str(job), "--force", "--panel", "40x20")["settings"][0]["label"] == {
        "width_mm": 40, "height_mm": 20,
    }  # fmt: skip
    job.write_text('title = "Tides"\npanel = "30y20mm"\n')
    fault = run("--job", str(job), "--output", str(file), "--force").stderr
    assert f"{job}: panel: not a rectangle" in fault


def test_a_file_is_replaced_only_when_told_to(file: Path) -> None:
    file.write_bytes(b"mine")
    done = run(*LABEL, "--output", str(file))
    assert done.exit_code == 2
    assert "there is such a file already" in done.stderr
    assert file.read_bytes() == b"mine"
    assert run(*LABEL, "--output", str(file), "--force").exit_code == 0
    assert file.read_bytes() != b"mine"


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        (("--paper", "A44"), "--paper: no such paper: 'A44'; did you mean 'A4'?"),
        (("--paper", "60x60"), "--paper: no room for the square to measure by"),
        (("--paper", "0x100"), "--paper: no such sheet"),
        (("--paper", "9999x9999"), "--paper: no such sheet"),
        (("--gutter", "-3"), "--gutter: a length cannot be negative"),
        (("--margin", "150"), "--paper: no room for the square"),
        (("--margin", "wide"), "--margin: not a length"),
        (("--labels", "30y20"), "--labels: not a rectangle"),
        (("--labels", ","), "--labels: 0 values"),
        (("--labels", "400x20"), "--paper: a label larger than the paper has room for: '400 x 20"),
        (("--splits", "0"), "--splits: no number of splits: '0'; give a whole number from 1 to 10"),
        (("--spares", "two"), "--spares: not a whole number"),
        (("--spares", "101"), "--spares: no number of spares: '101'"),
        (
            (
                "--sizes",
                "8,9,10,11,12",
                "--splits",
                "9",
                "--spares",
                "100",
                "--labels",
                "30x24,30x25,30x26,30x27",
            ),
            "--spares: ",
        ),
        (("--marks", "tick"), "--marks: no such choice: 'tick'; did you mean 'ticks'?"),
        (("--mirror",), "--mirror: for a single label only"),
        (("--weeding-box", "3"), "--weeding-box: for a single label only"),
        (("--single",), "--output: one label is drawn as .svg or .dxf"),
        (("--method", "paper-lable"), "--method: no such method"),
        (("Tides",), "TITLE: more than one title"),
        (("--titles", "none.csv"), "TITLE: a title beside a table of titles"),
        (("--panel-shape", "polygon"), "--panel-shape: no such choice"),
    ],
)
def test_what_is_refused_is_one_line_and_leaves_no_file(
    file: Path, words: tuple[str, ...], fault: str
) -> None:
    done = run(*LABEL, "--output", str(file), *words)
    assert done.exit_code == 2
    assert done.stdout == ""
    assert done.stderr.startswith(f"spinefit: {fault}")
    assert done.stderr.count("\n") == 1
    assert not list(file.parent.iterdir())


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        (("--output", "{}/a.pdf"), "--output: one label is drawn as .svg or .dxf"),
        (("--output", "{}/a.svg", "--paper", "A3"), "--paper: not for a single label"),
        (("--output", "{}/a.svg", "--style", "outline"), "--style: no such choice"),
        (("--output", "{}/a.dxf", "--style", "filled"), "--style: a DXF file holds lines to cut"),
        (("--output", "{}/a.svg", "--weeding-box", "-1"), "--weeding-box: a length cannot be"),
        (("--output", "{}/a.svg", "--labels", "30x20,20x20"), "--single: one title and one label"),
        (("--output", "{}/no/a.svg"), "--output: the file cannot be written"),
        ((), "--output: no file to write to"),
    ],
)
def test_what_is_refused_of_a_single_label(
    tmp_path: Path, words: tuple[str, ...], fault: str
) -> None:
    done = run(*LABEL, "--single", *(word.format(tmp_path) for word in words))
    assert done.exit_code == 2
    assert done.stderr.startswith(f"spinefit: {fault}")
    assert done.stderr.count("\n") == 1
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("table", "fault"),
    [
        ("", "standard input: an empty table"),
        ("name,panel\nA,3x3\n", "standard input:1: column 1: no column of that name is known: 'na"),
        ("id,panel\nA,3x3\n", "standard input:1: no column 'title'"),
        ("title,panl\nA,3x3\n", "standard input:1: column 2: no column of that name is known: 'pa"),
        ("title,bar\nA,3x3\n", "standard input:1: column 2: no column of that name is known: 'bar"),
        ("title,title\nA,B\n", "standard input:1: a column twice, as number 1 and 2: 'title'"),
        ("title,panel\nA,3y3\n", "standard input:2: column 'panel': not a rectangle: '3y3'"),
        ("title,panel\n\nA,30x20\n ,3x3\n", "standard input:4: column 'title': no title given"),
        ("title,panel\nA,3x3,B\n", "standard input:2: 3 cells where the heading has 2"),
        ("title\nA\n", "standard input:2: neither the width of a back nor a panel is given"),
        ('title,panel\n"A,3x3\n', "standard input:2: the row cannot be read"),
        ("title,panel\n", "standard input: no row below the heading"),
        ("title,panel\né,30x30\n\udcff,3x3", "standard input:3: column 'title': bytes that are no"),
        ("title,width,author\nA,20,B\n", "standard input:2: column 'author': one title a row"),
        ("title,panel,set\nA,30x20,B\n", "standard input:2: column 'set': one title a row"),
        ("title,panel,font\nA,30x20,x.ttf\n", "standard input:2: column 'font': no such font file"),
        ('{"title": "A", "panel": "3y3"}\n', "standard input:1: column 'panel': not a rectangle"),
        ("title,panel\n" + "A,30x20\n" * 501, "standard input:502: more than 500 titles"),
    ],
)
def test_faults_of_a_table_are_placed(file: Path, table: str, fault: str) -> None:
    raw = table.encode("utf-8", "surrogateescape")
    done = CliRunner().invoke(
        main, ["sheet", "--titles", "-", "--output", str(file)], input=raw
    )  # fmt: skip
    assert done.exit_code == 2
    assert done.stderr.startswith(f"spinefit: {fault}"), done.stderr
    assert not file.exists()


@pytest.mark.parametrize(
    "row",
    [
        "Tides,3y3,,",
        ",30x20,,",
        '"A',
        "日本,30x20,EB Garamond,",
        "Tides,30x20,none.ttf,",
        "Tides,,,9",
        "Tides,30x20,,,9",
        "Tides,30x20mm,,12lines",
    ],
)
def test_a_table_is_told_off_in_one_way_by_every_command(tmp_path: Path, row: str) -> None:
    """A row at fault is the same line on standard error for a sheet as for a batch."""
    table = tmp_path / "books.csv"
    table.write_text(f"title,panel,font,size\n{row}\n", encoding="utf-8")
    words = ["--method", "paper-label"]
    sheet = ["sheet", "--titles", str(table), "--output", str(tmp_path / "a.pdf"), *words]
    said = [CliRunner().invoke(main, command) for command in (sheet, ["batch", str(table), *words])]
    assert [done.exit_code for done in said] == [2, 2]
    told, (of_batch, closing) = said[0].stderr.splitlines(), said[1].stderr.splitlines()
    assert told == [of_batch]
    assert closing.endswith("1 row at fault")  # of every batch, and no sheet
    assert told[0].startswith(f"spinefit: {table}:2: ")


def test_any_table_of_books_serves(file: Path) -> None:
    """Semicolons, columns that are carried along, a row's own panel over a back for all."""
    table = "id;Title;Panel\nW 1;Tides;30x20mm\n"
    found = said(file, "--titles", "-", *FONT, "--width", "9", typed=table)
    labels = [(one["title"], one["label"]) for one in found["settings"]]
    assert labels == [("Tides", {"width_mm": 30, "height_mm": 20})]


def test_letters_that_are_tools_are_no_print(file: Path) -> None:
    done = run("--job", str(JOBS / "hand-letters.toml"), "--output", str(file))
    assert done.exit_code == 2
    assert "not those of tools" in done.stderr
    assert not file.exists()


def test_its_help_says_what_is_assumed() -> None:
    shown = " ".join(CliRunner().invoke(main, ["sheet", "--help"]).stdout.split())
    assert "[paper-label]" in shown
    assert "paperback-cover" not in shown
    other = " ".join(CliRunner().invoke(main, ["check", "--help"]).stdout.split())
    assert "[paperback-cover; hand-letters with bands]" in other


def test_a_label_over_a_round_is_drawn_as_it_is_cut(file: Path) -> None:
    """A sheet bends about its middle: it covers W R / (R + t / 2) of the round.

    Source: bending of a thin sheet, the neutral surface at half its thickness.
    """
    spine = ("--width", "30", "--height", "210", "--back", "rounded", "--rise", "6")
    leather = ("--method", "leather-label", "--label-thickness", "0.8")
    found = said(file, "Tides", *spine, *leather, "--labels", "24x20mm")
    radius = (30**2 / 4 + 6**2) / (2 * 6)
    for one in found["settings"]:
        label = one["label"]
        assert (label["width_mm"], label["cut_width_mm"]) == (24.0, 24.0)
        assert label["covers_mm"] == pytest.approx(24 * radius / (radius + 0.4), abs=1e-4)
        assert one["places"][0]["width_mm"] == pytest.approx(24.0)
    own = said(file, "Tides", *spine, *leather, "--force")
    words = ["check", "Tides", *spine, *leather, "--format", "json"]
    checked = json.loads(CliRunner().invoke(main, words).stdout)
    most = checked["label"]["cut_width_mm"]
    assert most > checked["panel"]["width_mm"]
    assert {one["label"]["width_mm"] for one in own["settings"]} == {math.floor(most * 10) / 10}
    text = run("Tides", *spine, *leather, "--output", str(file), "--force").stdout
    assert "Drawn as it is cut" in text


def test_a_label_on_a_flat_back_is_not_bent(file: Path) -> None:
    found = said(file, "Tides", "--width", "30", "--height", "210")
    assert all("cut_width_mm" not in one["label"] for one in found["settings"])
