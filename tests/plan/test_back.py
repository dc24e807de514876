"""Several texts on one back: who stands where, how large, and what gives way."""

from __future__ import annotations

import itertools

import pytest

from spinefit import Lettering, check
from spinefit.backs import plan_back
from spinefit.catalogue import rules
from spinefit.errors import FieldError, ImpossibleBackError, JobError, SpinefitError
from spinefit.plan import Order, Relation
from spinefit.plan.standing import job_of
from spinefit.say.phrasing import shown
from spinefit.say.plan_build import plan_remedies
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Centre, Level, Orientation, Reading, Role, Status, Verdict

BANDED = {"width_mm": 58.0, "height_mm": 420.0, "bands": 5, "rise_mm": 14.0}
THIN = {"width_mm": 12.0, "height_mm": 210.0}
WIDE = {"width_mm": 34.0, "height_mm": 230.0}
FOUR = (
    ("author", "M. Tregear"),
    ("title", "Tide Tables for the Port of Wrackness"),
    ("volume", "Vol. 2"),
    ("date", "1931"),
)


def by_role(report):
    return {one.role: one for one in report.texts}


def inks_mm(report, height_mm):
    """Where each text's ink begins and ends, in mm from the head."""
    found = []
    for one in report.texts:
        spare = shown(one.report).spare_mm
        found.append((one.zone.begins_mm + spare.head, one.zone.ends_mm - spare.tail))
    assert all(0 <= begins < ends <= height_mm for begins, ends in found)
    return found


def test_between_bands_each_text_has_the_panel_of_custom(plan):
    """Title second, author third, volume above the tail, date and imprint at the tail."""
    report = plan_back(plan(BANDED, *FOUR, ("imprint", "Quay Press")))
    panels = {str(one.role): one.panel for one in report.texts}
    assert panels == {"title": 2, "author": 3, "volume": 5, "date": 6, "imprint": 6}
    assert report.fits
    assert [one.report.panel.number for one in report.texts] == [2, 3, 5, 6, 6]


def test_the_panel_typed_wins(plan, text):
    report = plan_back(plan(BANDED, *FOUR[1:], text("author", "M. Tregear", panel=4)))
    assert by_role(report)[Role.AUTHOR].panel == 4


def test_few_bands_crowd_the_texts_towards_the_tail(plan):
    """Never a panel that is not there."""
    report = plan_back(plan({"width_mm": 40.0, "height_mm": 200.0, "bands": 2}, *FOUR))
    assert [one.panel for one in report.texts] == [2, 3, 3, 3]
    assert report.fits


def test_a_text_alone_in_its_panel_is_checked_as_ever(plan):
    """The same limit as `check` finds for it by itself."""
    made = plan(BANDED, *FOUR)
    author = by_role(plan_back(made))[Role.AUTHOR]
    alone = check(job_of(made, made.texts[0]))
    assert alone.panel.height_mm == author.report.panel.height_mm
    assert shown(author.report).largest_pt == pytest.approx(
        next(
            one.largest_pt
            for one in alone.layouts
            if one.orientation is Orientation.TRANSVERSE and one.lines == ("M. Tregear",)
        )
    )


def test_two_texts_in_one_panel_share_its_height_by_weight(plan, text):
    report = plan_back(
        plan(
            BANDED,
            text("title", "Tides", weight=3),
            text("volume", "Vol. 2", panel=2, weight=1),
        )
    )
    title, volume = report.texts
    assert title.panel == volume.panel == 2
    assert title.zone.length_mm == pytest.approx(3 * volume.zone.length_mm)
    assert title.zone.ends_mm < volume.zone.begins_mm


def test_a_thin_back_has_one_line_in_the_order_of_the_standard(plan):
    report = plan_back(plan(THIN, FOUR[1], FOUR[3], FOUR[0], FOUR[2], ("imprint", "Quay Press")))
    assert [str(one.role) for one in report.texts] == [
        "author", "title", "volume", "date", "imprint",
    ]  # fmt: skip
    assert report.orientation is Orientation.LONGITUDINAL
    assert all(len(shown(one.report).lines) == 1 for one in report.texts)
    assert {shown(one.report).reading for one in report.texts} == {Reading.DESCENDING}


def test_ascending_texts_are_read_from_the_tail(plan):
    report = plan_back(plan(THIN, *FOUR, lettering=Lettering(reading=Reading.ASCENDING)))
    assert [str(one.role) for one in report.texts] == ["date", "volume", "title", "author"]
    assert report.fits


def test_the_order_may_be_as_typed(plan):
    report = plan_back(plan(THIN, FOUR[1], FOUR[0], order=Order.AS_TYPED))
    assert [str(one.role) for one in report.texts] == ["title", "author"]


def test_stretches_along_are_shared_by_stated_weights(plan, text):
    report = plan_back(
        plan(THIN, text("author", "M. Tregear", weight=1), text("title", "Tide Tables", weight=2))
    )
    author, title = report.texts
    assert title.zone.length_mm == pytest.approx(2 * author.zone.length_mm)


def test_across_the_title_hangs_a_quarter_down_and_the_date_stands_at_the_tail(plan):
    """As a title alone would, with the author above it, farther off than a line is."""
    report = plan_back(plan(WIDE, *FOUR))
    assert report.orientation is Orientation.TRANSVERSE
    inks = inks_mm(report, 230.0)
    assert (inks[1][0] + inks[1][1]) / 2 == pytest.approx(230 / 4, abs=0.01)
    assert inks[3][1] == pytest.approx(230 - 4, abs=0.1)
    title = by_role(report)[Role.TITLE]
    gap_mm = rules().value("plan.gap_stack_wanted_em") * mm_from_pt(title.set_pt)
    assert inks[1][0] - inks[0][1] == pytest.approx(gap_mm, abs=0.3)


def test_across_the_title_may_be_placed(plan):
    report = plan_back(plan(WIDE | {"from_head_mm": 100.0}, *FOUR))
    inks = inks_mm(report, 230.0)
    assert (inks[1][0] + inks[1][1]) / 2 == pytest.approx(100, abs=0.01)


@pytest.mark.parametrize("spine", [BANDED, THIN, WIDE], ids=["bands", "along", "across"])
@pytest.mark.parametrize("centre", list(Centre))
def test_zones_never_overlap_and_ink_keeps_to_them(plan, spine, centre):
    report = plan_back(plan(spine, *FOUR, lettering=Lettering(centre=centre)))
    assert report.fits
    for above, below in itertools.pairwise(report.texts):
        assert above.zone.ends_mm <= below.zone.begins_mm + 1e-9
    for one in report.texts:
        assert min(shown(one.report).spare_mm) >= -1e-9
    inks_mm(report, spine["height_mm"])


def test_sizes_are_related_to_the_title(plan):
    """The rows of rules.toml, rounded down to what can be set."""
    sizes = {one.role: one.set_pt for one in plan_back(plan(THIN, *FOUR)).texts}
    title = sizes[Role.TITLE]
    assert sizes[Role.AUTHOR] == pytest.approx(0.85 * title, abs=0.1)
    assert sizes[Role.VOLUME] == pytest.approx(0.8 * title, abs=0.1)
    assert sizes[Role.AUTHOR] <= 0.85 * title + 1e-9


def test_one_size_where_it_is_asked_for(plan):
    report = plan_back(plan(THIN, *FOUR, relation=Relation.ONE_SIZE))
    assert len({one.set_pt for one in report.texts}) == 1


def test_a_text_is_judged_at_its_own_size(plan, text):
    report = plan_back(plan(THIN, FOUR[1], text("author", "M. Tregear", size_pt=7)))
    assert by_role(report)[Role.AUTHOR].set_pt == 7
    assert report.fits


def test_the_title_size_is_the_largest_for_which_all_fit(plan):
    """Nine tenths of the length are filled at most: a ninth more is too long for the back."""
    spine = {"width_mm": 12.0, "height_mm": 110.0}
    texts = (*FOUR, ("imprint", "Quay & Harbour Press"))
    made = plan(spine, *texts)
    title = by_role(plan_back(made))[Role.TITLE]
    alone = check(job_of(made, made.texts[1]))
    assert title.set_pt < alone.layouts[alone.recommended].set_pt
    larger_pt = round((title.set_pt + 0.1) / 0.9 + 0.1, 1)
    larger = plan_back(plan(spine, *texts, lettering=Lettering(size_pt=larger_pt, lines=1)))
    assert not larger.fits or any(len(shown(one.report).lines) > 1 for one in larger.texts)


def test_the_drawer_has_the_last_word(plan):
    report = plan_back(plan(THIN, *FOUR, lettering=Lettering(sizes_pt=(8.0, 10.0, 14.0))))
    assert report.fits
    assert {one.set_pt for one in report.texts} <= {8.0, 10.0, 14.0}


def test_a_text_that_finds_no_room_is_named_and_left_out_first(plan):
    """The imprint gives way before the subtitle, the title never (ISO 6357)."""
    spine = {"width_mm": 5.5, "height_mm": 58.0}
    report = plan_back(
        plan(
            spine,
            ("title", "Tide Tables of Wrackness"),
            ("subtitle", "with the Northern Roads"),
            ("imprint", "Quay & Harbour Press"),
        )
    )
    assert report.verdict is Verdict.DOES_NOT_FIT
    assert report.failing == (Role.IMPRINT,)
    assert "the imprint" in report.answer
    assert report.findings[0].level is Level.FAILURE
    (remedy,) = plan_remedies(report)
    assert remedy.change == "leave-out"
    assert "Leave out the imprint" in remedy.text
    kept = plan_back(
        plan(
            spine,
            ("title", "Tide Tables of Wrackness"),
            ("subtitle", "with the Northern Roads"),
        )
    )
    assert kept.fits
    assert by_role(kept)[Role.TITLE].set_pt == remedy.title_pt


def test_a_size_asked_for_is_freed_first(plan, text):
    spine = {"width_mm": 30.0, "height_mm": 210.0, "bands": 5}
    report = plan_back(plan(spine, ("title", "Tides"), text("author", "J. Penrose", size_pt=40)))
    assert report.failing == (Role.AUTHOR,)
    assert plan_remedies(report)[0].change == "size"
    assert not by_role(report)[Role.AUTHOR].fits
    assert by_role(report)[Role.TITLE].fits


def test_an_empty_panel_is_offered(plan, text):
    """Before anything is left out."""
    spine = {"width_mm": 30.0, "height_mm": 60.0, "bands": 4, "band_height_mm": 3.0}
    report = plan_back(
        plan(
            spine,
            text("title", "Tides"),
            text("volume", "Vol. 2", panel=2),
            text("date", "1931", panel=2),
            text("author", "M. Tregear", panel=2),
        )
    )
    assert report.failing
    remedies = plan_remedies(report)
    assert remedies == () or remedies[0].change in ("panel", "leave-out")


def test_labels_keep_their_margin(plan):
    report = plan_back(plan(BANDED, *FOUR, method="paper-label"))
    assert report.fits
    two = plan_back(plan(WIDE, *FOUR[:2], method="paper-label"))
    assert two.fits


def test_authorities_that_disagree_are_named(plan):
    topics = {one.topic: one for one in plan_back(plan(THIN, *FOUR)).findings}
    assert "Cockerell" in topics["plan-relation"].source
    assert "Adam" in topics["plan-relation"].source
    assert "Bailey" in topics["plan-order"].source
    banded = {one.topic: one for one in plan_back(plan(BANDED, *FOUR)).findings}
    assert "Spofford" in banded["plan-panels"].source
    assert all(one.status in Status for one in (*topics.values(), *banded.values()))


def test_the_library_foot_is_still_noted(plan):
    topics = [one.topic for one in plan_back(plan(THIN, *FOUR)).findings]
    assert "library-foot" in topics
    kept = plan_back(plan(THIN | {"foot_mm": 30.0}, *FOUR))
    assert "library-foot" not in [one.topic for one in kept.findings]
    assert kept.texts[-1].zone.ends_mm <= 180


@pytest.mark.parametrize(
    ("texts", "said"),
    [
        ([], "no text"),
        ([("author", "M. Tregear")], "none of the texts is the title"),
        ([("title", "Tides"), ("title", "Tide Tables")], "text 2: role"),
    ],
)
def test_what_is_no_plan_is_refused(plan, texts, said):
    with pytest.raises(JobError, match=said):
        plan_back(plan(THIN, *texts))


@pytest.mark.parametrize(
    ("spine", "more", "kind", "said"),
    [
        ({"width_mm": 12.0}, {}, FieldError, "--height"),
        (THIN, {"panel": 2}, FieldError, "text 2: panel"),
        (BANDED, {"panel": 9}, ImpossibleBackError, "text 2: panel: there is no such panel"),
        (BANDED, {"panel": True}, FieldError, "text 2: panel"),
        (THIN, {"weight": 0.0}, FieldError, "text 2: weight"),
        (THIN, {"size_pt": float("nan")}, FieldError, "text 2: size"),
        (THIN, {"font": "No Such Face"}, SpinefitError, "text 2: font"),
    ],
)
def test_a_fault_names_its_text(plan, text, spine, more, kind, said):
    with pytest.raises(kind, match=said):
        plan_back(plan(spine, ("title", "Tides"), text("author", "M. Tregear", **more)))
