from __future__ import annotations

import math
import subprocess
import sys
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from spinefit import Job, Spine, check
from spinefit.geometry import Limit, fit, largest, outright_panel
from spinefit.geometry.panel_polygons import panel_polygon, verify_fit
from spinefit.geometry.plane import flatten
from spinefit.geometry.polygons import ink_polygon, ink_rings
from spinefit.job.model import Shape
from spinefit.job.values import KeepFree, Panel
from spinefit.shaping.glyphs import Contour
from spinefit.tolerances import FLATTENING_ERROR_EM
from spinefit.vocabulary import LimitedBy, PanelForm, Turn
from tests.geometry.rectangle import largest_in_rectangle

FONTS = Path(__file__).parents[2] / "fonts_open"
INK = (-2.0, -0.5, 2.0, 0.5)
INK_RING = ((-2.0, -0.5), (2.0, -0.5), (2.0, 0.5), (-2.0, 0.5))


def never():
    raise AssertionError("a rectangle needs no outlines")


def panel(width_mm=20.0, height_mm=30.0, **shape):
    return outright_panel(Panel(width_mm=width_mm, height_mm=height_mm), Shape(**shape))


def limit_of(on, clearance_mm=0.0, ring=INK_RING, box=INK):
    return largest(on, box, lambda: [ring], clearance_mm=clearance_mm)


def test_a_rectangle_asks_for_no_outlines():
    limit = largest(panel(), INK, never, clearance_mm=1.0)
    assert limit == Limit(4.5, LimitedBy.WIDTH)


@pytest.mark.parametrize(
    ("ink", "sides", "clearance_mm", "size_mm", "by"),
    [
        (INK, (20, 30), 0, 5, LimitedBy.WIDTH),
        (INK, (20, 4), 0, 4, LimitedBy.HEIGHT),
        (INK, (20, 4), 1, 2, LimitedBy.HEIGHT),
        (INK, (20, 4), 2, 0, LimitedBy.HEIGHT),
        (INK, (4, 20), 2, 0, LimitedBy.WIDTH),
        (INK, (0, 20), 0, 0, LimitedBy.WIDTH),
        (INK, (20, 0), 0, 0, LimitedBy.HEIGHT),
        (INK, (20, None), 0, 5, LimitedBy.WIDTH),
        ((-1, -0.5, 3, 0.5), (20, 30), 0, 10 / 3, LimitedBy.WIDTH),
        ((-3, -0.5, 1, 0.5), (20, 30), 0, 10 / 3, LimitedBy.WIDTH),
        ((-1, -0.2, 1, 0.7), (20, 7), 0, 5, LimitedBy.HEIGHT),
        ((1, 1, 2, 2), (20, 30), 0, 5, LimitedBy.WIDTH),  # ink beside its placing point
        ((-1, 0, 1, 0), (20, 30), 0, 10, LimitedBy.WIDTH),  # a dash without height
    ],
)
def test_two_divisions(ink, sides, clearance_mm, size_mm, by):
    limit = largest_in_rectangle(
        ink, width_mm=sides[0], height_mm=sides[1], clearance_mm=clearance_mm
    )
    assert limit.size_mm == pytest.approx(size_mm, rel=1e-15)
    assert limit.by is by
    assert limit.centre_mm == (0, 0)


def test_the_largest_angle_is_named_instead_of_the_width():
    said = {"width_mm": 20.0, "height_mm": 30.0, "clearance_mm": 0.0, "angle_limited": True}
    assert largest_in_rectangle(INK, **said).by is LimitedBy.ANGLE
    assert largest_in_rectangle(INK, **{**said, "height_mm": 2.0}).by is LimitedBy.HEIGHT


def test_cut_corners_by_hand():
    """Ink 4 x 1 em, corners of 6 mm cut: corner (2s, s/2) meets x + y = 10 + 15 - 6."""
    limit = limit_of(panel(20.0, 30.0, form=PanelForm.CUT, corner_mm=6.0))
    assert (limit.size_mm, limit.by) == (5, LimitedBy.WIDTH)
    limit = limit_of(panel(20.0, 10.0, form=PanelForm.CUT, corner_mm=5.0))
    assert limit.size_mm == pytest.approx(10 / 2.5, rel=1e-4)
    assert limit.size_mm <= 10 / 2.5
    assert limit.by is LimitedBy.SHAPE
    with_clearance = limit_of(panel(20.0, 10.0, form=PanelForm.CUT, corner_mm=5.0), 1.0)
    assert with_clearance.size_mm == pytest.approx((10 - math.sqrt(2)) / 2.5, rel=1e-4)


def test_an_oval_by_hand():
    """The corner (2s, s/2) lies on the ellipse of half axes 10 and 15, or just inside."""
    limit = limit_of(panel(form=PanelForm.OVAL))
    exact_mm = 1 / math.hypot(2 / 10, 0.5 / 15)
    assert exact_mm * (1 - 3e-4) <= limit.size_mm <= exact_mm
    assert limit.by is LimitedBy.SHAPE


def test_a_device_below_the_title_limits_it_from_below():
    """Ink half an em down meets the top of a device whose upper edge is 2 mm below the middle."""
    device = KeepFree(width_mm=4, height_mm=6, y_mm=-5)
    limit = limit_of(panel(30.0, 30.0, keep_free=(device,)))
    assert limit.size_mm == pytest.approx(4, rel=1e-4)
    assert limit.size_mm <= 4
    assert limit.by is LimitedBy.SHAPE
    assert limit.centre_mm == (0, 0)
    closer = limit_of(panel(30.0, 30.0, keep_free=(device,)), 1.0)
    assert closer.size_mm == pytest.approx(2, rel=1e-4)


def test_clearance_round_a_reflex_corner_is_an_arc():
    """A small device up at the right: the ink's corner comes within the clearance of its corner."""
    device = KeepFree(width_mm=1, height_mm=1, x_mm=4.5, y_mm=3.5)  # its near corner at (4, 3)
    ring = ((-1.0, -0.75), (1.0, -0.75), (1.0, 0.75), (-1.0, 0.75))  # (1, 3/4) runs to (4, 3)
    limit = limit_of(panel(40.0, 40.0, keep_free=(device,)), 1.0, ring, (-1, -0.75, 1, 0.75))
    assert limit.size_mm == pytest.approx(4 - 0.8, rel=1e-4)
    assert limit.by is LimitedBy.SHAPE


def test_ink_grows_over_a_small_device_before_it_grows_round_it():
    """A device met on the way out is the limit, although larger ink would have it in a counter."""
    frame = (
        ((-2, -2), (2, -2), (2, 2), (-2, 2)),
        ((-1.9, -1.9), (-1.9, 1.9), (1.9, 1.9), (1.9, -1.9)),
    )
    outline = tuple(Contour(ring[0], tuple((point,) for point in ring[1:])) for ring in frame)
    ink = ink_polygon([(outline, 0.0, 0.0)])
    on = panel(40.0, 40.0, keep_free=(KeepFree(width_mm=1, height_mm=1, x_mm=6),))
    limit = largest(on, ink.bounds, lambda: ink_rings(ink), clearance_mm=0.0)
    assert limit.size_mm == pytest.approx(5.5 / 2, rel=1e-4)
    again = {"centre_mm": limit.centre_mm, "size_mm": 4.0, "clearance_mm": 0.0}
    assert verify_fit(ink, on, **again).inside  # free again, and rightly not the answer


def test_a_middle_that_is_not_free_is_left():
    """A device on the middle sends the lettering to the freest place; its clearance counts."""
    device = KeepFree(width_mm=30, height_mm=2)
    on = panel(30.0, 42.0, keep_free=(device,))
    limit = limit_of(on, 1.0)
    assert abs(limit.centre_mm[1]) == pytest.approx(11, abs=0.1)
    assert limit.size_mm > 0
    ink = ink_polygon([((Contour(INK_RING[0], tuple((p,) for p in INK_RING[1:])),), 0.0, 0.0)])
    assert verify_fit(
        ink,
        on,
        centre_mm=limit.centre_mm,
        size_mm=limit.size_mm,
        clearance_mm=1.0,
        error_em=FLATTENING_ERROR_EM,
    ).agreed


def test_a_right_triangle_is_lettered_off_the_middle_of_its_box():
    """There the middle lies on the long side."""
    ring = ((-10.0, -10.0), (10.0, -10.0), (-10.0, 10.0))
    limit = limit_of(panel(20.0, 20.0, form=PanelForm.POLYGON, outline_mm=ring))
    inscribed_mm = 20 / (2 + math.sqrt(2))
    assert limit.centre_mm == pytest.approx([-10 + inscribed_mm] * 2, abs=0.05)
    assert limit.size_mm > 0


@pytest.mark.parametrize(
    "shape",
    [
        {"form": PanelForm.OVAL},
        {"keep_free": (KeepFree(width_mm=2, height_mm=2, y_mm=6),)},
        {"keep_free": (KeepFree(width_mm=50, height_mm=50),)},
    ],
)
def test_nothing_free_is_size_0(shape):
    limit = limit_of(panel(**shape), 12.0)
    assert limit.size_mm == 0
    assert limit.by is LimitedBy.SHAPE


TITLE = "Harbour Reading Room"


@pytest.fixture(
    scope="module",
    params=["eb-garamond/EBGaramond-Regular.ttf", "source-serif-4/SourceSerif4-Regular.otf"],
)
def placed(request, drawn):
    """A title in real letters, quadratic or cubic, set by plain advances."""
    font = TTFont(FONTS / request.param)
    glyphs, upem, names = font.getGlyphSet(), font["head"].unitsPerEm, font.getBestCmap()
    found, x_em = [], 0.0
    for char in TITLE:
        found.append((drawn(glyphs, names[ord(char)], upem), x_em, 0.0))
        x_em += glyphs[names[ord(char)]].width / upem
    return found


@pytest.mark.parametrize("turn", [Turn.NONE, Turn.CLOCKWISE])
@pytest.mark.parametrize("clearance_mm", [0.0, 1.5])
@pytest.mark.parametrize(
    "shape",
    [
        {"form": PanelForm.OVAL},
        {"form": PanelForm.ROUNDED, "corner_mm": 9.0},
        {"keep_free": (KeepFree(width_mm=5, height_mm=5, x_mm=2, y_mm=7),)},
    ],
    ids=["oval", "rounded", "device"],
)
def test_real_letters_fit_finer_than_they_were_flattened(placed, shape, clearance_mm, turn):
    """Ink flattened forty times finer is inside at the limit: the error is on the safe side."""
    middle = (4.5, 0.3)
    on = panel(30.0, 60.0, **shape)
    placed = [(outline, x - middle[0], y - middle[1]) for outline, x, y in placed]
    ink = ink_polygon(placed, turn=turn)
    limit = largest(on, ink.bounds, lambda: ink_rings(ink), clearance_mm=clearance_mm)
    said = {"centre_mm": limit.centre_mm, "size_mm": limit.size_mm, "clearance_mm": clearance_mm}
    assert verify_fit(ink, on, **said, error_em=FLATTENING_ERROR_EM).agreed
    assert verify_fit(ink, on, **said).agreed  # the error costs less than a thousandth
    finer = [
        (
            tuple(
                Contour(r[0], tuple((p,) for p in r[1:]))
                for r in flatten(outline, tolerance_em=FLATTENING_ERROR_EM / 40)
            ),
            x,
            y,
        )
        for outline, x, y in placed
    ]
    assert verify_fit(ink_polygon(finer, turn=turn), on, **said).inside


def test_rectangles_load_neither_shapely_nor_numpy():
    """The warm path stays free of them."""
    code = (
        "import sys; from spinefit.geometry import *;"
        "from spinefit.job.model import Panel, Shape;"
        "p = outright_panel(Panel(width_mm=20.0, height_mm=30.0), Shape());"
        "assert largest(p, (-1.0, -1.0, 1.0, 1.0), None, clearance_mm=0.0).size_mm == 10;"
        "from spinefit.vocabulary import PanelForm;"
        "outright_panel(Panel(width_mm=20.0, height_mm=30.0), Shape(form=PanelForm.OVAL));"
        "assert not {'shapely', 'numpy', 'fontTools'} & sys.modules.keys()"
    )
    subprocess.run([sys.executable, "-c", code], check=True, cwd=Path(__file__).parents[2])


def test_the_panel_polygon_of_a_rectangle_is_its_box():
    assert panel_polygon(panel()).bounds == (-10, -15, 10, 15)


def test_less_than_a_millimetre_of_room_is_room():
    """Half a millimetre on either side takes ink an eighth of a millimetre to the em."""
    limit = largest_in_rectangle(INK, width_mm=1.0, height_mm=9.0, clearance_mm=0.25)
    assert limit.size_mm == pytest.approx(0.125)


@pytest.mark.parametrize("sides", [(3.0, 30.0), (30.0, 3.0)])
def test_clearance_beyond_the_room_leaves_none(sides):
    limit = largest_in_rectangle(INK, width_mm=sides[0], height_mm=sides[1], clearance_mm=2.0)
    assert limit.size_mm == 0
    assert limit.by is (LimitedBy.WIDTH if sides[0] == 3.0 else LimitedBy.HEIGHT)


def test_ink_wholly_to_one_side_counts_by_its_far_end():
    limit = largest_in_rectangle(
        (-0.1, -3.0, 0.1, -1.0), width_mm=30.0, height_mm=12.0, clearance_mm=0.0
    )
    assert limit == Limit(2.0, LimitedBy.HEIGHT)
    limit = largest_in_rectangle(
        (-0.1, 1.0, 0.1, 3.0), width_mm=30.0, height_mm=12.0, clearance_mm=0.0
    )
    assert limit == Limit(2.0, LimitedBy.HEIGHT)


def test_an_outline_off_its_origin_is_lettered_about_its_own_middle():
    """A box from (2, 1) to (12, 7): about (7, 4) there is room for ink 4 x 1 em at 2.5 mm."""
    ring = ((2.0, 1.0), (12.0, 1.0), (12.0, 7.0), (2.0, 7.0))
    on = panel(form=PanelForm.CUT, corner_mm=1.0)._replace(outline_mm=ring)
    limit = limit_of(on)
    assert limit.centre_mm == (7.0, 4.0)
    assert limit.size_mm == pytest.approx(2.5)
    # With a corner cut the freest place is another, but the middle is free and is kept.
    cut = ((2.0, 1.0), (12.0, 1.0), (12.0, 7.0), (9.0, 7.0))
    assert limit_of(on._replace(outline_mm=cut)).centre_mm == (7.0, 4.0)


@pytest.mark.parametrize(("limited", "by"), [(True, LimitedBy.ANGLE), (False, LimitedBy.WIDTH)])
def test_a_side_at_the_largest_angle_is_named_so_in_any_outline(limited, by):
    on = panel(20.0, 30.0, form=PanelForm.CUT, corner_mm=3.0)._replace(angle_limited=limited)
    assert limit_of(on).by is by
    narrower = on._replace(width_mm=26.0)  # its sides stand inside the largest angle
    assert limit_of(narrower).by is LimitedBy.WIDTH
    assert limit_of(on, 0.0, ((-1, -3), (1, -3), (1, 3), (-1, 3)), (-1, -3, 1, 3)).by is (
        LimitedBy.HEIGHT
    )


@pytest.mark.parametrize("wanted_mm", [(0.0, 20.0), (0.0, 24.5), (0.0, -13.25)])
def test_lettering_stands_where_it_is_wanted_if_it_is_free(wanted_mm):
    """A device far below: wanted places are as open as the panel is wide, and are taken."""
    on = panel(21.0, 90.0, keep_free=(KeepFree(width_mm=4, height_mm=4, y_mm=-40),))
    limit = largest(on, INK, lambda: [INK_RING], clearance_mm=0.5, wanted_mm=wanted_mm)
    assert limit.centre_mm == wanted_mm
    assert limit.size_mm == pytest.approx(5.0, rel=1e-4)
    low = largest(on, INK, lambda: [INK_RING], clearance_mm=0.5, wanted_mm=(0.0, 44.0))
    assert low.centre_mm == (0.0, 34.0)  # the nearest whole step that is as open


def test_a_middle_nearer_to_the_edge_than_the_clearance_is_left():
    """Nearly half of a square is cut away: its middle is 2.8 mm from the cut, and 3 are wanted."""
    ring = ((-10.0, -10.0), (10.0, -10.0), (10.0, -6.0), (-6.0, 10.0), (-10.0, 10.0))
    on = panel(20.0, 20.0, form=PanelForm.POLYGON, outline_mm=ring)
    assert limit_of(on, 2.5).centre_mm == (0.0, 0.0)
    moved = limit_of(on, 3.0)
    assert moved.size_mm > 0.5
    assert max(moved.centre_mm) < -1


def test_the_place_in_a_panel_is_sought_once(monkeypatch):
    """Titles are laid in one panel hundreds of times; where they stand does not depend on them."""
    from spinefit.geometry import panel_polygons

    sought = []
    real = panel_polygons.nearest_open_place
    monkeypatch.setattr(
        panel_polygons,
        "nearest_open_place",
        lambda *said, **more: sought.append(said) or real(*said, **more),
    )
    fit._standing.cache_clear()
    job = Job(
        title="The Harbour Master's Register of Vessels and Dues",
        spine=Spine(width_mm=9.0, height_mm=210.0),
        shape=Shape(form=PanelForm.OVAL),
    )
    assert check(job).layouts
    assert len(sought) <= 2


THIN_TRIANGLE = (
    (1.483245908944354, 0.7368758546577066),
    (-1.4786147900138285, 0.5492911852955809),
    (-1.4832459089443542, -0.7368758546577066),
)


def test_a_middle_that_rounding_puts_inside_is_not_free():
    """The middle of this box lies on the long side, 1e-16 mm inside by rounding."""
    panel = outright_panel(
        Panel(width_mm=3, height_mm=1.5), Shape(form=PanelForm.POLYGON, outline_mm=THIN_TRIANGLE)
    )
    square = ((-0.1, -0.1), (0.1, -0.1), (0.1, 0.1), (-0.1, 0.1))
    limit = largest(panel, (-0.1, -0.1, 0.1, 0.1), lambda: [square], clearance_mm=0.0)
    assert limit.centre_mm[0] < -0.1
    assert limit.size_mm > 1
