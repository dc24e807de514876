"""``--artwork`` and ``--spot``: which files are written, and when none is."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from spinefit.cli.main import main

JOBS = Path(__file__).parents[2] / "shared" / "jobs"
CHECK = ("check", "The Harbour Light", "--width", "30mm", "--height", "210mm")
TABLE = """id,title,author,width,height,method
1,The Harbour Light,,30mm,210mm,blocked-case
2,Tide Tables,A. Quay,22mm,200mm,
3,Proceedings of the Harbour Commissioners,,4mm,30mm,
"""


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_the_answer_stays_as_it_is_and_the_files_are_told(tmp_path: Path) -> None:
    """What was written stands on standard error, in every form."""
    for form in ("text", "json"):
        words = ("--artwork", str(tmp_path / f"{form}.pdf"), "--format", form)
        result = run(*CHECK, *words)
        assert result.exit_code == 0
        assert result.stdout == run(*CHECK, "--format", form).stdout
        assert f"{form}.pdf: 30.00 x 210.00 mm, the back; 100 % black" in result.stderr
    assert names(tmp_path) == ["json.pdf", "text.pdf"]


def test_a_die_has_one_sheet_for_placing(tmp_path: Path) -> None:
    """In a file of its own, however many kinds of artwork are wanted."""
    files = [word for end in ("svg", "pdf") for word in ("--artwork", str(tmp_path / f"a.{end}"))]
    result = run(*CHECK, "--method", "blocked-case", *files, "--spot", "Gold foil")
    assert result.exit_code == 0
    assert names(tmp_path) == ["a-placing.pdf", "a.pdf", "a.svg"]
    assert b"/Separation /Gold#20foil" in (tmp_path / "a.pdf").read_bytes()
    placing = (tmp_path / "a-placing.pdf").read_bytes()
    assert b"/Separation" not in placing and b"/Type /Font" in placing
    assert result.stderr.count("placing sheet") == 1


def test_a_set_has_an_svg_a_volume(tmp_path: Path) -> None:
    """Numbered in their order, and a PDF with a page each."""
    files = [word for end in ("svg", "pdf") for word in ("--artwork", str(tmp_path / f"a.{end}"))]
    result = run("check", "--job", str(JOBS / "harbour-annals.toml"), *files)
    assert result.exit_code == 0
    assert names(tmp_path) == ["a-1.svg", "a-2.svg", "a-3.svg", "a.pdf"]
    assert b"/Count 3" in (tmp_path / "a.pdf").read_bytes()
    (tmp_path / "a.pdf").unlink()
    again = run("check", "--job", str(JOBS / "harbour-annals.toml"), *files)
    assert again.exit_code == 2 and "a-1.svg" in again.stderr
    assert "a.pdf" not in names(tmp_path)


def test_what_does_not_fit_has_none(tmp_path: Path) -> None:
    """With exit code 1 and the reason; a drawing beside it is written."""
    words = ("--size", "90", "--artwork", str(tmp_path / "a.pdf"))
    result = run(*CHECK, *words, "--drawing", str(tmp_path / "b.pdf"))
    assert result.exit_code == 1
    assert "no artwork written" in result.stderr
    assert names(tmp_path) == ["b.pdf"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--artwork", "a.dxf"], "let the name end in .svg or .pdf"),
        (["--artwork", "a.html"], "no such kind of artwork"),
        (["--artwork", "a"], "no such kind of artwork"),
        (["--artwork", "there.pdf"], "there is such a file already"),
        (["--artwork", "a.pdf", "--artwork", "./a.pdf"], "two files of the same name"),
        (["--artwork", "a.pdf", "--drawing", "a.pdf"], "two files of the same name"),
        (["--artwork", "nowhere/a.pdf"], "no such folder"),
        (["--artwork", "a.svg", "--spot", "Gold"], "only that names an ink"),
        (["--spot", "Gold"], "only that names an ink"),
        (["--artwork", "a.pdf", "--spot", ""], "no name for an ink"),
        (["--artwork", "a.pdf", "--spot", "Gold/Silver"], "no name for an ink"),
        (["--artwork", "a.pdf", "--spot", "G" * 32], "no name for an ink"),
        (["--artwork", "a.pdf", "--spot", "all"], "keeps that name for itself"),
        (["--artwork", "a.pdf", "--spot", "BasicFonts"], "keeps that name for itself"),
        (["--artwork", "a.pdf", "--method", "type-holder"], "no outlines to place"),
        (["--artwork", "a.pdf", "--drawing", "a-placing.pdf", "--method", "blocked-case"],
         "two files of the same name"),
    ],
)  # fmt: skip
def test_a_bad_word_is_one_line_and_no_file(
    words: list[str], said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Code 2, and what stood there is kept."""
    monkeypatch.chdir(tmp_path)
    Path("there.pdf").write_text("mine", encoding="utf-8")
    result = run(*CHECK, *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert said in result.stderr and result.stderr.count("\n") == 1
    assert names(tmp_path) == ["there.pdf"]
    assert Path("there.pdf").read_text(encoding="utf-8") == "mine"


def test_an_open_back_has_none(tmp_path: Path) -> None:
    """Its page would have no height."""
    result = run("check", "Tides", "--width", "30", "--artwork", str(tmp_path / "a.pdf"))
    assert result.exit_code == 2 and "give --height" in result.stderr
    assert not names(tmp_path)


def test_a_table_has_a_folder(tmp_path: Path) -> None:
    """A PDF for each row that fits, in the order of the table; replaced only by force."""
    table, folder = tmp_path / "books.csv", tmp_path / "art"
    table.write_text(TABLE, encoding="utf-8")
    words = ("batch", str(table), "--jobs", "1", "--format", "csv")
    plain = run(*words)
    result = run(*words, "--artwork", str(folder), "--spot", "Gold foil")
    assert (result.exit_code, result.stdout) == (1, plain.stdout)
    assert "3 files of artwork" in result.stderr
    assert names(folder) == [
        "0002-The-Harbour-Light-placing.pdf", "0002-The-Harbour-Light.pdf", "0003-Tide-Tables.pdf",
    ]  # fmt: skip
    before = (folder / "0003-Tide-Tables.pdf").read_bytes()
    assert b"/Separation /Gold#20foil" in before
    again = run(*words, "--artwork", str(folder))
    assert again.exit_code == 2 and "holds files already" in again.stderr
    assert (folder / "0003-Tide-Tables.pdf").read_bytes() == before
    assert run(*words, "--artwork", str(folder), "--force").exit_code == 1
    assert b"/Separation" not in (folder / "0003-Tide-Tables.pdf").read_bytes()


def test_a_row_that_can_have_none_is_at_fault(tmp_path: Path) -> None:
    """The others have theirs."""
    table, folder = tmp_path / "books.csv", tmp_path / "art"
    table.write_text("title,width,height\nTides,30,\nTides,30,200\n", encoding="utf-8")
    result = run("batch", str(table), "--jobs", "1", "--format", "csv", "--artwork", str(folder))
    assert result.exit_code == 2 and "books.csv:2: " in result.stderr
    assert names(folder) == ["0003-Tides.pdf"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--artwork", "books.csv"], "no folder"),
        (["--artwork", ""], "no folder named"),
        (["--artwork", "nowhere/art"], "no such folder"),
        (["--spot", "Gold"], "only that names an ink"),
    ],
)
def test_a_bad_folder_is_one_line(
    words: list[str], said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Before a row is read."""
    monkeypatch.chdir(tmp_path)
    Path("books.csv").write_text(TABLE, encoding="utf-8")
    result = run("batch", "books.csv", *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert said in result.stderr and result.stderr.count("\n") == 1
    assert names(tmp_path) == ["books.csv"]
