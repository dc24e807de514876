"""What must the next volume have in common with those on the shelf, and how is that kept?

A `Pattern` is read off a judged title: size, lines, direction, font and where the lettering
stands over the shelf. Its file is a small TOML file, one field a line, figures in full so that a
volume of the set gets the same layout again. Lengths are mm from the tail, sizes DTP points,
letter spaces em.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

from spinefit.errors import FieldError, SpinefitError, did_you_mean
from spinefit.job import values as read
from spinefit.job.checks import LARGEST_MM, LARGEST_SIZE_PT, number
from spinefit.job.files import read_toml
from spinefit.job.kinds import checked_axes, read_axes
from spinefit.judgement.text import JudgedText
from spinefit.vocabulary import Case, Centre, Orientation, Reading

PATTERN_SCHEMA = "spinefit.pattern/1"


class Pattern(NamedTuple):
    """What a set has in common.

    Attributes:
        orientation, reading: how the lines stand and read.
        lines: how many.
        size_pt: the size of all.
        font: name or file of the font, as asked for.
        font_sha256: hash of its file.
        face: face or named instance asked for, or None.
        axes: settings of a variable font, those that were found too; None for the font's own.
        case: the case of the letters.
        tracking: letter space in thousandths of an em.
        leading_em: distance of baselines in em; None for one line.
        centre: what stands on the middle of the panel.
        baselines_from_tail_mm: of each line across the back, the uppermost first; None along
            the back or where a height was not given.
        begins_from_tail_mm: along the back or down a pillar, where the lettering begins; None
            across it or where a height was not given.
    """

    orientation: Orientation
    reading: Reading
    lines: int
    size_pt: float
    font: str
    font_sha256: str
    case: Case
    tracking: float
    leading_em: float | None
    centre: Centre
    baselines_from_tail_mm: tuple[float, ...] | None
    begins_from_tail_mm: float | None
    face: str | None = None
    axes: tuple[tuple[str, float], ...] | None = None

    @property
    def height_mm(self) -> float | None:
        """From the tail to the first baseline across, else to the beginning; None where open."""
        if self.baselines_from_tail_mm is not None:
            return self.baselines_from_tail_mm[0]
        return self.begins_from_tail_mm


def pattern_of_judged(judged: JudgedText, height_mm: float | None) -> Pattern:
    """What a job that fits has fixed for the next volume.

    Args:
        judged: the job, judged.
        height_mm: where its lettering stands, from the tail; None where that is open.
    """
    lettering, asked, shown = judged.job.lettering, judged.asked.lettering, judged.shown
    across = shown.orientation is Orientation.TRANSVERSE
    baselines = shown.baselines_mm
    leading_em = shown.leading_em
    if leading_em is not None and asked.leading_em is not None:
        leading_em = asked.leading_em
    heights = None
    if across and height_mm is not None:
        heights = tuple(height_mm + (line - baselines[0]) for line in baselines)
    return Pattern(
        orientation=shown.orientation,
        reading=shown.reading,
        lines=len(shown.lines),
        size_pt=shown.set_pt,
        font=lettering.font,
        font_sha256=judged.title.font.sha256,
        face=lettering.face,
        axes=tuple(sorted(lettering.axes)) or None,
        case=lettering.case,
        tracking=round(lettering.tracking_em * 1000, 9),
        leading_em=leading_em,
        centre=asked.centre or Centre.AUTO,
        baselines_from_tail_mm=heights,
        begins_from_tail_mm=None if across else height_mm,
    )


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
            hint = did_you_mean(key, _READERS, otherwise="leave it out")
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
    values, sought = checked_axes(read_axes(value), size_pt=1.0)
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
    "size_pt": _figure(0.0, LARGEST_SIZE_PT, above=True),
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
