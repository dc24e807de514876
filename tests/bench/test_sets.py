"""Sets as a master finisher would letter them.

Standing: Cockerell, Bookbinding and the Care of Books, ch. XV, fig. 115 (published): one thin
volume among thick ones may compromise rather than shrink the whole set. By how much the others
must gain, and how much smaller it may be, are our own choices (rules.toml sets). That it keeps the
baselines of the others where it can, and its number at their height, is common practice.
"""

from __future__ import annotations

import csv
import io
import itertools
import json
from dataclasses import replace

import pytest

from spinefit import BackPlan, Job, Lettering, Spine
from spinefit.backs import plan_set
from spinefit.cli.main import status
from spinefit.errors import FieldError
from spinefit.plan import BackText, plan_of
from spinefit.say.phrasing import shown
from spinefit.say.plan_text import render
from spinefit.vocabulary import Orientation, Role, Work

ACROSS, ALONG = Orientation.TRANSVERSE, Orientation.LONGITUDINAL
TWELVE = (28, 30, 33, 41, 36, 32, 14, 29, 35, 38, 31, 40)
TITLE = "Annals of the Harbour Commissioners"


def titles(widths_mm, *, title=TITLE, apart=None, method="paper-label", **lettering):
    """Volumes of 240 mm, numbered; ``apart`` says of some what was marked."""
    made = []
    for number, width_mm in enumerate(widths_mm, 1):
        job = Job(
            title=f"{title} / {number}",
            spine=Spine(width_mm=width_mm, height_mm=240),
            market="GB",
            method=method,
            lettering=Lettering(**lettering),
        )
        plan = plan_of(job)
        marked = (apart or {}).get(number)
        made.append((f"volume {number}", BackPlan(**_fields(plan) | {"apart": marked})))
    return made


def _fields(plan):
    return {name: getattr(plan, name) for name in plan.__dataclass_fields__}


def apart(report):
    return [one.label for one in report.volumes if one.apart is not None]


def from_tail_mm(report, line=0):
    """Height of a baseline across over the shelf; 240 mm is the height of all backs here."""
    layout = shown(report)
    return 240 - layout.first_from_head_mm + layout.baselines_mm[line] - layout.baselines_mm[0]


def test_twelve_volumes_with_one_thin_lead_with_the_eleven():
    """Nobody shrinks eleven backs of 28 to 41 mm, or turns them along, for one of 14 mm."""
    report = plan_set(titles(TWELVE))
    assert report.fits
    assert apart(report) == ["volume 7"]
    assert report.orientation is ACROSS and report.lines == 4
    assert report.answer.startswith("The set fits: eleven across the back in four lines at ")
    assert "; volume 7 apart, along the back at " in report.answer
    assert report.alike.orientation is ALONG and report.alike.set_pt < report.set_pt
    alone = plan_set(titles([width for width in TWELVE if width != 14]))
    assert report.set_pt == alone.set_pt


def test_the_number_of_a_thin_volume_stays_across_at_the_height_of_the_set():
    """On the shelf a reader runs along the numbers, so that is what must not move."""
    report = plan_set(titles(TWELVE))
    thin, thick = report.volumes[6], report.volumes[0]
    assert shown(thin.report).orientation is ALONG
    assert shown(thin.report).lines == (TITLE,)
    assert thin.number.text == "7"
    assert shown(thin.number.report).orientation is ACROSS
    assert thin.number.set_pt <= report.set_pt
    assert from_tail_mm(thin.number.report) == pytest.approx(from_tail_mm(thick.report, -1))


def test_a_little_thinner_keeps_the_baselines_of_the_set():
    """One or two sizes smaller, across (Cockerell): the guide lines run on over all backs."""
    report = plan_set(titles((36, 38, 28, 40), title="Tide Tables of the North", apart={3: True}))
    thin, thick = report.volumes[2], report.volumes[0]
    assert thin.apart.why == "asked" and thin.apart.change == "smaller"
    assert shown(thin.report).orientation is ACROSS
    assert len(shown(thin.report).lines) == report.lines
    for line in range(report.lines):
        assert from_tail_mm(thin.report, line) == pytest.approx(from_tail_mm(thick.report, line))


def test_the_measure_of_the_others_does_not_fall_as_a_thin_volume_grows():
    """While it is set apart they are as if it were not there; once alike, within the row."""
    rest = plan_set(titles((28, 30, 35, 41))).set_pt
    before = 0.0
    for width_mm in (6, 9, 12, 14, 17, 20, 21):
        report = plan_set(titles((28, 30, width_mm, 35, 41)))
        assert apart(report) == ["volume 3"]
        assert report.set_pt == rest >= before
        before = report.set_pt
    for width_mm in (24, 25, 26, 27, 28, 30):
        report = plan_set(titles((28, 30, width_mm, 35, 41)))
        assert report.set_pt >= rest / 1.3


def test_two_thin_volumes_of_six_are_both_set_apart():
    report = plan_set(titles((30, 12, 33, 36, 13, 40)))
    assert apart(report) == ["volume 2", "volume 5"]
    assert report.set_pt == plan_set(titles((30, 33, 36, 40))).set_pt


@pytest.mark.parametrize("widths_mm", [(8, 7, 9), (12, 13, 12, 40), (28, 30, 33, 36, 41), (28, 22)])
def test_thin_volumes_that_are_no_exception_are_the_rule(widths_mm):
    """All thin, most thin, or growing evenly: the worst rules all, as Cockerell has it."""
    assert apart(plan_set(titles(widths_mm, title="Tide Tables"))) == []


def test_of_a_pair_the_thin_one_is_set_apart_only_where_alike_both_would_be_poor():
    report = plan_set(titles((40, 12)))
    assert apart(report) == ["volume 2"]
    assert report.answer.startswith("The set fits: volume 1 across the back")


def test_what_was_marked_has_the_last_word():
    """A volume marked goes its own way; one that may not stays, whatever it costs the others."""
    thin_kept = plan_set(titles(TWELVE, apart={7: False}))
    assert apart(thin_kept) == [] and thin_kept.orientation is ALONG
    marked = plan_set(titles((30, 33, 36), apart={2: True}))
    assert apart(marked) == ["volume 2"] and marked.alike is None


def test_some_volume_must_set_the_measure():
    with pytest.raises(FieldError, match="every volume is set apart"):
        plan_set(titles((30, 33), apart={1: True, 2: True}))
    pattern = plan_set(titles((30, 33))).pattern
    with pytest.raises(FieldError, match="apart: what is set apart matches no pattern"):
        plan_set(titles((30,), apart={1: True}), pattern=pattern)


def test_several_texts_on_each_back():
    """The title of the thin one along, its number across where the others have theirs."""

    def back(number, width_mm):
        texts = (
            BackText(role=Role.TITLE, text=TITLE),
            BackText(role=Role.VOLUME, text=str(number)),
        )
        spine = Spine(width_mm=width_mm, height_mm=240)
        return f"volume {number}", BackPlan(spine=spine, texts=texts, market="GB",
                                            method="paper-label")  # fmt: skip

    report = plan_set([back(at, width) for at, width in enumerate((34, 36, 14, 40), 1)])
    assert report.fits and apart(report) == ["volume 3"]
    assert report.answer.startswith("The volumes fit: three, the title across the back")
    own = {one.role: one for one in report.volumes[2].texts}
    others = {one.role: one for one in report.volumes[0].texts}
    assert shown(own[Role.TITLE].report).orientation is ALONG
    number, thick = own[Role.VOLUME].report, others[Role.VOLUME].report
    assert shown(number).orientation is ACROSS
    assert from_tail_mm(number) == pytest.approx(from_tail_mm(thick))
    zones = sorted(one.zone for one in own.values())
    assert zones[0].ends_mm <= zones[1].begins_mm


def _backs(widths_mm, *, title=TITLE, apart=None, bands=0, **said):
    """Volumes of 240 mm with title, volume and date; ``apart`` is the number of one."""
    roles = (Role.TITLE, Role.VOLUME, Role.DATE)
    return [
        (
            f"volume {number}",
            BackPlan(
                spine=Spine(width_mm=width_mm, height_mm=240, bands=bands),
                texts=tuple(
                    BackText(role=role, text=text)
                    for role, text in zip(
                        roles, (title, f"{number}", f"{1869 + number}"), strict=True
                    )
                ),
                market="GB",
                apart=True if number == apart else None,
                **said,
            ),
        )
        for number, width_mm in enumerate(widths_mm, 1)
    ]


def _texts(report, number):
    return {one.role: one for one in report.volumes[number - 1].texts}


@pytest.mark.parametrize(
    ("widths_mm", "thin", "said"),
    [
        (TWELVE, 7, {"title": "Tide Tables of the North", "bands": 5}),
        (
            (30, 31, 12),
            3,
            {"title": "Tide Tables of the North", "method": "blocked-case", "apart": 3},
        ),
        ((30, 30, 31), 2, {"title": "Tide Tables", "apart": 2}),
    ],
)
def test_number_and_date_of_a_volume_apart_are_those_of_the_set(widths_mm, thin, said):
    """A "7" is 2 mm wide at any size of the set: nothing makes it smaller beside the others.

    Common practice: what a reader runs along on the shelf keeps its size, height and way.
    """
    report = plan_set(_backs(widths_mm, **said))
    assert report.fits and apart(report) == [f"volume {thin}"]
    own, others = _texts(report, thin), _texts(report, 1)
    for role in (Role.VOLUME, Role.DATE):
        assert own[role].set_pt == others[role].set_pt
        assert shown(own[role].report).orientation is shown(others[role].report).orientation
        assert from_tail_mm(own[role].report) == pytest.approx(from_tail_mm(others[role].report))
    zones = sorted(one.zone for one in own.values())
    assert all(above.ends_mm <= below.begins_mm for above, below in itertools.pairwise(zones))


def test_on_the_lines_of_the_others_is_where_they_begin():
    """Along a back of another height too: every text begins as far from the tail as theirs."""
    asked = _backs((30, 30, 31), apart=2, method="blocked-case", work=Work.LIBRARY)
    label, own = asked[1]
    lower = replace(own, spine=Spine(width_mm=30, height_mm=236))
    report = plan_set([asked[0], (label, lower), asked[2]])
    assert "volume 2 apart, on the lines of the others at " in report.answer
    for role, one in _texts(report, 2).items():
        there = _texts(report, 1)[role]
        assert one.set_pt == there.set_pt
        begins_mm = 236 - shown(one.report).first_from_head_mm
        assert begins_mm == pytest.approx(240 - shown(there.report).first_from_head_mm)


def test_a_date_too_wide_for_a_back_goes_along_and_the_number_stays():
    """Four digits at the size of the set take more than 9 mm leave; one digit does not."""
    report = plan_set(_backs((34, 36, 40, 9), method="paper-label"))
    assert report.fits and apart(report) == ["volume 4"]
    own, others = _texts(report, 4), _texts(report, 1)
    assert shown(own[Role.DATE].report).orientation is ALONG
    assert shown(own[Role.VOLUME].report).orientation is ACROSS
    assert own[Role.VOLUME].set_pt == others[Role.VOLUME].set_pt


def test_the_mark_is_read_from_a_job_file_and_a_table(tmp_path, capsys):
    """``apart = true`` in a volume's table; a column of that name beside set and label."""
    job = tmp_path / "set.toml"
    rows = "".join(
        f'[[volume]]\nlabel = "{at}"\nwidth = {width}\n' + ("apart = true\n" if at == 2 else "")
        for at, width in enumerate((30, 33, 36), 1)
    )
    job.write_text(f'title = "Tide Tables"\nheight = 240\nmarket = "GB"\n{rows}')
    assert status(["check", "--job", str(job), "--format", "json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert [one["apart"] and one["apart"]["why"] for one in found["volumes"]] == [
        None, "asked", None,
    ]  # fmt: skip
    table = tmp_path / "set.csv"
    table.write_text(
        "set,label,title,width,height,apart\n"
        + "".join(f"a,{at},{TITLE} / {at},{width},240,{mark}\n" for at, width, mark in
                  ((1, 36, ""), (2, 14, "no"), (3, 38, ""), (4, 40, "")))
    )  # fmt: skip
    assert [way for way, _answer in _batch(table, capsys)] == 4 * ["longitudinal"]
    table.write_text(table.read_text().replace(",no", ","))
    rows = _batch(table, capsys)
    assert [way for way, _answer in rows] == ["transverse", "longitudinal", *2 * ["transverse"]]
    assert "its number, 2, across at " in rows[1][1]


def _batch(table, capsys):
    """Way and answer of each row."""
    asked = ["--method", "paper-label", "--market", "GB", "--slash-breaks"]
    assert status(["batch", str(table), *asked]) == 0
    rows = csv.DictReader(io.StringIO(capsys.readouterr().out))
    return [(row["orientation"], row["answer"]) for row in rows]


def test_what_is_to_be_minded_of_every_volume_names_none():
    """A warning of all volumes is one warning, without a list of their names."""
    job = Job(
        title="The Harbour Light",
        spine=Spine(width_mm=30, height_mm=220),
        method="blocked-case",
        lettering=Lettering(font="EB Garamond", size_pt=14.0),
    )
    report = plan_set([(name, plan_of(job)) for name in ("volume 1", "volume 2", "volume 3")])
    said = " ".join(render(report).split())
    assert "warning All: Hairlines may break" in said
    assert "volume 1, volume 2" not in said
