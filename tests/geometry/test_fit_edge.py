"""A placing point that lies on the panel's edge."""

from __future__ import annotations

from spinefit.geometry import largest, outright_panel
from spinefit.job.model import Panel, Shape
from spinefit.vocabulary import PanelForm

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
