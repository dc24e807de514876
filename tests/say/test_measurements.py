"""What a report says was measured, and what its method asks."""

from __future__ import annotations

import pytest

from spinefit import Job, Lettering, Panel, Report, Spine, catalogue, check
from spinefit.vocabulary import BackForm, Measured


def measured(report: Report) -> dict[str, tuple[float, ...]]:
    return {one.what: one.values for one in report.measurements}


@pytest.mark.parametrize(
    ("spine", "found"),
    [
        ({"width_mm": (13, 15)}, {"width": (13, 15), "height": ()}),
        ({"width_mm": 25, "board_mm": 2.5, "measured": Measured.OVER_BOARDS, "height_mm": 200},
         {"width": (20,), "height": (200,)}),
        ({"width_mm": 25, "height_mm": 200, "back": BackForm.ROUNDED},
         {"width": (25,), "height": (200,), "arc": ()}),
        ({"width_mm": 25, "height_mm": 200, "rise_mm": 4.0, "back": BackForm.ROUNDED},
         {"width": (25,), "height": (200,), "rise": (4.0,)}),
        ({"width_mm": 25, "height_mm": 200, "bands": 2, "bands_at_mm": (60.0, 120.0)},
         {"width": (25,), "height": (200,), "bands": (2,), "band-height": (4.0,),
          "bands-at": (60.0, 120.0)}),
    ],
)  # fmt: skip
def test_the_back_as_used(spine: dict[str, object], found: dict[str, tuple[float, ...]]) -> None:
    """What was stated, what was left open, what was completed."""
    report = check(Job(title="Tides", spine=Spine(**spine)))  # type: ignore[arg-type]
    assert measured(report) == found


def test_a_panel_given_outright() -> None:
    """Its two sides, and nothing of a back."""
    report = check(Job(title="Tides", panel=Panel(width_mm=20, height_mm=30)))
    assert measured(report) == {"panel-width": (20,), "panel-height": (30,)}


def test_a_label_has_its_own_size() -> None:
    """Beside the back it goes on."""
    report = check(
        Job(title="Tides", spine=Spine(width_mm=25, height_mm=200), method="paper-label")
    )
    found = measured(report)
    assert found["label-width"] == (report.panel.width_mm,)
    assert found["label-height"] == (report.panel.height_mm,)


def test_the_method_brings_its_cautions_and_limits() -> None:
    """Each limit with who says so; tools have no strokes of a font."""
    spine = Spine(width_mm=25, height_mm=200)
    label = check(Job(title="Tides", spine=spine, method="paper-label")).method
    assert (label.key, label.name) == ("paper-label", "printed paper label")
    assert len(label.cautions) == 3
    assert [limit.what for limit in label.limits] == [
        "smallest",
        "stroke",
        "counter",
        "gap",
        "placing",
    ]
    assert all(limit.source and limit.status for limit in label.limits)
    letters = check(Job(title="Tides", spine=spine, method="hand-letters")).method
    assert [limit.what for limit in letters.limits] == ["smallest", "placing", "sizes"]


def test_a_drawer_replaces_the_methods_sizes() -> None:
    """As given, with no authority behind it."""
    job = Job(
        title="Tides",
        spine=Spine(width_mm=25, height_mm=200),
        lettering=Lettering(sizes_pt=(10, 12, 18)),
        method="hand-letters",
    )
    (sizes,) = [limit for limit in check(job).method.limits if limit.what == "sizes"]
    assert (sizes.values, sizes.status) == ((10, 12, 18), None)


def test_two_methods_of_one_name_are_told_apart() -> None:
    """A binder's own method may have the name of another job's, with other numbers."""
    row = catalogue.method("leather-label")
    smallest = [
        check(
            Job(
                title="Tides",
                spine=Spine(width_mm=25, height_mm=200),
                method=row._replace(smallest=row.smallest._replace(value=size_pt)),
            )
        )
        .method.limits[0]
        .values
        for size_pt in (5.0, 6.0, 7.0)
    ]
    assert smallest == [(5.0,), (6.0,), (7.0,)]


def test_a_drawer_of_one_job_is_not_said_of_the_next() -> None:
    """The limits are those of the method; the sizes at hand are the job's own."""
    spine = Spine(width_mm=25, height_mm=200)
    for sizes_pt in ((10.0, 12.0), (14.0,), None):
        lettering = Lettering(sizes_pt=sizes_pt)
        limits = check(Job(title="Tides", spine=spine, lettering=lettering)).method.limits
        assert [one.values for one in limits if one.source == "the sizes at hand, as given"] == (
            [sizes_pt] if sizes_pt else []
        )
