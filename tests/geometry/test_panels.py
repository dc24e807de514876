from __future__ import annotations

import pytest

from spinefit.errors import ImpossibleBackError
from spinefit.geometry.panels import divide

BARE = {"band_height_mm": 0.0, "band_clearance_mm": 0.0}


def test_published_divisions(division, spine):
    """Equal parts and a longer tail part, as the handbooks divide."""
    inputs, expected = division["inputs"], division["expected"]
    height_mm = inputs.get("height_mm", 210.0)
    bands = inputs.get("bands", 5)
    tail_ratio = inputs.get("tail_ratio", 1.1)
    spans = divide(spine(height_mm=height_mm, bands=bands, tail_ratio=tail_ratio, **BARE))
    heights = [span.height_mm for span in spans]
    tolerance = division.get("tolerance", 1e-9)
    assert len(spans) == bands + 1
    if "panel_mm" in expected:
        assert heights[:-1] == pytest.approx([expected["panel_mm"]] * bands, abs=tolerance)
        assert heights[-1] == pytest.approx(expected["tail_panel_mm"], abs=tolerance)
    if "panels" in expected:
        assert len(spans) == expected["panels"]
    if "longer_panel" in expected:
        assert max(spans, key=lambda span: span.height_mm).number == expected["longer_panel"]
        assert len({round(heights[k - 1], 9) for k in expected["equal_panels"]}) == 1


def test_every_allowance_is_taken_once(spine):
    """Half a band and a clearance at each band; head and tail lose their ends."""
    spans = divide(spine(height_mm=210.0, bands=5, head_mm=3.0, foot_mm=5.0))
    part_mm = 210 / 6.1
    assert spans[0].top_mm == 3
    assert spans[0].bottom_mm == pytest.approx(part_mm - 2 - 1)
    for span in spans[1:-1]:
        assert span.height_mm == pytest.approx(part_mm - 4 - 2)
        assert span.top_mm - span.outer_top_mm == pytest.approx(1)
    assert spans[-1].height_mm == pytest.approx(1.1 * part_mm - 3 - 5)
    assert spans[-1].outer_bottom_mm == 210
    assert [span.number for span in spans] == [1, 2, 3, 4, 5, 6]


def test_a_back_without_bands_is_one_panel(spine):
    (span,) = divide(spine(head_mm=4.0, foot_mm=30.0))
    assert (span.top_mm, span.bottom_mm, span.height_mm, span.middle_mm) == (4, 170, 166, 87)


def test_bands_stand_where_the_binder_put_them(spine):
    spans = divide(spine(bands=2, bands_at_mm=(50.0, 120.0)))
    assert [(s.top_mm, s.bottom_mm) for s in spans] == [(0, 47), (53, 117), (123, 200)]


def test_a_long_head_reaches_into_the_second_panel(spine):
    """Head and foot count from the ends of the back, whatever panel they end in."""
    spans = divide(spine(bands=2, bands_at_mm=(20.0, 120.0), title_panel=2, head_mm=40.0))
    assert spans[0].height_mm == 0
    assert (spans[1].top_mm, spans[1].bottom_mm) == (40, 117)


def test_an_open_height_has_no_spans(spine):
    assert divide(spine(height_mm=None, bands=5)) == ()


@pytest.mark.parametrize(
    "changed",
    [
        {"head_mm": 4.0, "foot_mm": 4.0, "height_mm": 8.0},
        {"head_mm": 4.0, "foot_mm": 4.0, "height_mm": 3.0},
        {
            "head_mm": 97.5,
            "foot_mm": 102.0,
            "bands": 1,
            "bands_at_mm": (100.0,),
            "typed": {"foot"},
        },
        {"head_mm": 3.0, "bands": 5, "height_mm": 30.0, "typed": {"bands"}},
        {
            "head_mm": 102.0,
            "foot_mm": 97.0,
            "bands": 1,
            "bands_at_mm": (100.0,),
            "title_panel": 2,
            "typed": {"head"},
        },
        {"bands": 25, "height_mm": 150.0, "title_panel": 2, "typed": {"bands", "head", "foot"}},
    ],
)
def test_default_allowances_may_leave_nothing(changed, spine):
    """That is lettering that does not fit, not a back that cannot be."""
    said = spine(**changed)
    span = divide(said)[said.title_panel - 1]
    assert span.height_mm == 0
    assert 0 <= span.top_mm <= said.height_mm


@pytest.mark.parametrize(
    ("changed", "where"),
    [
        ({"foot_mm": 250.0, "typed": {"foot"}}, "--foot"),
        ({"foot_mm": 200.0, "typed": {"foot"}}, "--foot"),
        ({"head_mm": 200.0, "typed": {"head"}}, "--head"),
        ({"head_mm": 100.0, "foot_mm": 100.0, "typed": {"head", "foot"}}, "--foot"),
        ({"head_mm": 196.0, "foot_mm": 4.0, "typed": {"head"}}, "--head"),
        ({"bands": 60, "height_mm": 100.0, "typed": {"bands"}}, "--bands"),
        ({"bands": 5, "band_height_mm": 40.0, "typed": {"band-height"}}, "--bands"),
        (
            {"bands": 25, "title_panel": 2, "height_mm": 150.0, "typed": {"band-height"}},
            "--band-height",
        ),
        (
            {"bands": 25, "title_panel": 2, "height_mm": 150.0, "typed": {"band-clearance"}},
            "--band-clearance",
        ),
        ({"bands": 5, "foot_mm": 60.0, "title_panel": 6, "typed": {"foot"}}, "--foot"),
        ({"bands": 5, "head_mm": 60.0, "title_panel": 1, "typed": {"head"}}, "--head"),
        ({"bands": 5, "head_mm": 60.0, "title_panel": 1, "typed": {"head", "foot"}}, "--head"),
        ({"bands": 5, "title_panel": 7}, "--title-panel"),
        ({"bands": 5, "title_panel": 0}, "--title-panel"),
        ({"bands": 5, "title_panel": 7, "height_mm": None}, "--title-panel"),
        ({"title_panel": 2, "typed": {"title-panel"}}, "--title-panel"),
        ({"bands_at_mm": (50.0, 40.0), "bands": 2}, "--bands-at"),
        ({"bands_at_mm": (50.0, 50.0), "bands": 2}, "--bands-at"),
        ({"bands_at_mm": (50.0, 53.0), "bands": 2}, "--bands-at"),
        ({"bands_at_mm": (50.0, 201.0), "bands": 2}, "--bands-at"),
        ({"bands_at_mm": (-5.0, 40.0), "bands": 2}, "--bands-at"),
        ({"bands_at_mm": (1.0, 40.0), "bands": 2}, "--bands-at"),
        ({"bands_at_mm": (40.0, float("nan")), "bands": 2}, "--bands-at"),
        ({"bands_at_mm": (40.0,), "bands": 2, "typed": {"bands"}}, "--bands-at"),
        (
            {
                "bands_at_mm": (8.5,),
                "bands": 1,
                "band_clearance_mm": 4.0,
                "head_mm": 7.0,
                "typed": {"band-clearance", "head"},
            },
            "--head",
        ),
        ({"height_mm": 0.0}, "--height"),
        ({"height_mm": -5.0}, "--height"),
        ({"height_mm": float("nan")}, "--height"),
    ],
)
def test_refuses_a_back_that_cannot_be(changed, where, spine):
    """Bands that leave no panel, panels that are not there, typed ends that leave nothing."""
    with pytest.raises(ImpossibleBackError) as caught:
        divide(spine(**changed))
    assert caught.value.where == where
    assert caught.value.remedy


def test_the_refusal_of_a_panel_tells_the_range(spine):
    with pytest.raises(ImpossibleBackError, match="numbered 1 to 6, from the head"):
        divide(spine(bands=5, title_panel=9))


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"foot_mm": 250.0, "typed": {"foot"}}, "as long as the back"),
        ({"head_mm": 200.0, "typed": {"head"}}, "as long as the back"),
        ({"head_mm": 150.0, "foot_mm": 60.0, "typed": {"head"}}, "at head and foot leave nothing"),
        ({"head_mm": 100.0, "foot_mm": 100.0, "typed": {"foot"}}, "at head and foot leave nothing"),
        ({"bands_at_mm": (50.0, 40.0), "bands": 2}, "out of order"),
        ({"bands_at_mm": (50.0, 50.0), "bands": 2}, "out of order"),
        ({"bands_at_mm": (-5.0, 40.0), "bands": 2}, "off the back"),
        ({"bands_at_mm": (0.0, 40.0), "bands": 2}, "off the back"),
        ({"bands_at_mm": (50.0, 200.0), "bands": 2}, "off the back"),
        ({"bands_at_mm": (50.0, 201.0), "bands": 2}, "off the back"),
        ({"bands_at_mm": (40.0,), "bands": 2, "typed": {"bands"}}, "but there are 2"),
        ({"bands_at_mm": (40.0, 80.0), "bands": 1, "typed": {"bands"}}, "but there are 1"),
        ({"bands": 1, "title_panel": 3}, "numbered 1 to 2"),
        ({"bands_at_mm": (40.0, 44.0), "bands": 2}, "leave nothing of panel 2"),
        (
            {
                "bands": 1,
                "bands_at_mm": (60.0,),
                "foot_mm": 139.0,
                "title_panel": 2,
                "typed": {"foot"},
            },
            "nothing of panel 2: '138 mm'",
        ),
        ({"title_panel": 2, "typed": {"title-panel"}}, "has one panel"),
    ],
)
def test_the_fault_is_the_one_there_is(changed, says, spine):
    """Not the next one that the same back would meet with."""
    with pytest.raises(ImpossibleBackError, match=says):
        divide(spine(**changed))


def test_a_short_head_and_foot_leave_what_they_leave(spine):
    """Typed, they are refused only together with what is gone; half a millimetre is a panel."""
    (span,) = divide(spine(head_mm=100.0, foot_mm=99.5, typed={"head", "foot"}))
    assert span.height_mm == pytest.approx(0.5)
    (span,) = divide(spine(height_mm=0.8))
    assert span.height_mm == pytest.approx(0.8)
    (span,) = divide(spine(title_panel=2))  # by default the second, but there is one
    assert span.number == 1


def test_the_title_panel_is_the_one_that_must_have_room(spine):
    """Of two panels the foot takes the second: no fault where the first is lettered."""
    said = {"bands": 1, "foot_mm": 110.0, "typed": {"foot"}}
    first, second = divide(spine(**said, title_panel=1))
    assert first.height_mm > 50
    assert second.height_mm == 0
    with pytest.raises(ImpossibleBackError, match="nothing of panel 2"):
        divide(spine(**said, title_panel=2))


@pytest.mark.parametrize(
    ("head_mm", "foot_mm", "at_mm"), [(9.0, 16.0, 6.5), (30.0, 0.0, 20.0), (0.0, 30.0, 0.0)]
)
def test_what_has_no_height_stands_where_the_allowances_meet(head_mm, foot_mm, at_mm, spine):
    """In the middle of their overlap, but on the back, which is 20 mm high."""
    (span,) = divide(spine(height_mm=20.0, head_mm=head_mm, foot_mm=foot_mm))
    assert (span.top_mm, span.bottom_mm) == pytest.approx((at_mm, at_mm))


def test_between_bands_the_clearances_meet_in_the_middle(spine):
    """Bands of 4 mm, 1 mm of clearance each and 1.5 mm between: the middle of the panel."""
    spans = divide(spine(bands=2, bands_at_mm=(50.0, 55.5), title_panel=1))
    assert spans[1].height_mm == 0
    assert spans[1].top_mm == pytest.approx(52.75)
    assert spans[2].height_mm > 100


def test_both_bands_beside_a_panel_take_their_clearance(spine):
    """5.5 mm stand between the bands, and 3 mm are wanted at each."""
    said = {"bands": 2, "bands_at_mm": (50.0, 59.5), "band_clearance_mm": 3.0, "title_panel": 2}
    with pytest.raises(ImpossibleBackError) as caught:
        divide(spine(**said, typed={"band-clearance"}))
    assert caught.value.where == "--band-clearance"
