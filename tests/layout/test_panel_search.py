"""Which settings are listed, and that each can be found again."""

from __future__ import annotations

import pytest

from spinefit import catalogue
from spinefit.geometry import outright_panel, usable_panel
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.job.values import Panel
from spinefit.layout.search import PanelSearch, search
from spinefit.layout.standing import candidates
from spinefit.shaping import shape_title
from spinefit.vocabulary import BreakWords, Orientation
from tests.layout.all_splits import all_splits

ACROSS, ALONG = Orientation.TRANSVERSE, Orientation.LONGITUDINAL


def tries(title: str, sides=(40.0, 60.0), **lettering):
    """The tries, and the layouts of every candidate."""
    panel = Panel(width_mm=sides[0], height_mm=sides[1])
    job = resolve(Job(title=title, panel=panel, lettering=Lettering(**lettering), language="en"))
    shaped = shape_title(job)
    words = catalogue.title_words("en")
    found = PanelSearch(job, shaped, outright_panel(job.panel, job.shape), words)
    return found, [each for one in candidates(job, shaped) for each in found.of(one)]


@pytest.mark.parametrize(
    "lettering",
    [
        {},
        {"orientation": Orientation.PILLAR},
        {"break_words": BreakWords.HYPHEN, "orientation": ACROSS},
    ],
)
def test_a_layout_is_found_again(lettering):
    """As a title of other letters is laid in the split of this one."""
    found, layouts = tries("The Lighthousekeeper of Wrackness Bay", **lettering)
    assert layouts
    for layout in layouts:
        again = found.again(layout)
        assert again.group == layout.group
        assert again.limit == layout.limit
        assert again.split == layout.split


def test_a_split_that_reads_better_is_listed_beside_the_narrowest():
    """For a hanging catch-word as for a stranded article; never one that reads worse."""
    for title in ("The Works of Ann Quay", "Tides of the Bay", "Log of a Pilot", "Rope and Tide"):
        for sides in ((40.0, 60.0), (60.0, 20.0)):
            _found, layouts = tries(title, sides)
            for layout in layouts:
                if layout.split == "sense":
                    others = [
                        one
                        for one in layouts
                        if one.candidate == layout.candidate
                        and len(one.group.texts) == len(layout.group.texts)
                        and one is not layout
                    ]
                    best = max(one.limit.size_mm for one in others)
                    assert layout.group.penalty < min(one.group.penalty for one in others)
                    assert layout.limit.size_mm >= 0.9 * best * (1 - 1e-12)


@pytest.mark.parametrize(
    ("title", "lines", "narrow", "sense"),
    [
        ("Tide and Rope", 2, ("Tide", "and Rope"), None),
        ("Tides of Bay", 2, None, ("Tides", "of Bay")),
    ],
)
def test_a_hanging_catch_word_is_enough_to_look_for_better(title, lines, narrow, sense):
    """One that ends a line costs little, and is avoided where that costs less than a tenth."""
    _found, layouts = tries(title, (90.0, 12.0), orientation=ACROSS)
    own = [one for one in layouts if len(one.group.texts) == lines]
    assert min(one.group.penalty for one in own) == 0.0
    wanted = sense or narrow
    assert wanted in [one.group.texts for one in own]


def test_words_are_broken_along_only_into_more_lines_than_there_are_words():
    said = {"break_words": BreakWords.HYPHEN}
    layouts = tries("Harbourmastership Registers", (20.0, 60.0), **said)[1]
    across = [one for one in layouts if one.candidate.orientation is ACROSS]
    along = [one for one in layouts if one.candidate.orientation is ALONG]
    assert any(any(one.group.broken) and len(one.group.texts) == 2 for one in across)
    assert not any(any(one.group.broken) and len(one.group.texts) <= 2 for one in along)
    assert any(any(one.group.broken) and len(one.group.texts) == 3 for one in along)
    assert not any(any(one.group.broken) for one in layouts if len(one.group.texts) == 1)


def test_why_a_split_is_listed():
    _found, layouts = tries("Rope / and Tide Tables", orientation=ACROSS)
    why = {len(one.group.texts): one.split for one in reversed(layouts)}
    assert 1 not in why
    assert (why[2], why[3]) == ("as typed", "least width")
    assert tries("Rope", orientation=ACROSS)[1][0].split == "whole"


def test_fewer_lines_along_than_there_are_words_break_none():
    said = {"break_words": BreakWords.HYPHEN, "orientation": ALONG}
    layouts = tries("Harbourmastership Registers Wrackness", (30.0, 40.0), **said)[1]
    broken = [len(one.group.texts) for one in layouts if any(one.group.broken)]
    assert broken
    assert min(broken) == 4


@pytest.mark.parametrize("title", ["Harbourmastership", "Lighthousekeepers Log", "Tidewatership"])
@pytest.mark.parametrize("sides", [(20.0, 60.0), (60.0, 20.0)])
@pytest.mark.parametrize("lines", [2, 3])
def test_where_one_word_is_broken_its_next_best_place_is_listed_too(title, sides, lines):
    """One place before or after, whichever gives the narrower lines; unless it is listed."""
    said = {"break_words": BreakWords.HYPHEN, "orientation": ACROSS, "lines": lines}
    search, layouts = tries(title, sides, **said)
    broken = [one for one in layouts if one.group.breaks]
    own = [one for one in broken if one.split != "beside"]
    beside = [one for one in broken if one.split == "beside"]
    split = own[0].cut[1]
    pieces = search._title.run_broken(BreakWords.HYPHEN).pieces
    splitter = search._division(BreakWords.HYPHEN).splitter
    expected = []
    for other in all_splits(len(pieces), lines):
        moved = [a[1] - b[1] for a, b in zip(other, split, strict=True) if a[1] != b[1]]
        ends = [pieces[last].in_word for _first, last in other]
        same = ends == list(own[0].group.broken)
        if moved in ([1], [-1]) and same and other not in [one.cut[1] for one in own]:
            at = next(at for at, (a, b) in enumerate(zip(other, split, strict=True)) if a != b)
            if ends[at]:
                expected.append(other)
    if own[0].group.breaks != 1 or not expected:
        assert beside == []
    else:
        (one,) = beside
        least_em = min(max(splitter.widths_of(other)) for other in expected)
        assert one.cut[1] in expected
        assert max(one.group.widths_em) == pytest.approx(least_em)


def test_of_two_places_beside_a_break_the_narrower_is_listed():
    """The word can be broken before and after the best place; which is better its letters say."""
    search, layouts = tries(
        "Harbourmastership", (20.0, 60.0), break_words=BreakWords.PLAIN, orientation=ACROSS, lines=2
    )
    best, beside = (one.cut[1] for one in layouts)
    splitter = search._division(BreakWords.PLAIN).splitter
    around = [((0, at), (at + 1, splitter.count - 1)) for at in (best[0][1] - 1, best[0][1] + 1)]
    assert all(0 <= split[0][1] < splitter.count - 1 for split in around)
    assert beside == min(around, key=lambda split: max(splitter.widths_of(split)))


@pytest.mark.parametrize(("lines", "over"), [(None, 1), (1, 1), (2, 0)])
@pytest.mark.parametrize("way", [Orientation.ANY, ACROSS, ALONG])
def test_over_the_bands_one_line_along_is_listed_where_it_may_be_asked_for(lines, over, way):
    spine = Spine(width_mm=30.0, height_mm=200.0, bands=4)
    lettering = Lettering(orientation=way, lines=lines)
    job = resolve(Job(title="Harbour Light", spine=spine, lettering=lettering))
    panel = usable_panel(job.spine, job.shape, job.rules)
    layouts = search(job, shape_title(job), panel, catalogue.title_words("en"))
    found = [one for one in layouts if one.over_bands]
    assert len(found) == (over if way is not ACROSS else 0)
    assert all(one.group.texts == ("Harbour Light",) for one in found)
    assert all(one.candidate.orientation is ALONG for one in found)
