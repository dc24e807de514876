"""Reports made by hand, so that writers are tested with nothing measured but remedies."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.resolve import resolve
from spinefit.say.label_model import SpareReport
from spinefit.say.model import (
    SCHEMA,
    ConventionReport,
    FindingReport,
    FontReport,
    LayoutReport,
    LimitReport,
    MeasurementReport,
    MethodReport,
    PanelReport,
    Report,
)
from spinefit.vocabulary import (
    Centre,
    Firmness,
    Level,
    LimitedBy,
    Orientation,
    Reading,
    SetBy,
    Status,
    Turn,
    Verdict,
)

TOO_LARGE = Job(
    title="The Harbour / Light",
    spine=Spine(width_mm=20.0, height_mm=198.0),
    lettering=Lettering(size_pt=60.0),
)
LEGIBILITY = FindingReport(
    topic="legibility",
    level=Level.GOOD,
    text="Capitals 3.3 mm high can be read from 0.7 m.",
    value=22.6,
    limit=16.0,
    unit="arcmin",
    source="NUREG-0700 rev. 2",
    status=Status.PUBLISHED,
)
PLACING = FindingReport(
    topic="placing",
    level=Level.WARNING,
    text="The spare at the left is less than the placing tolerance.",
    value=1.2,
    limit=1.6,
    unit="mm",
    source="US short-run book printer's cover guide",
    status=Status.PUBLISHED,
)
LAYOUT = LayoutReport(
    orientation=Orientation.TRANSVERSE,
    reading=Reading.ACROSS,
    turn=Turn.NONE,
    lines=("The", "Harbour", "Light"),
    largest_pt=16.237,
    set_pt=14.5,
    set_by=SetBy.ADVISED,
    cap_height_mm=3.32456789,
    x_height_mm=2.1,
    ink_width_mm=17.61234567,
    ink_height_mm=14.9,
    line_widths_mm=(8.0, 17.61234567, 11.0),
    baselines_mm=(5.5, 0.0, -5.5),
    limited_by=LimitedBy.WIDTH,
    spare_mm=SpareReport(left=1.1938, right=1.1938, head=20.0, tail=120.5),
    centre=Centre.INK,
    fits=True,
    tight=False,
    shape="even",
    foreshortening=1.0,
    reads_from_mm=712.0,
    needs_back_mm=None,
    first_from_head_mm=44.0,
    over_bands=False,
    word_broken=False,
    split="as typed",
    findings=(LEGIBILITY,),
)
ALONG = LAYOUT._replace(
    orientation=Orientation.LONGITUDINAL,
    reading=Reading.DESCENDING,
    turn=Turn.CLOCKWISE,
    lines=("The Harbour Light",),
    line_widths_mm=(60.0,),
    baselines_mm=(0.0,),
    limited_by=LimitedBy.HEIGHT,
    split="least width",
)
TOO_WIDE = LAYOUT._replace(
    lines=("The Harbour Light",),
    largest_pt=4.2,
    set_pt=5.0,
    spare_mm=SpareReport(left=-1.25, right=-1.25, head=30.0, tail=130.0),
    centre=Centre.INK,
    fits=False,
    findings=(),
)
CAUTIONS = (
    "Fingers clear of the blade.",
    "Keep a change of colour off the fold; ask for a proof.",
)
REPORT = Report(
    None,
    schema=SCHEMA,
    verdict=Verdict.FITS,
    answer="It fits: across the back in three lines at 14.5 pt, where 16.2 pt is the largest.",
    title="The Harbour Light",
    font=FontReport(name="EB Garamond", file="eb-garamond/EBGaramond-Regular.ttf", sha256="0" * 64),
    panel=PanelReport(
        width_mm=20.0, height_mm=190.0, number=None, developed=False, assumed=("edge: 2 mm",)
    ),
    recommended=0,
    layouts=(LAYOUT, ALONG, TOO_WIDE),
    findings=(PLACING,),
    to_improve=None,
    convention=ConventionReport(
        market="GB",
        reading=Reading.DESCENDING,
        firmness=Firmness.FIRM,
        source="general encyclopaedia article on bookbinding",
        status=Status.PUBLISHED,
        note="before about 1950 either way",
    ),
    assumed=("edge: 2 mm kept free at each joint", "method: a printed paperback cover"),
    method=MethodReport(
        key="paperback-cover",
        name="printed paperback cover",
        cautions=CAUTIONS,
        caution=CAUTIONS[0],
        limits=(
            LimitReport("smallest", (5.0,), "pt", "sleeve printer's notes", Status.PUBLISHED),
            LimitReport("stroke", (0.021,), "mm", "one dot of a printer", Status.COMPUTED),
            LimitReport("gap", (0.0106,), "mm", "one dot of a plate", Status.COMPUTED),
            LimitReport("placing", (1.6,), "mm", "cover guide", Status.PUBLISHED),
        ),
    ),
    measurements=(
        MeasurementReport(
            "width", (24.0,), "mm", "back", 5.0, "UK book manufacturer", Status.PUBLISHED
        ),
        MeasurementReport("height", (198.0,)),
    ),
    cautions=CAUTIONS,
    front_board=None,
    recess=None,
    label=None,
    fonts=(),
    old_lettering=None,
    nearest=None,
    as_shown=None,
)


@pytest.fixture
def report() -> Report:
    return REPORT


@pytest.fixture
def unfitting() -> Report:
    return REPORT._replace(
        verdict=Verdict.DOES_NOT_FIT,
        answer="It does not fit: at 5 pt the line is 2.5 mm too wide.",
        recommended=None,
        nearest=0,
        layouts=(TOO_WIDE,),
        to_improve=resolve(TOO_LARGE),
    )


@pytest.fixture
def report_of() -> Callable[..., Report]:
    """A maker of reports whose first layout is changed."""

    def make(*, title: str = "The Harbour Light", **changes: Any) -> Report:
        first = LAYOUT._replace(**changes)
        return REPORT._replace(title=title, layouts=(first, *REPORT.layouts[1:]))

    return make
