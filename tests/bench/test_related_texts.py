"""The texts of one back beside one another, and the lines of a title in its panel.

Standing: the author "a little smaller" than the title (Adam, Practical Bookbinding, 1903, rules 4
and 5, published, without a figure); 0.70 to 0.85 of it, one size of the drawer down, is our own
choice. The volume's figure in the title's size or one size up or down: common practice. A date 0.60
to 0.75 of the title, not under 8 pt: recalled. Lettering should comfortably fill the panel
(Cockerell, Bookbinding and the Care of Books, ch. XV, published); how far lines open is our choice.
"""

from __future__ import annotations

import pytest

from spinefit import BackPlan, Job, Lettering, Panel, Spine, check
from spinefit.backs import plan_back, plan_set
from spinefit.plan import BackText
from spinefit.say.phrasing import shown
from spinefit.vocabulary import Case, Role

DRAWER = (8.0, 10.0, 12.0, 14.0, 18.0, 24.0)


def sizes_beside(title_pt, *, sizes_pt=None):
    """Sizes by role on a five-band back with room enough, the title's size asked for."""
    words = {"author": "M. Tregear", "title": "Dues", "volume": "IV", "date": "1931"}
    back = BackPlan(
        spine=Spine(width_mm=50, height_mm=300, bands=5),
        texts=tuple(BackText(role=Role(role), text=text) for role, text in words.items()),
        lettering=Lettering(size_pt=title_pt, sizes_pt=sizes_pt),
        market="GB",
        method="hand-letters" if sizes_pt else "paper-label",
    )
    report = plan_back(back)
    assert report.fits
    return {str(one.role): one.set_pt for one in report.texts}


@pytest.mark.parametrize(
    ("title_pt", "author_pt"), [(24, 18), (18, 14), (14, 12), (12, 10), (10, 8)]
)
def test_of_a_drawer_the_author_takes_the_next_size_down(title_pt, author_pt):
    found = sizes_beside(title_pt, sizes_pt=DRAWER)
    assert found["author"] == author_pt
    places = [DRAWER.index(found[role]) - DRAWER.index(title_pt) for role in ("volume", "author")]
    assert all(abs(place) <= 1 for place in places)


@pytest.mark.parametrize("title_pt", [12.0, 16.0, 20.0])
def test_where_sizes_have_no_steps_the_shares_are_kept(title_pt):
    found = sizes_beside(title_pt)
    assert 0.70 * title_pt <= found["author"] <= 0.85 * title_pt
    assert 0.60 * title_pt <= found["date"] <= 0.75 * title_pt


def test_a_date_is_not_set_under_eight_points_nor_over_the_title():
    assert sizes_beside(10.0)["date"] == 8
    assert sizes_beside(7.0)["date"] == 7


def pitch_mm(layout):
    return layout.baselines_mm[0] - layout.baselines_mm[1]


@pytest.mark.parametrize("case", [Case.AS_TYPED, Case.CAPITALS])
def test_lines_open_up_in_a_panel_and_keep_more_room_outside_than_between(case):
    """A title of three lines in a panel of 35 mm is not huddled in its middle, nor spread out."""
    job = Job(
        title="Annals of the Harbour Commissioners",
        spine=Spine(width_mm=34, height_mm=240, bands=5),
        lettering=Lettering(case=case),
        market="GB",
    )
    report = check(job)
    opened, listed = shown(report), report.layouts
    assert len(opened.lines) == 3
    closed = next(one for one in listed if len(one.lines) == 4).baselines_mm
    usual_em = (closed[0] - closed[1]) / next(one for one in listed if len(one.lines) == 4).set_pt
    assert 1.02 < pitch_mm(opened) / opened.set_pt / usual_em <= 1.3 + 1e-9
    between_mm = pitch_mm(opened) - opened.cap_height_mm
    assert min(opened.spare_mm.head, opened.spare_mm.tail) >= between_mm


def test_lines_stay_closed_where_there_is_no_room_and_where_they_hang():
    """A low label has no room to open them; on a back without bands they hang from the head."""
    low = shown(check(Job(title="Tide / Tables", panel=Panel(width_mm=30, height_mm=11))))
    back = shown(check(Job(title="Tide / Tables", spine=Spine(width_mm=34, height_mm=240),
                           market="GB")))  # fmt: skip
    assert pitch_mm(low) / low.set_pt == pytest.approx(pitch_mm(back) / back.set_pt)


def test_opening_its_lines_changes_no_size():
    """The advised size and the largest are those of the usual distance, asked for outright."""
    spine = Spine(width_mm=34, height_mm=240, bands=5)
    opened = shown(check(Job(title="Harbour Dues", spine=spine, market="GB")))
    usual = Lettering(leading_em=1.15)
    closed = shown(check(Job(title="Harbour Dues", spine=spine, lettering=usual, market="GB")))
    assert pitch_mm(opened) > 1.02 * pitch_mm(closed)
    assert (opened.set_pt, opened.largest_pt) == (closed.set_pt, closed.largest_pt)


def test_volumes_of_a_set_open_alike():
    made = [
        (str(at), Job(title=f"Harbour / Dues / {at}", market="GB",
                      spine=Spine(width_mm=width, height_mm=240, bands=5)))
        for at, width in enumerate((30, 34, 40), 1)
    ]  # fmt: skip
    report = plan_set(made)
    pitches = {round(pitch_mm(shown(one.report)) / report.set_pt, 6) for one in report.volumes}
    assert len(pitches) == 1
    assert pitches.pop() > 1.02 * 1.15 * 25.4 / 72
