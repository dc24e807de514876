"""At the bench: what would spoil the work is said, and nothing is cut or drawn by mistake.

Each case is a whole question as a binder would ask it, through the command line: the verdict, and
what must stand on the page. Books are invented.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main
from spinefit.job.lengths import parse_length, parse_range
from spinefit.judgement.catalogue_marks import catalogue_marks

BACK = ("--width", "30mm", "--height", "210mm")


def run(*words: str) -> tuple[int, str]:
    """The exit code of ``spinefit`` in this process, and its page without its line breaks."""
    done = CliRunner().invoke(main, list(words))
    return done.exit_code, " ".join((done.stdout + done.stderr).split())


def test_hand_letters_at_one_pitch_do_not_run_into_each_other(tmp_path: Path) -> None:
    """A title by hand letters of 12 pt at 3 mm from middle to middle.

    W is 3.94 mm wide, O 2.85: at 3 mm they lie over each other, which no finisher strikes. Gold
    bridges gaps under 0.5 mm (common practice: the method's row), so the pitch that serves is
    (3.94 + 2.85) / 2 + 0.5 mm and more; where the panel ends is arithmetic.
    """
    pattern = tmp_path / "pattern.pdf"
    words = ("worksheet", "WOMBAT", "--panel", "40x20mm", "--size", "12", "--lines", "1")
    code, page = run(*words, "--pitch", "3mm", "--output", str(pattern))
    assert (code, pattern.exists()) == (1, False)
    assert "It does not fit at a pitch of 3.00 mm: W and O of WOMBAT would overlap" in page
    assert "0.5 mm apart, so that gold does not bridge, from 3.90 mm on" in page
    assert "7.21 mm is the widest pitch that fits" in page
    code, page = run(*words, "--pitch", "4mm", "--output", str(pattern))
    assert (code, pattern.exists()) == (0, True)
    assert ": the paper pattern" in page and "warning" not in page
    assert str(pattern) in page.replace(" ", "")  # a long path is broken over lines


def test_hand_letters_that_touch_at_a_pitch_are_refused() -> None:
    """H of 3.62 mm beside A of 3.45 mm at 3.54 mm from middle to middle: nothing shows between.

    Half a hundredth of a millimetre counts as nothing, being less than anyone can set.
    """
    words = ("worksheet", "HARBOUR LIGHT", "--width", "38mm", "--height", "240mm", "--bands", "5")
    code, page = run(*words, "--pitch", "3.54mm")
    assert code == 1 and "at a pitch of 3.54 mm: H and A of HARBOUR would touch" in page
    code, page = run(*words, "--pitch", "3.55mm")
    assert code == 0 and "H and A of HARBOUR stand 0.01 mm apart" in page


def test_a_label_let_into_a_back_leaves_a_wall_that_holds(tmp_path: Path) -> None:
    """A paper label almost as wide as the back it is let into.

    Common practice: a bar of card narrower than 3 mm tears in cutting and shows through the
    covering. Of 1.1 mm beside the label, clearance and covering take 0.7: 0.4 mm are left.
    """
    drawing = tmp_path / "recess.svg"
    words = ("recess", "Tide Tables", "--width", "30mm", "--height", "200mm")
    code, page = run(*words, "--edge", "1.1mm", "--output", str(drawing))
    assert (code, drawing.exists()) == (1, False)
    assert page.startswith("It does not fit: beside the recess for its label only 0.4 mm of card")
    checked = run("check", *words[1:], "--edge", "1.1mm", "--method", "paper-label", "--recess")
    assert checked[0] == 1 and checked[1].startswith(page.partition(".4 mm")[0])
    code, _page = run(*words, "--edge", "1.1mm", "--output", str(drawing), "--force")
    assert code == 1 and "Only 0.4 mm of card" in drawing.read_text(encoding="utf-8")
    assert run(*words, "--edge", "5mm", "--output", str(drawing), "--force")[0] == 0
    assert "Does not fit" not in drawing.read_text(encoding="utf-8")


def test_a_label_let_into_a_front_board_leaves_whole_board_round_it(tmp_path: Path) -> None:
    """A label of 134 x 30 mm in a board of 135 mm: its opening runs over the edge.

    Clearance and covering take 0.7 mm a side of the 0.5 there are. A label stands in the middle
    of its board, so that only a narrower one helps: 135 less twice 3 mm of card and 0.7 mm.
    Nearer to the head than card holds it can be moved. Common practice, as for a back.
    """
    board = ("Harbour Light", "--front-board", "135x215mm")
    over = (*board, "--board-label", "134x30mm")
    drawing = str(tmp_path / "recess.svg")
    code, page = run("check", *over, "--recess")
    headline = "It does not fit: the opening cut for its label would run 0.2 mm over the edge."
    assert code == 1 and page.startswith(headline)
    assert "Take a label at most 127.6 mm wide." in page
    assert page.count("blade") == page.count("steel rule") == 1
    code, drawn = run("recess", *over, "--output", drawing)
    assert code == 1 and drawn.startswith(headline)
    assert drawn.count("steel rule") == 1 and "Cut the card flat on a cutting mat" in drawn
    enough = (*board, "--board-label", "127.6x30mm", "--recess")
    assert run("check", *enough)[0] == 0
    code, page = run("check", *enough, "--label-from-head", "16mm")
    assert code == 1 and "Keep the label 2.7 mm farther from the head." in page
    assert run("check", *enough, "--label-from-head", "18.7mm")[0] == 0
    texts = '[[text]]\nrole = "title"\ntext = "Tides"\n[[text]]\nrole = "author"\ntext = "A. Reeve"'
    label = 'method = "paper-label"\nrecess = true\nwidth = "30mm"\nheight = "200mm"\n'
    file = tmp_path / "back.toml"
    file.write_text(f'{label}edge = "1.1mm"\n{texts}', encoding="utf-8")
    code, page = run("check", "--job", str(file))
    assert code == 1 and page.startswith("It does not fit: beside the recess for its label")
    assert "finds no room" not in page
    report = json.loads(
        CliRunner().invoke(main, ["check", *over, "--recess", "--format", "json"]).stdout
    )
    assert report["verdict"] == "does not fit" and report["recommended"] is None
    assert not any(layout["fits"] for layout in report["layouts"])


ROWS = "title,width,height,volume,date\nTide Tables,30mm,210mm,3,{}\n"


@pytest.mark.parametrize("form", ["csv", "text", "jsonl", "html"])
def test_a_day_number_is_not_lettered_as_a_year(tmp_path: Path, form: str) -> None:
    """A spreadsheet wrote the date of issue, 16 July 2023, as the 45123rd day after 1899.

    Which figures are taken for such a count is our own choice: five of them, 20000 to 60000.
    """
    table = tmp_path / "books.csv"
    written_and_said = (("45123", True), ("45123.0", True), ("1907", False), ("61907", False))
    for written, said in written_and_said:
        table.write_text(ROWS.format(written), encoding="utf-8")
        code, page = run("batch", str(table), "--format", form)
        assert code == 0
        assert ("The date 45123 is five figures" in page and "16 July 2023" in page) is said


@pytest.mark.parametrize(
    ("volume", "said"),
    [
        ("43831", "The volume 43831 is five figures"),
        ("43831-43840", "The volume 43831-43840 is two numbers of five figures"),
        ("43831–99999", ""),
        ("1-12", ""),
    ],
)
def test_a_volume_that_is_a_day_number_is_to_be_written_as_a_number(
    tmp_path: Path, volume: str, said: str
) -> None:
    """A spreadsheet makes dates of 1-1 or 1-10 too; of two numbers both have to be such counts."""
    table = tmp_path / "books.csv"
    table.write_text(f"title,width,height,volume\nTides,30mm,210mm,{volume}\n", encoding="utf-8")
    page = run("batch", str(table), "--format", "text")[1]
    assert ("figures, as spreadsheets" in page) is bool(said) and said in page
    assert not said or "write the number as it is to be lettered" in page


def test_a_day_number_in_a_job_file_warns_and_an_accession_number_does_not(tmp_path: Path) -> None:
    """The same in a job; what is carried along to tell a book by is no date."""
    file = tmp_path / "job.toml"
    texts = "".join(
        f'[[text]]\nrole = "{role}"\ntext = "{text}"\n'
        for role, text in (("title", "Register 45123"), ("volume", "45123"))
    )
    file.write_text(f'width = "30mm"\nheight = "210mm"\n{texts}', encoding="utf-8")
    report = json.loads(
        CliRunner().invoke(main, ["check", "--job", str(file), "--format", "json"]).stdout
    )
    topics = {
        one["role"]: [
            finding["level"]
            for finding in one["report"]["findings"]
            if finding["topic"] == "day-number"
        ]
        for one in report["texts"]
    }
    assert topics == {"title": [], "volume": ["warning"]}
    table = tmp_path / "books.csv"
    table.write_text("id,title,width,shelfmark\n45123,Tide Tables,30mm,45123\n", encoding="utf-8")
    assert "five figures" not in run("batch", str(table))[1]


OF_A_CATALOGUE = {
    "The harbour light : a story of the coast": "The harbour light",
    "The harbour light / Ann Reeve": "The harbour light",
    "The harbour light : a story / by Ann Reeve ; illustrated by Tom Hale.": "The harbour light",
    "The harbour light / edited by A. M. Reeve and Tom Hale.": "The harbour light",
    "THE HARBOUR LIGHT / BY ANN REEVE": "THE HARBOUR LIGHT",
    "Der Leuchtturm : eine Geschichte / von Hans Meier": "Der Leuchtturm",
    "Harbour dues / Wrackness Harbour Board": "Harbour dues",
    "Tide tables of the port.": "Tide tables of the port",
    "The wreck register [1889]": "The wreck register",
    "Harbour annals [electronic resource]": "Harbour annals",
    "[Wreck register]": "Wreck register",
    "Sailing directions [by] Ann Reeve": "Sailing directions",
    "Reeve, Ann, 1820-1889": "Reeve, Ann",
    "Reeve, Ann M., 1820-": "Reeve, Ann M.",
    "Poems of Ann Reeve, 1820-1889": "Poems of Ann Reeve",
    "Reeve, A. M. (Ann Mary), 1820-1889": "Reeve, A. M. (Ann Mary)",
    "Poems / Ann Reeve, 1820–1889": "Poems",
    "The wreck register, c1889": "The wreck register, 1889",
    "Harbour Annals #3": "Harbour Annals No. 3",
    "Knots and splices. - 2nd ed.": "Knots and splices",
}
OF_A_TITLE_PAGE = """
Yes. | Mr. Brown | Who's Who 1848-1870 | Who’s Who, 1848-1870 | Harbour Annals, 1848-1870
Register of Wrecks, 1848-1920 | Smith & Co. | Reeve Bros. | Are You There? It's Me.
Stop. Look. Listen. | Letters to St. Ann | The Harbour, the Town, etc. | Made in the U.S.A.
Either / Or | AC / DC | 1914 / 1918 | The Harbour Light: A Story | 24/7 | Wait...
Harbour Light; or, The Keeper's Tale | Tides, Vol. 3 | Register, 1907 | Catch-22 | C1234 Handbook
Vitamin C | A Life in C# | Ann Reeve: A Life, 1820-1889 | Reeve's Almanack for 1889 | 1848-1870
Dr. Hale & Mr. Reeve | Hale, Reeve and Co., Ltd. | Band 2. | Pilots' Guide, 3rd ed. | Tide No. 4
Log of the Mary Ann, 1848-1907 | Ropes, Blocks, 1848-1870 | Ships, A-Z, 1900-1950 | Salt - A History
Das Leben der Anna Meier, 1820–1889 | Annual Report 1907 / 08 | H.M.S. Wrackness | Log, 1899-1907
Ropes, Blocks, Sails, and Anchors | Minutes, Jan. to Dec. | The Sea (1889) | Notes, Part the 2nd
"""  # fmt: skip


@pytest.mark.parametrize(("title", "lettering"), OF_A_CATALOGUE.items())
def test_a_catalogues_marks_are_noted_with_the_lettering(title: str, lettering: str) -> None:
    """ISBD punctuation, as recalled, and Pleger (1914), p. 250: no full points at the end."""
    found = catalogue_marks([title])
    assert found is not None and found.title == lettering


@pytest.mark.parametrize("title", OF_A_TITLE_PAGE.replace("\n", "|").split("|"))
def test_a_title_pages_own_marks_are_left_alone(title: str) -> None:
    """Names, abbreviations, sentences and years that are a title's own."""
    assert not title.strip() or catalogue_marks([title.strip()]) is None


def test_a_title_from_a_catalogue_is_noted_and_lettered_as_typed() -> None:
    """A note with what to letter; the title is the owner's and stays as it is."""
    done = CliRunner().invoke(
        main, ["check", "The harbour light : a story.", *BACK, "--format", "json"]
    )
    report = json.loads(done.stdout)
    (found,) = (one for one in report["findings"] if one["topic"] == "catalogue-marks")
    assert (done.exit_code, found["level"], found["status"]) == (0, "note", "memory")
    assert "Letter “The harbour light”; “a story” is its subtitle." in found["text"]
    assert report["title"] == "The harbour light : a story."


@pytest.mark.parametrize(
    ("lines", "author"),
    [
        (("The Harbour Light", "by Ann Reeve"), "Ann Reeve"),
        (("The Harbour Light", "Ann Reeve"), "Ann Reeve"),
        (("The Harbour", "Light"), None),
        (("The Life of", "Ann Reeve"), None),
        (("Sagen", "von Frau Holle"), None),
        (("Stopping", "by Woods"), None),
        (("Sea", "Edda Holm"), "Edda Holm"),
        (("Anna", "Maria Reeve"), None),
        (("King", "John Reeve"), None),
        (("Poor", "Little Peter"), None),
    ],
)
def test_a_slash_that_breaks_a_line_is_only_a_catalogues_before_a_name(
    lines: tuple[str, str], author: str | None
) -> None:
    """In a check a slash forces a break: it is noted only where an author surely follows."""
    found = catalogue_marks(lines)
    assert (None if found is None else found.author) == author


@pytest.mark.parametrize(
    ("title", "marks", "said"),
    [
        (
            "Notes / by A. Penwarne ; ed. by B. Holm",
            "“ / ”. Letter",
            "“A. Penwarne” is its author; “ed. by B. Holm” is left to the title page.",
        ),
        ("Wrackness / by Edda Holm.", "“ / ”, the final full stop.", "“Edda Holm” is its author."),
        ("Tides : annals.", "“ : ”, the final full stop.", "“annals” is its subtitle."),
        ("Tides / by Reeve, A. M.", "“ / ”. Letter", "“Reeve, A. M.” is its author."),
    ],
)
def test_nothing_of_a_catalogues_entry_is_dropped_without_a_word(
    title: str, marks: str, said: str
) -> None:
    """Whoever else it names, and the full stop that ends it, unless an initial's."""
    code, page = run("check", title, *BACK)
    assert code == 0 and f"not of a title page: {marks}" in page and said in page


@pytest.mark.parametrize("form", ["csv", "text", "html", "jsonl"])
def test_a_catalogues_marks_are_seen_in_a_table_too(tmp_path: Path, form: str) -> None:
    """Tables from a library's catalogue are where they come from; of authors as of titles."""
    table = tmp_path / "books.csv"
    table.write_text(
        "title,width,height,author\nWrackness : a history / by Edda Holm.,28mm,240mm,\n"
        'Tide Tables,28mm,240mm,"Holm, Edda, 1871-1940"\nTide Tables,28mm,240mm,Edda Holm\n',
        encoding="utf-8",
    )
    code, page = run("batch", str(table), "--format", form)
    assert code == 0 and page.count("Marks of a library") == 2
    assert "Letter “Wrackness”" in page and "Letter “Holm, Edda”" in page


def test_an_apostrophe_is_found_between_whole_words() -> None:
    """What is quoted can be looked for in the title."""
    _code, page = run("check", "Le phare brûlé à l'île du Nord", *BACK)
    assert "Between “à l” and “île du” stands '" in page


def test_old_lettering_measured_from_the_head_of_a_board_names_what_was_asked() -> None:
    """No --panel was given, so that none is to be left out."""
    code, page = run("check", "Tides", "--front-board", "135x215mm", "--old-lettering", "20x30@60")
    assert code == 2 and "no back to measure it on" in page
    assert "--panel" not in page and "on a back, give its width and height" in page


def test_in_french_a_colon_has_its_space() -> None:
    """The same mark is that language's own."""
    assert catalogue_marks(["Le phare : histoire"], language="fr") is None
    assert catalogue_marks(["Le phare : histoire"]) is not None


@pytest.mark.parametrize(
    ("method", "said"),
    [
        ("hand-letters", "take 'spinefit worksheet'"),
        ("type-holder", "take 'spinefit worksheet'"),
        ("paperback-cover", "letters the book itself, not a label"),
        ("paper-label", None),
        ("leather-label", None),
    ],
)
def test_a_sheet_of_labels_for_tools_is_questioned(
    tmp_path: Path, method: str, said: str | None
) -> None:
    """Tools print no label, and a cover is none; what serves is named. Common practice."""
    words = ("sheet", "Tides", "--panel", "40x25mm", "--method", method, "--force")
    code, page = run(*words, "--output", str(tmp_path / "labels.pdf"))
    assert code == 0
    assert ("warning" in page) is (said is not None)
    assert said is None or said in page
    done = CliRunner().invoke(
        main, [*words, "--output", str(tmp_path / "labels.pdf"), "--format", "json"]
    )
    assert bool(json.loads(done.stdout)["warnings"]) is (said is not None)


def test_lengths_are_read_as_they_are_written() -> None:
    """By every door alike; a comma that may part thousands is refused as before."""
    assert [parse_length(text) for text in ("12,5mm", "11 in.", "½in", "1 ½in")] == [
        12.5, 279.4, 12.7, 38.1,
    ]  # fmt: skip
    assert parse_range("12–13mm") == parse_range("12-13mm") == (12.0, 13.0)
    assert run("check", "Tides", "--width", "12,5–13,5mm", "--height", "8½in")[0] == 0
    code, page = run("check", "Tides", "--width", "1,250mm")
    assert code == 2 and "write 1.250 or 1250, whichever is meant" in page
    for typed in ("1e1mm", "1E1", "2.5e1mm"):  # no one writes a width so: a slip of the finger
        code, page = run("check", "Tides", "--width", typed)
        assert code == 2 and f"--width: not a length: '{typed}'" in page


@pytest.mark.parametrize("typed", ["12,5mm", "½in", "11 in.", "12–13mm"])
def test_a_length_means_the_same_in_a_job_file_and_a_table(tmp_path: Path, typed: str) -> None:
    """The figures of the answer are those of the command line."""
    asked = ("--format", "json")
    direct = json.loads(
        CliRunner().invoke(main, ["check", "Tides", "--width", typed, *asked]).stdout
    )
    file = tmp_path / "job.toml"
    file.write_text(f'title = "Tides"\nwidth = "{typed}"\n', encoding="utf-8")
    by_file = CliRunner().invoke(main, ["check", "--job", str(file), *asked])
    assert json.loads(by_file.stdout) == direct
    table = tmp_path / "books.csv"
    table.write_text(f'title,width\nTides,"{typed}"\n', encoding="utf-8")
    row = CliRunner().invoke(main, ["batch", str(table), "--format", "jsonl"])
    assert json.loads(row.stdout)["report"]["panel"] == direct["panel"]
