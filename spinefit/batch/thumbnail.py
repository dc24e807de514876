"""What does the lettered panel, or back, look like, no larger than a thumb?

In: the job of a title and its report, or the texts of a back. Out: an SVG of the panel, or of
the whole back with every text in its place, with the outlines of the set lines, thinned to what
so small a picture shows; None where the panel has no height. Lengths in mm, y turned downwards
once, at the end. The curves are the straight lines between the ends
of their segments: a picture, no proof.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from spinefit.geometry import divide, usable_panel
from spinefit.geometry.turning import turn_point
from spinefit.job.model import Job
from spinefit.job.resolve import resolve
from spinefit.job.resolved import ResolvedJob, ResolvedSpine
from spinefit.plan.reports import TextReport
from spinefit.report.model import LayoutReport, Report
from spinefit.report.phrasing import shown_layout
from spinefit.shaping import ShapedTitle, shape_titles
from spinefit.shaping.outline import Contour, Point
from spinefit.units import mm_from_pt
from spinefit.vocabulary import Orientation

__all__ = ["Picture", "back_picture", "picture"]

_DOTS = 160  # along the longer side: finer than a thumb's picture is shown
_DECIMALS = 2  # mm: a tenth of a dot on the tallest back


class Picture:
    """A panel and what is lettered on it.

    Attributes:
        width_mm, height_mm: of the panel, or of the back.
        path: SVG path data in mm from its upper left corner, y downwards.
        bands: the same of the bands across a back.
    """

    def __init__(self, width_mm: float, height_mm: float, path: str, bands: str = "") -> None:
        self.width_mm = round(width_mm, _DECIMALS)
        self.height_mm = round(height_mm, _DECIMALS)
        self.path = path
        self.bands = bands


def picture(job: Job, report: Report) -> Picture | None:
    """The panel of a report with its lettering, as advised or nearest to fitting.

    Args:
        job: the job of the report.
        report: what was found.
    """
    layout = shown_layout(report)
    height_mm, width_mm = report.panel.height_mm, report.panel.width_mm
    if layout is None or not height_mm or not width_mm:
        return None
    middle = (width_mm / 2, height_mm / 2)
    path = _lettering(resolve(job), layout, middle, max(width_mm, height_mm) / _DOTS)
    return Picture(width_mm, height_mm, path) if path else None


def back_picture(texts: Sequence[TextReport]) -> Picture:
    """The whole back with every text where it stands.

    Args:
        texts: of one back, from head to tail, each with the job it was judged by.
    """
    parts, width_mm, height_mm, bands = [], 0.0, 0.0, ""
    for one in texts:
        job = resolve(one.job)
        assert job.spine is not None  # texts that share a back have one
        panel = usable_panel(job.spine, job.shape, job.rules)
        assert panel.back is not None and panel.back_height_mm is not None
        assert panel.middle_from_head_mm is not None  # its height is known
        width_mm, height_mm = panel.back.developed_width_mm, panel.back_height_mm
        layout = shown_layout(one.report)
        assert layout is not None  # every text has a setting
        middle = (width_mm / 2, panel.middle_from_head_mm)
        parts.append(_lettering(job, layout, middle, max(width_mm, height_mm) / _DOTS))
        bands = bands or _bands(job.spine, width_mm)
    return Picture(width_mm, height_mm, "".join(parts), bands)


def _bands(spine: ResolvedSpine, width_mm: float) -> str:
    return "".join(
        _path([(0, top), (width_mm, top), (width_mm, bottom), (0, bottom)], 0.0)
        for top, bottom in (
            (upper.outer_bottom_mm, lower.outer_top_mm) for upper, lower in pairwise(divide(spine))
        )
    )


def _lettering(job: ResolvedJob, layout: LayoutReport, middle: Point, step_mm: float) -> str:
    """The path of a setting, the middle of its panel at a point, y downwards."""
    titles = shape_titles(job)
    title = next((one for one in titles if one.only_pt == layout.set_pt), titles[0])
    rings = list(_rings(title, layout))
    if not rings:
        return ""
    shift = _shift(rings, layout)
    return "".join(
        _path([(x + shift[0] + middle[0], middle[1] - y - shift[1]) for x, y in ring], step_mm)
        for ring in rings
    )


def _rings(title: ShapedTitle, layout: LayoutReport) -> Iterator[list[Point]]:
    """The contours at the size set, turned, in mm about the middle of the lettering."""
    em_mm = mm_from_pt(layout.set_pt)
    for text, baseline_mm in zip(_texts(title, layout), layout.baselines_mm, strict=True):
        if text.isspace():
            continue
        line, box = title.set_line(text)
        if box is None:
            continue
        middle_em = (box[0] + box[2]) / 2
        for outline, x_em, y_em in line:
            for contour in outline:
                yield [
                    turn_point(
                        ((x + x_em - middle_em) * em_mm, (y + y_em) * em_mm + baseline_mm),
                        layout.turn,
                    )
                    for x, y in _ends(contour)
                ]


def _texts(title: ShapedTitle, layout: LayoutReport) -> tuple[str, ...]:
    if layout.orientation is Orientation.PILLAR:
        return tuple(letter for letter, _box in title.letters())
    return layout.lines


def _ends(contour: Contour) -> Iterator[Point]:
    yield contour.start
    for segment in contour.segments:
        yield segment[-1]


def _shift(rings: list[list[Point]], layout: LayoutReport) -> Point:
    """From the middle of the ink to where it stands: its spares say how far off the middle."""
    xs = [x for ring in rings for x, _y in ring]
    ys = [y for ring in rings for _x, y in ring]
    spare = layout.spare_mm
    x_mm = _off(spare.left, spare.right) - (min(xs) + max(xs)) / 2
    y_mm = _off(spare.tail, spare.head) - (min(ys) + max(ys)) / 2
    return x_mm, y_mm


def _off(low: float | None, high: float | None) -> float:
    return 0.0 if low is None or high is None else (low - high) / 2


def _path(points: list[Point], step_mm: float) -> str:
    """A closed path through the points that lie a dot or more apart."""
    kept = [points[0]]
    for x, y in points[1:]:
        if abs(x - kept[-1][0]) + abs(y - kept[-1][1]) >= step_mm:
            kept.append((x, y))
    if len(kept) < 3:
        kept = points
    return "M" + "L".join(f"{round(x, _DECIMALS):g} {round(y, _DECIMALS):g}" for x, y in kept) + "Z"
