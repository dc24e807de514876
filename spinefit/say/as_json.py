"""How does a record become JSON?

In: a report of one title, of a back or of a set, or any record made of records, tuples, words
and numbers. Out: one object with a key for each field, in the order of the fields, but for those
of one table: keys may be added at the end of an object, never renamed or moved. Lengths in mm and
ratios are rounded to four decimals; sizes in points stand as they are. There is no NaN in it, ever.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from typing import TYPE_CHECKING, Any, get_args, get_type_hints

if TYPE_CHECKING:
    from spinefit.job.resolved import ResolvedJob
    from spinefit.plan.model import Zone
    from spinefit.plan.pattern import Pattern
    from spinefit.plan.result import Plan, PlannedLabel
    from spinefit.say.plan_model import SetReport, VolumeReport

_DECIMALS = 4  # a tenth of a micrometre, far below anything that can be cut or set
_AS_THEY_ARE = frozenset({str, bool, int, float, type(None)})
_Reader = Callable[[Any], Any]


def to_json(record: Any, indent: int | None = 2) -> str:
    """The record, or what was made of records already, as JSON text, letters as they are.

    Args:
        record: what is written.
        indent: of its lines; None for a single line.

    Raises:
        ValueError: a figure is NaN or infinite, which would be a fault of ours.
    """
    plain = record if isinstance(record, dict) else to_dict(record)
    return json.dumps(plain, ensure_ascii=False, indent=indent, allow_nan=False)


def to_dict(record: Any) -> dict[str, Any]:
    """The record as plain dictionaries, lists, strings and numbers, in the fixed order."""
    kind: Any = type(record)
    if kind.__name__ == "SetReport":
        return _set(record)
    readers = _readers(kind, getattr(record, "unit", "") == "pt")
    return {key: read(getattr(record, name)) for name, key, read in readers}


@cache
def _readers(kind: Any, of_points: bool) -> list[tuple[str, str, _Reader]]:
    """How each field of a kind of record is read, one that counts in points or another."""
    readers: list[tuple[str, str, _Reader]] = []
    for name, hint in get_type_hints(kind).items():
        is_length = _may_be_fraction(hint) and not of_points and not name.endswith("_pt")
        as_it_is = (name, _rounded if is_length else _plain)
        key, read = _OTHERWISE.get(f"{kind.__name__}.{name}", as_it_is)
        if key:
            readers.append((name, key, read))
    return readers


def _may_be_fraction(hint: Any) -> bool:
    return hint is float or any(map(_may_be_fraction, get_args(hint)))


def _remedies(job: ResolvedJob | None) -> Any:
    if job is None:
        return []
    from spinefit.say.remedies import remedies_of

    return _plain(remedies_of(job))


def _shapes(job: ResolvedJob | None) -> Any:
    if job is None:
        return None  # not looked for, as in the rows of a table
    from spinefit.say.shapes import shapes_in

    return _plain(shapes_in(job))


def _plain(value: Any) -> Any:
    kind = type(value)
    if kind in _AS_THEY_ARE:
        return value
    if isinstance(value, str):
        return str(value)  # the word of an enumeration
    return to_dict(value) if hasattr(kind, "_fields") else [_plain(each) for each in value]


def _rounded(value: Any) -> Any:
    """The same, its figures rounded, whole ones too; never minus zero."""
    kind = type(value)
    if kind is float or kind is int:
        return round(value, _DECIMALS) + 0.0
    if value is None or isinstance(value, str) or hasattr(kind, "_fields"):
        return _plain(value)
    return [_rounded(each) for each in value]


def _axes(axes: Any) -> dict[str, float]:
    return {tag: _rounded(value) for tag, value in axes}


def _sides(sides_mm: Any) -> dict[str, float]:
    return dict(zip(("width", "height", "thickness"), _rounded(sides_mm), strict=False))


def _zone(zone: Zone | None) -> dict[str, float | None]:
    return {
        "begins_from_head_mm": None if zone is None else _rounded(zone.begins_mm),
        "ends_from_head_mm": None if zone is None else _rounded(zone.ends_mm),
    }


def _labels(labels: tuple[PlannedLabel, ...]) -> list[dict[str, Any]]:
    return [
        {
            "name": one.name,
            "panel": one.panel,
            **_zone(one.zone),
            "width_mm": _rounded(one.width_mm),
            "height_mm": _rounded(one.zone.length_mm),
            "cut_width_mm": _rounded(one.cut_width_mm),
            "size": "given" if one.is_given else "panel" if one.is_full else "worked out",
            "fits": one.fits,
            "texts": [
                {"role": str(role), "baselines_from_top_mm": _rounded(baselines_mm)}
                for role, baselines_mm in zip(one.roles, one.baselines_mm, strict=True)
            ],
        }
        for one in labels
    ]


def _set(report: SetReport) -> dict[str, Any]:
    """A set with the keys of its schema, that of titles or that of several texts a volume."""
    made = {
        "limiting": _plain(report.limit if report.of_texts else report.limiting),
        "pattern": _pattern(report.pattern),
        "volumes": [_volume(one, of_texts=report.of_texts) for one in report.volumes],
    }
    return _picked(report, made, _SET_OF_TEXTS if report.of_texts else _SET_OF_TITLES)


_SET_OF_TITLES = (
    "schema", "verdict", "answer", "orientation", "reading", "lines", "set_pt", "largest_pt",
    "limiting", "volumes", "compromises", "pattern", "findings", "assumed", "cautions", "alike",
)  # fmt: skip
_SET_OF_TEXTS = (
    "schema", "verdict", "answer", "orientation", "roles", "limiting", "volumes", "findings",
    "assumed", "compromises", "alike", "cautions",
)  # fmt: skip


def _volume(volume: VolumeReport, *, of_texts: bool) -> dict[str, Any]:
    if of_texts:
        return _picked(volume, {}, ("label", "fits", "title_alone_pt", "failing", "texts", "apart"))
    own = ("orientation", "reading", "lines", "set_pt", "largest_pt", "fits")
    made = {"alone": _picked(volume.alone, {}, own)}
    keys = ("label", "fits", "largest_pt", "alone", "report", "apart", "number")
    return _picked(volume, made, keys)


def _picked(record: Any, made: Mapping[str, Any], keys: Iterable[str]) -> dict[str, Any]:
    """Fields of a record in that order, but for what was made already."""
    return {key: made[key] if key in made else _plain(getattr(record, key)) for key in keys}


def _pattern(pattern: Pattern | None) -> dict[str, Any] | None:
    if pattern is None:
        return None
    from spinefit.plan.pattern import PATTERN_SCHEMA

    return {"schema": PATTERN_SCHEMA, **to_dict(pattern)}


def _changes(plan: Plan) -> Any:
    from spinefit.say.plan_build import remedies_of_plan

    return _plain(remedies_of_plan(plan))


_OTHERWISE: dict[str, tuple[str, _Reader]] = {
    "BackReport.labels": ("labels", _labels),
    "BackReport.plan": ("remedies", _changes),
    "FontReport.axes": ("axes", _axes),
    "LayoutReport.largest_axes": ("largest_axes", _axes),
    "LayoutReport.set_axes": ("set_axes", _axes),
    "Pattern.axes": ("axes", _plain),
    "PlannedRole.stands_mm": ("stands_from_tail_mm", _rounded),
    "RecessReport.covered_mm": ("covered_mm", _sides),
    "RecessReport.label_mm": ("label_mm", _sides),
    "RecessReport.opening_mm": ("opening_mm", _sides),
    "RecessReport.pressing_piece_mm": ("pressing_piece_mm", _sides),
    "Report.as_shown": ("shapes", _shapes),
    "Report.to_improve": ("remedies", _remedies),
    "TextReport.judged": ("", _plain),
    "TextReport.zone": ("zone", _zone),
}
"""The fields with another key in JSON, none at all, or another shape than that of the record."""
