"""Small capitals of the bundled fonts hold at the sizes their letters do.

A fold in the drawing of one letter, seen by nobody, must not set the size of a title.
"""

from __future__ import annotations

import pytest

from spinefit import Job, Lettering, Spine, check
from spinefit.say.phrasing import shown_layout
from spinefit.vocabulary import Case, Work


@pytest.mark.parametrize("title", ["Robin", "Abbey", "Dock and Rope", "Quay of Wrackness"])
def test_a_printed_title_in_small_capitals_needs_no_poster(title: str) -> None:
    """EB Garamond's small b has a fold of outline 0.0005 em wide at its foot."""
    spine = Spine(width_mm=28, height_mm=205)
    lettering = Lettering(case=Case.SMALL_CAPITALS)
    report = check(Job(title=title, spine=spine, lettering=lettering, work=Work.LIBRARY))
    layout = shown_layout(report)
    assert layout is not None
    assert report.fits
    assert layout.set_pt < 25
