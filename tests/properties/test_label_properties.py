"""What holds of every label with several texts: the largest is exact, whatever is on it."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spinefit import Job, Lettering, Panel, Part
from spinefit.job.resolve import resolve
from spinefit.judgement.text import JudgedText, judge_text
from spinefit.shaping import ShapedTitle, shape_titles
from spinefit.shaping.title import SetRule, SetText
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Case, Measure, Orientation, Role, Ruling

WORDS = ("The", "Harbour", "Light", "of", "Wrackness", "Pilots", "and", "Quay", "gulls", "1889")
MOST_LINES = 6

texts = st.lists(st.sampled_from(WORDS), min_size=1, max_size=4).map(" ".join)
rules = st.builds(
    Part, role=st.just(Role.RULE), rule=st.sampled_from(Ruling), measure=st.sampled_from(Measure)
)
written = st.builds(
    Part,
    role=st.sampled_from([Role.AUTHOR, Role.SUBTITLE, Role.VOLUME, Role.DATE, Role.IMPRINT]),
    text=texts,
)
titles = st.builds(Part, role=st.just(Role.TITLE), text=texts)
sides = st.integers(min_value=18, max_value=70)


@st.composite
def labels(draw: st.DrawFn) -> Job:
    parts = draw(st.lists(st.one_of(written, rules), min_size=1, max_size=3))
    parts.insert(draw(st.integers(0, len(parts))), draw(titles))
    method = draw(st.sampled_from(["paper-label", "hand-letters"]))
    case = draw(st.sampled_from([Case.AS_TYPED, Case.CAPITALS]))
    return Job(
        parts=tuple(parts),
        panel=Panel(width_mm=draw(sides), height_mm=draw(sides)),
        method=method,
        lettering=Lettering(case=case, clearance_mm=1.0, font="EB Garamond"),
    )


def across(judged: JudgedText) -> float:
    """The largest of all settings across, in points."""
    own = [one for one in judged.judgement.judged if one.orientation is Orientation.TRANSVERSE]
    return max(one.largest_pt for one in own)


def every_size(title: ShapedTitle, gap_em: float) -> Iterator[tuple[float, float]]:
    """Width and depth, in em, of a label with its texts broken in every way there is."""
    own = [text for text in title.stack if isinstance(text, SetText)]
    ruled = [rule for rule in title.stack if isinstance(rule, SetRule)]
    thick_em = sum(sum(rule.ruling_mm) / rule.em_mm for rule in ruled)
    for ways in itertools.product(*(list(_every_way(text, gap_em)) for text in own)):
        gaps_em = gap_em * (len(own) + len(ruled) - 1)
        yield max(way[0] for way in ways), sum(way[1] for way in ways) + gaps_em + thick_em


def _every_way(text: SetText, gap_em: float) -> Iterator[tuple[float, float]]:
    """Width and depth of one text in every split, its ink measured line by line."""
    run = text.title.run
    count = len(run.pieces)
    for lines in range(1, min(count, MOST_LINES) + 1):
        for breaks in itertools.combinations(range(1, count), lines - 1):
            ends = zip((0, *breaks), (*breaks, count), strict=True)
            inks = [run.line_ink(first, after - 1) for first, after in ends]
            seams = [below[3] - above[1] for above, below in itertools.pairwise(inks)]
            pitch_em = max(seams) * text.scale + gap_em if seams else 0.0
            depth_em = (inks[0][3] - inks[-1][1]) * text.scale + pitch_em * (lines - 1)
            yield max(ink[2] - ink[0] for ink in inks) * text.scale, depth_em


@given(labels())
@settings(max_examples=40, deadline=None)
def test_no_split_of_any_text_is_larger_and_the_largest_fits(job: Job) -> None:
    """Brute force over all splits and numbers of lines: one fits at the largest, none above."""
    judged = judge_text(job, closed=True)
    assert job.panel is not None
    room = job.panel.width_mm - 2, job.panel.height_mm - 2
    largest_pt = across(judged)
    gap_em = judged.judgement.judged[0].layout.group.gap_em
    (title,) = shape_titles(resolve(job))

    def fits(size_pt: float, slack: float) -> bool:
        em_mm = mm_from_pt(size_pt)
        return any(
            width * em_mm <= room[0] * slack and depth * em_mm <= room[1] * slack
            for width, depth in every_size(title.at_size(size_pt), gap_em)
        )

    if largest_pt > 0.2:
        assert fits(largest_pt, 1 + 1e-9)
    assert not fits(largest_pt + 0.0021, 1 - 1e-6)


@given(labels(), st.integers(1, 20), st.integers(1, 20))
@settings(max_examples=25, deadline=None)
def test_a_larger_label_never_takes_smaller_letters(job: Job, wider: int, higher: int) -> None:
    assert job.panel is not None
    panel = Panel(width_mm=job.panel.width_mm + wider, height_mm=job.panel.height_mm + higher)
    larger = Job(parts=job.parts, panel=panel, method=job.method, lettering=job.lettering)
    assert across(judge_text(larger, closed=True)) >= across(judge_text(job, closed=True))


@given(labels())
@settings(max_examples=25, deadline=None)
def test_the_geometry_engine_agrees_and_the_ink_is_centred(job: Job) -> None:
    """Inside at the limit and outside just above, rules in; as much spare at the left as right."""
    for one in judge_text(job, closed=True, verify=True).judgement.judged:
        spare = one.spare_mm
        assert spare.left == pytest.approx(spare.right, abs=1e-9)
        assert spare.head == pytest.approx(spare.tail, abs=1e-9)
        texts = one.layout.title.texts
        assert all(0 < text.scale <= 1 for text in texts)
        assert sum(text.leads for text in texts) == 1


@given(labels())
@settings(max_examples=15, deadline=None)
def test_a_rule_more_never_makes_it_larger(job: Job) -> None:
    """A rule is a line: it takes its thickness and one more space."""
    rule = Part(role=Role.RULE)
    ruled = Job(
        parts=(*job.parts, rule), panel=job.panel, method=job.method, lettering=job.lettering
    )
    assert across(judge_text(ruled, closed=True)) <= across(judge_text(job, closed=True))


def test_the_closed_form_of_a_label_that_its_height_limits() -> None:
    """Room less rules, over the depth in em: two divisions, with the author's size as it is set."""
    parts = (
        Part(role=Role.TITLE, text="Quay"), Part(role=Role.RULE),
        Part(role=Role.VOLUME, text="1889", ratio=0.5),
    )  # fmt: skip
    job = Job(
        parts=parts,
        panel=Panel(width_mm=200, height_mm=20),
        method="paper-label",
        lettering=Lettering(
            clearance_mm=0, font="EB Garamond", case=Case.CAPITALS, lines=1, leading_em=1.0,
            orientation=Orientation.TRANSVERSE,
        ),
    )  # fmt: skip
    one = judge_text(job, closed=True).judgement.shown
    title = one.layout.title.at_size(one.largest_pt)
    quay, figures = (text for text in title.texts)
    gap_em = 1.0 - quay.title.cap_height_em  # the distance asked for, of capitals
    depths = (
        (text.title.run.ink[3] - text.title.run.ink[1]) * text.scale for text in (quay, figures)
    )
    depth_em = sum(depths) + 2 * gap_em
    expected_mm = (20 - 0.15) / depth_em
    assert mm_from_pt(one.largest_pt) == pytest.approx(expected_mm, abs=0.001)
