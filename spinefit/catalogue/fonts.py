"""Which fonts come with spinefit, and where do they lie?

Rows of ``fonts.toml``, which lies beside the font files. Opening a font is for the shaping
stage.
"""

from __future__ import annotations

import string
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from spinefit.catalogue.tables import parse_part, read_parts

PLAIN_CHARACTERS = frozenset(string.ascii_letters + string.digits + " &.,:;'-!?()/")
"""What most titles are set in; a font's thinness is listed for these."""


class FontRow(NamedTuple):
    """A bundled font.

    Attributes:
        name: what a person types.
        file: its path under the fonts folder.
        sha256: digest of that file, in hexadecimal.
        kind, use: what it is and what for.
        licence, copyright, version, origin: where it comes from.
        scripts: ISO 15924 codes of the scripts it covers.
        small_capitals: True where it has true small capitals.
        axes: variation axes set for this face.
        thinnest_stroke_em, least_counter_em: of `PLAIN_CHARACTERS` and their ligatures,
            measured and rounded down.
    """

    name: str
    file: str
    sha256: str
    kind: str
    use: str
    licence: str
    copyright: str
    version: str
    origin: str
    scripts: tuple[str, ...]
    small_capitals: bool
    axes: tuple[tuple[str, float], ...]
    thinnest_stroke_em: float
    least_counter_em: float


@lru_cache(maxsize=1)
def fonts_folder() -> Path:
    """Where the bundled fonts lie: inside the installed package, or beside it in a checkout."""
    package = Path(__file__).parent.parent
    inside = package / "fonts_open"
    return inside if inside.is_dir() else package.parent / "fonts_open"


@lru_cache(maxsize=1)
def font_rows() -> tuple[FontRow, ...]:
    """All bundled fonts, the default one first."""
    return tuple(_row(name) for name in _tables())


def default_font() -> str:
    """The name of the font that is taken where none is asked for."""
    return next(iter(_tables()))


@lru_cache(maxsize=256)
def font_named(wanted: str) -> FontRow | None:
    """The bundled font of that name, case and spaces forgiven; the others are not parsed."""
    plain = _plain(wanted)
    for name in _tables():
        if plain in (_plain(name), _plain(name) + "regular"):
            return _row(name)
    return None


def _plain(name: str) -> str:
    return "".join(char for char in name.casefold() if char.isalnum())


@lru_cache(maxsize=1)
def _tables() -> dict[str, str]:
    """The text of each font's table by its name, unparsed."""
    parts = read_parts(fonts_folder() / "fonts.toml", "font")
    return {part.split('"', 2)[1]: part for part in parts}  # each begins with its name


@lru_cache(maxsize=32)
def _row(name: str) -> FontRow:
    row = parse_part(_tables()[name])
    return FontRow(
        name=row["name"],
        file=row["file"],
        sha256=row["sha256"],
        kind=row["kind"],
        use=row["use"],
        licence=row["licence"],
        copyright=row["copyright"],
        version=row["version"],
        origin=row["origin"],
        scripts=tuple(row["scripts"]),
        small_capitals=bool(row["small_capitals"]),
        axes=tuple(sorted((tag, float(at)) for tag, at in row.get("axes", {}).items())),
        thinnest_stroke_em=float(row["thinnest_stroke_em"]),
        least_counter_em=float(row["least_counter_em"]),
    )
