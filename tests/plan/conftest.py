"""What the tests of the plan share: the reading-room library's books."""

from __future__ import annotations

import pytest

from spinefit import Job, Lettering, Spine
from spinefit.plan import BackPlan, BackText
from spinefit.vocabulary import Role, Work


@pytest.fixture
def text():
    """A maker of texts: role and words."""

    def make(role, words, **more):
        return BackText(role=Role(role), text=words, **more)

    return make


@pytest.fixture
def plan(text):
    """A maker of plans: the spine's measures, the texts by role, and the rest."""

    def make(spine, *texts, **more):
        made = tuple(one if isinstance(one, BackText) else text(*one) for one in texts)
        said = {"market": "GB", "work": Work.LIBRARY, **more}
        return BackPlan(spine=Spine(**spine), texts=made, **said)

    return make


@pytest.fixture
def volumes():
    """A maker of sets: widths of the backs, everything else alike."""

    def make(
        *widths_mm, title="Tide Tables / Vol. {n}", heights_mm=(210,), lettering=None, **spine
    ):
        return [
            (
                f"Vol. {n}",
                Job(
                    title=title.format(n=n),
                    spine=Spine(
                        width_mm=width_mm, height_mm=heights_mm[n % len(heights_mm)], **spine
                    ),
                    lettering=lettering or Lettering(),
                    market="GB",
                    work=Work.LIBRARY,
                ),
            )
            for n, width_mm in enumerate(widths_mm, 1)
        ]

    return make
