"""How wide a back is by the making of its book, and what cannot be one."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spinefit import catalogue
from spinefit.errors import FieldError, JobError
from spinefit.job import Job, ResolvedJob, Spine, resolve
from spinefit.job.bulk import Estimate
from spinefit.job.fields import assemble
from spinefit.vocabulary import BackForm, Cover, Sewing, Work

RULES = catalogue.rules()
PAPER = {"caliper": "0.1mm"}


def resolved(**said: object) -> ResolvedJob:
    """A title on a back of these fields."""
    return resolve(assemble("Tide Tables", {name.replace("_", "-"): v for name, v in said.items()}))


def made(**said: object) -> Estimate:
    """What its width was estimated from."""
    spine = resolved(**said).spine
    assert spine is not None and spine.estimate is not None
    return spine.estimate


def fault(**said: object) -> str:
    with pytest.raises(JobError) as found:
        resolved(**said)
    return str(found.value)


def test_pages_and_leaves_are_the_same_book():
    """Two pages are a leaf; an odd number has a blank page at its end, and that is said."""
    assert made(extent=320, **PAPER).block_mm == made(leaf_count=160, **PAPER).block_mm
    assert made(extent=321, **PAPER).leaves == (161, 161)
    assert "321 pages (161 leaves, one page blank)" in made(extent=321, **PAPER).of
    assert "303 to 335 pages (152 to 168 leaves" in made(extent="303..335", **PAPER).of
    assert "blank" not in made(extent=320, **PAPER).of


@pytest.mark.parametrize(
    "paper",
    [
        {"caliper": "100um"}, {"caliper": "100 µm"}, {"caliper": "100 microns"}, {"caliper": "0,1"},
        {"caliper": "508ppi"}, {"caliper": 0.1}, {"grammage": "80 gsm", "paper_bulk": "1.25 cm³/g"},
        {"grammage": "80g/m²", "paper_bulk": "1,25"},
    ],
)  # fmt: skip
def test_paper_is_said_as_makers_state_it(paper):
    assert made(extent=320, **paper).leaf_mm == pytest.approx(0.1, abs=1e-9)


@pytest.mark.parametrize("extent", ["304..336", "304–336 pp", "304-336 pages"])
def test_a_range_of_pages_gives_the_least_of_the_least_and_the_most_of_the_most(extent):
    ranged = made(extent=extent, **PAPER)
    assert ranged.back_mm == (made(extent=304, **PAPER).back_mm[0],
                              made(extent=336, **PAPER).back_mm[1])  # fmt: skip


def test_it_is_judged_at_the_least_and_named_as_an_estimate():
    job = resolved(extent=320, height=200, **PAPER)
    assert job.spine is not None and job.widest is not None and job.spine.estimate is not None
    assert (job.spine.width_mm, job.widest.width_mm) == job.spine.estimate.back_mm
    said = [text for text in job.assumed if text.startswith("width:")]
    assert said == [
        "width: an estimate from 320 pages of paper 0.1 mm thick, 15.3 to 17.8 mm, judged at the "
        "least: measure before cutting"
    ]


def test_sewing_thickens_the_back_and_not_the_block():
    """1 to 2 mm (published); one section has no swell; unsaid, a limp cover is glued."""
    glued, sewn = (made(extent=96, sewing=how, **PAPER) for how in ("glued", "sewn"))
    assert sewn.block_mm == glued.block_mm
    assert sewn.back_mm[0] - glued.back_mm[0] == pytest.approx(1)
    assert sewn.back_mm[1] - glued.back_mm[1] == pytest.approx(2)
    assert made(extent=96, sewing="fold", **PAPER).sewing_mm == (0, 0)
    assert made(extent=96, **PAPER).sewing_mm == (0, 0)
    assert made(extent=96, cover="case", **PAPER).sewing_mm == (0, 2)


@pytest.mark.parametrize(
    ("said", "cover", "endpapers"),
    [
        ({}, Cover.LIMP, 0),
        ({"method": "blocked-case"}, Cover.CASE, 2),
        ({"work": "library"}, Cover.CASE, 2),
        ({"bands": 5, "height": 230}, Cover.BOARDS, 2),
        ({"method": "paper-label"}, None, 2),
        ({"method": "paper-label", "sewing": "fold"}, None, 0),
        ({"cover": "limp", "endpapers": 2}, Cover.LIMP, 2),
    ],
)
def test_the_kind_of_work_says_the_cover_where_nobody_does(said, cover, endpapers):
    found = made(extent=96, **PAPER, **said)
    assert (found.cover, found.endpapers) == (cover, endpapers)


def test_boards_widen_a_flat_case_alone():
    """Its back covers the block and both boards; between the shoulders of a round it does not."""
    flat = made(extent=320, cover="case", board="2.5mm", **PAPER)
    assert flat.cover_mm == (5, 5)
    assert made(extent=320, cover="case", **PAPER).cover_mm == (4, 6)
    assert made(extent=320, cover="boards", **PAPER).cover_mm == (0, 0)
    assert made(extent=320, cover="case", back="rounded", **PAPER).cover_mm == (0, 0)


def test_a_round_lengthens_the_back_over_it_and_widens_nothing_across():
    flat, rounded = (
        made(extent=320, cover="boards", back=form, **PAPER) for form in ("flat", "rounded")
    )
    assert rounded.back_mm == flat.back_mm and flat.over_round_mm is None
    assert rounded.over_round_mm == pytest.approx((flat.back_mm[0] * 1.05, flat.back_mm[1] * 1.21))
    assert rounded.case_mm is None
    case = made(extent=320, cover="case", back="rounded", **PAPER)
    assert case.case_mm == pytest.approx([one + 9 for one in case.block_mm])
    assert made(extent=320, cover="boards", rise=4, **PAPER).over_round_mm is None


@pytest.mark.parametrize("said", [{}, {"sewing": "sewn"}, {"back": "rounded", "sewing": "sewn"}])
@pytest.mark.parametrize("method", ["blocked-case", "screen-print"])
def test_on_a_case_lettering_keeps_to_the_bulk_less_two_millimetres(said, method):
    """Published: no wider than the paper at its lowest page count; 2 mm less is practice."""
    job = resolved(extent="304..336", method=method, **PAPER, **said)
    for spine, block_mm in ((job.spine, 154 * 0.1 * 0.92), (job.widest, 170 * 0.1 * 1.05)):
        assert spine is not None
        assert spine.width_mm - 2 * spine.edge_mm == pytest.approx(block_mm - 2)


def test_a_printed_case_keeps_the_usual_space_within_its_bulk():
    spine = resolved(extent=320, cover="case", **PAPER).spine
    assert spine is not None
    assert spine.width_mm - 2 * spine.edge_mm == pytest.approx(162 * 0.1 * 0.92 - 4)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"extent": 0, **PAPER}, "--extent: no number of pages: '0'; give a whole number from 4"),
        ({"extent": 3, **PAPER}, "--extent: no number of pages"),
        ({"extent": "-320", **PAPER}, "--extent: not a whole number"),
        ({"extent": "336..304", **PAPER}, "--extent: the range runs backwards"),
        ({"extent": "320..", **PAPER}, "--extent: not a whole number"),
        ({"extent": 320}, "--caliper: the thickness of a leaf is not known"),
        (PAPER, "--extent: the number of pages is not known"),
        ({"extent": 320, "caliper": "3mm"}, "--caliper: no thickness of a leaf of paper: '3 mm'"),
        ({"extent": 320, "caliper": 100}, "such as 100um or 0.1mm"),
        ({"extent": 320, "caliper": "0ppi"}, "--caliper: no thickness"),
        ({"extent": 320, "caliper": "0.1 furlong"}, "use mm, cm, in, pt, um, mil or ppi"),
        ({"extent": 320, "grammage": 80}, "--grammage: 80 g/m2 is a weight"),
        ({"extent": 320, "paper_bulk": 1.25}, "--grammage: the thickness of a leaf is not known"),
        ({"extent": 320, "grammage": 80, "paper_bulk": 40}, "--paper-bulk: 40 cm3/g is out of"),
        ({"extent": 320, "grammage": 80, "paper_bulk": 18}, "give 1.8, in cm3/g"),
        ({"extent": 320, "grammage": 8, "paper_bulk": 1}, "--grammage: 8 g/m2 is out of bounds"),
        ({"extent": 320, "grammage": 600, "paper_bulk": 3}, "--paper-bulk: no thickness of a leaf"),
        ({"extent": 320, "width": 20, **PAPER}, "--extent: beside --width"),
        ({"extent": 320, "leaf_count": 160, **PAPER}, "--leaf-count: beside --extent"),
        ({"extent": 320, "grammage": 80, **PAPER}, "--grammage: beside --caliper"),
        ({"extent": 320, "measured": "bulk", **PAPER}, "--extent: beside --measured"),
        ({"extent": 320, "board": 2, **PAPER}, "--board: a board's thickness counts only across a"),
        ({"extent": 320, "sewing": "fold", **PAPER}, "--sewing: 160 leaves in one section"),
        ({"extent": 9000, "caliper": "1mm"}, "--extent: 9000 pages of paper 1 mm thick make a"),
        ({"extent": 320, "panel": "20x30mm", **PAPER}, "--extent: an option of the back beside"),
        ({"extent": 320, "endpapers": 99, **PAPER}, "--endpapers: no number of free endpapers"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_in_one_line(said, words):
    """What was wrong, with which value, what to do."""
    found = fault(**said)
    assert words in found and "\n" not in found


@pytest.mark.parametrize(
    "spine",
    [
        Spine(), Spine(extent=(336, 304), caliper_mm=0.1), Spine(extent=True, caliper_mm=0.1),
        Spine(extent=320.0, caliper_mm=0.1), Spine(extent=320, caliper_mm="0.1"),  # type: ignore[arg-type]
        Spine(extent=320, caliper_mm=float("nan")), Spine(height_mm=200),
    ],
)  # fmt: skip
def test_so_is_what_is_made_in_python(spine):
    with pytest.raises(FieldError):
        resolve(Job(title="Tides", spine=spine))


@given(
    leaves=st.integers(8, 2000),
    more=st.integers(0, 500),
    leaf_mm=st.floats(0.03, 0.3),
    sewing=st.sampled_from([None, Sewing.SEWN, Sewing.GLUED]),
    cover=st.sampled_from([None, *Cover]),
    form=st.sampled_from(BackForm),
)
def test_more_leaves_never_make_a_thinner_book(leaves, more, leaf_mm, sewing, cover, form):
    """The least is never above the greatest, nor below the block; and it grows with the leaves."""

    def back_mm(number: int) -> tuple[float, float]:
        said = Spine(leaf_count=number, caliper_mm=leaf_mm, sewing=sewing, cover=cover, back=form)
        spine = resolve(Job(title="Tides", spine=said, work=Work.LABEL)).spine
        assert spine is not None and spine.estimate is not None
        least, most = spine.estimate.back_mm
        assert spine.estimate.block_mm[0] <= least <= most
        return least, most

    few, many = back_mm(leaves), back_mm(leaves + more)
    assert few[0] <= many[0] and few[1] <= many[1]
