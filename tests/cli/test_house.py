"""The file of a house, by every command: where it is found, what it says, how that is told."""

from __future__ import annotations

import csv
import io
import json
import os
import sys
import tempfile
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

import spinefit
from spinefit.cli import house as of_house
from spinefit.cli.main import main

JOBS = Path(__file__).parents[2] / "shared" / "jobs"
CHECK = ("check", "Tide Tables", "--width", "30", "--height", "200", "--format", "json")
SCRIPT = 'title,width,height,market\nTide Tables,9,200,\nLights,9,200,FR\n"Маяк",9,200,\n'


def run(*words: str) -> Result:
    """Run a command line in this process."""
    return CliRunner().invoke(main, list(words))


def told(done: Result) -> list[str]:
    """What of an answer came from a house."""
    assert done.exit_code == 0, done.stderr
    assumed = json.loads(done.stdout)["assumed"]
    return [one.removesuffix(" (house defaults)") for one in assumed if "(house defaults)" in one]


def written(path: Path, text: str) -> str:
    """A house's file with that text, its folders made."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return str(path)


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A user's own folder, and nothing in the variables that say more."""
    monkeypatch.delenv("SPINEFIT_HOUSE")
    monkeypatch.delenv("XDG_CONFIG_HOME", raising=False)
    monkeypatch.setenv("HOME", str(tmp_path))
    return tmp_path


@pytest.mark.skipif(sys.platform != "linux", reason="by the XDG specification")
def test_the_option_goes_before_the_variable_and_that_before_the_folder(home, monkeypatch) -> None:
    """And --no-house before all; without any there is no house."""
    assert told(run(*CHECK)) == []
    written(home / ".config" / "spinefit" / "spinefit.toml", 'market = "FR"')
    assert told(run(*CHECK)) == ["market FR"]
    monkeypatch.setenv("SPINEFIT_HOUSE", written(home / "a.toml", 'market = "DE"'))
    assert told(run(*CHECK)) == ["market DE"]
    named = written(home / "b.toml", 'market = "GB"')
    assert told(run(*CHECK, "--house", named)) == ["market GB"]
    assert told(run(*CHECK, "--no-house")) == []
    monkeypatch.setenv("SPINEFIT_HOUSE", "")
    assert told(run(*CHECK)) == []


def test_the_folder_one_stands_in_is_never_asked(home, monkeypatch) -> None:
    """Nor is it where home is a relative path; nor does a call from Python ask for a house."""
    folder = home / "work"
    for place in (folder, folder / "spinefit", folder / ".config" / "spinefit"):
        written(place / "spinefit.toml", 'market = "FR"')
    monkeypatch.chdir(folder)
    assert told(run(*CHECK)) == []
    monkeypatch.setenv("XDG_CONFIG_HOME", ".config")
    assert told(run(*CHECK)) == []
    monkeypatch.setenv("HOME", ".")
    monkeypatch.delenv("XDG_CONFIG_HOME")
    assert told(run(*CHECK)) == []
    monkeypatch.setenv("SPINEFIT_HOUSE", str(folder / "spinefit.toml"))
    job = spinefit.Job(title="Tides", spine=spinefit.Spine(width_mm=30, height_mm=200))
    assert not any("house" in one for one in spinefit.check(job).assumed)
    row = spinefit.check_row({"title": "Tides", "width": 30, "height": 200})
    assert "descending" not in str(row) or row["reading"] != "ascending"


@pytest.mark.parametrize(
    "said",
    [
        {"HOME": "/home/binder"},
        {"HOME": "/home/binder", "XDG_CONFIG_HOME": "/srv/settings"},
        {"HOME": "/home/binder", "XDG_CONFIG_HOME": ""},
        {"HOME": "/home/binder/", "XDG_CONFIG_HOME": "/srv/settings/"},
        {"HOME": "relative", "XDG_CONFIG_HOME": "/srv/settings"},
        {"HOME": ""},
        {},
    ],
)
def test_the_folder_is_that_of_platformdirs(monkeypatch, said: dict[str, str]) -> None:
    """Whatever the variables say, or leave open."""
    from platformdirs import user_config_path

    for name in ("HOME", "XDG_CONFIG_HOME"):
        monkeypatch.delenv(name, raising=False)
    for name, value in said.items():
        monkeypatch.setenv(name, value)
    assert Path(of_house._usual_file()) == (
        user_config_path("spinefit", appauthor=False) / "spinefit.toml"
    )


@pytest.mark.parametrize(
    ("words", "variable", "line"),
    [
        (("--house", "{}/none.toml"), "", "spinefit: --house: no such house file: '{}/none.toml'"),
        (("--house", "{}"), "", "spinefit: --house: a folder, not a house file: '{}'"),
        ((), "{}/none.toml", "spinefit: SPINEFIT_HOUSE: no such house file: '{}/none.toml'"),
        ((), "house.toml", "spinefit: SPINEFIT_HOUSE: another file in each folder: 'house.toml'"),
        (("--house", "a.toml", "--no-house"), "", "spinefit: --house: a house both named and"),
        (("--house", "{}/bad.toml"), "", "spinefit: {}/bad.toml: no field of a house: 'markt'; di"),
    ],
)
@pytest.mark.parametrize("command", ["check", "batch", "sheet", "worksheet", "recess"])
def test_a_house_that_cannot_be_is_one_line(
    monkeypatch, command: str, words, variable: str, line: str
) -> None:
    """And exit code 2, for every command that takes a job, before anything is read or written."""
    tmp_path = Path(tempfile.mkdtemp(prefix="house"))  # so short that it is shown whole
    written(tmp_path / "bad.toml", 'markt = "GB"')
    monkeypatch.setenv("SPINEFIT_HOUSE", variable.format(tmp_path))
    needed = ("--output", str(tmp_path / "a.pdf")) if command == "recess" else ()
    done = run(command, "Tides", *needed, *(word.format(tmp_path) for word in words))
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.startswith(line.format(tmp_path)) and done.stderr.count("\n") == 1


def test_what_was_said_of_a_book_goes_before_its_house(tmp_path: Path) -> None:
    """An option, or a job file; the rest is told in text, JSON and checklist."""
    house = written(tmp_path / "house.toml", 'market = "DE"\nfont = "Cinzel"\nclearance = 1')
    assert told(run(*CHECK, "--house", house, "--market", "FR")) == [
        "font Cinzel",
        "clearance 1 mm",
    ]
    job = written(tmp_path / "job.toml", 'title = "Tides"\nwidth = 30\nfont = "EB Garamond"')
    words = ("check", "--job", job, "--house", house)
    assert told(run(*words, "--format", "json")) == ["market DE", "clearance 1 mm"]
    assert "House       market DE; clearance 1 mm\n" in run(*words).stdout
    assert "market DE; clearance 1 mm (house defaults)" in " ".join(
        run(*words, "--why").stdout.split()
    )
    ticks = run(*words, "--format", "checklist").stdout
    assert "- [ ] Confirm: market DE; clearance 1 mm (house defaults)\n" in ticks


@pytest.mark.parametrize(
    ("said", "size"),
    [
        ('clearance = "6mm"', ("--panel", "10x30mm")),
        ('edge = "3mm"', ("--width", "5", "--height", "200")),
        ('head = "30mm"\nfoot = "30mm"', ("--width", "15", "--height", "50")),
        ('band-clearance = "20mm"', ("--width", "25", "--height", "200", "--bands", "5")),
    ],
)
def test_what_a_house_keeps_free_is_a_default_and_no_fault(tmp_path: Path, said, size) -> None:
    """Where it leaves nothing a title does not fit, as by our own; typed it would be refused."""
    file = written(tmp_path / "house.toml", said)
    done = run("check", "Tides", *size, "--house", file)
    assert (done.exit_code, done.stderr) == (1, "")
    assert done.stdout.startswith("It does not fit: nothing is left for lettering on ")
    typed = [word for line in said.splitlines() for word in f"--{line}".split(" = ")]
    assert run("check", "Tides", *size, *(word.strip('"') for word in typed)).exit_code == 2


@pytest.mark.parametrize("name", ["commissioners-set", "northern-roads-folio", "harbour-annals"])
def test_sets_and_backs_with_several_texts_have_a_house_too(tmp_path: Path, name: str) -> None:
    """Of each volume and each text, told once."""
    job = ("check", "--job", str(JOBS / f"{name}.toml"), "--format", "json")
    house = written(tmp_path / "house.toml", 'reading-distance = "70cm"')
    assert told(run(*job, "--house", house)) == ["reading-distance 70cm"]
    assert told(run(*job)) == []


def test_a_font_that_lacks_a_letter_is_named_with_the_file(tmp_path: Path) -> None:
    """Of a title, of a text among several, of a volume."""
    house = written(tmp_path / "house.toml", 'font = "Cinzel"')
    one = run("check", "Маяк", "--width", "30", "--house", house)
    assert one.stderr.startswith(f"spinefit: {house}: font: Cinzel has no М (U+041C")
    back = "width = 30\nheight = 200\n"
    author = '[[text]]\nrole = "author"\ntext = "E. Quillfeather"\n[[text]]\nrole = "title"\n'
    for table in (f'{author}text = "Маяк"', '[[volume]]\ntitle="Tides"\n[[volume]]\ntitle="Маяк"'):
        job = written(tmp_path / "job.toml", f"{back}{table}\n")
        done = run("check", "--job", job, "--house", house)
        assert done.exit_code == 2
        assert "text 2: font: Cinzel has no" in done.stderr or "volume 2: font" in done.stderr
        assert done.stderr.endswith(f"; the font is that of {house}\n")
    label = 'panel = "30x40mm"\n[[text]]\nrole = "author"\ntext = "E. Quillfeather"\n'
    own = '[[text]]\nrole = "title"\ntext = "Маяк"\n'
    job = written(tmp_path / "job.toml", f"{label}{own}")
    assert f"is that of {house}\n" in run("check", "--job", job, "--house", house).stderr
    job = written(tmp_path / "job.toml", f'{label}{own}font = "Cinzel"\n')
    assert house not in run("check", "--job", job, "--house", house).stderr


def test_the_rows_of_a_batch_have_it_and_their_faults_no_folder(tmp_path: Path) -> None:
    """A row goes before its house, an option too; results are handed on, so they name no folder."""
    house = written(tmp_path / "house.toml", 'market = "FR"\nfont = "Cinzel"')
    table = written(tmp_path / "books.csv", SCRIPT)
    words = ("batch", table, "--house", house, "--format", "csv", "--jobs", "1")
    done = run(*words)
    rows = list(csv.DictReader(io.StringIO(done.stdout)))
    assert [row["reading"] for row in rows] == ["ascending", "ascending", ""]
    assert rows[2]["error"].startswith("house.toml: font: Cinzel has no")
    assert str(tmp_path) not in done.stdout
    first = "spinefit: house defaults, where nothing else was said: market FR; font Cinzel\n"
    assert done.stderr.startswith(first)
    again = run(*words, "--market", "GB")
    assert again.stderr.startswith(first.replace("market FR; ", ""))
    typed = list(csv.DictReader(io.StringIO(again.stdout)))
    assert [row["reading"] for row in typed] == ["descending", "ascending", ""]


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('market = "XX"', "market: no ISO 3166 country code: 'XX'"),
        ('font = "No Such Letter"', "font: no font of that name"),
        ('tools = "none.toml"', "tools: no such tools file"),
    ],
)
def test_a_batch_refuses_at_once_what_no_row_could_have(
    tmp_path: Path, text: str, line: str
) -> None:
    """Before the first row, with the file and the key."""
    house = written(tmp_path / "house.toml", text)
    table = written(tmp_path / "books.csv", SCRIPT)
    done = run("batch", table, "--house", house, "--format", "csv", "--jobs", "1")
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.startswith(f"spinefit: {house}: {line}")


def test_a_batch_is_not_gone_on_with_by_another_house(tmp_path: Path) -> None:
    """What was left of an interrupted run was made by what the house said then."""
    house = written(tmp_path / "house.toml", 'market = "FR"')
    table = written(tmp_path / "books.csv", SCRIPT)
    found = tmp_path / "found.csv"
    from spinefit import __version__
    from spinefit.batch.model import Settings
    from spinefit.batch.progress import fresh_mark
    from spinefit.job.read import read_house

    own = read_house(house)._replace(file="house.toml")
    kept = Settings(form="csv", house=own)
    marks = [fresh_mark(one, __version__).asked for one in (kept, kept._replace(house=own))]
    assert marks[0] == marks[1]
    other = own._replace(values={"market": "GB"})
    assert fresh_mark(kept._replace(house=other), __version__).asked != marks[0]
    Path(f"{found}.partial").write_text("")
    Path(f"{found}.partial.json").write_text(fresh_mark(kept, __version__).as_json())
    words = ("batch", table, "--output", str(found), "--resume", "--jobs", "1")
    refused = run(*words, "--no-house")
    assert refused.exit_code == 2
    assert "made with other options" in refused.stderr


def test_a_sheet_has_the_paper_of_the_house(tmp_path: Path) -> None:
    """Where neither option nor job file says another; a printed label where the house has none."""
    house = written(tmp_path / "house.toml", 'method = "blocked-case"\n[sheet]\npaper = "A3"\n')
    words = ("sheet", "Tides", "--panel", "30x24mm", "--house", house, "--force")
    output = ("--output", str(tmp_path / "a.pdf"))
    done = run(*words, *output)
    assert (done.exit_code, "on 1 sheet of A3" in " ".join(done.stdout.split())) == (0, True)
    assert "many inks run under paste" in done.stdout  # as of a printed paper label
    assert "sheet of A5" in " ".join(run(*words, *output, "--paper", "A5").stdout.split())
    job = written(tmp_path / "job.toml", 'title = "Tides"\npanel = "30x24mm"\n[sheet]\npaper="A2"')
    of_job = run("sheet", "--job", job, "--house", house, "--force", *output).stdout
    assert "sheet of A2" in " ".join(of_job.split())


def test_a_sheet_of_a_table_has_it_too(tmp_path: Path) -> None:
    """Each title; a fault names its row and the house's file."""
    house = written(tmp_path / "house.toml", 'font = "Cinzel"')
    table = written(tmp_path / "titles.csv", "title,panel\nTides,30x24mm\nМаяк,30x24mm\n")
    done = run(
        "sheet", "--titles", table, "--house", house, "--output", str(tmp_path / "a.pdf")
    )  # fmt: skip
    assert done.exit_code == 2
    assert f"{table}:3: {house}: font: Cinzel has no" in done.stderr


@pytest.mark.parametrize(
    ("method", "key"),
    [
        ("paper-label", "hand-letters"),
        ("type-holder", "type-holder"),
        ("blocked-case", "hand-letters"),
    ],
)
def test_a_worksheet_is_of_hand_letters_unless_the_house_has_others(
    tmp_path: Path, method: str, key: str
) -> None:
    """A house that prints its labels strikes its letters as anyone does."""
    house = written(tmp_path / "house.toml", f'method = "{method}"')
    words = ("worksheet", "Tides", "--width", "30", "--height", "200", "--house", house)
    assert json.loads(run(*words, "--format", "json").stdout)["method"] == key
    line = f"spinefit: house defaults, where nothing else was said: method {method}\n"
    assert run(*words).stderr == (line if key != "hand-letters" else "")  # what held, and no more


def test_a_recess_is_of_a_label_whatever_the_house_makes(tmp_path: Path) -> None:
    """With the card that the house has."""
    house = written(tmp_path / "house.toml", 'method = "blocked-case"\ncard-thickness = "0.5mm"\n')
    words = ("recess", "Tides", "--front-board", "138x214mm", "--house", house)
    done = run(*words, "--output", str(tmp_path / "a.pdf"))
    assert (done.exit_code, "card 0.5" in done.stdout) == (0, True)


def test_the_help_says_where_the_file_is_looked_for(home) -> None:
    """On this machine, and by which variable."""
    said = " ".join(run("check", "--help").stdout.split())
    assert "SPINEFIT_HOUSE" in said
    assert os.path.join("spinefit", "spinefit.toml") in said.replace(" ", "")
