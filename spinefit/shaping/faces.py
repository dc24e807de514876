"""Which faces, axes and named instances does a font file hold, and which of them is meant?

In: bytes of a file, and what a person says of the face and its axes. Out: a `FontFace` with its
names, or the one chosen with every axis settled. HarfBuzz takes any axis tag and any value in
silence, so both are held against the font here. Axes count in their own units. Source: OpenType
specification, name and fvar tables.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from typing import NamedTuple

from spinefit.errors import FontError, nearest
from spinefit.shaping.harfbuzz import Axis, HarfBuzzFont, Instance
from spinefit.shaping.sfnt import face_count, vet

__all__ = ["FontFace", "axis_named", "choose_face", "face_of", "faces_of", "plain_name", "settled"]

Settings = tuple[tuple[str, float], ...]

_REGULAR = ("regular", "roman", "normal", "book")  # styles that menus leave out of a name
_MOST_NAMED = 12


class FontFace(NamedTuple):
    """A face of a font file.

    Attributes:
        number: counted from 1.
        name: family and style, as menus show it.
        also: its other names: in other languages, full and PostScript names.
        axes: the axes of a variable font.
        instances: its named instances.
        weight: weight class, from 1 to 1000.
        width_percent: of the normal width.
    """

    number: int
    name: str
    also: tuple[str, ...]
    axes: tuple[Axis, ...]
    instances: tuple[Instance, ...]
    weight: float
    width_percent: float


def plain_name(name: str) -> str:
    """A name with case, accents, spaces and hyphens forgiven.

    >>> plain_name("EB Garamond-Bold") == plain_name("eb garamond bold")
    True
    """
    decomposed = unicodedata.normalize("NFKD", name.casefold())
    return "".join(char for char in decomposed if char.isalnum())


def faces_of(data: bytes) -> tuple[FontFace, ...]:
    """Every face of a file.

    Args:
        data: the whole file, unpacked.

    Raises:
        FontBrokenError: a face that cannot be measured.
    """
    return tuple(face_of(data, number) for number in range(1, face_count(data) + 1))


def face_of(data: bytes, number: int) -> FontFace:
    """One face of a file, by its number from 1."""
    vet(data, number - 1)
    font = HarfBuzzFont(data, number - 1, ())
    families, styles, full = font.names()
    family, style = font.family_and_style()
    names = [f"{one} {other}" for one in families for other in styles]
    plainly = plain_name(style)
    if plainly in _REGULAR or not style:
        names.extend(families)
    name = family if plainly == _REGULAR[0] else f"{family} {style}".strip()
    weight, width_percent = font.weight_and_width
    return FontFace(
        number=number,
        name=name or next(iter(full), ""),
        also=tuple(dict.fromkeys((*names, *full))),
        axes=font.axes,
        instances=font.instances,
        weight=weight,
        width_percent=width_percent,
    )


def choose_face(data: bytes, wanted: str) -> tuple[int, Settings, str]:
    """The number from 1 of the face that is meant; the axes and name of a named instance.

    Args:
        data: the whole file, unpacked.
        wanted: a number from 1, a face's name or style, or a named instance.

    Raises:
        FontError: there is none of that number or name; those there are are named.
    """
    count = face_count(data)
    if wanted.isascii() and wanted.isdigit() and 1 <= int(wanted) <= count:
        return int(wanted), (), ""
    known: dict[str, tuple[int, Settings, str]] = {}
    shown: list[str] = []
    for face in faces_of(data):
        shown.append(face.name if count == 1 else f"{face.number} {face.name}")
        for name in (face.name, *face.also):
            known.setdefault(plain_name(name), (face.number, (), ""))
        for instance in face.instances:
            shown.append(instance.name)
            called = f"{face.name} {instance.name}"
            for name in (instance.name, called):
                known.setdefault(plain_name(name), (face.number, instance.axes, called))
    found = known.get(plain_name(wanted))
    if found is None:
        more = ", ..." if len(shown) > _MOST_NAMED else ""
        raise FontError(
            "no such face in the font",
            value=wanted,
            where="--face",
            remedy=f"it has {', '.join(shown[:_MOST_NAMED])}{more}",
        )
    return found


def settled(axes: Sequence[Axis], asked: Settings, name: str) -> dict[str, float]:
    """Every axis of a font with its value: what was asked for, else the font's own.

    Args:
        axes: those of the font.
        asked: values by axis tag.
        name: of the font, for messages.

    Raises:
        FontError: an axis the font does not have, or a value past its ends.
    """
    found = {axis.tag: axis.usual for axis in axes}
    for tag, value in asked:
        axis = axis_named(axes, tag, name)
        if not axis.least <= value <= axis.most:
            raise FontError(
                f"{tag} of {name} runs from {axis.least:g} to {axis.most:g}",
                value=f"{value:g}",
                where="--axes",
                remedy="give a value in that range",
            )
        found[tag] = value
    return found


def axis_named(axes: Sequence[Axis], tag: str, name: str) -> Axis:
    """The axis of that tag.

    Raises:
        FontError: a font without axes, or without that one; those it has are named.
    """
    known = {axis.tag: axis for axis in axes}
    if tag in known:
        return known[tag]
    if not axes:
        raise FontError(
            f"{name} is no variable font and has no axes",
            value=tag,
            where="--axes",
            remedy="leave it out, or take a variable font",
        )
    like = nearest(tag, known)
    has = ", ".join(f"{one.tag} {one.least:g} to {one.most:g}" for one in axes)
    hint = f"did you mean '{like}'? " if like else ""
    raise FontError(
        f"{name} has no such axis", value=tag, where="--axes", remedy=f"{hint}it has {has}"
    )
