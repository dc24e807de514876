"""What should a binder know of this book before any letter is set?

In: the job, its usable panel and its shaped title. Out: findings on thin backs, widths that vary,
bands and the round; on which way titles along the back run in the book's market; and on what was
asked of the letters. A title that holds more than plain letters is for `letter_findings`, one out
of a library's catalogue for `catalogue_marks`. A convention is advice: where authorities or
shelves are mixed, the list that the book joins decides. Figures come from rules.toml.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from spinefit.geometry import UsablePanel
from spinefit.job.house import names_of_house
from spinefit.job.making import DEFAULT_METHOD
from spinefit.job.resolved import ResolvedJob, ResolvedSpine
from spinefit.judgement.finding import Finding
from spinefit.layout.group import least_leading_em
from spinefit.layout.standing import turn_of
from spinefit.shaping.scripts import CURSIVE, itemise
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import (
    BackForm,
    BindingSide,
    Firmness,
    Letters,
    Level,
    Orientation,
    Place,
    Reading,
    Status,
    Turn,
)

# Letters of one script without a typewriter's quotes: nothing in them can be mistaken. Left out
# are those that windows-1252 has for later bytes of UTF-8, its quotes after an accented letter.
_PLAIN = re.compile(r"(?:[A-Za-z0-9À-ÖØ-öø-őŔ-şŢ-ŷŹ-żſ-ɏ&.,:;!?()/-]|(?<![À-ï])[’–—‘“”]| (?! ))+")
# A letter of no upright script; compiled on need, as large sets take milliseconds to compile.
_TURNED = r"[^\W\d_\u1100-\u11ff\u2e80-\uffff]"
# What every title has in which a mark of a library's catalogue stands.
_MAY_HAVE_MARKS = re.compile(r" [:/] |\[|\.$|\. [-–—] |#[0-9]|[-–][0-9]{4}|[0-9]-$|[cC©][0-9]{4}")
# Scripts whose letters stand beside each other, composed. Of 153 faces none set a title
# in less than 0.98 of the widths of its ink; joined script faces, whose strokes overlap, may.
_APART = re.compile(r"[ -~\u00a0-\u02af\u0370-\u03ff\u0400-\u052f\u1f00-\u1fff\u2010-\u2044]+")
_HEAPED_SHARE = 0.75
_US = "US"  # the market whose printers' limits are the rows edge.us_*
_GEOMETRY = "computed from how a book bound at that side shows its spine lying front cover up"
_UPSIDE_DOWN = (
    f"{_GEOMETRY}; descending Latin titles on Japanese books: Japanese learners' forum thread on "
    "spine direction"
)
_TRIAL = "Cockerell, Bookbinding and the Care of Books, ch. XV: the size is tried with a row of Es"


def back_findings(
    job: ResolvedJob, panel: UsablePanel, *, at_widest_pt: float | None, by_width: bool = False
) -> Iterator[Finding]:
    """Findings on the back as measured, and on a label that bends.

    Args:
        job: the resolved job.
        panel: its usable panel.
        at_widest_pt: largest size of the advised setting at the greatest width of a range.
        by_width: whether the width of the panel limits the setting shown.
    """
    spine = job.spine
    if spine is not None:
        made = spine.estimate
        if made is not None:
            rule = job.rules["bulk.least"]
            yield Finding(
                "width-estimated", Level.WARNING, *made.back_mm, "mm", rule.source, rule.status,
                {"made": made},
            )  # fmt: skip
        yield from _width(job, spine, panel)
        if job.widest is not None and at_widest_pt is not None:
            yield Finding.of(
                "width-range", Level.NOTE, spine.width_mm, job.widest.width_mm, "mm",
                at_widest_pt=at_widest_pt,
            )  # fmt: skip
        yield from _bands(job, spine)
        yield from _round(spine, panel)
        if job.method.key == DEFAULT_METHOD:
            yield from _disagreed(job, spine, by_width=by_width)
    if job.label_thickness_mm is not None:
        from spinefit.judgement.labels import label_findings

        yield from label_findings(job, panel)


def _width(job: ResolvedJob, spine: ResolvedSpine, panel: UsablePanel) -> Iterator[Finding]:
    thin, narrow = job.rules["edge.thin_back_mm"], job.rules["edge.narrow_mm"]
    if spine.width_mm < thin.value:
        yield Finding.by_rule("thin-back", Level.WARNING, spine.width_mm, thin)
    if panel.width_mm <= 0:
        yield Finding.by_rule(
            "nothing-left", Level.FAILURE, spine.width_mm, narrow, edge_mm=spine.edge_mm
        )


def _bands(job: ResolvedJob, spine: ResolvedSpine) -> Iterator[Finding]:
    least = job.rules["bands.least_height_mm"]
    if spine.bands and spine.band_height_mm < least.value:
        yield Finding.by_rule("narrow-band", Level.WARNING, spine.band_height_mm, least)
    if spine.bands and spine.height_mm is None:
        yield Finding.of("bands-without-height", Level.WARNING)


def _round(spine: ResolvedSpine, panel: UsablePanel) -> Iterator[Finding]:
    back, usable_mm = panel.back, panel.width_mm
    if spine.form is not BackForm.ROUNDED or back is None:
        return
    if not back.curve_known:
        yield Finding.of("round-unmeasured", Level.NOTE, usable_mm, unit="mm")
        return
    facts: dict[str, object] = {
        "arc_mm": back.arc_mm,
        "radius_mm": back.radius_mm,
        "rise_mm": back.rise_mm,
        "usable_mm": usable_mm,
    }
    if panel.angle_limited:
        to_joint_deg = math.degrees(back.half_angle_rad)
        most_deg = spine.max_angle_deg
        yield Finding.of("round-angle", Level.NOTE, to_joint_deg, most_deg, "deg", **facts)
    else:
        yield Finding.of("round-measured", Level.GOOD, usable_mm, back.arc_mm, "mm", **facts)


def _disagreed(job: ResolvedJob, spine: ResolvedSpine, *, by_width: bool) -> Iterator[Finding]:
    """Where printers of paperbacks disagree, and their rule decided."""
    us_thin, thin = job.rules["edge.us_thin_back_mm"], job.rules["edge.thin_back_mm"]
    if thin.value <= spine.width_mm < us_thin.value:
        level = Level.WARNING if job.market_code == _US else Level.NOTE
        yield Finding.by_rule(
            "thin-back-disagreed", level, spine.width_mm, us_thin, uk_mm=thin.value
        )
    us_each = job.rules["edge.us_each_mm"]
    said = spine.typed | names_of_house(job.assumed)
    if by_width and "edge" not in said and spine.edge_mm < us_each.value:
        yield Finding.by_rule("edge-disagreed", Level.NOTE, spine.edge_mm, us_each)


def convention_findings(job: ResolvedJob, stands: Orientation) -> Iterator[Finding]:
    """What the market's convention has to say of a longitudinal title.

    Where shelves are mixed, or their custom weakens, a title along the back is a warning until
    the person has said which way it is to read; across there is nothing to mind.

    Args:
        job: the resolved job.
        stands: how the setting that is shown stands.
    """
    market, reading = job.market, job.lettering.reading
    usual = Reading.DESCENDING if market.reading is Reading.UPRIGHT else market.reading
    facts = {"market": market, "code": job.market_code, "column": stands is Orientation.PILLAR}
    is_open = stands is Orientation.LONGITUDINAL and not job.lettering.reading_asked
    unsettled = Level.WARNING if is_open else Level.NOTE
    of_shelves = Level.GOOD if stands is Orientation.TRANSVERSE else unsettled

    def finding(topic: str, level: Level) -> Finding:
        source, status = market.source, market.status
        return Finding(topic, level, reading.value, usual.value, "", source, status, facts)

    if reading is not usual and not job.lettering.reading_asked:
        pass  # columns of Mongolian, of which more is said, run so in every market
    elif reading is not usual:
        firm = market.firmness is Firmness.FIRM
        yield finding("reading-against", Level.WARNING if firm else Level.NOTE)
    elif not job.market_known:
        yield finding("market-unknown", unsettled)
    elif market.firmness is Firmness.MIXED:
        yield finding("reading-mixed", of_shelves)
    else:
        yield finding("reading-follows", of_shelves if market.weakening else Level.GOOD)
    if job.right_to_left:
        yield _right_to_left(job)
    elif job.spine is not None and job.spine.binding_side is BindingSide.RIGHT:
        yield from _right_bound(job)


def _right_bound(job: ResolvedJob) -> Iterator[Finding]:
    """How a left-to-right title along the back of a right-bound book lies front cover up."""
    asked, words = job.lettering.orientation, " ".join(job.title_lines)
    if asked not in (Orientation.ANY, Orientation.LONGITUDINAL) or not re.search(_TURNED, words):
        return
    reading = job.lettering.reading
    level, source = Level.GOOD, _GEOMETRY
    if reading is Reading.DESCENDING:
        level, source = Level.NOTE, _UPSIDE_DOWN
    yield Finding(
        "reading-right-bound", level, reading.value, BindingSide.RIGHT.value, "", source,
        Status.COMPUTED,
    )  # fmt: skip


def _right_to_left(job: ResolvedJob) -> Finding:
    """How a right-to-left title stands along the back, and when the book lies on its back."""
    reading = job.lettering.reading
    turn = turn_of(reading, right_to_left=True)
    side = BindingSide.RIGHT if job.spine is None else job.spine.binding_side
    upright = (turn is Turn.ANTICLOCKWISE) == (side is BindingSide.RIGHT)
    return Finding(
        "reading-right-to-left", Level.NOTE, turn.value, side.value, "", _GEOMETRY,
        Status.COMPUTED, {"reading": reading.value, "upright": upright},
    )  # fmt: skip


def _heaped(job: ResolvedJob, title: ShapedTitle) -> Iterator[Finding]:
    """Letters of upright scripts that stand on one another, as font or tracking set them."""
    if job.lettering.tools is not None:
        return
    for text in title.texts:
        own = text.title
        if own.font.plain_thinness_em is not None and job.lettering.tracking_em >= 0:
            continue  # a bundled font as it is
        if not _APART.fullmatch(own.text):
            continue
        boxes = [box for box in map(own.font.ink, own.run.gids) if box is not None]
        inked_em = sum(right - left for left, _bottom, right, _top in boxes)
        left, _bottom, right, _top = own.run.ink
        if right - left < _HEAPED_SHARE * inked_em:
            share = f"{(right - left) / inked_em:.0%}"
            yield Finding.of("letters-heaped", Level.WARNING, share, font=own.font.name)


def lettering_findings(job: ResolvedJob, title: ShapedTitle) -> Iterator[Finding]:
    """Findings on what was asked of the letters."""
    asked_em = job.lettering.leading_em
    if asked_em is not None:
        least_em, rule = least_leading_em(title, job.rules), job.rules["lines.least_gap"]
        if asked_em < least_em:
            raised = Finding.by_rule("leading-raised", Level.WARNING, asked_em, rule)
            yield raised._replace(limit=least_em, unit="em")
    on_covering = job.method.place is not Place.LABEL and job.ink_colour is not None
    if on_covering and job.ink_colour is job.covering_colour:
        yield Finding.of("one-tone", Level.NOTE, job.ink_colour, job.covering_colour)
    if job.lettering.tracking_em and any(run.script in CURSIVE for run in itemise(title.text)):
        yield Finding.of("tracking-refused", Level.WARNING)
    yield from _heaped(job, title)
    for font, tables, borne_out in title.font.damaged:
        topic, level = "font-checksum", Level.WARNING
        if borne_out:
            topic, level = "font-head-checksum", Level.NOTE
        yield Finding.of(topic, level, " and ".join(tables), font=font)
    if len(job.title_lines) > 1 or _MAY_HAVE_MARKS.search(job.title_lines[0]):
        from spinefit.judgement.catalogue_marks import catalogue_findings

        yield from catalogue_findings(job)
    if not _PLAIN.fullmatch(title.text):
        from spinefit.judgement.letter_findings import script_findings, spelling_findings

        apart = [one.title.text for one in title.texts]
        yield from spelling_findings(job, title.text, apart)
        yield from script_findings(job, title)
    if job.method.letters is Letters.TOOLS:
        yield from _tools(job, title.text)


def _tools(job: ResolvedJob, text: str) -> Iterator[Finding]:
    """How good the widths of tools are, and which sizes lack a letter of the title."""
    tools, rule = job.lettering.tools, job.rules["tools.estimate"]
    if tools is None:
        yield Finding.by_rule("tools-unknown", Level.NOTE, None, rule)
        return
    if any(size.e_mm is not None for size in tools.sizes):
        trial = rule._replace(source=f"{_TRIAL}; {rule.source}")
        yield Finding.by_rule("tools-estimated", Level.NOTE, None, trial)
    else:
        yield Finding.of("tools-measured", Level.GOOD)
    from spinefit.shaping.tools import lacking  # only for letters that are tools

    for body_pt, letters in lacking(job, text):
        yield Finding.of("tools-lacking", Level.NOTE, body_pt, unit="pt", letters=letters)
