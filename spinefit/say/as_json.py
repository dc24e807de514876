"""What does a program read from a report?

In: a `Report`. Out: one JSON object whose keys and their order others depend on: keys may be
added at the end of an object, never renamed or moved. Lengths in mm and ratios are rounded
to four decimals; sizes in points stand as they are. There is no NaN in it, ever.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from spinefit.provenance import Status
from spinefit.say.model import (
    ConventionReport,
    FindingReport,
    LabelReport,
    LayoutReport,
    LimitReport,
    MeasurementReport,
    RecessReport,
    RemedyReport,
    Report,
    SpareReport,
)

__all__ = ["to_dict", "to_json"]

_DECIMALS = 4  # a tenth of a micrometre, far below anything that can be cut or set


def to_json(report: Report) -> str:
    """The report as JSON text, indented, letters as themselves.

    Raises:
        ValueError: a figure is NaN or infinite, which would be a fault of ours.
    """
    return json.dumps(to_dict(report), ensure_ascii=False, indent=2, allow_nan=False)


def to_dict(report: Report) -> dict[str, Any]:
    """The report as plain dictionaries, lists, strings and numbers, in the fixed order."""
    return {
        "schema": report.schema,
        "verdict": str(report.verdict),
        "answer": report.answer,
        "title": report.title,
        "font": {
            "name": report.font.name,
            "file": report.font.file,
            "sha256": report.font.sha256,
            "face": report.font.face,
            "axes": {tag: _round(value) for tag, value in report.font.axes},
            "of": report.font.of,
        },
        "panel": {
            "width_mm": _round(report.panel.width_mm),
            "height_mm": _round(report.panel.height_mm),
            "number": report.panel.number,
            "developed": report.panel.developed,
            "assumed": list(report.panel.assumed),
            "of": report.panel.of,
        },
        "recommended": report.recommended,
        "layouts": [_layout(layout) for layout in report.layouts],
        "findings": _findings(report.findings),
        "remedies": [_remedy(remedy) for remedy in report.remedies],
        "convention": _convention(report.convention),
        "assumed": list(report.assumed),
        "method": {
            "key": report.method.key,
            "name": report.method.name,
            "cautions": list(report.method.cautions),
            "limits": [_limit(limit) for limit in report.method.limits],
        },
        "measurements": [_measurement(measured) for measured in report.measurements],
        "front_board": None if report.front_board is None else _plain(report.front_board),
        "recess": None if report.recess is None else _recess(report.recess),
        "label": _label(report.label),
        "fonts": [dict(one._asdict()) for one in report.fonts],
    }


def _label(label: LabelReport | None) -> dict[str, Any] | None:
    if label is None:
        return None
    return {name: _round(value) for name, value in label._asdict().items()}


def _layout(layout: LayoutReport) -> dict[str, Any]:
    fixed = {
        "orientation": str(layout.orientation),
        "reading": str(layout.reading),
        "turn": str(layout.turn),
        "lines": list(layout.lines),
        "largest_pt": layout.largest_pt,
        "set_pt": layout.set_pt,
        "set_by": str(layout.set_by),
        "cap_height_mm": _round(layout.cap_height_mm),
        "x_height_mm": _round(layout.x_height_mm),
        "ink_width_mm": _round(layout.ink_width_mm),
        "ink_height_mm": _round(layout.ink_height_mm),
        "line_widths_mm": [_round(width) for width in layout.line_widths_mm],
        "limited_by": str(layout.limited_by),
        "spare_mm": _spare(layout.spare_mm),
        "fits": layout.fits,
        "shape": layout.shape,
        "foreshortening": _round(layout.foreshortening),
        "reads_from_mm": _round(layout.reads_from_mm),
        "findings": _findings(layout.findings),
    }
    return fixed | _added_to_layout(layout)


def _added_to_layout(layout: LayoutReport) -> dict[str, Any]:
    """Keys added after the fixed ones."""
    return {
        "tight": layout.tight,
        "needs_back_mm": _round(layout.needs_back_mm),
        "baselines_mm": [_round(baseline) for baseline in layout.baselines_mm],
        "first_from_head_mm": _round(layout.first_from_head_mm),
        "over_bands": layout.over_bands,
        "word_broken": layout.word_broken,
        "split": layout.split,
        "centre": str(layout.centre),
    }


def _spare(spare: SpareReport) -> dict[str, Any]:
    return {
        "left": _round(spare.left),
        "right": _round(spare.right),
        "head": _round(spare.head),
        "tail": _round(spare.tail),
    }


def _findings(findings: Iterable[FindingReport]) -> list[dict[str, Any]]:
    return [
        {
            "topic": finding.topic,
            "level": str(finding.level),
            "text": finding.text,
            "value": _figure(finding.value, finding.unit),
            "limit": _figure(finding.limit, finding.unit),
            "unit": finding.unit,
            "source": finding.source,
            "status": None if finding.status is None else str(finding.status),
        }
        for finding in findings
    ]


def _remedy(remedy: RemedyReport) -> dict[str, Any]:
    return {
        "change": remedy.change,
        "text": remedy.text,
        "largest_pt": remedy.largest_pt,
        "cost": remedy.cost,
        "spare_mm": _round(remedy.spare_mm),
        "options": remedy.options,
    }


def _convention(convention: ConventionReport) -> dict[str, Any]:
    return {
        "market": convention.market,
        "reading": str(convention.reading),
        "firmness": str(convention.firmness),
        "source": convention.source,
        "status": str(convention.status),
        "note": convention.note,
    }


def _limit(limit: LimitReport) -> dict[str, Any]:
    return {
        "what": limit.what,
        "values": [_figure(value, limit.unit) for value in limit.values],
        "unit": limit.unit,
        "source": limit.source,
        "status": None if limit.status is None else str(limit.status),
    }


def _measurement(measured: MeasurementReport) -> dict[str, Any]:
    return {
        "what": measured.what,
        "values": [_figure(value, measured.unit) for value in measured.values],
        "unit": measured.unit,
        "note": measured.note,
        "least": _round(measured.least),
        "source": measured.source,
        "status": None if measured.status is None else str(measured.status),
    }


def _recess(recess: RecessReport) -> dict[str, Any]:
    found = _plain(recess)
    found["build_up"] = [_plain(layer) for layer in recess.build_up]
    wide, high, thick = found["label_mm"]
    found["label_mm"] = {"width": wide, "height": high, "thickness": thick}
    for name in ("opening_mm", "covered_mm", "pressing_piece_mm"):
        found[name] = dict(zip(("width", "height"), found[name], strict=True))
    return found


def _plain(record: Any) -> dict[str, Any]:
    """A record of plain values and tuples, its lengths rounded; sides are a record in it."""
    return {name: _plain_value(value) for name, value in record._asdict().items()}


def _plain_value(value: Any) -> Any:
    if isinstance(value, SpareReport):
        return _spare(value)
    if isinstance(value, float):
        return _round(value)
    if isinstance(value, tuple):
        return [_plain_value(each) for each in value]
    return str(value) if isinstance(value, Status) else value


def _figure(value: float | str | None, unit: str) -> float | str | None:
    if value is None or unit == "pt":
        return value
    return str(value) if isinstance(value, str) else _round(value)


def _round(value: float | None) -> float | None:
    """``value`` to four decimals, never minus zero."""
    return None if value is None else round(value, _DECIMALS) + 0.0
