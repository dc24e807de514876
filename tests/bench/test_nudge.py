"""Single lines by hand: a line moved up or down, or spaced by itself, and judged like the rest.

That a finisher moves and spaces single lines by eye is common practice (no authority); how is our
own choice: in mm for the height, since a hand moves a line by so much whatever its size is; in
thousandths of the size for the space; all other lines stay where they stand.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from spinefit import Job, Lettering, Panel, Spine, check
from spinefit.errors import FieldError, SpinefitError
from spinefit.job.values import Part
from spinefit.judgement.text import judge_text
from spinefit.say.model import LayoutReport, Report
from spinefit.vocabulary import Orientation, Role, Verdict

LABEL = Panel(width_mm=30, height_mm=40)
TITLE = "The Harbour / Light"


def on_label(title: str = TITLE, **said) -> Report:
    """A paper label of 30 x 40 mm, lettered across."""
    lettering = Lettering(orientation=Orientation.TRANSVERSE, **said)
    return check(Job(title=title, panel=LABEL, method="paper-label", lettering=lettering))


def shown(report: Report) -> LayoutReport:
    place = report.nearest if report.recommended is None else report.recommended
    assert place is not None
    return report.layouts[place]


def parts(**said) -> tuple[Part, ...]:
    """Author, rule, title in two lines and year; what is said is of the title."""
    return (
        Part(role=Role.AUTHOR, text="Quillfeather"),
        Part(role=Role.RULE),
        Part(role=Role.TITLE, text=TITLE, **said),
        Part(role=Role.DATE, text="1889"),
    )


def test_a_line_moved_by_hand_moves_alone() -> None:
    """The second line 0.6 mm higher at 12 pt: its baseline by just so much, the first by nothing.

    The space below the group grows by what the line was moved.
    """
    by_rule = shown(on_label(size_pt=12))
    moved = shown(on_label(size_pt=12, lines_up_mm=(0.0, 0.6)))
    first, second = (b - a for a, b in zip(by_rule.baselines_mm, moved.baselines_mm, strict=True))
    assert (first, second) == pytest.approx((0, 0.6))
    assert moved.spare_mm.tail == pytest.approx(by_rule.spare_mm.tail + 0.6)
    assert moved.spare_mm.head == pytest.approx(by_rule.spare_mm.head)
    assert [(one.up_mm, one.tracking) for one in moved.nudges] == [(0, 0), (0.6, 0)]
    assert by_rule.nudges == ()


def test_a_line_spaced_by_hand_is_wider_and_alone() -> None:
    """100 thousandths between the four gaps of Light at 12 pt: 4 x 0.1 x 4.233 mm wider."""
    by_rule = shown(on_label(size_pt=12))
    spaced = shown(on_label(size_pt=12, lines_tracking=(0.0, 100.0)))
    wider = [b - a for a, b in zip(by_rule.line_widths_mm, spaced.line_widths_mm, strict=True)]
    assert wider[0] == pytest.approx(0)
    assert wider[1] == pytest.approx(4 * 0.1 * 12 * 25.4 / 72, abs=0.15)  # kerning, ligatures apart
    assert spaced.baselines_mm == pytest.approx(by_rule.baselines_mm)


def test_nothing_done_is_as_if_nothing_had_been_said() -> None:
    """Noughts for every line, or the tracking that all have, change no figure."""
    plain, said = on_label(), on_label(lines_up_mm=(0.0, 0.0), lines_tracking=(0.0, 0.0))
    assert shown(said) == shown(plain)
    tracked = on_label(tracking=30)
    assert shown(on_label(tracking=30, lines_tracking=(30.0, 30.0))) == shown(tracked)


@pytest.mark.parametrize("up_mm", [(3.0, 0.0), (0.0, -4.0), (0.0, 0.35), (-0.2, 0.0), (2.0, -2.0)])
@pytest.mark.parametrize("tracking", [None, (0.0, 150.0), (-20.0, 60.0)])
def test_the_largest_size_is_exact_with_lines_moved(up_mm, tracking) -> None:
    """On a label so low that its height counts: shapely agrees, and 0.01 pt more does not fit."""
    panel = Panel(width_mm=40, height_mm=16)
    lettering = Lettering(
        orientation=Orientation.TRANSVERSE, lines_up_mm=up_mm, lines_tracking=tracking
    )
    job = Job(title=TITLE, panel=panel, method="paper-label", lettering=lettering)
    one = judge_text(job, verify=True).shown  # raises where shapely disagrees
    assert one.layout.at_size is not None
    assert one.layout.at_size(one.largest_pt).limit.size_mm >= one.largest_pt * 25.4 / 72 - 1e-9
    above_pt = one.largest_pt + 0.01
    assert one.layout.at_size(above_pt).limit.size_mm < above_pt * 25.4 / 72


def test_lines_on_a_label_with_several_texts_are_moved_in_their_text() -> None:
    """The title's second line 0.5 mm lower and spaced: author, rule, first line and year stay."""
    lettering = Lettering(orientation=Orientation.TRANSVERSE, size_pt=12)
    plain, moved = (
        shown(check(Job(parts=one, panel=LABEL, method="paper-label", lettering=lettering)))
        for one in (parts(), parts(lines_up_mm=(0.0, -0.5), lines_tracking=(0.0, 50.0)))
    )
    down = [a - b for a, b in zip(plain.baselines_mm, moved.baselines_mm, strict=True)]
    assert down == pytest.approx([0, 0, 0.5, 0])
    assert moved.rules[0].from_head_mm == pytest.approx(plain.rules[0].from_head_mm)
    title = moved.texts[1]
    assert title.baselines_mm[1] == pytest.approx(plain.texts[1].baselines_mm[1] + 0.5)
    assert [one.up_mm for one in moved.nudges] == [0, 0, -0.5, 0]
    assert [one.tracking for one in moved.nudges] == [0, 0, 50, 0]


@pytest.mark.parametrize(("up_mm", "which"), [((0.0, 3.5), "Light"), ((0.0, 12.0), "Light")])
def test_a_line_moved_into_another_fails_and_is_named(up_mm, which) -> None:
    """Ink upon ink, and a line moved past the other, are no setting at any place."""
    report = on_label(size_pt=12, lines_up_mm=up_mm)
    assert report.verdict is Verdict.DOES_NOT_FIT
    assert f"“{which}” runs into “The Harbour”" in report.answer
    (meet,) = (one for one in shown(report).findings if one.topic == "lines-meet")
    assert str(meet.level) == "failure"


def test_a_line_may_not_run_into_a_rule() -> None:
    """The first line of the title is moved up into the rule above it."""
    lettering = Lettering(orientation=Orientation.TRANSVERSE, size_pt=12)
    job = Job(
        parts=parts(lines_up_mm=(1.8, 0.0)), panel=LABEL, method="paper-label", lettering=lettering
    )
    assert "“The Harbour” runs into “the rule”" in check(job).answer


def test_lines_are_moved_on_a_back_too() -> None:
    """Two lines along a back of 30 mm, and across in the panel of a banded one."""
    spine = Spine(width_mm=30, height_mm=220)
    for bands, way in ((None, Orientation.LONGITUDINAL), (5, Orientation.TRANSVERSE)):
        back = Spine(width_mm=spine.width_mm, height_mm=spine.height_mm, bands=bands)
        plain, moved = (
            shown(
                check(
                    Job(
                        title=TITLE,
                        spine=back,
                        lettering=Lettering(orientation=way, size_pt=10, lines_up_mm=up_mm),
                    )
                )
            )
            for up_mm in (None, (0.4, 0.0))
        )
        apart = [a - b for one in (plain, moved) for a, b in pairwise(one.baselines_mm)]
        assert apart[1] - apart[0] == pytest.approx(0.4)


@pytest.mark.parametrize(
    ("title", "said", "fault"),
    [
        ("The Harbour Light", {"lines_up_mm": (0.0, 0.4)}, "how many there are is left open"),
        (TITLE, {"lines_up_mm": (0.0, 0.4, 0.0)}, "3 values for 2 lines"),
        (TITLE, {"lines_tracking": (20.0,)}, "one value for 2 lines"),
        (TITLE, {"lines_up_mm": (0.0, 400.0)}, "400 mm is out of bounds"),
        (TITLE, {"lines_tracking": (0.0, 9999.0)}, "9999 is out of bounds"),
    ],
)
def test_lines_that_cannot_be_told_are_refused(title, said, fault) -> None:
    """Each in one line that says what to do."""
    with pytest.raises(FieldError, match=fault) as refused:
        on_label(title, **said)
    assert refused.value.where in ("lettering.lines_up_mm", "lettering.lines_tracking")
    assert refused.value.remedy


def test_the_number_of_lines_may_be_asked_for_instead_of_forced() -> None:
    """--lines 2, and a value for each of the two."""
    one = shown(on_label("The Harbour Light", lines=2, lines_up_mm=(0.0, 0.4), size_pt=10))
    assert len(one.lines) == len(one.nudges) == 2


def test_a_pillar_has_no_lines_to_move() -> None:
    """One letter under another: nothing there is a line."""
    lettering = Lettering(orientation=Orientation.PILLAR, lines=1, lines_up_mm=(0.4,))
    with pytest.raises(SpinefitError, match="pillar"):
        check(Job(title="TIDES", panel=Panel(width_mm=15, height_mm=90), lettering=lettering))
