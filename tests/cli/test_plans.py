"""Several texts, sets and patterns on the command line."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from spinefit.cli.main import main

JOBS = Path(__file__).parents[2] / "shared" / "jobs"
PLANS = ("northern-roads-folio", "pilots-almanack", "commissioners-set")
NEXT = ("check", "Annals of the Harbour Commissioners / Vol. 3", "--width", "30", "--height", "230")


def run(*words: str) -> Result:
    """Run a command line in this process."""
    return CliRunner().invoke(main, list(words))


def written(folder: Path, text: str) -> str:
    path = folder / "job.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


@pytest.mark.parametrize("name", PLANS)
def test_the_example_plans_fit_in_every_format(name: str) -> None:
    """And say the same in each."""
    file = str(JOBS / f"{name}.toml")
    text, as_json, checklist = (
        run("check", "--job", file, "--format", form) for form in ("text", "json", "checklist")
    )
    assert {one.exit_code for one in (text, as_json, checklist)} == {0}
    report = json.loads(as_json.stdout)
    assert " ".join(text.stdout.split()).startswith(report["answer"])
    own = report.get("texts") or report.get("volumes")
    assert {one["report"]["schema"] for one in own} == {"spinefit.report/1"}
    assert checklist.stdout.count("## Spine lettering: ") == len(own)
    assert all(len(line) <= 80 for line in text.stdout.splitlines())


def test_the_schemas() -> None:
    folio, _, commissioners = (
        json.loads(run("check", "--job", str(JOBS / f"{name}.toml"), "--format", "json").stdout)
        for name in PLANS
    )
    assert folio["schema"] == "spinefit.back/1"
    assert [one["role"] for one in folio["texts"]] == ["title", "author", "volume", "date"]
    assert folio["texts"][0]["zone"]["begins_from_head_mm"] > 0
    assert commissioners["schema"] == "spinefit.set/1"
    assert commissioners["pattern"]["schema"] == "spinefit.pattern/1"
    assert commissioners["limiting"] == "Vol. 1"


def test_options_have_the_last_word() -> None:
    file = str(JOBS / "commissioners-set.toml")
    report = json.loads(run("check", "--job", file, "--width", "20", "--format", "json").stdout)
    assert {one["report"]["panel"]["width_mm"] for one in report["volumes"]} == {16.0}


def test_a_pattern_is_saved_and_matched(tmp_path: Path) -> None:
    """The next volume matches; another font does not."""
    file = tmp_path / "set.toml"
    saved = run("check", "--job", str(JOBS / "commissioners-set.toml"), "--save-pattern", str(file))
    assert (saved.exit_code, saved.stderr) == (0, "")
    assert [one.name for one in tmp_path.iterdir()] == ["set.toml"]
    good = run(*NEXT, "--match", str(file))
    assert good.exit_code == 0
    assert good.stdout.startswith("It matches the pattern: it fits")
    bad = run(*NEXT, "--match", str(file), "--font", "EB Garamond Bold", "--format", "json")
    assert bad.exit_code == 1
    report = json.loads(bad.stdout)
    assert report["recommended"] is None
    assert report["findings"][0]["topic"] == "pattern-font"


def test_a_pattern_of_one_job_is_saved(tmp_path: Path) -> None:
    file = tmp_path / "one.toml"
    assert run(*NEXT, "--save-pattern", str(file)).exit_code == 0
    assert run(*NEXT, "--match", str(file)).exit_code == 0


def test_a_pattern_is_not_replaced_unless_asked(tmp_path: Path) -> None:
    file = tmp_path / "one.toml"
    file.write_text("mine", encoding="utf-8")
    refused = run(*NEXT, "--save-pattern", str(file))
    assert (refused.exit_code, refused.stdout) == (2, "")
    assert "--force" in refused.stderr
    assert file.read_text(encoding="utf-8") == "mine"
    assert run(*NEXT, "--save-pattern", str(file), "--force").exit_code == 0
    assert "spinefit.pattern/1" in file.read_text(encoding="utf-8")


def test_what_does_not_fit_is_not_saved(tmp_path: Path) -> None:
    file = tmp_path / "one.toml"
    result = run(*NEXT, "--size", "200", "--save-pattern", str(file))
    assert result.exit_code == 1
    assert "no pattern saved" in result.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_pattern_that_cannot_be_written_leaves_nothing(tmp_path: Path) -> None:
    result = run(*NEXT, "--save-pattern", str(tmp_path / "none" / "one.toml"))
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.count("\n") == 1
    folder = run(*NEXT, "--save-pattern", str(tmp_path), "--force")
    assert folder.exit_code == 2
    assert list(tmp_path.iterdir()) == []


TWO = '[[text]]\nrole = "title"\ntext = "Tides"\n[[text]]\nrole = "author"\ntext = "M. Tregear"\n'
PAIR = '[[volume]]\ntitle = "Tides / 1"\n[[volume]]\ntitle = "Tides / 2"\n'
BACK = "width = 20\nheight = 200\n"
BACKS = "".join(
    f'[[volume]]\nlabel = "{n}"\n[[volume.text]]\nrole = "title"\ntext = "Tides, {n}"\n'
    for n in (1, 2)
)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (BACK + TWO + "colour = 1\n", "job.toml: text 2: no such key of a text: 'colour'"),
        (BACK + TWO + "panel = 2\n", "job.toml: text 2: panel: a back without bands"),
        (BACK + TWO + 'size = "big"\n', "job.toml: text 2: size"),
        (BACK + TWO + "weight = 0\n", "job.toml: text 2: weight"),
        (BACK + TWO + '[[text]]\nrole = "editor"\n', "job.toml: text 3: no text given"),
        (BACK + TWO + '[[text]]\nrole = "editor"\ntext = "x"\n', "job.toml: text 3: role"),
        (BACK + 'title = "Tides"\n' + TWO, "job.toml: title: a title beside several texts"),
        ("width = 20\n" + TWO, "height of the back"),
        ('panel = "20x30mm"\n' + TWO + "panel = 2\n", "'panel' belongs to the texts of a back"),
        ("width = -1\nheight = 200\n" + TWO, "job.toml: width"),
        (BACK + 'order = "mine"\n' + TWO, "job.toml: order"),
        (BACK + 'order = "custom"\n' + PAIR, "job.toml: no field of that name: 'order'"),
        (BACK + TWO + PAIR, "job.toml: volume 1: title: a title beside several texts"),
        (BACK + BACKS + "[[volume.text]]\nrole = 'date'\n", "job.toml: volume 2: text 2: no text"),
        (
            BACK + BACKS + "[[volume]]\nwidht = 3\n[[volume.text]]\nrole = 'title'\ntext = 'x'\n",
            "job.toml: volume 3: widht",
        ),
        (BACK + BACKS + "text = 3\n", "not a job file"),
        (BACK + "[[volume]]\ntext = 3\n" + BACKS, "job.toml: volume 1: tables are meant"),
        (BACK + BACKS + "[[volume]]\n", "job.toml: volume 3: no text given"),
        (BACK + PAIR + 'width = "wide"\n', "job.toml: volume 2: width"),
        (BACK + PAIR + "widht = 3\n", "job.toml: volume 2: widht"),
        (BACK + PAIR + "rise = 500\n", "job.toml: volume 2"),
        (BACK + PAIR + "size = 9\n", "job.toml: volume 2: size: volumes of a set share"),
        (BACK + "[[volume]]\nwidth = 20\n", "job.toml: volume 1: no title given"),
        (BACK + '[[volume]]\ntitle = "Tides"\n', "job.toml: a set of fewer than two"),
        (BACK + '[text]\nrole = "title"\n', "job.toml: one table where several are meant"),
        (BACK + 'title = "Tides"\ntext = "x"\n', "job.toml: tables are meant"),
    ],
)
def test_a_fault_in_a_plan_names_file_and_table(tmp_path: Path, text: str, said: str) -> None:
    """One line on standard error, nothing on standard output, exit code 2."""
    file = written(tmp_path, text)
    result = run("check", "--job", file)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.count("\n") == 1
    assert said.replace("job.toml", file) in result.stderr


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("Tides", "--job", str(JOBS / "pilots-almanack.toml")), "TITLE"),
        (("--job", str(JOBS / "commissioners-set.toml"), "--match", "x"), "no such pattern"),
        (("--job", str(JOBS / "harbour-annals.toml"), "--match", "x"), "no such pattern"),
        (("Tides", "--width", "20", "--force"), "--force"),
        (("Tides", "--width", "20", "--save-pattern", "x", "--match", "y"), "--save-pattern"),
        (("Tides", "--width", "20", "--match", "none.toml"), "no such pattern"),
    ],
)
def test_options_that_do_not_go_together(words: tuple[str, ...], said: str) -> None:
    result = run("check", *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert said in result.stderr


def test_a_back_without_room_ends_with_one(tmp_path: Path) -> None:
    tight = TWO + "size = 60\n"
    result = run("check", "--job", written(tmp_path, BACK + tight))
    assert result.exit_code == 1
    assert "the author finds no room" in " ".join(result.stdout.split())
    assert "What would make it fit" in result.stdout


def test_a_set_of_several_texts_is_answered_alike_in_every_format() -> None:
    """Texts above the volumes are every volume's; its own stand beside them."""
    file = str(JOBS / "harbour-annals.toml")
    text, as_json, checklist, junit = (
        run("check", "--job", file, "--format", form)
        for form in ("text", "json", "checklist", "junit")
    )
    assert {one.exit_code for one in (text, as_json, checklist, junit)} == {0}
    report = json.loads(as_json.stdout)
    assert report["schema"] == "spinefit.backs/1"
    assert " ".join(text.stdout.split()).startswith(report["answer"])
    assert [one["label"] for one in report["volumes"]] == ["Vol. 1", "Vol. 2", "Vol. 3"]
    for volume in report["volumes"]:
        assert [one["role"] for one in volume["texts"]] == ["author", "title", "volume", "date"]
        assert volume["texts"][0]["text"] == "M. Tregear"
        assert volume["texts"][2]["text"] == volume["label"]
    assert report["limiting"] == {"volume": None, "role": "author"}
    assert checklist.stdout.count("## Spine lettering: ") == 12
    assert junit.stdout.count(f'<testsuite name="{file}: Vol. ') == 12
    assert all(len(line) <= 80 for line in text.stdout.splitlines())


def test_a_whole_set_is_matched(tmp_path: Path) -> None:
    file, job = str(tmp_path / "set.toml"), str(JOBS / "commissioners-set.toml")
    assert run("check", "--job", job, "--save-pattern", file).exit_code == 0
    good = run("check", "--job", job, "--match", file)
    assert good.exit_code == 0
    assert good.stdout.startswith("Vol. 1 and Vol. 2 match the pattern")
    bad = run("check", "--job", job, "--match", file, "--width", "14", "--format", "json")
    assert bad.exit_code == 1
    report = json.loads(bad.stdout)
    assert [one["fits"] for one in report["volumes"]] == [False, False]


def grave_of(found: object) -> Iterator[str]:
    """Every warning and failure of a report and of the settings that are shown of its texts."""
    if isinstance(found, list):
        for one in found:
            yield from grave_of(one)
    if not isinstance(found, dict):
        return
    if found.get("level") in ("warning", "failure"):
        yield found["text"]
    for key, value in found.items():
        yield from grave_of(shown_of(found) if key == "layouts" else value)


def shown_of(report: dict[str, Any]) -> Any:
    """The setting that is advised, or the largest."""
    if report["recommended"] is not None:
        return report["layouts"][report["recommended"]]
    return max(report["layouts"], key=lambda one: one["largest_pt"])


@pytest.mark.parametrize("width", ["4", "8", "12"])
def test_every_warning_of_the_json_stands_in_the_text(tmp_path: Path, width: str) -> None:
    """Of the texts and volumes, and of what could be done instead."""
    volumes = [
        f'[[volume]]\nlabel = "Vol. {n}"\ntitle = "Tide Tables / Vol. {n}"\nwidth = "{wide}mm"\n'
        for n, wide in enumerate((width, "30", "32"), 1)
    ]
    file = written(tmp_path, "\n".join(['height = "120mm"\nmarket = "GB"', *volumes]))
    text = " ".join(run("check", "--job", file).stdout.split())
    report = json.loads(run("check", "--job", file, "--format", "json").stdout)
    grave = set(grave_of(report))
    assert bool(grave) is (width != "12")
    assert [one for one in grave if one not in text] == []


def test_a_volume_that_fits_nowhere_is_advised_no_size_by_itself(tmp_path: Path) -> None:
    """It is said what it takes at most."""
    volumes = "".join(
        f'[[volume]]\nlabel = "{n}"\ntitle = "Annals of Wrackness, {n}"\nwidth = "{w}mm"\n'
        for n, w in (("I", 24), ("II", 3))
    )
    file = written(tmp_path, f'height = 210\nmarket = "GB"\n{volumes}')
    result = run("check", "--job", file, "--why")
    assert result.exit_code == 1
    said = " ".join(result.stdout.split())
    assert said.count("would be advised") == 1
    assert "by itself it takes" in said
