"""A label that several texts share: where it stands, how large it is, and what fits on it."""

from __future__ import annotations

import pytest

from spinefit.backs import plan_back, plan_set
from spinefit.drawing.back import elevation
from spinefit.drawing.frame import frame_of
from spinefit.drawing.plate import subject_of_plan
from spinefit.drawing.scene import Area, Group
from spinefit.errors import FieldError, ImpossibleBackError
from spinefit.job.values import Panel
from spinefit.say.as_json import to_dict
from spinefit.say.phrasing import shown
from spinefit.say.plan_build import plan_remedies
from spinefit.vocabulary import Role

BACK = {"width_mm": 30.0, "height_mm": 210.0}
BANDED = {"width_mm": 40.0, "height_mm": 240.0, "bands": 5}
ON = {"label": "title piece"}
MARGIN_MM = 1.5 + 0.35  # a paper label's inner margin and its frame line


@pytest.fixture
def pair(text, plan):
    """A maker of plans with author and title on one label, the imprint on its own."""

    def make(spine=BACK, *, size=None, method="paper-label", title=None, author=None):
        both = (
            text("author", "M. Tregear", **ON, **(author or {})),
            text("title", "Tide Tables", **ON, label_size_mm=size, **(title or {})),
        )
        return plan(spine, *both, ("imprint", "Quay Press"), method=method)

    return make


def ink_mm(one):
    """From the first to the last ink of a text, in mm from the head of the back."""
    top = one.job.spine.head_mm
    panel, spare = one.report.panel, shown(one.report).spare_mm
    clear = (panel.height_mm - shown(one.report).ink_height_mm - spare.head - spare.tail) / 2
    return top + clear + spare.head, top + panel.height_mm - clear - spare.tail


def test_the_label_holds_its_texts_with_its_margin(pair):
    """Worked out: margin, author, gap, title, margin, and nothing to spare."""
    report = plan_back(pair())
    assert report.fits
    (label,) = report.labels
    author, title, imprint = report.texts
    assert (author.label, title.label, imprint.label) == ("title piece", "title piece", None)
    first, last = ink_mm(author)[0], ink_mm(title)[1]
    assert first - label.zone.begins_mm == pytest.approx(MARGIN_MM, abs=0.06)
    assert label.zone.ends_mm - last == pytest.approx(MARGIN_MM, abs=0.06)
    assert label.width_mm == pytest.approx(30 - 2 * 1.25)
    assert label.zone.ends_mm < ink_mm(imprint)[0]


def test_texts_of_a_label_stand_nearer_than_two_labels_could(pair, text, plan):
    """Set small: one margin round both texts, not one round each."""
    shared = plan_back(pair(title={"size_pt": 9.0}))
    own = (("author", "M. Tregear"), text("title", "Tide Tables", size_pt=9.0))
    apart = plan_back(plan(BACK, *own, ("imprint", "Quay Press"), method="paper-label"))

    def gap(report):
        return ink_mm(report.texts[1])[0] - ink_mm(report.texts[0])[1]

    assert gap(apart) >= 2 * MARGIN_MM
    assert gap(shared) == pytest.approx(0.6 * 9 * 25.4 / 72, abs=0.06)


def test_a_size_given_holds(pair):
    """No ink within its margin, and the label is as large as it was said to be."""
    report = plan_back(pair(size=Panel(width_mm=20.0, height_mm=40.0)))
    (label,) = report.labels
    assert label.is_given and report.fits
    assert (label.width_mm, label.zone.length_mm) == (pytest.approx(20.0), pytest.approx(40.0))
    for one in report.texts[:2]:
        assert shown(one.report).ink_width_mm <= 20.0 - 2 * MARGIN_MM + 1e-6
        begins, ends = ink_mm(one)
        assert (
            label.zone.begins_mm + MARGIN_MM - 1e-6
            <= begins
            < ends
            <= label.zone.ends_mm - MARGIN_MM + 1e-6
        )


def test_baselines_are_measured_from_the_top_of_the_label(pair):
    report = plan_back(pair())
    (label,) = report.labels
    for one, baselines in zip(report.texts, label.baselines_mm, strict=False):
        first = shown(one.report).first_from_head_mm
        assert baselines[0] + label.zone.begins_mm == pytest.approx(first)
        assert len(baselines) == len(shown(one.report).lines)
        assert all(0 < each < label.zone.length_mm for each in baselines)


def test_weights_share_the_label(pair):
    """Two parts of three for the title, less the gap."""
    report = plan_back(
        pair(size=Panel(width_mm=24.0, height_mm=40.0), author={"weight": 1}, title={"weight": 2})
    )
    author, title, _imprint = report.texts
    assert title.zone.length_mm == pytest.approx(2 * author.zone.length_mm)


def test_between_bands_the_label_fills_its_panel(pair):
    """Both texts in the title's panel, whatever custom gives the author."""
    report = plan_back(pair(BANDED))
    (label,) = report.labels
    assert label.panel == 2 and label.is_full
    assert [one.panel for one in report.texts] == [2, 2, 6]
    assert report.fits


def test_a_label_too_small_for_its_texts_says_so_and_offers_another(pair):
    size = Panel(width_mm=20.0, height_mm=7.0)
    report = plan_back(pair(size=size))
    assert not report.fits and not report.labels[0].fits
    assert "label-size" in {one.change for one in plan_remedies(report)}
    assert plan_back(pair()).fits


def test_a_bent_label_has_its_cut_width(pair):
    """It covers what was cut, less what bending takes: at half its thickness (0.12 mm paper)."""
    spine = {**BACK, "rise_mm": 6.0}
    report = plan_back(pair(spine, size=Panel(width_mm=24.0, height_mm=40.0)))
    (label,) = report.labels
    radius = (30**2 / 4 + 6**2) / (2 * 6)
    assert label.cut_width_mm == pytest.approx(24.0)
    assert label.width_mm == pytest.approx(24.0 * radius / (radius + 0.06))


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"method": "paperback-cover"}, "is no label"),
        ({"size": Panel(width_mm=31.0, height_mm=40.0)}, "wider than the back"),
        ({"size": Panel(width_mm=20.0, height_mm=300.0)}, "higher than what it stands on"),
        ({"size": Panel(width_mm=20.0, height_mm=3.0)}, "inner margin leaves nothing"),
        ({"size": Panel(width_mm=20.0, height_mm=204.0)}, "no room beside it for the imprint"),
        ({"title": {"panel": 2}, "author": {"panel": 3}, "spine": BANDED}, "two panels"),
    ],
)
def test_labels_that_cannot_be(pair, more, said):
    spine = more.pop("spine", BACK)
    with pytest.raises((FieldError, ImpossibleBackError), match=said):
        plan_back(pair(spine, **more))


def test_a_size_without_a_label_is_refused(text, plan):
    made = plan(BACK, text("title", "Tides", label_size_mm=Panel(width_mm=20, height_mm=40)))
    with pytest.raises(FieldError, match="a size for which label"):
        plan_back(made)


def test_a_set_of_backs_refuses_shared_labels(pair):
    with pytest.raises(FieldError, match="planned for one back"):
        plan_set([("1", pair()), ("2", pair())])


def test_the_json_has_the_label(pair):
    found = to_dict(plan_back(pair()))
    (label,) = found["labels"]
    assert label["name"] == "title piece" and label["size"] == "worked out"
    assert [one["role"] for one in label["texts"]] == ["author", "title"]
    assert label["height_mm"] == pytest.approx(
        label["ends_from_head_mm"] - label["begins_from_head_mm"], abs=1e-3
    )


def test_the_drawing_shows_one_label_for_both(pair):
    """Two panels drawn: the shared label, edge to edge, and the imprint's own."""
    report = plan_back(pair())
    (texts,) = subject_of_plan(report).backs
    panels = [
        one
        for item in elevation(frame_of(texts))
        if isinstance(item, Group)
        for one in ([item] if item.name == "usable-panel" else [])
    ]
    assert len(panels) == 2
    outline = next(item for item in panels[0].items if isinstance(item, Area))
    ys = [y for c in outline.contours for _x, y in [c.start, *(p for s in c.segments for p in s)]]
    zone = report.labels[0].zone
    assert (max(ys), min(ys)) == (pytest.approx(-zone.begins_mm), pytest.approx(-zone.ends_mm))
    assert {shown.name for shown in texts} == {
        str(r) for r in (Role.AUTHOR, Role.TITLE, Role.IMPRINT)
    }
