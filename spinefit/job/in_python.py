"""How is a fault said to those who ask in Python, where no option was typed?

In: a fault that names options, as every room says it. Out: the same with the attributes of a `Job`
and its texts, and the values they take. Commands in quotes stay, since they are typed anywhere.
"""

from __future__ import annotations

import re
from dataclasses import fields
from functools import cache

from spinefit import catalogue
from spinefit.errors import SpinefitError
from spinefit.job.fields import FIELDS
from spinefit.job.kinds import FONTS, METHOD, Field
from spinefit.job.model import PARTS
from spinefit.job.sheet import SHEET_KEYS

_OF_A_TEXT = {"size": "size_pt", "label-size": "label_size_mm", "lines-up": "lines_up_mm",
              "lines-tracking": "lines_tracking"}  # fmt: skip
_OPTION = re.compile(r"('spinefit [^']*')|--([a-z][a-z-]*)(?: (WxH|'[^']*'|[a-z0-9.-]+))?")
_LENGTH = re.compile(r"(?<=such as )([\d.]+)mm\b")


def in_python(fault: SpinefitError) -> SpinefitError:
    """The fault with its place, and what to do about it, in words of the Python call."""
    fault.where = _place(fault.where)
    fault.what = _words(fault.what)
    fault.remedy = _LENGTH.sub(r"\1", _words(fault.remedy))
    return fault


def _place(where: str) -> str:
    """Where a value stands: `--width` is `spine.width_mm`, also of a volume or a text."""
    part, colon, name = where.rpartition(": ")
    if name == "TITLE":
        name = "title"
    elif part.rpartition(": ")[2].startswith("text "):
        name = _OF_A_TEXT.get(name, name.replace("-", "_"))
    elif name.startswith("--") or part.startswith("volume "):
        name = _path(name.removeprefix("--")) or name
    return f"{part}{colon}{name}"


def _words(text: str) -> str:
    """A sentence with attributes where it has options."""
    return _OPTION.sub(_attribute, text) if "--" in text else text


def _attribute(found: re.Match[str]) -> str:
    command, name, value = found.groups()
    path = None if command else _path(name)
    if path is None:
        return found[0]
    taken = None if value is None else _value(name, value)
    if taken is None:
        return path if value in (None, "WxH") else f"{path} {value}"
    return f"{path}={taken}"


def _value(name: str, value: str) -> str | None:
    """A value as Python has it; None where it is a word of the sentence."""
    field = _fields().get(name)
    if field is None:
        return None
    if value in field.kind.choices or value == "WxH":
        kind = _type_of(field)
        member = value.upper().replace("-", "_")
        return f"{kind}(width_mm=..., height_mm=...)" if value == "WxH" else f"{kind}.{member}"
    if field.kind is METHOD:
        return f"'{value}'" if value in catalogue.methods() else None
    if value.startswith("'"):
        return f"({value},)" if field.kind is FONTS else value
    number = value.removesuffix("mm")
    return number if number.replace(".", "", 1).isdecimal() else None


def _type_of(field: Field) -> str:
    """The name of the type that an attribute of a job holds."""
    (found,) = [one for one in fields(PARTS[field.part]) if one.name == field.attribute]
    return str(found.type).partition(" ")[0]


def _path(name: str) -> str | None:
    """The attribute of a job, or the wish of a sheet, that an option is; None of others."""
    field = _fields().get(name)
    return None if field is None else f"{field.part}.{field.attribute}".lstrip(".")


@cache
def _fields() -> dict[str, Field]:
    return {field.name: field for field in (*SHEET_KEYS.values(), *FIELDS)}
