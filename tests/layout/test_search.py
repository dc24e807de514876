"""The layouts of a title, against every split there is."""

from __future__ import annotations

import math

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from spinefit import catalogue
from spinefit.geometry import outright_panel, turn_box, usable_panel
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.job.values import Panel
from spinefit.layout.divisions import lines_of
from spinefit.layout.group import group_of, leading_em
from spinefit.layout.search import search
from spinefit.layout.sense import is_good_shape, line_penalty, sense_of
from spinefit.shaping import shape_title
from spinefit.vocabulary import BreakWords, Case, Centre, Orientation, Reading, Turn
from tests.geometry.rectangle import largest_in_rectangle
from tests.layout.all_splits import all_splits

WORDS = (
    "A", "The", "of", "and", "Quay", "Harbour", "Light", "Ém", "gjy", "COMMISSIONERS",
    "Tide-Tables", "Vol. 2", "1848–1870", "it", "Port", "Ången", "as", "ace",
)  # fmt: skip


def run(job: Job):
    """Resolved job, title, panel and layouts."""
    resolved = resolve(job)
    title = shape_title(resolved)
    if resolved.spine is not None:
        panel = usable_panel(resolved.spine, resolved.shape, resolved.rules)
    else:
        panel = outright_panel(resolved.panel, resolved.shape)
    words = catalogue.title_words(resolved.language)
    return resolved, title, panel, search(resolved, title, panel, words)


def layouts_of(title: str, *, spine=None, panel=None, **fields):
    lettering = {
        name: fields.pop(name) for name in list(fields) if name in Lettering.__annotations__
    }
    if panel is None:
        spine = Spine(**({"width_mm": 20.0, "height_mm": 200.0} | (spine or {})))
    job = Job(title=title, spine=spine, panel=panel, lettering=Lettering(**lettering), **fields)
    return run(job)[3]


def centre_of(resolved, orientation: Orientation) -> Centre:
    """Section 4: capitals for longitudinal lettering on a back, ink otherwise."""
    along = orientation is Orientation.LONGITUDINAL and resolved.spine is not None
    asked = resolved.lettering.centre
    if orientation is Orientation.TRANSVERSE and resolved.spine is not None:
        return Centre.INK if not resolved.spine.bands or asked is Centre.AUTO else asked
    return (Centre.CAPITALS if along else Centre.INK) if asked is Centre.AUTO else asked


def by_force(resolved, title, panel, layout_kind, lines: int):
    """Size of every split of so many lines, by split."""
    orientation, turn = layout_kind
    leading = leading_em(title, resolved.lettering.leading_em, resolved.rules)
    words = sense_of(
        catalogue.title_words(resolved.language), resolved.rules, resolved.lettering.small_words
    )
    pieces = title.run.pieces
    found = {}
    for split in all_splits(len(pieces), lines):
        ends = {last for _first, last in split}
        if any(piece.forced_after and at not in ends for at, piece in enumerate(pieces)):
            continue
        penalty = sum(
            line_penalty(
                title.run.line_text(first, last),
                is_last=last + 1 == len(pieces) or pieces[last].forced_after,
                in_word=False,
                words=words,
            )
            for first, last in split
        )
        group = group_of(
            title,
            lines_of(title.run, split, leading, (penalty, 0), words),
            centre=centre_of(resolved, orientation),
        )
        limit = largest_in_rectangle(
            turn_box(group.box, turn),
            width_mm=panel.width_mm,
            height_mm=panel.height_mm,
            clearance_mm=resolved.lettering.clearance_mm,
        )
        found[split] = (limit.size_mm, max(group.widths_em), group, penalty)
    return found


@st.composite
def jobs(draw):
    words = draw(st.lists(st.sampled_from(WORDS), min_size=2, max_size=8))
    joints = [draw(st.sampled_from([" ", " ", " ", " ", " ", " / "])) for _ in words[1:]]
    title = words[0] + "".join(j + w for j, w in zip(joints, words[1:], strict=True))
    sides = [draw(st.integers(4, 120)) / 2 for _ in "ab"]
    lettering = Lettering(
        font=draw(st.sampled_from(["EB Garamond", "Source Serif 4", "Libre Baskerville"])),
        case=draw(st.sampled_from([None, Case.CAPITALS])),
        centre=draw(st.sampled_from(list(Centre))),
        clearance_mm=draw(st.sampled_from([None, 0.5])),
        leading_em=draw(st.sampled_from([None, 1.5, 0.5])),
    )
    kind = draw(st.sampled_from(["panel", "back", "bands", "open"]))
    if kind == "panel":
        panel = Panel(width_mm=sides[0], height_mm=sides[1])
        return Job(title=title, panel=panel, lettering=lettering, language="en")
    spine = Spine(
        width_mm=sides[0] + 2,
        height_mm=None if kind == "open" else 100 + 2 * sides[1],
        bands=4 if kind == "bands" else None,
    )
    method = "paperback-cover"  # whose margins leave something of a back of 4 mm
    return Job(title=title, spine=spine, lettering=lettering, language="en", method=method)


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(jobs())
def test_every_number_of_lines_lists_the_largest_of_all_its_splits(job):
    """In a plain rectangle: among the layouts of k lines is one as large as any split allows.

    One of them has the least greatest line, and each has the size that its split allows.
    """
    resolved, title, panel, layouts = run(job)
    kinds = {
        (one.candidate.orientation, one.candidate.turn) for one in layouts if not one.over_bands
    }
    assert {orientation for orientation, _turn in kinds} == {
        Orientation.TRANSVERSE,
        Orientation.LONGITUDINAL,
    }
    for kind in kinds:
        own = [
            one
            for one in layouts
            if not one.over_bands and (one.candidate.orientation, one.candidate.turn) == kind
        ]
        for lines in sorted({len(one.group.texts) for one in own}):
            listed = [one for one in own if len(one.group.texts) == lines]
            every = by_force(resolved, title, panel, kind, lines)
            best = max(size for size, _width, _group, _penalty in every.values())
            assert max(one.limit.size_mm for one in listed) == pytest.approx(best, rel=1e-9)
            narrowest = min(width for _size, width, _group, _penalty in every.values())
            assert min(max(one.group.widths_em) for one in listed) == pytest.approx(
                narrowest, rel=1e-9
            )
            for one in listed:
                size = next(s for s, _w, g, _p in every.values() if g.texts == one.group.texts)
                assert one.limit.size_mm == pytest.approx(size, rel=1e-9)


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(jobs())
@example(
    Job(title="A A A A Quay Quay A", spine=Spine(width_mm=4.0, height_mm=104.0), language="en")
)
@example(  # the first split that is large enough makes no shape, a later one does
    Job(
        title="it Harbour Ém Ången Harbour Harbour",
        spine=Spine(width_mm=24.5, height_mm=104.0),
        lettering=Lettering(font="Source Serif 4", case=Case.CAPITALS),
        language="en",
        method="paperback-cover",
    )
)
def test_every_number_of_lines_lists_the_best_sense_within_a_tenth(job):
    """Of all splits within a tenth of the best size, none reads better than one that is listed."""
    resolved, title, panel, layouts = run(job)
    share = resolved.rules.value("lines.sense_share")
    own = [one for one in layouts if not one.over_bands]
    for key in {
        (one.candidate.orientation, one.candidate.turn, len(one.group.texts)) for one in own
    }:
        *kind, lines = key
        listed = [
            one
            for one in own
            if (one.candidate.orientation, one.candidate.turn, len(one.group.texts)) == key
        ]
        every = by_force(resolved, title, panel, tuple(kind), lines)
        best = max(size for size, _width, _group, _penalty in every.values())
        near = [
            (penalty, not is_good_shape(group.shape))
            for size, _width, group, penalty in every.values()
            if size >= share * best * (1 + 1e-9)
        ]
        floor = share * best * (1 - 1e-9)
        found = [
            (one.group.penalty, not is_good_shape(one.group.shape))
            for one in listed
            if one.limit.size_mm >= floor
        ]
        assert not near or min(found) <= min(near)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.lists(st.sampled_from(WORDS), min_size=9, max_size=12),
    st.integers(10, 80),
    st.integers(10, 80),
    st.integers(2, 6),
)
def test_twelve_words_list_the_largest_of_all_their_splits(words, width, height, lines):
    """The same for long titles, one number of lines at a time."""
    job = Job(
        title=" ".join(words),
        panel=Panel(width_mm=float(width), height_mm=float(height)),
        lettering=Lettering(lines=lines, orientation=Orientation.TRANSVERSE),
        language="en",
    )
    resolved, title, panel, layouts = run(job)
    every = by_force(resolved, title, panel, (Orientation.TRANSVERSE, Turn.NONE), lines)
    best = max(size for size, _width, _group, _penalty in every.values())
    assert max(one.limit.size_mm for one in layouts) == pytest.approx(best, rel=1e-9)


def test_a_second_split_is_listed_where_it_gives_a_larger_size():
    """Where the height decides, the accent on a line of its own leaves more than the tails."""
    found = layouts_of(
        "The gjy Ém",
        panel=Panel(width_mm=99.0, height_mm=49.0),
        lines=2,
        orientation=Orientation.TRANSVERSE,
    )
    assert [one.group.texts for one in found] == [("The", "gjy Ém"), ("The gjy", "Ém")]
    assert [one.split for one in found] == ["least width", "size"]
    assert found[1].limit.size_mm > 1.1 * found[0].limit.size_mm


def test_a_hair_more_of_size_does_not_hide_the_split_that_reads_best():
    """Tide / Tables of the Northern Roads is larger, for want of a tail; nobody wants it."""
    found = layouts_of(
        "Tide Tables of the Northern Roads",
        panel=Panel(width_mm=20.0, height_mm=192.0),
        lines=2,
        orientation=Orientation.LONGITUDINAL,
    )
    assert [(one.group.texts, one.split) for one in found] == [
        (("Tide Tables of the", "Northern Roads"), "least width"),
        (("Tide", "Tables of the Northern Roads"), "size"),
        (("Tide Tables", "of the Northern Roads"), "sense"),
    ]


def counts(layouts, orientation: Orientation) -> set[int]:
    return {
        len(one.group.texts)
        for one in layouts
        if one.candidate.orientation is orientation and not one.over_bands
    }


def test_every_number_of_lines_up_to_the_pieces_is_listed_across():
    assert counts(layouts_of("A Light in the Bay"), Orientation.TRANSVERSE) == {1, 2, 3, 4, 5}
    assert counts(layouts_of("A b c d e f g h"), Orientation.TRANSVERSE) == {1, 2, 3, 4, 5, 6}


def test_every_number_of_lines_up_to_the_pieces_is_listed_along():
    """Section 7: every orientation asked for x number of lines, 1 to the pieces, at most 6."""
    assert counts(layouts_of("A Light in the Bay"), Orientation.LONGITUDINAL) == {1, 2, 3, 4, 5}


@pytest.mark.parametrize("lines", [1, 2, 3, 4])
def test_only_the_lines_asked_for_are_listed(lines):
    found = layouts_of("A Light in Bay", lines=lines)
    assert {len(one.group.texts) for one in found} == {lines}


@pytest.mark.parametrize(
    "asked", [Orientation.TRANSVERSE, Orientation.LONGITUDINAL, Orientation.PILLAR]
)
def test_only_the_orientation_asked_for_is_listed(asked):
    for spine in ({}, {"bands": 5}):
        found = layouts_of("The Harbour Light", orientation=asked, spine=spine)
        assert {one.candidate.orientation for one in found} == {asked}


def test_more_lines_than_pieces_are_refused():
    from spinefit.errors import FieldError

    with pytest.raises(FieldError) as fault:
        layouts_of("Harbour Light", lines=3)
    assert fault.value.where == "--lines"
    assert "2" in fault.value.remedy
    with pytest.raises(FieldError, match="one piece"):
        layouts_of("Harbour", lines=2)
    found = layouts_of("Harbour Light", lines=3, break_words=BreakWords.HYPHEN, language="en")
    assert all(any(one.group.broken) for one in found)


def test_forced_breaks_are_kept_in_every_layout():
    """A line never holds words from both sides of one."""
    for one in layouts_of("The Harbour / Light and Tides"):
        assert not any("Harbour Light" in line for line in one.group.texts)
        assert " ".join(one.group.texts) == "The Harbour Light and Tides"
        assert len(one.group.texts) >= 2


def test_no_word_is_broken_unless_allowed():
    for one in layouts_of("Harbourmastership at Sea"):
        assert not any(one.group.broken)
        assert " ".join(one.group.texts) == "Harbourmastership at Sea"


@pytest.mark.parametrize(("mode", "mark"), [(BreakWords.HYPHEN, "-"), (BreakWords.PLAIN, "")])
def test_broken_words_carry_their_mark(mode, mark):
    """Whole splits stay listed beside the broken ones."""
    found = layouts_of("Harbourmastership", break_words=mode, language="en")
    assert any(any(one.group.broken) for one in found)
    assert any(one.group.texts == ("Harbourmastership",) for one in found)
    for one in found:
        for text, broken in zip(one.group.texts, one.group.broken, strict=True):
            assert not broken or text.endswith(mark)
        joined = "".join(
            text.removesuffix(mark) if broken and mark else text
            for text, broken in zip(one.group.texts, one.group.broken, strict=True)
        )
        assert joined == "Harbourmastership"


@pytest.mark.parametrize(
    ("market", "title", "reading", "turn"),
    [
        (None, "Tides", Reading.DESCENDING, Turn.CLOCKWISE),
        ("GB", "Tides", Reading.DESCENDING, Turn.CLOCKWISE),
        ("FR", "Tides", Reading.ASCENDING, Turn.ANTICLOCKWISE),
    ],
)
def test_longitudinal_lines_turn_as_the_market_reads(market, title, reading, turn):
    (one,) = layouts_of(title, market=market, orientation=Orientation.LONGITUDINAL)
    assert (one.candidate.reading, one.candidate.turn) == (reading, turn)


def test_right_to_left_scripts_turn_the_other_way():
    """Descending Hebrew is turned anticlockwise, ascending Hebrew clockwise (trade facts 2.1)."""
    from spinefit.layout.standing import turn_of

    assert turn_of(Reading.DESCENDING, right_to_left=True) is Turn.ANTICLOCKWISE
    assert turn_of(Reading.ASCENDING, right_to_left=True) is Turn.CLOCKWISE
    assert turn_of(Reading.DESCENDING, right_to_left=False) is Turn.CLOCKWISE


def test_a_pillar_comes_on_request_only():
    assert not counts(layouts_of("Tides"), Orientation.PILLAR)
    assert not counts(layouts_of("Tides", market="JP"), Orientation.PILLAR)
    assert counts(layouts_of("Tides", orientation=Orientation.PILLAR), Orientation.PILLAR) == {1}


def test_lettering_over_the_bands_is_listed_last_and_apart():
    """One line along the whole back, for a banded back with a height; longer than its panel's."""
    found = layouts_of("The Harbour Light", spine={"bands": 5})
    over = [one for one in found if one.over_bands]
    assert [one.group.texts for one in over] == [("The Harbour Light",)]
    assert found[-1] is over[0]
    inside = next(
        one
        for one in found
        if one.candidate.orientation is Orientation.LONGITUDINAL and len(one.group.texts) == 1
    )
    assert over[0].limit.size_mm > inside.limit.size_mm
    assert not any(one.over_bands for one in layouts_of("Tides"))
    assert not any(
        one.over_bands for one in layouts_of("Tides", spine={"bands": 5, "height_mm": None})
    )


def test_without_a_height_only_the_width_limits():
    """Nothing is assumed of the length of the back."""
    for one in layouts_of("The Harbour Light", spine={"height_mm": None}):
        assert one.panel.height_mm is None
        assert math.isfinite(one.limit.size_mm)
        assert one.limit.size_mm > 0


def test_no_split_is_listed_twice():
    """For each orientation and number of lines, every split is another one."""
    found = layouts_of("A History of the Harbour Commissioners of the Port, Vol. 2")
    keys = [(one.candidate.orientation, one.over_bands, one.group.texts) for one in found]
    assert len(keys) == len(set(keys))


def test_lines_come_in_order():
    found = layouts_of("A History of the Harbour Commissioners of the Port, Vol. 2")
    for orientation in (Orientation.TRANSVERSE, Orientation.LONGITUDINAL):
        lines = [len(one.group.texts) for one in found if one.candidate.orientation is orientation]
        assert lines == sorted(lines)
