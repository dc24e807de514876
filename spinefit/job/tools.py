"""Which letters has the binder's set of tools, how wide are they, and the spaces between them?

In: the path of a TOML file with a ``name`` and a table ``[[size]]`` for each size: ``face``,
``body``, then ``widths`` or ``e_row`` and ``e_count``; ``word_space``, ``letter_gap``,
``descent``, ``x_height``; lengths bare millimetres or texts with a unit, a body in points. Then
the method. Out: `Tools`; and the same with sizes rising and nothing left to guess, each default
named as assumed. A space counts as a letter (Cockerell, ch. XV): an E with the gap at either side.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from spinefit import catalogue
from spinefit.catalogue import Method, Rules
from spinefit.errors import FaultsAt, FieldError, JobError, did_you_mean
from spinefit.job import values
from spinefit.job.checks import is_whole, length_mm, size_pt, text
from spinefit.job.files import digest_of, once_a_change, read_toml
from spinefit.job.model import Lettering
from spinefit.job.resolved import ResolvedLettering, ResolvedTools, ResolvedToolSize
from spinefit.units import pt_from_mm
from spinefit.vocabulary import Case, Letters

TOOLS_METHOD = "hand-letters"
_WHERE = "--tools"
_EXAMPLE = 'write name = "brass", then [[size]] with face = 3.2 and widths = { A = 3.1, B = 2.6 }'
_HANGING = frozenset("gjpqy")


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolSize:
    """One size of a set of tools. Either widths of its letters, or a measured row of E.

    Attributes:
        face_mm: height of a capital's face in mm.
        body_pt: the size it is asked for by, in DTP points; None for that of a usual face.
        widths_mm: the letters there are, each with the width of its face in mm.
        e_row_mm, e_count: length in mm of a row of E as they are lettered, from the left of the
            first to the right of the last, and how many there are in it.
        word_space_mm: from the last letter of a word to the first of the next, in mm; None
            where a space counts as a letter.
        letter_gap_mm: from letter to letter in mm; None for what the method keeps open.
        descent_mm: how far g, j, p, q and y hang below the line, in mm.
        x_height_mm: height of a small x in mm; None where there are capitals only.
    """

    face_mm: float
    body_pt: float | None = None
    widths_mm: tuple[tuple[str, float], ...] | None = None
    e_row_mm: float | None = None
    e_count: int | None = None
    word_space_mm: float | None = None
    letter_gap_mm: float | None = None
    descent_mm: float | None = None
    x_height_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tools:
    """Letters that are tools, not a font: hand letters, or type for a holder.

    Attributes:
        name: what the set is called.
        sizes: its sizes.
        file, sha256: the file it was read from, and the digest of its bytes in hexadecimal.
    """

    name: str
    sizes: tuple[ToolSize, ...]
    file: str = ""
    sha256: str = ""


@once_a_change
def read_tools(path: str) -> Tools:
    """The tools of a file.

    Args:
        path: the file.

    Raises:
        JobError: no such file, not TOML, no size in it, or a value that cannot be read; file,
            size and key are named.
    """
    where = path
    table = read_toml(path, "tools file", _EXAMPLE)
    for key in table:
        if key not in ("name", "size"):
            raise FieldError("no such key", value=key, where=where, remedy=_EXAMPLE)
    sizes = table.get("size")
    if not isinstance(sizes, list) or not sizes or not all(isinstance(s, dict) for s in sizes):
        raise JobError("no sizes", where=where, remedy=_EXAMPLE)
    with FaultsAt(f"{where}: name"):
        name = values.text(table.get("name", Path(path).stem))
    return Tools(
        name=name,
        sizes=tuple(
            _size(size, f"{where}: size {number}") for number, size in enumerate(sizes, start=1)
        ),
        file=where,
        sha256=digest_of(path),
    )


_KEYS: dict[str, tuple[str, Callable[[object], Any]]] = {
    "face": ("face_mm", values.length),
    "body": ("body_pt", values.size_pt),
    "e_row": ("e_row_mm", values.length),
    "e_count": ("e_count", values.count),
    "word_space": ("word_space_mm", values.length),
    "letter_gap": ("letter_gap_mm", values.length),
    "descent": ("descent_mm", values.length),
    "x_height": ("x_height_mm", values.length),
}
"""Each key of a size: its attribute, and its reader."""


def _size(table: dict[str, object], where: str) -> ToolSize:
    found: dict[str, Any] = {}
    for key, value in table.items():
        if key == "widths":
            found["widths_mm"] = _widths(value, f"{where}, widths")
            continue
        if key not in _KEYS:
            hint = did_you_mean(
                key, (*_KEYS, "widths"), otherwise=f"it has {', '.join(_KEYS)} and widths"
            )
            raise FieldError("no such key", value=key, where=where, remedy=hint)
        attribute, read = _KEYS[key]
        with FaultsAt(f"{where}, {key}"):
            found[attribute] = read(value)
    if "face_mm" not in found:
        raise FieldError(
            "no face", where=where, remedy="give the height of a capital in mm: face = 3.2"
        )
    hanging = [char for char, _mm in found.get("widths_mm", ()) if char in _HANGING]
    if hanging and "descent_mm" not in found:
        raise FieldError(
            f"{' and '.join(hanging[:2])} hang below the line", where=where,
            remedy="say how far in mm: descent = 1.0",
        )  # fmt: skip
    return ToolSize(**found)


def _widths(value: object, where: str) -> tuple[tuple[str, float], ...]:
    if not isinstance(value, dict):
        raise FieldError("no widths of letters", where=where, remedy=_EXAMPLE)
    found: dict[str, float] = {}
    for key, width in value.items():
        char = unicodedata.normalize("NFC", key)
        if len(char) != 1 or char.isspace() or not char.isprintable() or char in found:
            what = "given twice" if char in found else "not one letter"
            raise FieldError(
                what, value=key, where=where, remedy='a letter each: A = 3.1, "&" = 3.4'
            )
        with FaultsAt(f"{where}, {char}"):
            found[char] = values.length(width)
    return tuple(found.items())


def tools_method(named: str | Method | None, assumed: list[str]) -> Method:
    """The method that tools are used by.

    Raises:
        FieldError: one that letters a font's outlines.
    """
    if named is None:
        method = catalogue.method(TOOLS_METHOD)
        assumed.append(f"method: a {method.name}, since tools are given")
        return method
    method = named if isinstance(named, Method) else catalogue.method(text(named, "--method"))
    if method.letters is not Letters.TOOLS:
        known = [key for key, row in catalogue.methods().items() if row.letters is Letters.TOOLS]
        raise FieldError(
            f"a {method.name} is not lettered with tools",
            where=_WHERE,
            remedy=f"give --method {' or '.join(known)}, or leave out the tools",
        )
    return method


def resolve_tools(
    lettering: Lettering,
    resolved: ResolvedLettering,
    method: Method,
    rules: Rules,
    assumed: list[str],
) -> ResolvedLettering:
    """The lettering with its tools completed, where letters are tools.

    Args:
        lettering: as typed.
        resolved: the same completed but for the tools.
        method: the way it is made; for the gap between letters.
        rules: for the usual height of a face.
        assumed: takes what was not said.

    Raises:
        FieldError: a size that cannot be, or what tools cannot do.
    """
    tools = lettering.tools
    if tools is None:
        return resolved
    if lettering.sizes_pt is not None:
        raise FieldError(
            "sizes beside tools, which have their own", where="--sizes", remedy="leave them out"
        )
    if lettering.case is Case.SMALL_CAPITALS:
        raise FieldError(
            "tools have no small capitals",
            where="--case",
            remedy="take --case capitals, or the next smaller size",
        )
    if not tools.sizes:
        raise FieldError("no size among the tools", where=_WHERE, remedy="give one at least")
    whole = (_complete(size, method, rules) for size in tools.sizes)
    sizes = tuple(sorted(whole, key=lambda size: size.body_pt))
    bodies = tuple(size.body_pt for size in sizes)
    if len(set(bodies)) < len(bodies):
        raise FieldError(
            "two sizes of tools on one body", where=_WHERE, remedy="give each its own body"
        )
    _assume(tools.sizes, sizes, method, rules, assumed)
    for name in ("font", "face", "axes"):
        if getattr(lettering, name) is not None:
            assumed.append(f"{name}: not used, since the letters are tools")
    own = ResolvedTools(name=tools.name, sizes=sizes, file=tools.file, sha256=tools.sha256)
    return resolved._replace(tools=own, sizes_pt=bodies, face=None, axes=(), sought=None)


def _complete(size: ToolSize, method: Method, rules: Rules) -> ResolvedToolSize:
    face_mm = length_mm(size.face_mm, _WHERE)
    body_pt = size.body_pt
    if body_pt is None:
        body_pt = round(pt_from_mm(face_mm / rules.value("tools.face_ratio")), 2)
    gap_mm = _gap_mm(size, method)
    e_mm = _e_mm(size, gap_mm)
    space_mm = size.word_space_mm
    if space_mm is None:
        space_mm = _letter_mm(size, e_mm) + 2 * gap_mm
    for char, width_mm in size.widths_mm or ():
        length_mm(width_mm, f"{_WHERE}: width of {char}")
    return ResolvedToolSize(
        body_pt=size_pt(body_pt, _WHERE),
        face_mm=face_mm,
        widths_mm=size.widths_mm,
        e_mm=e_mm,
        letter_gap_mm=gap_mm,
        word_space_mm=length_mm(space_mm, _WHERE, zero=True),
        descent_mm=length_mm(size.descent_mm or 0.0, _WHERE, zero=True),
        x_height_mm=length_mm(size.x_height_mm or face_mm, _WHERE),
    )


def _gap_mm(size: ToolSize, method: Method) -> float:
    if size.letter_gap_mm is not None:
        return length_mm(size.letter_gap_mm, _WHERE, zero=True)
    return 0.0 if method.gap is None else method.gap.value


def _e_mm(size: ToolSize, gap_mm: float) -> float | None:
    """The width of an E of the measured row, its gaps taken off."""
    if (size.widths_mm is None) == (size.e_row_mm is None):
        both = "both widths and a row of E" if size.widths_mm is not None else "no widths"
        raise FieldError(
            f"{both} for the {size.face_mm:g} mm face",
            where=_WHERE,
            remedy="give either widths = { A = 3.1, ... }, or e_row and e_count",
        )
    if size.e_row_mm is None:
        return None
    count = size.e_count
    if not is_whole(count) or count < 1:
        raise FieldError(
            "no number of Es in the row", value=count, where=_WHERE, remedy="such as e_count = 10"
        )
    e_mm = (length_mm(size.e_row_mm, _WHERE) - (count - 1) * gap_mm) / count
    if e_mm <= 0:
        raise FieldError(
            f"a row of {count} E with {gap_mm:g} mm between them is longer than that",
            value=f"{size.e_row_mm:g} mm",
            where=_WHERE,
            remedy="measure the row again, or give letter_gap",
        )
    return e_mm


def _letter_mm(size: ToolSize, e_mm: float | None) -> float:
    """The letter that a space counts as: E, or the mean of those there are."""
    if e_mm is not None:
        return e_mm
    widths = dict(size.widths_mm or ())
    if not widths:
        raise FieldError(
            f"no letters for the {size.face_mm:g} mm face", where=_WHERE,
            remedy="give widths = { A = 3.1, ... }",
        )  # fmt: skip
    return widths.get("E") or sum(widths.values()) / len(widths)


def _assume(
    sizes_given: tuple[ToolSize, ...],
    sizes: tuple[ResolvedToolSize, ...],
    method: Method,
    rules: Rules,
    assumed: list[str],
) -> None:
    """Name what was not said of the tools."""
    if any(size.body_pt is None for size in sizes_given):
        ratio = rules.value("tools.face_ratio")
        assumed.append(f"body of tools: where none is given, the face over {ratio:g}")
    if any(size.letter_gap_mm is None for size in sizes_given):
        gap_mm = 0.0 if method.gap is None else method.gap.value
        assumed.append(f"gap between letters: {gap_mm:g} mm, the least of a {method.name}")
    if any(size.word_space_mm is None for size in sizes_given):
        each = ", ".join(f"{one.word_space_mm:.2f}".rstrip("0").rstrip(".") for one in sizes)
        assumed.append(f"word space: a space counts as a letter, {each} mm by size")
