"""Faces of collections, named instances, and axes held against the font."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from spinefit.cli.main import main
from spinefit.errors import FontError
from spinefit.shaping import open_font

BACK = ("--width", "25mm", "--height", "200mm")


def run(*words):
    return CliRunner().invoke(main, ["check", "Tides", *BACK, *words])


def report(*words):
    done = run(*words, "--format", "json")
    assert done.exit_code in (0, 1), done.stderr
    return json.loads(done.stdout)


def test_the_first_face_is_taken_and_said_to_be_assumed(collection):
    found = report("--font", str(collection))
    assert (found["font"]["name"], found["font"]["face"]) == ("Harbour", 1)
    assert any(one.startswith("face: the first of 3") for one in found["assumed"])


@pytest.mark.parametrize("face", ["2", "Harbour Bold", "harbour-bold"])
def test_a_face_is_chosen_by_number_or_name(collection, face):
    found = report("--font", str(collection), "--face", face)
    assert (found["font"]["name"], found["font"]["face"]) == ("Harbour Bold", 2)
    assert not any(one.startswith("face:") for one in found["assumed"])
    font = open_font(str(collection), face)
    box = font.ink(font.shaper.nominal("I"))
    assert box is not None
    assert box[2] - box[0] == pytest.approx(0.12)


@pytest.mark.parametrize("face", ["SemiBold", "harbour flex semi-bold"])
def test_a_named_instance_is_a_place_on_the_axes(collection, face):
    found = report("--font", str(collection), "--face", face)
    assert found["font"]["face"] == 3
    assert found["font"]["axes"] == {"wght": 600}
    assert found["font"]["name"] == "Harbour Flex SemiBold"


@pytest.mark.parametrize("face", ["4", "0", "Italic", "-1", "²"])
def test_a_face_that_is_not_there_is_refused_with_those_that_are(collection, face):
    done = run("--font", str(collection), "--face", face)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1
    assert "--face: no such face" in done.stderr
    assert "2 Harbour Bold, 3 Harbour Flex" in done.stderr


REFUSED = {
    "unknown axis": (
        "wgth=500",
        "no such axis: 'wgth'; did you mean 'wght'? it has wght 100 to 900",
    ),
    "past the end": ("wght=901", "wght of Wrackness Bars runs from 100 to 900: '901'"),
    "under the end": ("wght=-5", "runs from 100 to 900: '-5'"),
    "no number": ("wght=boldest", "no setting of wght: 'boldest'"),
    "nan": ("wght=nan", "not a number"),
    "infinite": ("wght=inf", "not a number"),
    "no setting": ("wght", "no settings of axes"),
    "nothing": ("", "no text given"),
    "twice": ("wght=500,wght=600", "an axis given twice"),
    "long tag": ("weight=500", "tag of four letters"),
    "goal without size": ("wght=lightest", "give --size"),
    "goal of another axis": ("wght=widest", "no setting of wght: 'widest'"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_settings_that_cannot_be_are_refused(make_font, case):
    """HarfBuzz would take any of them in silence."""
    typed, said = REFUSED[case]
    done = run("--font", str(make_font("wght")), "--axes", typed)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1
    assert "--axes" in done.stderr
    if said != "no text given":
        assert said in done.stderr


@pytest.mark.parametrize("axes", ["wght=500", "wght=lightest"])
def test_a_static_font_has_no_axes(make_font, axes):
    done = run("--font", str(make_font()), "--axes", axes, "--size", "12")
    assert (done.exit_code, done.stdout) == (2, "")
    assert "Wrackness Bars is no variable font and has no axes" in done.stderr


def test_two_axes_are_not_sought_at_once(make_font):
    done = run(
        "--font", str(make_font("wght", "wdth")), "--axes", "wght=heaviest,wdth=widest",
        "--size", "12",
    )  # fmt: skip
    assert done.exit_code == 2
    assert "two axes to be found at once: 'wght, wdth'" in done.stderr


def test_axes_of_a_job_file_are_a_text_or_a_table(make_font, tmp_path):
    """Both land in the report, and the command line has the last word."""
    font = make_font("wght", "wdth")
    reports = []
    for number, axes in enumerate(('"wght=650,wdth=80"', "{ wght = 650, wdth = 80 }")):
        path = tmp_path / f"job{number}.toml"
        path.write_text(f'title = "Tides"\nwidth = 25\nfont = "{font}"\naxes = {axes}\n')
        done = CliRunner().invoke(main, ["check", "--job", str(path), "--format", "json"])
        reports.append(json.loads(done.stdout))
        assert reports[-1]["font"]["axes"] == {"wght": 650, "wdth": 80}
        words = ["check", "--job", str(path), "--axes", "none", "--format", "json"]
        plain = json.loads(CliRunner().invoke(main, words).stdout)
        assert plain["font"]["axes"] == {"wght": 400, "wdth": 100}
    assert reports[0]["layouts"] == reports[1]["layouts"]


def test_axes_do_not_share_what_is_kept(make_font):
    """Two places of one file are two fonts: ink, advances and heights."""
    path = str(make_font("wght"))
    fonts = [open_font(path, axes=(("wght", at),)) for at in (100.0, 900.0)]
    stems = []
    for font in fonts:
        box = font.ink(font.shaper.nominal("I"))
        assert box is not None
        stems.append(box[2] - box[0])
    assert stems == pytest.approx([0.02, 0.17])
    assert open_font(path, axes=(("wght", 100.0),)) is fonts[0]


def test_the_bundled_measurements_hold_only_where_they_were_made():
    """A bundled font at another weight is measured anew."""
    name = "IBM Plex Sans Var Condensed"
    assert open_font(name).plain_thinness_em is not None
    assert open_font(name, axes=(("wght", 300.0),)).plain_thinness_em is None


def test_an_axis_goes_with_the_font_it_was_asked_for():
    with pytest.raises(FontError, match="no variable font"):
        open_font("EB Garamond", axes=(("wght", 500.0),))
