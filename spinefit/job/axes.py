"""Which settings of a variable font are asked for, and can they be asked for?

In: ``wght=650,wdth=80`` as typed, or a table of a job file. Out: a value by axis tag, or the end
of an axis that is to be looked for. Which axes a font has, and how far they run, is for the
shaping stage, which opens it. Source: OpenType specification, fvar table and axis registry.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from spinefit.errors import FaultsAt, FieldError, did_you_mean
from spinefit.job.lengths import parse_number
from spinefit.vocabulary import AxisGoal

__all__ = ["AxisSetting", "checked_axes", "of_table", "parse_axes"]

AxisSetting = tuple[str, float | AxisGoal]
"""An axis tag, with a value in the axis's own units or the end to look for."""

_EXAMPLE = "such as wght=650,wdth=80"
_MOST = 64  # far more axes than fonts have
_GOALS = {
    "wght": (AxisGoal.LIGHTEST, AxisGoal.HEAVIEST),
    "wdth": (AxisGoal.NARROWEST, AxisGoal.WIDEST),
}


def parse_axes(typed: str) -> tuple[AxisSetting, ...]:
    """The settings a text means; none where it says so.

    Raises:
        FieldError: no settings, or one that cannot be read.

    >>> parse_axes("wght=650, wdth=widest")
    (('wght', 650.0), ('wdth', <AxisGoal.WIDEST: 'widest'>))
    """
    if typed.strip().casefold() == "none":
        return ()
    parts = [part.strip() for part in typed.split(",")]
    if not all("=" in part for part in parts):
        raise FieldError("no settings of axes", value=typed, remedy=_EXAMPLE)
    pairs = (part.partition("=") for part in parts)
    return _settings([(tag.strip(), value.strip()) for tag, _, value in pairs])


def of_table(table: Mapping[str, object]) -> tuple[AxisSetting, ...]:
    """The settings of a table of a job file."""
    return _settings([(tag, _written(value)) for tag, value in table.items()])


def checked_axes(
    settings: object, *, size_pt: float | None
) -> tuple[tuple[tuple[str, float], ...], tuple[str, AxisGoal] | None]:
    """Settings that can be asked for together: the values, and the axis to be looked for.

    Args:
        settings: pairs of a tag and a value or a goal, or None.
        size_pt: the size asked for, or None.

    Raises:
        FieldError: no such pairs, two axes to be looked for, or one without a size.
    """
    values: list[tuple[str, float]] = []
    sought: tuple[str, AxisGoal] | None = None
    for tag, value in _pairs(settings):
        if not isinstance(value, AxisGoal):
            values.append((tag, value))
            continue
        if sought is not None:
            raise FieldError(
                "two axes to be found at once", value=f"{sought[0]}, {tag}", where="--axes",
                remedy="give one of them a value",
            )  # fmt: skip
        if size_pt is None:
            raise FieldError(
                f"the {value} setting is found for one size", value=tag, where="--axes",
                remedy="give --size, such as --size 12",
            )  # fmt: skip
        sought = (tag, value)
    return tuple(sorted(values)), sought


def _pairs(settings: object) -> tuple[AxisSetting, ...]:
    """Settings made in Python are held to the same rules as typed ones."""
    if not settings:
        return ()
    try:
        assert isinstance(settings, Sequence)
        typed = [(tag, value if isinstance(value, str) else repr(value)) for tag, value in settings]
        with FaultsAt("--axes"):
            return _settings(typed)
    except (AssertionError, TypeError, ValueError):
        raise FieldError(
            "no settings of axes", value=settings, where="--axes",
            remedy='give pairs such as (("wght", 650.0),)',
        ) from None  # fmt: skip


def _settings(typed: Sequence[tuple[str, str]]) -> tuple[AxisSetting, ...]:
    if not 1 <= len(typed) <= _MOST:
        raise FieldError("no settings of axes", remedy=_EXAMPLE)
    found: dict[str, float | AxisGoal] = {}
    for tag, value in typed:
        if len(tag) != 4 or not tag.isascii() or not tag.isprintable():
            raise FieldError("an axis has a tag of four letters", value=tag, remedy=_EXAMPLE)
        if tag in found:
            raise FieldError("an axis given twice", value=tag, remedy="leave one of them out")
        found[tag] = _value(tag, value)
    return tuple(found.items())


def _value(tag: str, typed: str) -> float | AxisGoal:
    plain = typed.casefold()
    if plain[:1].isalpha() and plain not in ("nan", "inf"):
        goals = {str(goal): goal for goal in _GOALS.get(tag, ())}
        if plain in goals:
            return goals[plain]
        known = f"or {' or '.join(goals)}" if goals else "only wght and wdth can be found by a word"
        hint = did_you_mean(plain, goals, otherwise=f"give {tag} a number, {known}")
        raise FieldError(f"no setting of {tag}", value=typed, remedy=hint)
    return parse_number(typed)


def _written(value: object) -> str:
    """A value of a table as it would be typed."""
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise FieldError("no setting of an axis", value=value, remedy="write wght = 650")
    return value if isinstance(value, str) else repr(value)
