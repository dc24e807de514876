"""What a search knows before it looks at splits, and how it does without: against every split."""

from __future__ import annotations

import itertools

import pytest

from spinefit.geometry import turn_box
from spinefit.layout.group import Group, leading_em
from spinefit.layout.search import PanelSearch
from spinefit.layout.standing import Layout, Standing
from spinefit.vocabulary import GroupShape, Orientation
from tests.geometry.rectangle import largest_in_rectangle
from tests.layout.sketched import sketched
from tests.layout.test_every_split import WORDS, Asked, cases

ACROSS = Orientation.TRANSVERSE
MOST_LAID = 60  # of one shape and number of lines, in a panel that is no rectangle


class Unknowing(Standing):
    """In a rectangle, but told that it is none: nothing is known of a size but by laying."""

    def __init__(self, asked: Asked) -> None:
        super().__init__(asked.job, asked.title, asked.panel, asked.candidate)
        self.is_plain = False
        self.laid: list[Layout] = []

    def layout(self, group: Group, why: str, cut: object = None) -> Layout:
        self.is_plain = True
        found = super().layout(group, why, cut)  # type: ignore[arg-type]
        self.is_plain = False
        self.laid.append(found)
        return found


def test_the_bound_is_of_the_narrowest_split_and_the_lowest_ends():
    """No split is larger, none lower; of one line it is exact, as of others where one has all."""
    exact = 0
    for asked, counts in cases(300, seed=6):
        search = PanelSearch(asked.job, asked.title, asked.panel, WORDS)
        leading = leading_em(asked.title, None, asked.job.rules)
        assert list(search.may_have(asked.candidate)) == counts
        several = [way for lines in counts if lines > 1 for way in asked.every(lines)]
        # Ends count that any split into several lines has, into more than are looked for too.
        run = asked.title.run
        inks = [way.split for way in several]
        ends = [(run.line_ink(*split[0])[3], run.line_ink(*split[-1])[1]) for split in inks]
        for lines in counts:
            every = asked.every(lines)
            bound_mm = search.size_bound_mm(asked.standing, lines)
            best_mm = max(way.size_mm for way in every)
            height_em = min(way.layout.group.box[3] - way.layout.group.box[1] for way in every)
            assert bound_mm >= best_mm * (1 - 1e-9)
            assert search.least_height_em(lines) <= height_em + 1e-9
            exact += bound_mm == pytest.approx(best_mm)
            if lines == 1:
                assert search.least_height_em(1) == pytest.approx(height_em)
                assert bound_mm == pytest.approx(best_mm)
                continue
            depth_em = leading * (lines - 1)
            top, bottom = min(end[0] for end in ends), max(end[1] for end in ends)
            assert search.least_height_em(lines) == pytest.approx(top - bottom + depth_em)
            half = min(way.width_em for way in every) / 2
            reach = (top - bottom + depth_em) / 2
            limit = largest_in_rectangle(
                turn_box((-half, -reach, half, reach), asked.candidate.turn),
                width_mm=asked.panel.width_mm,
                height_mm=asked.panel.height_mm,
                clearance_mm=0.0,
            )
            assert bound_mm == pytest.approx(limit.size_mm)
    assert exact > 500


def test_fewer_lines_than_are_forced_and_more_than_there_are_words_cannot_be():
    title = sketched(["Log", "of", "Tides"], [1.0] * 3, [0.7] * 3, [0.0] * 3, forced=[0])
    asked = Asked(title, (60.0, 60.0), ACROSS)
    search = PanelSearch(asked.job, title, asked.panel, WORDS)
    for counts, expected in ((range(1, 9), [2, 3]), (range(3, 9), [3]), (range(1, 3), [2])):
        assert list(search.may_have(asked.candidate._replace(line_counts=counts))) == expected


def test_where_no_bound_is_known_the_largest_of_what_was_laid_is_listed():
    """Beside the narrowest one that is larger, never one that is as large or smaller."""
    larger = 0
    for asked, counts in cases(200, seed=7):
        standing = Unknowing(asked)
        search = PanelSearch(asked.job, asked.title, asked.panel, WORDS)
        for lines in counts:
            standing.laid.clear()
            first, *others = search.largest_in_lines(standing, lines)
            assert standing.laid[0] is first
            best_mm = max(one.limit.size_mm for one in standing.laid)
            assert best_mm == pytest.approx(max(way.size_mm for way in asked.every(lines)))
            if best_mm <= first.limit.size_mm * (1 + 1e-9):
                assert others == []
            else:
                (one,) = others
                assert one.limit.size_mm == pytest.approx(best_mm, rel=1e-9)
                larger += 1
    assert larger > 20


def test_of_a_shape_the_largest_split_is_listed():
    """Each split with the heights of its own ends; of those as large the least penalty."""
    for asked, counts in cases(150, seed=8):
        for shape, lines in itertools.product(GroupShape, counts):
            lettering = asked.job.lettering._replace(group_shape=shape)
            job = asked.job._replace(lettering=lettering)
            found = PanelSearch(job, asked.title, asked.panel, WORDS).in_lines(
                asked.standing, lines
            )
            ways = [way for way in asked.every(lines) if way.layout.group.shape == shape]
            assert len(found) == bool(ways)
            if not ways:
                continue
            best_mm = max(way.size_mm for way in ways)
            best = [way for way in ways if way.size_mm >= best_mm * (1 - 1e-9)]
            assert found[0].limit.size_mm == pytest.approx(best_mm, abs=1e-8)
            assert found[0].group.penalty == pytest.approx(min(way.penalty for way in best))


def test_where_each_has_to_be_laid_only_the_narrowest_of_a_shape_are():
    """Of 165 ways to cut twelve words into four lines those of long and short in alternation."""
    words = ["Quay", "Tide", "Rope", "Light", "Bay", "Log"] * 2
    widths = [3.0, 1.0, 0.5, 2.0, 0.5, 1.5, 1.0, 4.0, 0.5, 1.0, 2.0, 0.5]
    title = sketched(words, widths, [0.7] * 12, [0.0] * 12)
    asked = Asked(title, (60.0, 60.0), ACROSS, group_shape=GroupShape.LONG_AND_SHORT)
    shaped = [way for way in asked.every(4) if way.layout.group.shape == GroupShape.LONG_AND_SHORT]
    assert len(shaped) > MOST_LAID
    standing = Unknowing(asked)
    (found,) = PanelSearch(asked.job, title, asked.panel, WORDS).in_lines(standing, 4)
    *tried, chosen = standing.laid
    assert chosen is found
    widths_em = sorted(way.width_em for way in shaped)
    assert sorted(max(one.group.widths_em) for one in tried) == widths_em[:MOST_LAID]
    assert found.limit.size_mm == max(one.limit.size_mm for one in tried)
