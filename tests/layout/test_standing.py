"""Groups in a panel: the bound on their size is their size, and the widest line still fits."""

from __future__ import annotations

import math
from functools import partial
from types import SimpleNamespace

import numpy as np
import pytest

from spinefit import catalogue
from spinefit.errors import FieldError
from spinefit.geometry import outright_panel, polygons, turn_box, usable_panel
from spinefit.job.model import Job, Lettering, Part, Shape, Spine
from spinefit.job.resolve import resolve
from spinefit.job.values import KeepFree, Panel
from spinefit.layout import by_hand
from spinefit.layout.divisions import divisions_of, lines_of
from spinefit.layout.group import group_of, leading_em, pillar_of
from spinefit.layout.label import LabelSearch
from spinefit.layout.sense import sense_of
from spinefit.layout.standing import Standing, _label_hull, candidates, sets_columns_here
from spinefit.shaping import shape_title, shape_titles
from spinefit.vocabulary import (
    BreakWords,
    Centre,
    LimitedBy,
    Measure,
    Orientation,
    PanelForm,
    Role,
    Ruling,
    SmallWords,
)
from tests.geometry.rectangle import largest_in_rectangle
from tests.layout.all_splits import all_splits
from tests.layout.sketched import sketched

ACROSS, ALONG = Orientation.TRANSVERSE, Orientation.LONGITUDINAL
SENSE = sense_of(catalogue.title_words("en"), catalogue.rules(), SmallWords.JOINED)
TITLE = "Quay Étés gj"
OVAL = Shape(form=PanelForm.OVAL)


class Case:
    """A title of three words in a panel, standing one way."""

    def __init__(self, orientation, *, sides=None, spine=None, shape=None, **lettering) -> None:
        self.job = resolve(
            Job(
                title=TITLE,
                spine=None if spine is None else Spine(**spine),
                panel=None if sides is None else Panel(width_mm=sides[0], height_mm=sides[1]),
                shape=shape,
                lettering=Lettering(**lettering),
            )
        )
        self.title = shape_title(self.job)
        if self.job.spine is None:
            self.panel = outright_panel(self.job.panel, self.job.shape)
        else:
            self.panel = usable_panel(self.job.spine, self.job.shape, self.job.rules)
        candidate = next(
            one for one in candidates(self.job, self.title) if one.orientation is orientation
        )
        self.standing = Standing(self.job, self.title, self.panel, candidate)
        self.leading = leading_em(self.title, None, self.job.rules)

    def group(self, split):
        lines = lines_of(self.title.run, split, self.leading, (0.0, 0), SENSE)
        return group_of(self.title, lines, centre=self.standing.centre)

    def layout(self, split):
        return self.standing.layout(self.group(split), "whole")

    def bound_mm(self, split) -> float:
        """What the search reckons from the widest line and the ends alone."""
        run = self.title.run
        return self.standing.size_bound_mm(
            max(self.group(split).widths_em),
            run.line_ink(*split[0])[3],
            run.line_ink(*split[-1])[1],
            self.leading * (len(split) - 1),
        )


@pytest.mark.parametrize("orientation", [ACROSS, ALONG])
@pytest.mark.parametrize("centre", [Centre.INK, Centre.CAPITALS])
@pytest.mark.parametrize(
    "where",
    [
        {"sides": (12.0, 90.0)},
        {"sides": (90.0, 12.0)},
        {"spine": {"width_mm": 24.0, "height_mm": 200.0}},
        {"spine": {"width_mm": 90.0, "height_mm": 20.0}},
    ],
)
def test_the_bound_is_the_size_in_a_plain_rectangle(orientation, centre, where):
    case = Case(orientation, centre=centre, clearance_mm=0.5, **where)
    for lines in (1, 2, 3):
        for split in all_splits(3, lines):
            assert case.bound_mm(split) == pytest.approx(case.layout(split).limit.size_mm)


@pytest.mark.parametrize("orientation", [ACROSS, ALONG])
def test_no_bound_is_known_in_another_panel(orientation):
    """There nothing follows from widths: every split has to be laid."""
    case = Case(orientation, sides=(30.0, 60.0), shape=OVAL)
    split = ((0, 1), (2, 2))
    layout = case.layout(split)
    assert case.bound_mm(split) == math.inf
    assert not case.standing.limited_by_lines(layout)
    assert case.standing.widest_at(layout, 0.9) == pytest.approx(
        max(layout.group.widths_em) / 0.9, rel=1e-12
    )


@pytest.mark.parametrize(
    ("orientation", "sides", "by"),
    [
        (ACROSS, (10.0, 90.0), LimitedBy.WIDTH),
        (ACROSS, (90.0, 10.0), LimitedBy.HEIGHT),
        (ALONG, (90.0, 10.0), LimitedBy.HEIGHT),
        (ALONG, (10.0, 90.0), LimitedBy.WIDTH),
    ],
)
def test_lines_limit_across_by_the_width_and_along_by_the_height(orientation, sides, by):
    case = Case(orientation, sides=sides)
    layout = case.layout(((0, 0), (1, 2)))
    assert layout.limit.by is by
    along = orientation is ALONG
    assert case.standing.limited_by_lines(layout) is ((by is LimitedBy.HEIGHT) is along)


@pytest.mark.parametrize("orientation", [ACROSS, ALONG])
@pytest.mark.parametrize("sides", [(30.0, 70.0), (70.0, 30.0)])
def test_the_widest_line_at_a_share_fills_the_room(orientation, sides):
    """A line so wide, at that share of the best size, takes all the room but the clearance."""
    case = Case(orientation, sides=sides, clearance_mm=1.5)
    layout = case.layout(((0, 0), (1, 2)))
    width = case.standing.widest_at(layout, 0.9)
    room_mm = (sides[1] if orientation is ALONG else sides[0]) - 3.0
    assert width * 0.9 * layout.limit.size_mm == pytest.approx(room_mm)
    size_mm = largest_in_rectangle(
        (-width / 2, -0.01, width / 2, 0.01), width_mm=room_mm, height_mm=None, clearance_mm=0.0
    ).size_mm
    assert size_mm == pytest.approx(0.9 * layout.limit.size_mm)


def test_any_line_is_narrow_enough_where_the_height_is_open():
    case = Case(ALONG, spine={"width_mm": 20.0})
    assert case.standing.widest_at(case.layout(((0, 2),)), 0.9) == math.inf


def test_where_nothing_fits_lines_may_be_as_wide_as_they_are():
    """And wider by the share, as everywhere."""
    case = Case(ACROSS, sides=(3.0, 60.0), clearance_mm=1.5)
    layout = case.layout(((0, 0), (1, 2)))
    assert layout.limit.size_mm == 0
    assert case.standing.widest_at(layout, 0.8) == pytest.approx(
        max(layout.group.widths_em) / 0.8, rel=1e-12
    )


def test_a_group_that_may_float_has_the_whole_height():
    """Centred by capitals, its ink is off the middle; only all of it together counts."""
    case = Case(ACROSS, spine={"width_mm": 200.0, "height_mm": 20.0}, centre=Centre.CAPITALS)
    layout = case.layout(((0, 0), (1, 1), (2, 2)))
    _left, bottom, _right, top = layout.group.box
    assert case.standing.floats
    assert bottom + top != pytest.approx(0.0, abs=1e-3)
    assert layout.limit.size_mm == pytest.approx(case.panel.height_mm / (top - bottom))
    for box in ((-1.0, -6.0, 1.0, 4.0), (-1.0, -9.0, 1.0, -1.0), (-1.0, 1.0, 1.0, 2.5)):
        moved = case.standing.layout(layout.group._replace(box=box), "whole")
        assert moved.limit.size_mm == pytest.approx(case.panel.height_mm / (box[3] - box[1]))


@pytest.mark.parametrize("from_head_mm", [None, 70.0])
def test_across_a_back_with_an_area_kept_free_custom_says_where(from_head_mm):
    """A quarter of the height down, or where it was asked for; between bands in the middle."""
    device = Shape(keep_free=(KeepFree(width_mm=6.0, height_mm=6.0, y_mm=-60.0),))
    spine = {"width_mm": 31.0, "height_mm": 200.0, "head_mm": 10.0, "foot_mm": 20.0}
    case = Case(ACROSS, spine=spine | {"from_head_mm": from_head_mm}, shape=device)
    assert not case.standing.floats
    layout = case.layout(((0, 2),))
    # The panel reaches from 10 to 180 mm, so that its middle is 95 mm from the head.
    expected_mm = 95.0 - (50.0 if from_head_mm is None else from_head_mm)
    assert layout.limit.centre_mm == pytest.approx((0.0, expected_mm))
    along = Case(ALONG, spine=spine, shape=device)
    assert along.layout(((0, 2),)).limit.centre_mm == pytest.approx((0.0, 0.0))


def test_capitals_are_centred_only_along_a_back():
    back = {"width_mm": 20.0, "height_mm": 200.0}
    assert Case(ALONG, spine=back).standing.centre is Centre.CAPITALS
    assert Case(ACROSS, spine=back).standing.centre is Centre.INK
    assert Case(ALONG, sides=(20.0, 200.0)).standing.centre is Centre.INK
    assert Case(ALONG, spine=back, centre=Centre.INK).standing.centre is Centre.INK


def test_which_split_is_as_low_as_any():
    """Quay has no accent, and every last line has a tail; in an oval that says nothing."""
    low, accented, single = ((0, 0), (1, 2)), ((0, 1), (2, 2)), ((0, 0), (1, 1), (2, 2))
    for shape, known in ((None, True), (OVAL, False)):
        case = Case(ACROSS, sides=(90.0, 20.0), shape=shape)
        reach = divisions_of(case.title.run, BreakWords.NEVER, SENSE, case.leading).reach
        for split, expected in ((low, known), (accented, False), (single, known)):
            assert case.standing.is_least_high(case.layout(split), reach) is expected
    case = Case(ACROSS, sides=(90.0, 20.0))
    pillar = case.standing.layout(pillar_of(case.title, case.job.rules), "whole")
    assert not case.standing.is_least_high(pillar, (9.0, -9.0))


@pytest.mark.parametrize(
    ("language", "columns"),
    [("ja", True), ("ja-JP", True), ("zh-Hant-TW", True), ("yue", True), ("en-GB", False)],
)
def test_a_language_sets_columns_in_whatever_country(language, columns):
    panel = Panel(width_mm=20.0, height_mm=90.0)
    job = resolve(Job(title=TITLE, panel=panel, language=language, lettering=Lettering()))
    assert sets_columns_here(job, SimpleNamespace(sets_columns=True)) is columns
    assert not sets_columns_here(job, SimpleNamespace(sets_columns=False))


@pytest.mark.parametrize(("market", "columns"), [("JP", True), ("FR", False), ("GB", False)])
def test_a_market_sets_columns_unless_another_way_was_asked_for(market, columns):
    spine = Spine(width_mm=20.0, height_mm=90.0)
    for way in Orientation:
        lettering = Lettering(orientation=way)
        book = Job(title=TITLE, spine=spine, market=market, language="en", lettering=lettering)
        job = resolve(book)
        wanted = way is Orientation.PILLAR or (columns and way is Orientation.ANY)
        assert sets_columns_here(job, SimpleNamespace(sets_columns=True)) is wanted


@pytest.mark.parametrize("way", Orientation)
def test_letters_that_join_are_refused_one_under_another_only(way):
    panel = Panel(width_mm=90.0, height_mm=90.0)
    job = resolve(Job(title=TITLE, panel=panel, lettering=Lettering(orientation=way)))
    lighthouse = sketched(["منارة"], [2.0], [0.7], [-0.2])
    if way is Orientation.PILLAR:
        with pytest.raises(FieldError, match="join"):
            candidates(job, lighthouse)
    else:
        assert candidates(job, lighthouse)


@pytest.mark.parametrize("way", Orientation)
@pytest.mark.parametrize("lines", [None, 1, 2, 3])
def test_lines_moved_by_hand_keep_their_number_and_make_no_pillar(way, lines):
    """Two were moved: in two lines they can be laid, in no other number."""
    if way is Orientation.PILLAR and lines not in (None, 1):
        return
    panel = Panel(width_mm=90.0, height_mm=90.0)
    job = resolve(Job(title=TITLE, panel=panel, lettering=Lettering(orientation=way, lines=lines)))
    title = sketched(["Quay", "Log", "Tides"], [2.0] * 3, [0.7] * 3, [0.0] * 3)
    title.nudges = ((0.1, title), (0.0, title))
    if lines == 2:
        assert {one.line_counts for one in candidates(job, title)} == {range(2, 3)}
    else:
        with pytest.raises(FieldError, match="moved or spaced"):
            candidates(job, title)


def test_a_pillar_of_letters_is_one_line():
    panel = Panel(width_mm=20.0, height_mm=90.0)
    said = Lettering(orientation=Orientation.PILLAR)
    job = resolve(Job(title=TITLE, panel=panel, lettering=said))
    (only,) = candidates(job, shape_title(job))
    assert only.line_counts == range(1, 2)


@pytest.mark.parametrize("mode", BreakWords)
@pytest.mark.parametrize("way", [Orientation.ANY, ACROSS, ALONG])
def test_words_may_be_broken_for_more_lines_only_where_they_are_not(mode, way):
    """What would help is said, not what was done already."""
    lettering = Lettering(lines=40, break_words=mode, orientation=way)
    job = resolve(Job(title=TITLE, panel=Panel(width_mm=90.0, height_mm=90.0), lettering=lettering))
    with pytest.raises(FieldError, match="--lines") as fault:
        candidates(job, shape_title(job))
    assert ("--break-words" in fault.value.remedy) is (mode is BreakWords.NEVER)


@pytest.mark.parametrize("orientation", [ACROSS, ALONG])
def test_the_hull_of_a_label_reaches_as_far_as_its_ink(orientation):
    """Each line in its own size, in the middle, with the rules between them."""
    parts = (
        Part(role=Role.AUTHOR, text="J. Quay"),
        Part(role=Role.RULE, rule=Ruling.THIN, measure=Measure.SHORT),
        Part(role=Role.TITLE, text="The Harbour Light"),
    )
    panel = Panel(width_mm=40.0, height_mm=60.0)
    job = resolve(Job(parts=parts, panel=panel, shape=OVAL, lettering=Lettering()))
    (title,) = shape_titles(job)
    candidate = next(one for one in candidates(job, title) if one.orientation is orientation)
    words = catalogue.title_words("en")
    layouts = LabelSearch(job, title, outright_panel(panel, job.shape), words).of(candidate)
    assert {len(one.group.set_lines) for one in layouts} >= {2, 3}
    for layout in layouts:
        corners = np.asarray(_label_hull(layout.group, candidate.turn))
        found = (*corners.min(axis=0), *corners.max(axis=0))
        assert found == pytest.approx(turn_box(layout.group.box, candidate.turn), abs=1e-4)


@pytest.mark.parametrize(("free", "hulls", "parts"), [((), 1, 0), (((0.0, -20.0),), 0, 1)])
def test_ink_is_put_together_once_and_only_its_hull_where_that_is_enough(
    free, hulls, parts, monkeypatch
):
    """In an oval the hull; round what is kept free the letters themselves."""
    calls = {"ink_hull": 0, "ink_parts": 0}
    own = {name: getattr(polygons, name) for name in calls}

    def counted(name, *said, **keys):
        calls[name] += 1
        return own[name](*said, **keys)

    for name in calls:
        monkeypatch.setattr(polygons, name, partial(counted, name))
    kept = tuple(KeepFree(width_mm=4.0, height_mm=4.0, x_mm=x, y_mm=y) for x, y in free)
    shape = Shape(form=PanelForm.OVAL, keep_free=kept)
    layout = Case(ACROSS, sides=(40.0, 60.0), shape=shape).layout(((0, 0), (1, 2)))
    largest_mm = layout.limit.size_mm
    assert layout.nearest_mm(largest_mm * 0.5) > layout.nearest_mm(largest_mm * 0.9) > 0
    assert calls == {"ink_hull": hulls, "ink_parts": parts}


@pytest.mark.parametrize("nudges", [(), ((0.1, None), (0.0, None))])
def test_only_lines_moved_by_hand_are_asked_whether_they_meet(nudges, monkeypatch):
    """By rule no two can."""
    monkeypatch.setattr(by_hand, "meeting", lambda _group: ("Quay", "Étés gj"))
    text = SimpleNamespace(title=SimpleNamespace(nudges=nudges))
    layout = Case(ACROSS, sides=(40.0, 60.0)).layout(((0, 0), (1, 2)))
    layout = layout._replace(title=SimpleNamespace(texts=[text]))
    assert layout.meeting() == (("Quay", "Étés gj") if nudges else None)
