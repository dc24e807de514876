"""Labels on the bench: frames ruled on them, their size and place, the colour of what is round.

Frame to the edge that is cut 1 mm, lettering to frame 1.5 to 2 mm (common practice); a thick line
two to three times the thin one (memory); corners of 2 mm are our own choice.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from spinefit import Job, Lettering, Panel, Shape, Spine, check, pipeline
from spinefit.catalogue.trade import sheet_rules
from spinefit.drawing.label_cut import cut_label, to_dxf
from spinefit.drawing.plate import plates, subject_of
from spinefit.drawing.ruled import frame_contours
from spinefit.drawing.scene import Area, Group
from spinefit.drawing.sheet import build_sheet
from spinefit.drawing.sheet_page import page_of
from spinefit.drawing.sheet_settings import settings_of
from spinefit.drawing.svg import to_svg
from spinefit.errors import FieldError, ImpossibleBackError, SpinefitError
from spinefit.geometry.polygons import ink_polygon, scaled
from spinefit.job.fields import assemble
from spinefit.job.sheet import SheetWishes
from spinefit.job.values import KeepFree, Part
from spinefit.units import mm_from_pt
from spinefit.vocabulary import (
    Centre,
    Frame,
    FrameCorners,
    Level,
    Orientation,
    PanelForm,
    Role,
    Tone,
    Verdict,
)

ACROSS = Orientation.TRANSVERSE
LABEL = Panel(width_mm=30.0, height_mm=40.0)
HEAVIER = (Frame.NONE, Frame.THIN, Frame.THICK, Frame.THICK_AND_THIN)
TAKES_MM = {  # on label paper: 1 mm to the edge, lines of 0.15 and 0.375 mm, 0.3 mm between two
    Frame.THIN: 1.15, Frame.THICK: 1.375, Frame.DOUBLE: 1.6, Frame.THICK_AND_THIN: 1.825,
}  # fmt: skip


def framed(title: str = "The Harbour Light", panel: Panel = LABEL, **said) -> Job:
    return Job(title=title, panel=panel, **{"method": "paper-label", "market": "GB", **said})


def within(width_mm: float, height_mm: float, corners: FrameCorners, corner_mm: float):
    """A rectangle with its corners, by shapely's own means."""
    x, y = width_mm / 2, height_mm / 2
    if corners is FrameCorners.ROUNDED and corner_mm > 0:
        inner = shapely.box(corner_mm - x, corner_mm - y, x - corner_mm, y - corner_mm)
        return inner.buffer(corner_mm, quad_segs=256)
    whole = shapely.box(-x, -y, x, y)
    if corners is FrameCorners.CUT and corner_mm > 0:
        for across in (-1, 1):
            for up in (-1, 1):
                tip = (across * x, up * y)
                legs = ((across * (x - corner_mm), up * y), (across * x, up * (y - corner_mm)))
                whole = whole.difference(shapely.Polygon((tip, *legs)))
    return whole


def ink_of(answer, size_pt: float, place: int):
    layout = answer.judgement.judged[place].layout
    ink = ink_polygon(layout.placed(), turn=layout.candidate.turn)
    return scaled(ink, mm_from_pt(size_pt), answer.judgement.judged[place].centre_mm)


def test_a_framed_label_of_the_reading_room():
    """Thirty by forty, a thin frame: fits, 1.15 mm of each side is the frame's.

    1.5 mm more are kept from it, so that 24.7 x 34.7 mm are left for the three lines; the frame is
    told on the screen in one line, and stands in the report.
    """
    report = check(framed(frame=Frame.THIN))
    best = report.layouts[report.recommended]
    assert report.verdict is Verdict.FITS
    assert report.panel.width_mm == 30.0  # the label as it is cut
    frame = report.panel.frame
    assert (frame.form, frame.corners, frame.weights_mm) == ("thin", "square", (0.15,))
    assert (frame.from_edge_mm, frame.to_ink_mm) == (1.0, pytest.approx(1.5))
    assert best.ink_width_mm + best.spare_mm.left + best.spare_mm.right == pytest.approx(24.7)
    assert best.ink_height_mm + best.spare_mm.head + best.spare_mm.tail == pytest.approx(34.7)


@pytest.mark.parametrize("form", TAKES_MM)
def test_the_room_shrinks_exactly_by_the_frame(form):
    """A framed label holds what a label smaller by the frame holds with the same clearance."""
    takes_mm = TAKES_MM[form]
    small = Panel(width_mm=30 - 2 * takes_mm, height_mm=40 - 2 * takes_mm)
    clear = Lettering(clearance_mm=1.5)
    with_frame = check(framed(frame=form, lettering=clear))
    without = check(framed(panel=small, lettering=clear))
    assert with_frame.panel.frame.to_ink_mm == pytest.approx(1.5)
    sizes = {(one.lines, one.reading): one.largest_pt for one in without.layouts}
    shared = [one for one in with_frame.layouts if (one.lines, one.reading) in sizes]
    assert len(shared) > 3
    for one in shared:
        assert one.largest_pt == pytest.approx(sizes[one.lines, one.reading], abs=0.0011)


def test_tight_is_counted_to_the_frame():
    """Where the binder lets the ink come within the placing tolerance of the frame, it is tight."""
    narrow = Panel(width_mm=30.0, height_mm=16.0)
    near = Lettering(clearance_mm=0.0, lines=1, size_pt=None)
    report = check(framed("Tide Tables", narrow, frame=Frame.THIN, lettering=near))
    largest = max(one.largest_pt for one in report.layouts)
    at_most = Lettering(clearance_mm=0.0, lines=1, size_pt=largest)
    assert check(framed("Tide Tables", narrow, frame=Frame.THIN, lettering=at_most)).verdict is (
        Verdict.TIGHT
    )


@pytest.mark.parametrize("corners", list(FrameCorners))
@pytest.mark.parametrize("form", list(TAKES_MM))
def test_shapely_finds_the_ink_as_far_from_the_frame_as_asked(form, corners):
    """At the largest size it meets the distance asked, and at a little more it does not keep it.

    A word that fills the label reaches into its corners, where a cut or rounded frame is nearest.
    """
    job = framed(
        "COMMISSIONERS / HARBOURMASTER", Panel(width_mm=46.0, height_mm=16.0), frame=form,
        frame_corners=corners, shape=Shape(corner_mm=None if corners == "square" else 4.0),
        lettering=Lettering(clearance_mm=1.5, centre=Centre.INK, orientation=ACROSS),
    )  # fmt: skip
    answer = pipeline.answer(job, verify=True)
    takes_mm, place = TAKES_MM[form], answer.report.recommended
    lines_mm = takes_mm - 1
    shortens = 0.5857864376269049 if corners is FrameCorners.CUT else 1.0
    inner = within(46 - 2 * takes_mm, 16 - 2 * takes_mm, corners, 4.0 - shortens * lines_mm)
    largest_pt = answer.report.layouts[place].largest_pt
    ink = ink_of(answer, largest_pt, place)
    assert inner.covers(ink)
    assert inner.exterior.distance(ink) == pytest.approx(1.5, abs=0.003)
    assert inner.exterior.distance(ink_of(answer, largest_pt * 1.005, place)) < 1.497


def test_a_device_in_a_framed_label_is_kept_clear_of_by_what_was_asked():
    """The frame adds nothing to the distance from an area kept free."""
    shape = Shape(keep_free=(KeepFree(width_mm=20, height_mm=8, x_mm=0, y_mm=-12),))
    job = framed("Harbour", frame=Frame.DOUBLE, shape=shape,
                 lettering=Lettering(clearance_mm=1.0, orientation=ACROSS, lines=1))  # fmt: skip
    answer = pipeline.answer(job, verify=True)
    place = answer.report.recommended
    ink = ink_of(answer, answer.report.layouts[place].largest_pt, place)
    device = shapely.box(-10, -16, 10, -8)
    inner = within(30 - 3.2, 40 - 3.2, FrameCorners.SQUARE, 0)
    nearest_mm = min(device.distance(ink), inner.exterior.distance(ink))
    assert nearest_mm == pytest.approx(1.0, abs=0.003)


@pytest.mark.parametrize("form", [PanelForm.OVAL, PanelForm.ROUNDED, PanelForm.CUT])
def test_a_frame_follows_a_label_of_another_shape(form):
    """Parallel to its edge, corners and all; and it takes room there too."""
    shape = Shape(form=form, corner_mm=None if form is PanelForm.OVAL else 6.0)
    plain = check(framed(shape=shape, lettering=Lettering(clearance_mm=1.5)))
    ruled = check(framed(shape=shape, lettering=Lettering(clearance_mm=1.5), frame=Frame.THICK))
    assert ruled.panel.frame.corners == "along the edge"
    largest = [max(one.largest_pt for one in report.layouts) for report in (plain, ruled)]
    assert largest[1] < largest[0]


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from(["The Harbour Light", "Tides", "Port of Wrackness, 1889"]),
    st.integers(18, 60), st.integers(18, 60), st.sampled_from(list(FrameCorners)),
    st.sampled_from([None, 0.0, 2.0]),
)  # fmt: skip
def test_a_frame_never_enlarges_and_a_heavier_one_neither(title, wide, high, corners, clear):
    """From no frame to thick and thin every layout may only become smaller."""
    panel, lettering = Panel(width_mm=wide, height_mm=high), Lettering(clearance_mm=clear)
    found = []
    for form in HEAVIER:
        turned = None if form is Frame.NONE else corners
        job = framed(title, panel, frame=form, frame_corners=turned, lettering=lettering)
        layouts = check(job).layouts
        found.append({(one.lines, one.reading): one.largest_pt for one in layouts})
    for lighter, heavier in pairwise(found):
        both = lighter.keys() & heavier.keys()
        assume(both)
        assert all(heavier[one] <= lighter[one] for one in both)


def test_a_frame_that_was_refused_is_not_ruled_and_takes_nothing():
    """Saying none leaves out the line that paper labels are cut by, 0.35 mm on every side."""
    usual, none = check(framed()), check(framed(frame=Frame.NONE))
    kept = [report.layouts[0].largest_pt for report in (usual, none)]
    assert kept[1] > kept[0]
    assert none.panel.frame is None
    assert any("1.5 mm inside the label's edge, an inner margin of 1.5 mm" in one
               for one in none.assumed)  # fmt: skip


@pytest.mark.parametrize(("said", "where"), [
    ({"width": "20mm", "frame": "thin", "method": "blocked-case"}, "--frame"),
    ({"panel": "30x40mm", "frame-corners": "cut"}, "--frame-corners"),
    ({"panel": "30x40mm", "frame": "none", "frame-corners": "cut"}, "--frame-corners"),
    ({"panel": "30x40mm", "frame": "thin", "corner": "3mm"}, "--corner"),
    ({"panel": "30x40mm", "frame": "thin", "frame-corners": "cut", "corner": "19mm"}, "--corner"),
    ({"panel": "30x40mm", "frame": "thin", "frame-corners": "cut", "panel-shape": "oval"},
     "--frame-corners"),
    ({"panel": "30x40mm", "frame": "thin", "clearance": "14mm"}, "--clearance"),
    ({"width": "20mm", "method": "paper-label", "frame": "thin", "frame-corners": "cut"},
     "--frame-corners"),
])  # fmt: skip
def test_frames_that_cannot_be_are_refused(said, where):
    """Each with what to do."""
    with pytest.raises((FieldError, ImpossibleBackError)) as fault:
        pipeline.check(assemble("Tides", said))
    assert fault.value.where == where
    assert fault.value.remedy


def test_a_frame_that_leaves_nothing_is_refused():
    """Of a label of 3 x 20 mm thick and thin lines leave nothing."""
    with pytest.raises(ImpossibleBackError, match="the frame leaves nothing of the label"):
        check(framed(panel=Panel(width_mm=3.0, height_mm=20.0), frame=Frame.THICK_AND_THIN))


def test_a_frame_on_a_back_too_narrow_for_the_lettering_does_not_fit():
    """What usual margins use up is no bad input: a label on a back of 7 mm is answered with no."""
    report = check(Job(title="Tides", spine=Spine(width_mm=7, height_mm=200), method="paper-label",
                       market="GB", frame=Frame.THIN))  # fmt: skip
    assert report.verdict is Verdict.DOES_NOT_FIT


def shown(groups, name: str) -> list:
    """Every group of that name, however deep."""
    found = []
    for one in groups:
        if isinstance(one, Group):
            found += [one] if one.name == name else shown(one.items, name)
    return found


@pytest.mark.parametrize("corners", list(FrameCorners))
def test_the_frame_is_drawn_where_it_is_told(corners):
    """On the drawing, on the sheet and for a plotter: two lines, 0.38 and 0.15 mm, 1 mm inside."""
    job = framed(frame=Frame.THICK_AND_THIN, frame_corners=corners)
    answer = pipeline.answer(job)
    rings = [[one.start, *(each[-1] for each in one.segments)]
             for one in frame_contours(answer.panel)]  # fmt: skip
    widths = [max(x for x, _y in ring) for ring in rings]
    assert widths == pytest.approx([14.0, 13.625, 13.325, 13.175])
    lines = [shapely.Polygon(outer, [inner]) for outer, inner in zip(rings[::2], rings[1::2],
                                                                     strict=True)]  # fmt: skip
    for line, wide_mm in zip(lines, (0.375, 0.15), strict=True):
        inner = shapely.Polygon(line.interiors[0])
        assert line.exterior.hausdorff_distance(inner.exterior) < 1.5 * wide_mm
        assert line.exterior.distance(inner) == pytest.approx(wide_mm, abs=0.001)
    (drawn,) = plates(subject_of(answer))
    assert len(shown(drawn.items, "ruled-frame")) == 1
    settings, _left = settings_of(job, SheetWishes(), sheet_rules())
    sheet = build_sheet(settings, page_of("A4"), spares=1)
    assert len(shown(sheet.scenes[0].items, "ruled-frame")) == 2 * len(settings)
    assert len(shown(sheet.scenes[0].items, "ticks")) == 2 * len(settings)  # to cut by
    assert not shown(sheet.scenes[0].items, "frame")  # no line at the edge beside it
    cut = cut_label(settings[0])
    assert len(cut.frame) == 4
    assert to_dxf(cut).count("\nFRAME\n") > 4  # the layer, and each line on it


def test_a_label_without_a_frame_has_the_line_that_it_is_cut_by():
    """As before: the sheet's own frame, and none that stays."""
    settings, _left = settings_of(framed(), SheetWishes(), sheet_rules())
    (scene,) = build_sheet(settings, page_of("A4"), spares=0).scenes
    assert shown(scene.items, "frame")
    assert not shown(scene.items, "ruled-frame")


PANELLED = Spine(width_mm=36, rise_mm=6, height_mm=260, bands=5)


def test_a_label_of_given_size_on_an_unbanded_back():
    """Its middle a quarter of the height down, or where it was asked for; the lettering in it.

    The lettering is as large as on the same label by itself, and 210 mm of back do not matter.
    """
    size = Panel(width_mm=22.0, height_mm=32.0)
    said = {"method": "paper-label", "market": "GB", "frame": Frame.THIN}
    back = Job(title="The Harbour Light", spine=Spine(width_mm=26, height_mm=210), label_size=size,
               **said)  # fmt: skip
    on_back, alone = check(back), check(Job(title="The Harbour Light", label_size=size, **said))
    assert alone.panel.of == "outright"
    assert on_back.panel.of == "label"
    assert (on_back.panel.width_mm, on_back.panel.height_mm) == (22.0, 32.0)
    assert on_back.panel.label_from_head_mm == pytest.approx(52.5)
    best, own = on_back.layouts[on_back.recommended], alone.layouts[alone.recommended]
    assert (best.lines, best.largest_pt) == (own.lines, own.largest_pt)
    assert best.spare_mm.head == pytest.approx(best.spare_mm.tail, abs=0.01)
    moved = check(replace(back, spine=Spine(width_mm=26, height_mm=210, from_head_mm=80)))
    assert moved.panel.label_from_head_mm == 80.0
    at_tail = check(replace(back, spine=Spine(width_mm=26, height_mm=210, from_head_mm=209)))
    assert at_tail.panel.label_from_head_mm == pytest.approx(210 - 3 - 16)  # as near as it goes


def test_a_label_of_given_size_in_its_panel_over_a_round():
    """Between bands in the middle of the panel; 34 mm as cut cover less over the round."""
    job = Job(title="The Harbour Light", spine=PANELLED, method="leather-label", market="GB",
              label_size=Panel(width_mm=34.0, height_mm=30.0))  # fmt: skip
    plain = check(replace(job, label_size=None))
    report = check(job)
    assert report.label.cut_width_mm == pytest.approx(34.0)
    assert report.panel.width_mm == pytest.approx(report.label.covers_mm)
    assert report.panel.height_mm == 30.0
    assert report.panel.number == 2
    assert report.panel.label_from_head_mm == pytest.approx(63.9, abs=0.1)
    assert max(one.largest_pt for one in report.layouts) <= max(
        one.largest_pt for one in plain.layouts
    )
    settings, _left = settings_of(job, SheetWishes(), sheet_rules())
    assert (settings[0].sides.width_mm, settings[0].sides.height_mm) == (34.0, 30.0)


@pytest.mark.parametrize(("said", "words"), [
    ({"width": "20mm", "height": "200mm", "label-size": "22x30mm"}, "wider than the back"),
    ({"width": "20mm", "height": "200mm", "label-size": "18x300mm"}, "higher than what it"),
    ({"width": "20mm", "label-size": "18x30mm"}, "give --height"),
    ({"panel": "20x30mm", "label-size": "20x30mm"}, "a panel and a label of given size"),
    ({"label-size": "20x30mm", "method": "blocked-case"}, "is no label"),
    ({"width": "20mm", "height": "200mm", "label-size": "18x30mm", "method": "blocked-case"},
     "is no label"),
    ({"front-board": "100x200mm", "label-size": "20x30mm"}, "board-label"),
    ({"width": "20mm", "height": "200mm", "label-size": "18x30mm", "old-lettering": "9x9@40mm"},
     "leave out the back"),
])  # fmt: skip
def test_labels_of_a_size_that_cannot_be_are_refused(said, words):
    """In one line, with what to do."""
    with pytest.raises(SpinefitError, match=words) as fault:
        pipeline.check(assemble("Tides", said))
    assert "\n" not in str(fault.value)


def filled(scene, name: str) -> list:
    """With which greys a group's areas are filled, in the order drawn."""
    areas = [one for group in shown(scene.items, name) for one in group.items]
    return [one.grey for one in areas if isinstance(one, Area) and one.grey is not None]


def drawn_with(method: str, **said) -> tuple:
    job = Job(title="The Harbour Light", spine=Spine(width_mm=30, height_mm=210), method=method,
              market="GB", **said)  # fmt: skip
    answer = pipeline.answer(job)
    (scene,) = plates(subject_of(answer))
    return answer.report, scene


def test_a_light_letter_on_a_dark_back_is_drawn_so():
    """Gold on a dark case: white letters on a ground dark enough, in every drawing of it."""
    report, scene = drawn_with("blocked-case", covering_colour=Tone.DARK)
    assert (report.panel.covering_colour, report.panel.ink_colour) == (Tone.DARK, Tone.LIGHT)
    assert filled(scene, "lettering") == [1.0]
    assert max(filled(scene, "usable-panel")) < 0.5
    assert max(filled(scene, "back")) < 0.5
    assert 'class="lettering"' in to_svg(scene)
    assert 'fill="#ffffff"' in to_svg(scene).split('class="lettering"')[1].split("</g>")[0]
    _report, plain = drawn_with("blocked-case")
    assert filled(plain, "lettering") == [0.0]
    assert filled(plain, "usable-panel") == [1.0]


def test_ink_alone_says_what_it_stands_on_and_a_label_hides_its_covering():
    """Light ink wants a dark covering; a paper label stays black on white."""
    report, _scene = drawn_with("blocked-case", ink_colour=Tone.LIGHT)
    assert report.panel.covering_colour is Tone.DARK
    _report, scene = drawn_with("paper-label", covering_colour=Tone.DARK)
    assert filled(scene, "lettering") == [0.0]
    assert filled(scene, "usable-panel")[0] == 1.0
    assert max(filled(scene, "back")) < 0.5
    _report, scene = drawn_with("leather-label", ink_colour=Tone.LIGHT, frame=Frame.THIN)
    assert filled(scene, "lettering") == filled(scene, "ruled-frame") == [1.0]
    assert filled(scene, "usable-panel")[0] < 0.5


@pytest.mark.parametrize(("ink", "covering", "noted"), [
    (Tone.LIGHT, Tone.LIGHT, True), (Tone.DARK, Tone.DARK, True), (Tone.LIGHT, Tone.DARK, False),
    (None, Tone.DARK, False), (None, None, False),
])  # fmt: skip
def test_one_tone_of_ink_and_covering_is_noted_and_decides_nothing(ink, covering, noted):
    """A note to try it first (common practice), never more."""
    report, _scene = drawn_with("blocked-case", ink_colour=ink, covering_colour=covering)
    found = [one for one in report.findings if one.topic == "one-tone"]
    assert [one.level for one in found] == [Level.NOTE] * noted
    assert report.layouts == drawn_with("blocked-case")[0].layouts


@pytest.mark.parametrize(("spine", "high_mm"), [
    (Spine(width_mm=36, height_mm=220), 32), (Spine(width_mm=36, height_mm=220), 40),
    (PANELLED, 32),
])  # fmt: skip
def test_author_rule_and_title_share_a_label_of_given_size_on_the_back(spine, high_mm):
    """As on the label by itself, in the middle of it, wherever on the back that stands."""
    parts = (Part(role=Role.AUTHOR, text="Ebenezer Quillfeather"), Part(role=Role.RULE),
             Part(role=Role.TITLE, text="The Harbour Light"))  # fmt: skip
    said = {"parts": parts, "label_size": Panel(width_mm=30, height_mm=high_mm), "market": "GB",
            "method": "paper-label", "frame": Frame.THIN, "label_thickness_mm": 0.12}  # fmt: skip
    on_back = check(Job(spine=replace(spine, rise_mm=None), **said), verify=True)
    alone = check(Job(**said | {"label_thickness_mm": None}))
    best, own = (one.layouts[one.recommended] for one in (on_back, alone))
    assert (best.lines, best.largest_pt) == (own.lines, own.largest_pt)
    assert best.spare_mm.head == pytest.approx(best.spare_mm.tail, abs=0.01)
    assert on_back.panel.label_from_head_mm is not None
    assert on_back.panel.of == "label"
