"""Lines placed under one another."""

from __future__ import annotations

import itertools
from types import SimpleNamespace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spinefit import catalogue
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.layout.divisions import SetLines, lines_of
from spinefit.layout.group import (
    Group,
    SetLine,
    columns_of,
    group_of,
    leading_em,
    least_leading_em,
    pillar_of,
    placed_boxes,
    placed_line,
    placed_outlines,
    vertical_reach,
)
from spinefit.layout.sense import sense_of
from spinefit.shaping import shape_title
from spinefit.shaping.glyphs import ink_box, union
from spinefit.vocabulary import Case, Centre, SmallWords
from tests.layout.all_splits import all_splits

RULES = catalogue.rules()
SENSE = sense_of(catalogue.title_words("en"), RULES, SmallWords.JOINED)
FONTS = ["EB Garamond", "Libre Baskerville", "Source Serif 4", "Cinzel", "Alegreya Sans"]
TITLES = [
    "Tides",
    "The Harbour Light",
    "ÉQUIPAGES ÇÀ ET LÀ",
    "Quay, Jetty & Pier (gjpqy)",
    "A — B . C",
    "Ångström ß Ḽ",
]
titles, fonts = st.sampled_from(TITLES), st.sampled_from(FONTS)
centres = st.sampled_from([Centre.INK, Centre.CAPITALS])


def shaped(title: str, **lettering):
    spine = Spine(width_mm=20.0, height_mm=200.0)
    return shape_title(resolve(Job(title=title, spine=spine, lettering=Lettering(**lettering))))


def a_group(title, split, *, leading=None, centre=Centre.INK):
    leading = leading_em(title, None, RULES) if leading is None else leading
    return group_of(title, lines_of(title.run, split, leading, (0.0, 0), SENSE), centre=centre)


def line_boxes(title, group):
    """Ink of each line as it will be drawn, in em about the placing point."""
    found = []
    for text, baseline in zip(group.texts, group.baselines_em, strict=True):
        boxes = []
        for outline, x, y in title.set_line(text)[0]:
            box = ink_box(outline)
            boxes.append((box[0] + x, box[1] + y + baseline, box[2] + x, box[3] + y + baseline))
        found.append(union(boxes))
    return found


@settings(max_examples=60, deadline=None)
@given(titles, fonts, centres, st.data())
def test_lines_are_equally_far_apart_and_no_two_inks_meet(text, font, centre, data):
    """Between the inks of any two lines lies the least gap at the least."""
    if font != "EB Garamond" and "Ḽ" in text:
        return
    title = shaped(text, font=font)
    count = len(title.run.pieces)
    lines = data.draw(st.integers(1, count))
    split = data.draw(st.sampled_from(list(all_splits(count, lines))))
    asked = data.draw(st.sampled_from([None, 0.1, 2.5]))
    leading = leading_em(title, asked, RULES)
    group = a_group(title, split, leading=leading, centre=centre)
    steps = [a - b for a, b in itertools.pairwise(group.baselines_em)]
    assert steps == pytest.approx([leading] * len(steps))
    gap = RULES.value("lines.least_gap") * title.cap_height_em
    boxes = line_boxes(title, group)
    for upper, lower in itertools.pairwise(boxes):
        assert upper[1] - lower[3] >= gap - 1e-9


@settings(max_examples=60, deadline=None)
@given(titles, fonts, st.data())
def test_the_box_is_that_of_the_ink_and_is_centred(text, font, data):
    """Left and right alike on every line; head and tail alike about the placing point."""
    if font != "EB Garamond" and "Ḽ" in text:
        return
    title = shaped(text, font=font)
    count = len(title.run.pieces)
    split = data.draw(st.sampled_from(list(all_splits(count, data.draw(st.integers(1, count))))))
    group = a_group(title, split)
    left, bottom, right, top = group.box
    assert (-left, -bottom) == pytest.approx((right, top))
    placed = []
    for outline, x, y in placed_outlines(title, group, pillar=False):
        box = ink_box(outline)
        placed.append((box[0] + x, box[1] + y, box[2] + x, box[3] + y))
    assert union(placed) == pytest.approx(group.box, abs=1e-9)
    assert right - left == pytest.approx(max(group.widths_em))
    assert group.widths_em == pytest.approx([b[2] - b[0] for b in line_boxes(title, group)])


def test_capitals_centring_ignores_accents_and_tails():
    """A Q or an É moves nothing: the band from baseline to cap height is in the middle."""
    for text in ("TIDES", "ÉTÉS", "QUAY", "Tidal TABLES"):
        title = shaped(text)
        group = a_group(title, ((0, len(title.run.pieces) - 1),), centre=Centre.CAPITALS)
        assert group.baselines_em[0] == pytest.approx(-title.cap_height_em / 2)


def test_capitals_centring_of_small_letters_takes_the_x_height():
    """Mostly small letters: their band is in the middle."""
    title = shaped("tides and quays")
    group = a_group(title, ((0, 2),), centre=Centre.CAPITALS)
    assert group.baselines_em[0] == pytest.approx(-title.x_height_em / 2)


def test_capitals_centring_of_two_lines_is_symmetric():
    """As much above the middle to the first caps' tops as below to the last baseline."""
    title = shaped("TIDES QUAY")
    group = a_group(title, ((0, 0), (1, 1)), centre=Centre.CAPITALS)
    first, last = group.baselines_em
    assert first + title.cap_height_em == pytest.approx(-last)


@pytest.mark.parametrize("centre", [Centre.INK, Centre.CAPITALS])
def test_reach_is_the_groups(centre):
    """The search's bounds are made from the same place as the group."""
    title = shaped("Quay Étés gj")
    leading = leading_em(title, None, RULES)
    for split in all_splits(3, 2):
        group = a_group(title, split, centre=centre)
        top = title.run.line_ink(*split[0])[3]
        bottom = title.run.line_ink(*split[-1])[1]
        reach = vertical_reach(title, top, bottom, leading, centre)
        assert (group.box[3], group.box[1]) == pytest.approx(reach)


def test_leading_of_capitals_and_of_mixed_setting():
    """1.6 cap heights; 1.15 em."""
    capitals = shaped("TIDES")
    assert leading_em(capitals, None, RULES) == pytest.approx(1.6 * capitals.cap_height_em)
    assert leading_em(shaped("Tides"), None, RULES) == pytest.approx(1.15)


def test_small_capitals_stand_as_capitals_do():
    small = shaped("Tides", font="EB Garamond", case=Case.SMALL_CAPITALS)
    assert leading_em(small, None, RULES) == pytest.approx(1.6 * small.cap_height_em)


def test_leading_is_never_less_than_ink_and_a_gap():
    """Greatest ascent, greatest descent and 0.15 cap height, whatever was asked."""
    title = shaped("Ŷg Åq")
    least = title.ascent_em + title.descent_em + 0.15 * title.cap_height_em
    assert least_leading_em(title, RULES) == pytest.approx(least)
    assert leading_em(title, 0.2, RULES) == pytest.approx(least)
    assert leading_em(title, 3.0, RULES) == 3.0
    tall = shaped("Ẫg Ẫq")
    assert leading_em(tall, None, RULES) == pytest.approx(max(1.15, least_leading_em(tall, RULES)))


def test_a_pillar_has_one_pitch_and_no_two_letters_meet():
    """A space takes a letter's pitch; each letter is centred on its ink."""
    for text in ("TIDES", "gÉjQ y"):
        title = shaped(text)
        group = pillar_of(title, RULES)
        letters = title.letters()
        steps = [a - b for a, b in itertools.pairwise(group.baselines_em)]
        assert len(group.baselines_em) == len(letters)
        assert steps == pytest.approx([steps[0]] * len(steps))
        inked = [
            (box, at) for (_t, box), at in zip(letters, group.baselines_em, strict=True) if box
        ]
        for (upper, a), (lower, b) in itertools.pairwise(inked):
            assert upper[1] + a > lower[3] + b
        left, bottom, right, top = group.box
        assert (-left, -bottom) == pytest.approx((right, top))
        assert right - left == pytest.approx(max(box[2] - box[0] for box, _at in inked))
        assert group.shape == "pillar"
        placed = []
        for outline, x, y in placed_outlines(title, group, pillar=True):
            box = ink_box(outline)
            placed.append((box[0] + x, box[1] + y, box[2] + x, box[3] + y))
        assert union(placed) == pytest.approx(group.box, abs=1e-9)


class Drawn:
    """A title of which only boxes are known: capitals 0.6 em high."""

    cap_height_em = 0.6
    text = "abc"

    def __init__(self, boxes) -> None:
        self._boxes = boxes

    def letters(self):
        return [(name, box) for name, box in self._boxes.items()]

    def column(self, text):
        return SimpleNamespace(box=self._boxes[text])


def test_a_pillar_by_hand():
    """Tops at most 0.7, bottoms at least -0.2: the pitch is 0.9 and the gap of the rules."""
    boxes = {
        "a": (0.1, 0.0, 0.5, 0.7),
        "b": (0.0, -0.2, 0.8, 0.3),
        " ": None,
        "c": (0, 0.1, 1, 0.5),
    }
    group = pillar_of(Drawn(boxes), RULES)
    pitch = 0.9 + RULES.value("lines.pillar_gap") * 0.6
    top, bottom = 0.7, -3 * pitch + 0.1
    middle = (top + bottom) / 2
    assert group.baselines_em == pytest.approx([-pitch * at - middle for at in range(4)])
    assert group.box == pytest.approx((-0.5, bottom - middle, 0.5, top - middle))
    assert group.widths_em == pytest.approx((1.0,))
    assert (group.penalty, group.broken, group.texts) == (0.0, (False,), ("abc",))
    assert (group.lines.phrases, group.line_count, group.seams) == (0, 1, 0)
    single = pillar_of(Drawn({"a": (0.1, -0.2, 0.5, 0.7)}), RULES)
    assert single.box == pytest.approx((-0.2, -0.45, 0.2, 0.45))
    assert single.baselines_em == pytest.approx((-0.25,))


def test_letters_that_stand_high_have_no_negative_descent():
    group = pillar_of(Drawn({"a": (0.0, 0.3, 1.0, 0.7), "b": (0.0, 0.2, 1.0, 0.6)}), RULES)
    first, second = group.baselines_em
    assert first - second == pytest.approx(0.7 + RULES.value("lines.pillar_gap") * 0.6)


COLUMNS = {
    "a": (-0.4, -3.0, 0.5, 0.1),
    "b": (-0.6, -2.0, 0.3, 0.2),
    "c": (-0.5, -1.0, 0.4, 0.0),
    "d": (-0.4, -1.0, 0.4, -0.3),
    " ": None,
}


def columns(texts, leading):
    said = {"leading": leading, "rules": RULES, "penalty": 3.0}
    return columns_of(Drawn(COLUMNS), texts, **said)


def test_columns_by_hand():
    """Two em apart, each to the left of the one before; about the middle of their ink."""
    group = columns(["a", "b", "c"], 2.0)
    x, y = (0.5 - 4.5) / 2, (0.2 - 3.0) / 2
    assert group.box == pytest.approx((-4.5 - x, -3.0 - y, 0.5 - x, 0.2 - y))
    assert group.widths_em == pytest.approx((0.9, 0.9, 0.9))
    assert [at[0] for at in group.columns_em] == pytest.approx([-x, -2 - x, -4 - x])
    assert [at[1] for at in group.columns_em] == pytest.approx([-y] * 3)
    assert group.baselines_em == pytest.approx((-y, -y, -y))
    assert (group.penalty, group.broken) == (3.0, (False,) * 3)


def test_columns_keep_their_ink_apart():
    """Asked nearer, they stand where the least gap lies between the nearest two."""
    group = columns(["a", "b", "c"], 0.1)
    gap = RULES.value("lines.least_gap") * 0.6
    steps = [a[0] - b[0] for a, b in itertools.pairwise(group.columns_em)]
    # b reaches 0.3 to the right and a 0.4 to the left; c reaches 0.4 and b 0.6.
    assert steps == pytest.approx([1.0 + gap] * 2)


def test_a_column_without_ink_has_no_width():
    group = columns(["c", " "], 1.0)
    assert group.widths_em == pytest.approx((0.9, 0.0))
    assert group.box == pytest.approx((-0.7, -0.5, 0.7, 0.5))
    # It stands as a point at the head of its cells, above the ink of a letter that begins lower.
    assert columns(["d", " "], 1.0).box == pytest.approx((-0.7, -0.5, 0.7, 0.5))
    (only,) = columns(["a"], 1.0).columns_em
    assert only == pytest.approx((-0.05, 1.45))


def test_levels_are_kept_only_where_something_reads_from_the_right():
    title = shaped("Tides")
    run = SimpleNamespace(
        pieces=title.run.pieces,
        line_ink=title.run.line_ink,
        line_text=title.run.line_text,
        line_levels=lambda first, last: (1, 1),
    )
    assert lines_of(run, ((0, 0),), 1.0, (0.0, 0), SENSE).levels == ((1, 1),)
    assert lines_of(title.run, ((0, 0),), 1.0, (0.0, 0), SENSE).levels == ()


@pytest.mark.parametrize("scale", [0.5, 1.0, 2.0])
@pytest.mark.parametrize("flush_left", [False, True])
def test_a_line_in_its_own_size_stands_on_its_baseline(scale, flush_left):
    """Its ink so many times as large, in the middle or at the left of the label.

    In the size of the leading text its letters are the font's own outlines, no copies of them.
    """

    def set_line(text, levels):
        """As the font sets it, a little higher, as a mark over a letter stands."""
        letters, (left, bottom, right, top) = shaped("Quay Log").set_line(text, levels)
        raised = [(outline, x, y + 0.3) for outline, x, y in letters]
        return raised, (left, bottom + 0.3, right, top + 0.3)

    title = SimpleNamespace(set_line=set_line)
    letters, box = set_line("Quay Log", None)
    width_em = (box[2] - box[0]) * scale
    line = SetLine(1, title, scale, "Quay Log", None, -1.5, 0.0, width_em, (box[1], box[3]))
    lines = SetLines(("Quay Log",), (width_em,), (1.5,), (False,), 0.0)
    group = Group(lines, (-9.0, -2.0, 9.0, 1.0), Centre.INK, flush_left=flush_left)
    found = list(placed_line(group, line))
    left = -9.0 if flush_left else -width_em / 2
    expected = (left, box[1] * scale - 1.5, left + width_em, box[3] * scale - 1.5)
    inks = [(ink_box(outline), x, y) for outline, x, y in found]
    placed = [(ink[0] + x, ink[1] + y, ink[2] + x, ink[3] + y) for ink, x, y in inks]
    assert union(placed) == pytest.approx(expected)
    steps = [after[1] - before[1] for before, after in itertools.pairwise(letters)]
    assert [b[1] - a[1] for a, b in itertools.pairwise(found)] == pytest.approx(
        [step * scale for step in steps]
    )
    same = [one[0] is other[0] for one, other in zip(found, letters, strict=True)]
    assert all(same) if scale == 1 else not any(same)


def test_lines_stand_about_the_middle_unless_asked_to_the_left():
    """Light is narrower than The Harbour: as far from the one side as from the other."""
    title = shaped("The Harbour Light")
    lines = lines_of(title.run, ((0, 1), (2, 2)), 1.2, (0.0, 0), SENSE)
    group = group_of(title, lines, centre=Centre.INK)
    assert not group.flush_left
    assert group.shift_em(1.0, 3.0) == -2.0
    left = group_of(title, lines, centre=Centre.INK, flush_left=True)
    assert left.shift_em(1.0, 3.0) == pytest.approx(-group.widths_em[0] / 2 - 1.0)
    assert left.shape == "flush left"


def test_what_is_told_of_a_group_by_hand():
    """Of lines moved by hand the distance by rule, of rules that each is a line between spaces."""
    lines = SetLines(("Quay", "Log", "1889"), (2.0, 1.5, 1.0), (0.0, 1.3, 2.7), (False,) * 3, 0.0)
    group = Group(lines, (-1.0, -2.0, 1.0, 1.2), Centre.INK, middle_em=-0.5)
    assert group.baselines_em == pytest.approx((0.5, -0.8, -2.2))
    assert group.leading_em == pytest.approx(1.3)
    # The first was moved up by 0.2, the second down by 0.1: by rule they are 1 em apart.
    moved = tuple(
        SetLine(0, None, 1.0, text, None, baseline, up, 1.0, (0.0, 0.7))
        for text, baseline, up in zip(
            lines.texts, group.baselines_em, (0.2, -0.1, 0.4), strict=True
        )
    )
    assert group._replace(set_lines=moved).leading_em == pytest.approx(1.0)
    rule = ((-1.0, 0.1, 1.0, 0.2),)
    assert (group.seams, group._replace(rules=(rule, rule)).seams) == (2, 4)
    # In ink 8 mm high 3.2 em are 2.5 mm each.
    assert group.first_line(8.0) == pytest.approx(1.25)


def test_a_rule_is_drawn_where_its_box_is():
    box = (-1.0, -0.3, 2.0, -0.1)
    ((outline, x, y),) = placed_boxes([box])
    assert (ink_box(outline), x, y) == (box, 0.0, 0.0)
