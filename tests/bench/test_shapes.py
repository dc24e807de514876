"""In which shape do the lines stand, and does "The" stand alone?

Half-diamond, lozenge and squared are De Vinne's (1901, published), long and short MacKellar's
(recalled); the check values are common practice with no source. That small words join a
neighbour is Pleger's (1914, published), against Adam (1903); where they cannot is our choice.
"""

from __future__ import annotations

import json
import re

import pytest
from click.testing import CliRunner

from spinefit import Job, Lettering, Panel, Spine, SpinefitError, check, shapes
from spinefit.cli.main import main
from spinefit.say.model import LayoutReport, Report
from spinefit.say.terminal import render
from spinefit.vocabulary import GroupShape, Orientation, SmallWords


def ask(*words: str) -> tuple[int, str]:
    """Exit code and answer, errors included, of one question at the command line."""
    result = CliRunner().invoke(main, words)
    return result.exit_code, result.output


def advised(report: Report) -> LayoutReport:
    assert report.recommended is not None
    return report.layouts[report.recommended]


def on_label(title: str, **lettering) -> Report:
    """The report of a title on a label of 20 x 30 mm."""
    return check(
        Job(title=title, panel=Panel(width_mm=20, height_mm=30), lettering=Lettering(**lettering))
    )


def test_a_short_first_and_last_word_make_a_diamond():
    """Check value, common practice: The / Lighthouse / Log; a diamond is De Vinne's lozenge."""
    code, text = ask("check", "The Lighthouse Log", "--panel", "20x30mm", "--shape", "diamond")
    assert code == 0
    assert re.search(r"The +│\n.*Lighthouse +│\n.*Log +│", text)
    found = {one.shape: one for one in shapes(on_label("The Lighthouse Log"))}
    assert found["lozenge"].lines == ("The", "Lighthouse", "Log")


@pytest.mark.parametrize("title", ["Winds and Waves", "Ropes & Knots", "Harbour of Shadows"])
def test_two_equal_halves_joined_by_a_small_word_make_a_rectangle(title):
    """Check value, common practice: the small word between them is passed over by the eye."""
    code, text = ask(
        "check", title, "--panel", "20x30mm", "--shape", "rectangle", "--format", "json"
    )
    assert code == 0
    report = json.loads(text)
    one = report["layouts"][report["recommended"]]
    assert (one["shape"], one["lines"]) == ("squared", title.split())


def test_check_lists_the_best_of_each_shape_to_choose_by_eye():
    """What is listed is what is advised once that shape is asked for, in text and in JSON."""
    words = ("The Keeper of the Northern Light", "--panel", "26x40mm", "--method", "paper-label")
    listed = json.loads(ask("check", *words, "--format", "json")[1])["shapes"]
    assert [one["shape"] for one in listed] == [
        "half-diamond",
        "lozenge",
        "squared",
        "long and short",
    ]
    code, why = ask("check", *words, "--why")
    assert code == 0 and "Shapes of the lines, the largest of each" in why
    for one in listed:
        shape = one["shape"].replace(" ", "-")
        again = json.loads(ask("check", *words, "--shape", shape, "--format", "json")[1])
        chosen = again["layouts"][again["recommended"]]
        assert {each["shape"] for each in again["layouts"]} == {one["shape"]}
        for key in ("lines", "largest_pt", "set_pt", "fits"):
            assert chosen[key] == one[key]
        assert re.search(rf"{one['shape']} +{re.escape(one['lines'][0])} /", why)


def test_a_shape_that_no_split_has_is_bad_input():
    """Named are the shapes it has; nothing is written to standard output."""
    result = CliRunner().invoke(main, ["check", "The Lighthouse Log", "--panel", "20x30mm",
                                       "--shape", "squared"])  # fmt: skip
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "'squared'; it has half-diamond, lozenge, long and short" in result.stderr
    code, text = ask("check", "Tides", "--panel", "20x30mm", "--shape", "lozenge")
    assert code == 2 and "leave --shape out" in text
    code, text = ask("check", "Log", "--panel", "20x30mm", "--shape", "dimond")
    assert code == 2 and "did you mean 'diamond'" in text
    with pytest.raises(SpinefitError, match="a pillar has no lines"):
        on_label("Tides", group_shape=GroupShape.LOZENGE, orientation=Orientation.PILLAR)
    with pytest.raises(SpinefitError, match="into 2 lines has that shape"):
        on_label("The Lighthouse Log", group_shape=GroupShape.LOZENGE, lines=2)


def test_a_job_file_asks_for_a_shape(tmp_path):
    file = tmp_path / "log.toml"
    file.write_text('title = "The Lighthouse Log"\npanel = "20x30mm"\nshape = "diamond"\n')
    code, text = ask("check", "--job", str(file), "--format", "json")
    assert code == 0
    assert {one["shape"] for one in json.loads(text)["layouts"]} == {"lozenge"}


@pytest.mark.parametrize("width_mm", [30, 34, 40])
@pytest.mark.parametrize("method", ["paper-label", "leather-label", "blocked-case"])
def test_the_does_not_stand_alone_where_it_can_join(width_mm, method):
    """Pleger: small words join a neighbour; on no back of a cloth case or label alone.

    But on a leather label where only joining makes hairlines or counters finer than a die holds, or
    letters smaller than the 8 pt that a label is said to take at least.
    """
    spine = Spine(width_mm=width_mm, height_mm=220)
    for title in ("The Harbour Light", "The Lighthouse Log", "The Northern Roads"):
        for orientation in (None, Orientation.TRANSVERSE):
            lettering = Lettering(orientation=orientation)
            report = check(Job(title=title, spine=spine, method=method, lettering=lettering))
            if method == "leather-label" and "The" in advised(report).lines:
                topics = {one.topic for one in advised(report).findings}
                assert "words-alone" in topics
                font = report.font.name
                one = Lettering(orientation=Orientation.TRANSVERSE, lines=2, font=font)
                report = check(Job(title=title, spine=spine, method=method, lettering=one))
                joined = {one.topic for one in advised(report).findings}
                finer = "finer-than-advised" in joined - topics
                assert finer or advised(report).set_pt < 8
            assert "The" not in advised(report).lines


def on_a_back(tmp_path, more: str) -> dict:
    """The answer to a job of a foil-blocked case of 28 mm, or more of it."""
    file = tmp_path / "back.toml"
    file.write_text(f'height = "230mm"\nmethod = "blocked-case"\nmarket = "GB"\n{more}')
    code, text = ask("check", "--job", str(file), "--format", "json")
    assert code == 0
    return json.loads(text)


def test_one_title_has_one_answer_alone_in_a_set_and_beside_an_author(tmp_path):
    """Along: "The Harbour" holds 10.6 pt across 28 mm of cloth, where 12 to 14 are asked for.

    Trade facts 13.2, recalled: across where the longest word holds the least size; with small
    words joined that is "The Harbour", not "Harbour".
    """
    report = on_a_back(tmp_path, 'width = "28mm"\ntitle = "The Harbour Light"\n')
    alone = report["layouts"][report["recommended"]]
    (finding,) = [one for one in report["findings"] if one["topic"] == "across-least"]
    assert finding["value"] < 12 and alone["orientation"] == "longitudinal"
    volumes = "".join(f'[[volume]]\nwidth = "{width}mm"\n' for width in (32, 28))
    of_set = on_a_back(tmp_path, f'title = "The Harbour Light"\n{volumes}')
    texts = 'width = "32mm"\n' + "".join(
        f'[[text]]\nrole = "{role}"\ntext = "{text}"\n'
        for role, text in (("author", "Ebenezer Quillfeather"), ("title", "The Harbour Light"))
    )
    of_back = on_a_back(tmp_path, texts)["texts"]
    reports = [
        one["report"] for one in (*of_set["volumes"], *of_back) if one.get("role") != "author"
    ]
    assert len(reports) == 3
    for one in reports:
        title = one["layouts"][one["recommended"]]
        assert title["lines"] == ["The Harbour Light"] == alone["lines"]
        assert title["orientation"] == "longitudinal"


def test_small_words_join_in_a_set_that_must_be_lettered_across(tmp_path):
    """The same split alone and in a set, where the lines are asked to run across."""
    asked = 'title = "The Harbour Light"\norientation = "transverse"\n'
    report = on_a_back(tmp_path, f'width = "28mm"\n{asked}')
    volumes = "".join(f'[[volume]]\nwidth = "{width}mm"\n' for width in (32, 28))
    of_set = on_a_back(tmp_path, asked + volumes)
    lines = report["layouts"][report["recommended"]]["lines"]
    assert lines == ["The Harbour", "Light"]
    for one in (volume["report"] for volume in of_set["volumes"]):
        assert one["layouts"][one["recommended"]]["lines"] == lines


def test_who_asks_for_a_shape_is_not_told_that_small_words_stand_alone_in_it():
    """The / Harbour / Light is a lozenge, as was asked for."""
    title = "The Harbour Light"
    report = on_label(title, group_shape=GroupShape.LOZENGE)
    assert advised(report).lines == ("The", "Harbour", "Light")
    assert all(one.topic != "words-alone" for one in advised(report).findings)
    forced = advised(on_label("The / Harbour / Light"))
    assert any(one.topic == "words-alone" for one in forced.findings)


def test_what_joining_costs_is_told():
    """18 pt with "from the" on a line of its own: Adam's way, for who would rather have it so."""
    joined = check(Job(title="Letters from the Custom House", method="paper-label",
                       panel=Panel(width_mm=24, height_mm=40)))  # fmt: skip
    assert "from the" not in advised(joined).lines
    (note,) = [one for one in joined.findings if one.topic == "words-joined"]
    assert "--small-words alone" in render(joined)
    alone = Lettering(small_words=SmallWords.ALONE)
    apart = check(Job(title="Letters from the Custom House", method="paper-label",
                      panel=Panel(width_mm=24, height_mm=40), lettering=alone))  # fmt: skip
    assert advised(apart).lines == ("Letters", "from the", "Custom", "House")
    assert advised(apart).set_pt == note.value


def test_the_stands_alone_only_where_nothing_else_can_be_read():
    """On 14 mm "The Harbour" is too small for any eye; a note says that it stands alone."""
    spine = Spine(width_mm=14, height_mm=220, bands=5)
    report = check(Job(title="The Harbour Light", spine=spine, method="paper-label"))
    assert advised(report).lines == ("The", "Harbour", "Light")
    assert any(one.topic == "words-alone" for one in advised(report).findings)
    joined = [one for one in report.layouts if one.orientation is Orientation.TRANSVERSE
              and one.fits and "The" not in one.lines]  # fmt: skip
    assert all(one.reads_from_mm * 16 / 10 < 500 for one in joined)
