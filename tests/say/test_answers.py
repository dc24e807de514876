"""The answer in one sentence."""

from __future__ import annotations

from spinefit import Job, Lettering, Spine, check
from spinefit.vocabulary import Die


def answer(method: str, **lettering: float) -> str:
    """The answer for a title in letters of which a drawer has 8, 14 and 20 pt."""
    job = Job(
        title="Tides",
        spine=Spine(width_mm=30.0, height_mm=200.0),
        method=method,
        lettering=Lettering(font="EB Garamond", sizes_pt=(8.0, 14.0, 20.0), **lettering),
    )
    return check(job).answer


def test_a_size_that_is_not_at_hand_is_answered_with_the_nearest_that_is() -> None:
    """The panel would take it."""
    assert answer("paperback-cover", size_pt=9.0) == (
        "It would fit, but 9 pt is not among the sizes at hand; the nearest is 8 pt."
    )


def test_where_no_size_at_hand_holds_the_one_that_would_is_said() -> None:
    """Never that the largest at hand is enough, for then it would fit."""
    job = Job(
        title="Tides",
        spine=Spine(width_mm=30.0, height_mm=200.0),
        method="blocked-case",
        die=Die.PHOTOPOLYMER,
        lettering=Lettering(font="EB Garamond", sizes_pt=(8.0, 14.0)),
    )
    assert check(job).answer.startswith(
        "It does not fit: a foil-blocked case needs 15.6 pt to hold the thin strokes of e in EB "
        "Garamond, more than any size at hand, and "
    )
