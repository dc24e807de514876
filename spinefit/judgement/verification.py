"""Does the geometry engine agree about the largest size of a layout?

In: a resolved job and one of its layouts. Out: nothing, or a `VerificationError`: shapely is asked
whether the ink lies inside its panel at that size, and reaches out of it a little above.
"""

from __future__ import annotations

from spinefit.errors import VerificationError
from spinefit.geometry import turn_box
from spinefit.job.resolved import ResolvedJob
from spinefit.layout import Layout
from spinefit.units import pt_from_mm


def verify_layout(job: ResolvedJob, layout: Layout) -> None:
    """Ask shapely about one layout at its largest size.

    Raises:
        VerificationError: (never seen) it disagrees with the arithmetic.
    """
    from spinefit.geometry.panel_polygons import verify_fit
    from spinefit.geometry.polygons import ink_contours, ink_polygon
    from spinefit.tolerances import FLATTENING_ERROR_EM

    ink_of = ink_contours if layout.panel.is_plain else ink_polygon
    verified = verify_fit(
        ink_of(layout.placed(), turn=layout.candidate.turn),
        layout.panel,
        centre_mm=_placed_at(layout),
        size_mm=layout.limit.size_mm,
        clearance_mm=job.lettering.clearance_mm,
        error_em=0.0 if layout.panel.is_plain else FLATTENING_ERROR_EM,
    )
    if not verified.agreed:
        raise disagreed(layout)


def disagreed(layout: Layout) -> VerificationError:
    """The fault that names what to report."""
    return VerificationError(
        "the geometry engine disagrees about the largest size",
        value=f"{pt_from_mm(layout.limit.size_mm):.4f} pt",
        remedy="please report this title, font and panel",
    )


def _placed_at(layout: Layout) -> tuple[float, float]:
    """Where the placing point stands at the largest size: a group free to move fills its panel."""
    x_mm, y_mm = layout.limit.centre_mm
    if not layout.floats:
        return x_mm, y_mm
    _left, bottom, _right, top = turn_box(layout.group.box, layout.candidate.turn)
    return x_mm, y_mm - (bottom + top) / 2 * layout.limit.size_mm
