"""Which jobs might a person bring? Titles, lettering, backs and panels drawn at random."""

from __future__ import annotations

from hypothesis import strategies as st

from spinefit import Job, Lettering, Panel, Spine
from spinefit.vocabulary import BackForm, BreakWords, Case, Centre, Orientation, Reading

__all__ = ["WORDS", "half_mm", "jobs", "letterings", "spines", "titles"]

WORDS = (
    "A", "The", "of", "and", "Quay", "Harbour", "Light", "ÉTÉS", "gjy", "COMMISSIONERS",
    "Tide-Tables", "Vol. 2", "1848–1870", "Port", "Ången", "Harbourmastership", "VAWT", "fi", "—x",
)  # fmt: skip


def half_mm(least: float, most: float):
    return st.integers(round(2 * least), round(2 * most)).map(lambda halves: halves / 2)


@st.composite
def titles(draw, most: int = 7, forced: bool = True):
    words = draw(st.lists(st.sampled_from(WORDS), min_size=1, max_size=most))
    joints = [" ", " ", " ", " ", "\u00a0", " / " if forced else " "]
    return words[0] + "".join(draw(st.sampled_from(joints)) + word for word in words[1:])


letterings = st.builds(
    Lettering,
    font=st.sampled_from([None, "Libre Baskerville", "Source Serif 4", "Fira Sans Condensed"]),
    case=st.sampled_from([None, None, Case.CAPITALS]),
    tracking=st.sampled_from([None, None, 50.0, -20.0]),
    orientation=st.sampled_from([None, None, Orientation.TRANSVERSE, Orientation.LONGITUDINAL]),
    reading=st.sampled_from([None, Reading.DESCENDING, Reading.ASCENDING]),
    size_pt=st.sampled_from([None, None, 4.0, 8.0, 14.0, 50.0]),
    leading_em=st.sampled_from([None, None, 0.3, 1.6]),
    clearance_mm=st.sampled_from([None, None, 0.5, 2.0]),
    centre=st.sampled_from([None, *Centre]),
    break_words=st.sampled_from([None, None, None, BreakWords.HYPHEN]),
)


@st.composite
def spines(draw):
    """Flat and rounded, banded and plain, with a height and without."""
    width = draw(half_mm(2, 60))
    spine = {
        "width_mm": width,
        "height_mm": draw(st.sampled_from([None, 90.0, 180.0, 250.0])),
        "bands": draw(st.sampled_from([None, None, 3, 5])),
    }
    if draw(st.booleans()):
        spine["rise_mm"] = width * draw(st.sampled_from([0.1, 0.2, 0.4]))
        spine["max_angle_deg"] = draw(st.sampled_from([None, 30.0]))
    elif draw(st.booleans()):
        spine["back"] = BackForm.ROUNDED
    if draw(st.booleans()):
        spine["foot_mm"] = 10.0
    return Spine(**spine)


@st.composite
def jobs(draw):
    if draw(st.integers(0, 3)):
        place = {"spine": draw(spines())}
    else:
        place = {"panel": Panel(width_mm=draw(half_mm(3, 60)), height_mm=draw(half_mm(3, 90)))}
    return Job(
        title=draw(titles()),
        lettering=draw(letterings),
        market=draw(st.sampled_from([None, "GB", "FR", "IT"])),
        reading_distance_mm=draw(st.sampled_from([None, 300.0, 2000.0])),
        method="paperback-cover",  # any size, from one floor, on backs with bands too
        **place,
    )
