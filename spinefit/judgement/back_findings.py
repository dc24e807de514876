"""What should a binder know of this back before any letter is set?

In: the job and its usable panel. Out: findings on thin backs, widths that vary, bands, the
round. Figures come from rules.toml. Leaves the layouts to others.
"""

from __future__ import annotations

import math
import re

from spinefit.geometry import UsablePanel
from spinefit.job.resolve import DEFAULT_METHOD
from spinefit.job.resolved import ResolvedJob, ResolvedSpine
from spinefit.judgement.finding import Finding
from spinefit.layout.group import least_leading_em
from spinefit.provenance import Status
from spinefit.shaping.itemise import CURSIVE, itemise
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import BackForm, Letters, Level

# Letters of one script without a typewriter's quotes: nothing in them can be mistaken.
_PLAIN = re.compile(r"(?:[A-Za-z0-9À-ÖØ-öø-ɏ&.,:;!?()’–—‘“”/-]| (?! ))+")

__all__ = ["back_findings", "lettering_findings"]


def back_findings(
    job: ResolvedJob, panel: UsablePanel, *, at_widest_pt: float | None, by_width: bool = False
) -> list[Finding]:
    """Findings on the back as measured.

    Args:
        job: the resolved job.
        panel: its usable panel.
        at_widest_pt: largest size of the advised setting at the greatest width of a range.
        by_width: whether the width of the panel limits the setting shown.
    """
    spine = job.spine
    found = [] if spine is None else _of_back(job, spine, panel, at_widest_pt)
    if spine is not None and job.method.key == DEFAULT_METHOD:
        found.extend(_of_paperback(job, spine, by_width=by_width))
    if job.old_lettering is not None or job.label_thickness_mm is not None:
        from spinefit.judgement.label_findings import label_findings

        found.extend(label_findings(job, panel))
    return found


def _of_back(
    job: ResolvedJob, spine: ResolvedSpine, panel: UsablePanel, at_widest_pt: float | None
) -> list[Finding]:
    found: list[Finding] = []
    thin = job.rules["edge.thin_back_mm"]
    if spine.width_mm < thin.value:
        found.append(Finding.by_rule("thin-back", Level.WARNING, spine.width_mm, thin))
    if panel.width_mm <= 0:
        found.append(
            Finding.by_rule(
                "nothing-left",
                Level.FAILURE,
                spine.width_mm,
                job.rules["edge.narrow_mm"],
                edge_mm=spine.edge_mm,
            )
        )
    if job.widest is not None and at_widest_pt is not None:
        found.append(_range_finding(spine, job.widest, at_widest_pt))
    found.extend(_band_findings(job, spine))
    found.extend(_round_findings(spine, panel))
    return found


def _of_paperback(job: ResolvedJob, spine: ResolvedSpine, *, by_width: bool) -> list[Finding]:
    """Where printers disagree, and their rule decided."""
    found: list[Finding] = []
    us_thin, thin = job.rules["edge.us_thin_back_mm"], job.rules["edge.thin_back_mm"]
    if thin.value <= spine.width_mm < us_thin.value:
        found.append(
            Finding.by_rule(
                "thin-back-disagreed", Level.NOTE, spine.width_mm, us_thin, uk_mm=thin.value
            )
        )
    us_each = job.rules["edge.us_each_mm"]
    if by_width and "edge" not in spine.typed and spine.edge_mm < us_each.value:
        found.append(Finding.by_rule("edge-disagreed", Level.NOTE, spine.edge_mm, us_each))
    return found


def _range_finding(spine: ResolvedSpine, widest: ResolvedSpine, at_widest_pt: float) -> Finding:
    return Finding(
        topic="width-range",
        level=Level.NOTE,
        value=spine.width_mm,
        limit=widest.width_mm,
        unit="mm",
        source="judged at the least width",
        status=Status.COMPUTED,
        facts={"at_widest_pt": at_widest_pt},
    )


def _band_findings(job: ResolvedJob, spine: ResolvedSpine) -> list[Finding]:
    found: list[Finding] = []
    least = job.rules["bands.least_height_mm"]
    if spine.bands and spine.band_height_mm < least.value:
        found.append(Finding.by_rule("narrow-band", Level.WARNING, spine.band_height_mm, least))
    if spine.bands and spine.height_mm is None:
        found.append(Finding(topic="bands-without-height", level=Level.WARNING))
    return found


def _round_findings(spine: ResolvedSpine, panel: UsablePanel) -> list[Finding]:
    if spine.form is not BackForm.ROUNDED or panel.back is None:
        return []
    back = panel.back
    if not back.curve_known:
        return [
            Finding(
                topic="round-unmeasured",
                level=Level.NOTE,
                value=panel.width_mm,
                unit="mm",
                source="Zaehnsdorf, The Art of Bookbinding, ch. XI: about a third of a circle",
                status=Status.PUBLISHED,
            )
        ]
    facts: dict[str, object] = {
        "arc_mm": back.arc_mm,
        "radius_mm": back.radius_mm,
        "rise_mm": back.rise_mm,
        "usable_mm": panel.width_mm,
    }
    source, status = "circular segment: arc = radius x angle", Status.COMPUTED
    if panel.angle_limited:
        to_joint_deg = math.degrees(back.half_angle_rad)
        return [
            Finding(
                topic="round-angle",
                level=Level.NOTE,
                value=to_joint_deg,
                limit=spine.max_angle_deg,
                unit="deg",
                source=source,
                status=status,
                facts=facts,
            )
        ]
    return [
        Finding(
            topic="round-measured",
            level=Level.GOOD,
            value=panel.width_mm,
            limit=back.arc_mm,
            unit="mm",
            source=source,
            status=status,
            facts=facts,
        )
    ]


def lettering_findings(job: ResolvedJob, title: ShapedTitle) -> list[Finding]:
    """Findings on what was asked of the letters."""
    found: list[Finding] = []
    asked = job.lettering.leading_em
    if asked is not None:
        least = least_leading_em(title, job.rules)
        if asked < least:
            rule = job.rules["lines.least_gap"]
            found.append(
                Finding(
                    topic="leading-raised",
                    level=Level.WARNING,
                    value=asked,
                    limit=least,
                    unit="em",
                    source=rule.source,
                    status=rule.status,
                )
            )
    if job.lettering.tracking_em and any(run.script in CURSIVE for run in itemise(title.text)):
        found.append(
            Finding(
                topic="tracking-refused",
                level=Level.WARNING,
                source="common practice: joined letters are not spaced apart",
                status=Status.PRACTICE,
            )
        )
    for name, tables in title.font.damaged:
        found.append(
            Finding(
                topic="font-checksum",
                level=Level.WARNING,
                value=tables,
                source="OpenType specification: calculating checksums",
                status=Status.PUBLISHED,
                facts={"font": name},
            )
        )
    if not _PLAIN.fullmatch(title.text):
        from spinefit.judgement.script_findings import script_findings
        from spinefit.judgement.spelling import spelling_findings

        found.extend(spelling_findings(job, title.text))
        found.extend(script_findings(job, title))
    if job.method.letters is Letters.TOOLS:
        from spinefit.judgement.tool_sizes import tool_findings

        found.extend(tool_findings(job, title.text))
    return found
