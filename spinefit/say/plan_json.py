"""What does a program read of several texts or of a set?

In: a `BackReport`, `BacksReport` or `SetReport`. Out: one JSON object that holds a whole report
of one text for every text or volume, key for key as `report.as_json` writes it. Lengths in mm
are rounded to four decimals; sizes in points stand as they are.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from spinefit.plan.pattern import PATTERN_SCHEMA, Pattern
from spinefit.plan.result import PlannedLabel
from spinefit.say import as_json
from spinefit.say.model import FindingReport
from spinefit.say.plan_build import plan_remedies
from spinefit.say.plan_model import (
    BackReport,
    BacksReport,
    SetReport,
    TextReport,
    VolumeReport,
)

__all__ = ["to_dict", "to_json"]

_DECIMALS = 4


def to_json(report: BackReport | BacksReport | SetReport) -> str:
    """The report as JSON text, indented, letters as themselves."""
    return json.dumps(to_dict(report), ensure_ascii=False, indent=2, allow_nan=False)


def to_dict(report: BackReport | BacksReport | SetReport) -> dict[str, Any]:
    """The report as plain dictionaries, lists, strings and numbers."""
    if isinstance(report, BacksReport):
        return _backs(report)
    return _back(report) if isinstance(report, BackReport) else _set(report)


def _backs(report: BacksReport) -> dict[str, Any]:
    return {
        "schema": report.schema,
        "verdict": str(report.verdict),
        "answer": report.answer,
        "orientation": str(report.orientation),
        "roles": [
            {
                "role": str(one.role),
                "panel": one.panel,
                "orientation": str(one.orientation),
                "reading": str(one.reading),
                "lines": one.lines,
                "set_pt": one.set_pt,
                "stands_from_tail_mm": None if one.stands_mm is None else _round(one.stands_mm),
            }
            for one in report.roles
        ],
        "limiting": {
            "volume": report.limiting,
            "role": None if report.limiting_role is None else str(report.limiting_role),
        },
        "volumes": [
            {
                "label": one.label,
                "fits": one.fits,
                "title_alone_pt": one.title_alone_pt,
                "failing": [str(role) for role in one.failing],
                "texts": [_text(text) for text in one.texts],
            }
            for one in report.volumes
        ],
        "findings": _findings(report.findings),
        "assumed": list(report.assumed),
    }


def _back(report: BackReport) -> dict[str, Any]:
    return {
        "schema": report.schema,
        "verdict": str(report.verdict),
        "answer": report.answer,
        "orientation": str(report.orientation),
        "texts": [_text(one) for one in report.texts],
        "labels": [_label(one) for one in report.labels],
        "failing": [str(role) for role in report.failing],
        "findings": _findings(report.findings),
        "remedies": [remedy._asdict() for remedy in plan_remedies(report)],
        "assumed": list(report.assumed),
    }


def _label(one: PlannedLabel) -> dict[str, Any]:
    return {
        "name": one.name,
        "panel": one.panel,
        "begins_from_head_mm": _round(one.zone.begins_mm),
        "ends_from_head_mm": _round(one.zone.ends_mm),
        "width_mm": _round(one.width_mm),
        "height_mm": _round(one.zone.length_mm),
        "cut_width_mm": None if one.cut_width_mm is None else _round(one.cut_width_mm),
        "size": "given" if one.is_given else "panel" if one.is_full else "worked out",
        "fits": one.fits,
        "texts": [
            {"role": str(role), "baselines_from_top_mm": [_round(each) for each in baselines]}
            for role, baselines in zip(one.roles, one.baselines_mm, strict=True)
        ],
    }


def _text(one: TextReport) -> dict[str, Any]:
    return {
        "role": str(one.role),
        "text": one.text,
        "panel": one.panel,
        "label": one.label,
        "zone": {
            "begins_from_head_mm": None if one.zone is None else _round(one.zone.begins_mm),
            "ends_from_head_mm": None if one.zone is None else _round(one.zone.ends_mm),
        },
        "set_pt": one.set_pt,
        "fits": one.fits,
        "report": as_json.to_dict(one.report),
    }


def _set(report: SetReport) -> dict[str, Any]:
    return {
        "schema": report.schema,
        "verdict": str(report.verdict),
        "answer": report.answer,
        "orientation": str(report.orientation),
        "reading": str(report.reading),
        "lines": report.lines,
        "set_pt": report.set_pt,
        "largest_pt": report.largest_pt,
        "limiting": report.limiting,
        "volumes": [_volume(one) for one in report.volumes],
        "compromises": [
            {
                "volume": one.volume,
                "change": one.change,
                "text": one.text,
                "set_pt": one.set_pt,
                "others_pt": one.others_pt,
                "report": as_json.to_dict(one.report),
            }
            for one in report.compromises
        ],
        "pattern": None if report.pattern is None else _pattern(report.pattern),
        "findings": _findings(report.findings),
        "assumed": list(report.assumed),
    }


def _volume(one: VolumeReport) -> dict[str, Any]:
    return {
        "label": one.label,
        "fits": one.fits,
        "largest_pt": one.largest_pt,
        "alone": {
            "orientation": str(one.alone.orientation),
            "reading": str(one.alone.reading),
            "lines": list(one.alone.lines),
            "set_pt": one.alone.set_pt,
            "largest_pt": one.alone.largest_pt,
            "fits": one.alone.fits,
        },
        "report": as_json.to_dict(one.report),
    }


def _pattern(pattern: Pattern) -> dict[str, Any]:
    """The pattern as its file has it, but for lengths and leading, which are rounded here too."""
    plain = {key: _plain(value) for key, value in pattern._asdict().items()}
    plain |= {"size_pt": pattern.size_pt, "axes": pattern.axes}
    return {"schema": PATTERN_SCHEMA, **plain}


def _plain(value: Any) -> Any:
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    return _round(value) if isinstance(value, float) else value


def _findings(findings: Iterable[FindingReport]) -> list[dict[str, Any]]:
    return [
        {
            "topic": one.topic,
            "level": str(one.level),
            "text": one.text,
            "value": _figure(one.value, one.unit),
            "limit": _figure(one.limit, one.unit),
            "unit": one.unit,
            "source": one.source,
            "status": None if one.status is None else str(one.status),
        }
        for one in findings
    ]


def _figure(value: float | str | None, unit: str) -> float | str | None:
    return value if value is None or isinstance(value, str) or unit == "pt" else _round(value)


def _round(value: float) -> float:
    return round(value, _DECIMALS) + 0.0
