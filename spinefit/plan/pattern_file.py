"""What does a pattern look like in a file?

Out: the text of a small TOML file, one field a line, figures in full so that a volume of the
set gets the same layout again. In: such a file, read through `spinefit.job.read`. Lengths in
mm from the tail, sizes in DTP points.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from spinefit.errors import FieldError, SpinefitError, nearest
from spinefit.job import values as read
from spinefit.job.axes import checked_axes
from spinefit.job.checks import LARGEST_MM, number
from spinefit.job.toml_file import read_toml
from spinefit.plan.pattern_model import PATTERN_SCHEMA, Pattern
from spinefit.vocabulary import Case, Centre, Orientation, Reading

__all__ = ["pattern_text", "read_pattern"]

_LARGEST_PT = 5000.0


def pattern_text(pattern: Pattern) -> str:
    """The pattern as a TOML file; what is None is left out."""
    rows: dict[str, object] = {"schema": PATTERN_SCHEMA, **pattern._asdict()}
    if pattern.axes is not None:
        rows["axes"] = ",".join(f"{tag}={value!r}" for tag, value in pattern.axes)
    lines = [f"{key} = {_toml(value)}" for key, value in rows.items() if value is not None]
    note = "# What the next volume of a set has to match; heights in mm from the tail."
    return "\n".join((note, *lines)) + "\n"


def read_pattern(path: str | Path) -> Pattern:
    """The pattern of a file.

    Raises:
        JobError: no such file, no pattern, or a value that cannot be.
    """
    where = str(path)
    table = read_toml(path, "pattern", "it is written by 'spinefit check --save-pattern'")
    schema = table.pop("schema", None)
    if schema != PATTERN_SCHEMA:
        raise FieldError(
            "no pattern that can be read",
            value=schema,
            where=f"{where}: schema",
            remedy=f"it begins with schema = '{PATTERN_SCHEMA}'",
        )
    for key in table:
        if key not in _READERS:
            like = nearest(key, _READERS)
            hint = f"did you mean '{like}'?" if like else "leave it out"
            raise FieldError("no such key of a pattern", value=key, where=where, remedy=hint)
    said: dict[str, Any] = dict.fromkeys(_READERS)
    for key, value in table.items():
        try:
            said[key] = _READERS[key](value)
        except SpinefitError as fault:
            fault.where = f"{where}: {key}"
            raise
    for key in _NEEDED:
        if said[key] is None:
            raise FieldError("a pattern needs it", value=key, where=where, remedy="save it anew")
    _check_heights(Pattern(**said), where)
    return Pattern(**said)


def _toml(value: object) -> str:
    if isinstance(value, str):
        return json.dumps(str(value), ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, tuple):
        return f"[{', '.join(repr(one) for one in value)}]"
    return repr(value)


def _figure(least: float, most: float, *, above: bool = False) -> Callable[[object], float]:
    def parse(value: object) -> float:
        return number(value, "", least=least, most=most, above=above)  # type: ignore[arg-type]

    return parse


def _axes(value: object) -> tuple[tuple[str, float], ...] | None:
    values, sought = checked_axes(read.axes(value), size_pt=1.0)
    if sought is not None:
        raise FieldError(
            "an axis to be found is no pattern", value=sought[0], remedy="save it anew"
        )
    return values or None


def _heights(value: object) -> tuple[float, ...]:
    height = _figure(-LARGEST_MM, LARGEST_MM)
    if not isinstance(value, list) or not 1 <= len(value) <= _MOST_LINES:
        raise FieldError("no heights of baselines", value=value, remedy="give a list of mm")
    return tuple(height(one) for one in value)


def _check_heights(pattern: Pattern, where: str) -> None:
    heights = pattern.baselines_from_tail_mm
    if heights is None:
        return
    across = pattern.orientation is Orientation.TRANSVERSE
    if not across or len(heights) != pattern.lines:
        raise FieldError(
            "a baseline's height for each line across, and none for others",
            value=len(heights),
            where=f"{where}: baselines_from_tail_mm",
            remedy="save the pattern anew",
        )


_MOST_LINES = 60
_ORIENTATIONS = tuple(one for one in Orientation if one is not Orientation.ANY)
_READINGS = (Reading.ACROSS, Reading.DESCENDING, Reading.ASCENDING, Reading.STACKED)
_READERS: dict[str, Callable[[object], Any]] = {
    "orientation": read.choice(_ORIENTATIONS),
    "reading": read.choice(_READINGS),
    "lines": read.count,
    "size_pt": _figure(0.0, _LARGEST_PT, above=True),
    "font": read.text,
    "font_sha256": read.text,
    "face": read.face,
    "axes": _axes,
    "case": read.choice(Case),
    "tracking": _figure(-200.0, 2000.0),
    "leading_em": _figure(0.0, 20.0, above=True),
    "centre": read.choice(Centre),
    "baselines_from_tail_mm": _heights,
    "begins_from_tail_mm": _figure(-LARGEST_MM, LARGEST_MM),
}
_NEEDED = tuple(
    key
    for key in _READERS
    if key not in ("face", "axes", "leading_em", "baselines_from_tail_mm", "begins_from_tail_mm")
)
