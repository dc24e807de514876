"""The answer as a master finisher reads it: the gravest thing first, and all of it on a screen."""

from __future__ import annotations

import json
import shlex
from functools import cache
from itertools import product
from pathlib import Path

import pytest
from click.testing import CliRunner

from spinefit import Job, Lettering, Spine, check, remedies
from spinefit.catalogue import method, methods
from spinefit.cli.main import main
from spinefit.say.model import Report
from spinefit.say.phrasing import findings_by_weight, limit_pt, pt, shown
from spinefit.vocabulary import Level, Verdict

TITLES = ("Tides", "The Harbour Light", "Annals of the Harbour Commissioners / Vol. 1")
WIDTHS_MM = (4.0, 7.0, 12.0, 18.0, 24.0, 32.0, 45.0)
JOBS = sorted(product(methods(), TITLES, WIDTHS_MM))
ORDINARY = {
    "pamphlet": "'The Harbour Light' --width 9mm --height 210mm --market GB",
    "pamphlet too thin": "'Knots and Splices' --width 4mm --height 180mm",
    "paperback": "'Der alte Leuchtturm' --width 14mm --height 190mm --market DE",
    "cloth case": "'Tide Tables of Wrackness' --width 28mm --height 222mm --method blocked-case",
    "five bands": "'The Tide Tables' --width 38mm --height 297mm --bands 5 --market GB",
    "leather label": "'Harbour Dues' --width 32mm --height 222mm --method leather-label",
    "round": "'Tide Tables' --width 30mm --height 222mm --back rounded --arc 36mm",
    "vinyl": "'The Harbour Light' --width 12mm --height 210mm --method transfer-vinyl",
    "over old ink": "'The Harbour Light' --old-lettering 20x30@60 --width 32mm --height 230mm "
    "--method hand-letters --bands 5",
    "three warnings": "'Letters from a Lightkeeper' --width 32mm --height 230mm "
    "--method leather-label",
    "label over a round": "'Letters from a Lightkeeper' --width 32mm --height 230mm --rise 6mm "
    "--method leather-label",
    "open height": "'The Harbour Light' --width 18mm --market FR",
}


def said(words: str) -> str:
    done = CliRunner().invoke(main, ["check", *shlex.split(words)])
    assert done.exit_code in (0, 1), done.stderr
    return done.stdout


@cache
def report_of(key: str, title: str, width_mm: float) -> Report:
    return check(Job(title=title, spine=Spine(width_mm=width_mm, height_mm=210.0), method=key))


def failures(report: Report) -> list[str]:
    found = findings_by_weight(report, shown(report))
    return [one.topic for one in found if one.level is Level.FAILURE]


@pytest.mark.parametrize("key", sorted(methods()))
def test_no_headline_is_contradicted_below_it(key: str) -> None:
    """Verdict, size and limit of the sentence are those of the setting and of its findings.

    Over every method, thin and thick backs, short and long titles: what fits has no failure but
    that of the eye, which the sentence then names; what does not fit has one, and the sentence
    has its figures.
    """
    for title, width_mm in product(TITLES, WIDTHS_MM):
        report = report_of(key, title, width_mm)
        layout, topics = shown(report), failures(report)
        told = (title, width_mm, report.answer, topics)
        assert report.answer.count(". ") == 0 and report.answer.endswith("."), told
        if report.fits:
            assert report.verdict is not Verdict.DOES_NOT_FIT, told
            assert layout.fits and f"{pt(layout.set_pt)} is advised" in report.answer, told
            assert ("tightly" in report.answer) is layout.tight, told
            assert set(topics) <= {"legibility"}, told
            assert ("too small to be read" in report.answer) is bool(topics), told
        elif layout.largest_pt > 0:
            assert f"takes {limit_pt(layout.largest_pt)} at most" in report.answer, told
            assert set(topics) - {"legibility"}, told
            of_letters = {"thin-stroke", "small-counter"} & set(topics)
            assert bool(of_letters) is (" in " + report.font.name in report.answer), told
        else:
            assert "nothing is left" in report.answer and topics, told


def test_the_gravest_comes_first() -> None:
    """Letters that vinyl cannot hold come before the height of its capitals.

    On a back of 12 mm neither a serif letter's strokes (0.8 mm at least, practice) nor capitals of
    6 mm (practice) can be had. A wider book would mend the second alone, so the first is named: a
    binder who went after 14 mm would learn it there. All stands below; and of what could be done,
    bold sans capitals come before another place on the book.
    """
    lettering = Lettering(font="EB Garamond")
    spine = Spine(width_mm=12.0, height_mm=210.0)
    job = Job(title="The Harbour Light", spine=spine, method="transfer-vinyl", lettering=lettering)
    report = check(job)
    assert report.answer.startswith("It does not fit: a cut vinyl transfer needs ")
    assert "to hold the thin strokes of " in report.answer.split(", and ")[0]
    assert failures(report)[:3] == ["thin-stroke", "small-counter", "below-method"]
    first = remedies(report)[0]
    assert (first.change, "Bold" in first.text) == ("font+case", True)
    words = ["check", "The Harbour Light", "--width", "12", "--height", "210"]
    words += ["--method", "transfer-vinyl", "--format", "json", *shlex.split(first.options)]
    done = CliRunner().invoke(main, words)
    assert done.exit_code == 0
    again = json.loads(done.stdout)
    layout = again["layouts"][again["recommended"]]
    assert layout["largest_pt"] == first.largest_pt
    assert f"{pt(layout['set_pt'])} (up to {limit_pt(layout['largest_pt'])})" in first.text


def test_a_size_that_no_other_would_mend_is_answered_with_that() -> None:
    """Whoever asks for 30 pt is not sent to 40 pt first, where no size holds."""
    spine = Spine(width_mm=20.0, height_mm=210.0)
    for size_pt in (12.0, 30.0, 60.0):
        lettering = Lettering(font="EB Garamond", size_pt=size_pt)
        job = Job(title="Tides", spine=spine, method="transfer-vinyl", lettering=lettering)
        answer = check(job).answer
        assert answer.startswith(f"It does not fit at {pt(size_pt)} or any size: "), answer


@pytest.mark.parametrize("words", ORDINARY.values(), ids=ORDINARY)
def test_an_ordinary_book_fits_a_screen(words: str) -> None:
    """Thirty lines of eighty columns, the sentence first, with all that is grave on them.

    What a binder has to act upon stands there: size, place or needed length, every warning and
    failure, what can hurt; nothing said in words that no binder uses.
    """
    text = said(words)
    lines = text.splitlines()
    assert len(lines) <= 30 and max(map(len, lines)) <= 80
    found = json.loads(said(f"{words} --format json"))
    flat = " ".join(text.split())
    assert flat.startswith(found["answer"])
    layouts, at = found["layouts"], found["recommended"]
    own = [] if at is None else layouts[at]["findings"]
    grave = [
        one["text"] for one in found["findings"] + own if one["level"] in ("warning", "failure")
    ]
    assert [one for one in grave if one not in flat] == []
    assert found["method"]["caution"] in flat
    for word in ("clearance", " em ", "pillar", "U+", "minutes of arc", "thousandths", "arcmin"):
        assert word not in text
    why = " ".join(said(f"{words} --why").split())
    assert len(why) > len(flat) and "Assumed, as it was not stated" in why


def test_notes_without_room_are_counted_and_wait_for_why() -> None:
    """Only notes give way to the screen, the last of them first; what is left out is counted."""
    words = f"{ORDINARY['label over a round']} --lines 4"
    short, long = said(words), said(f"{words} --why")
    assert "note        A label 0.4 mm thick" in short and "Small words" not in short
    assert "--why adds 1 note, reasons" in short
    assert "Small words stand alone" in long and "stretched by" in long


def test_a_set_is_short_in_the_same_way(tmp_path: Path) -> None:
    """Three volumes: one row each, what is grave of them, the same end as a title alone has."""
    volumes = "".join(
        f'[[volume]]\nlabel = "Vol. {n}"\ntitle = "Tide Tables / Vol. {n}"\nwidth = "{wide}mm"\n'
        for n, wide in enumerate((28, 30, 32), 1)
    )
    file = tmp_path / "set.toml"
    file.write_text(f'height = "222mm"\nmarket = "GB"\n{volumes}', encoding="utf-8")
    text = said(f"--job '{file}'")
    assert len(text.splitlines()) <= 20
    assert all(part in text for part in ("Vol. 1-3", "Take care", "Assumed", "--why"))
    assert "by itself" not in text and "by itself" in said(f"--job '{file}' --why")


@pytest.mark.parametrize("key", ["hand-letters", "transfer-vinyl", "paper-label", "screen-print"])
def test_cautions_stand_in_every_output_somebody_works_from(tmp_path: Path, key: str) -> None:
    """Hot tools, knives, presses, solvents: on the screen, in files for people and for programs."""
    line = method(key).caution
    book = f"Tides --width 40mm --height 222mm --method {key}"
    files = [tmp_path / f"back{ending}" for ending in (".svg", ".html")]
    drawings = " ".join(f"--drawing '{file}'" for file in files)
    outputs = {
        "text": said(f"{book} {drawings}"),
        "why": said(f"{book} --why"),
        **{form: said(f"{book} --format {form}") for form in ("json", "checklist", "junit")},
    }
    table = tmp_path / "books.csv"
    table.write_text(f"title,width,height,method\nTides,40,222,{key}\nTide,40,222,{key}\n")
    done = CliRunner().invoke(main, ["batch", str(table), "--format", "text", "--jobs", "1"])
    outputs["batch"] = done.stdout
    for name, text in outputs.items():
        assert line in " ".join(text.split()), name
    assert " ".join(outputs["batch"].split()).count(line) == 1
    assert json.loads(outputs["json"])["cautions"][0] == line
    svg, html = (file.read_text(encoding="utf-8") for file in files)
    assert line in html
    words = [part.split(">")[-1] for part in svg.split("</text>")]
    assert line in " ".join(words)
