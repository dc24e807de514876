"""Into which pieces is a title cut, so that lines can be made of them?

In: its forced lines, or pieces already found. Out: pieces that no line break parts, with indexes
into the text. Where a break may be is for `breaks` to say.
"""

from __future__ import annotations

from spinefit.errors import FieldError
from spinefit.shaping.breaks import dividing_points, line_breaks
from spinefit.shaping.run import Piece

__all__ = ["pieces_of", "with_word_breaks"]

# Which split is best takes time by the square of the pieces: a second or two for so many, which
# are more words than any back holds.
_MOST_PIECES = 250


def pieces_of(lines: tuple[str, ...], language: str | None) -> tuple[Piece, ...]:
    """What no break between words parts, with indexes into the lines joined by spaces."""
    pieces: list[Piece] = []
    offset, final = 0, len(lines) - 1
    for at, line in enumerate(lines):
        length = len(line)
        breaks = line_breaks(line, language)
        for start, end in zip((0, *breaks), (*breaks, length), strict=True):
            trimmed = end
            while trimmed > start and line[trimmed - 1] == " ":
                trimmed -= 1
            forced_after = end == length and at < final
            pieces.append(Piece(offset + start, offset + trimmed, forced_after))
        offset += length + 1
    _refuse_many(pieces)
    return tuple(pieces)


def _refuse_many(pieces: list[Piece]) -> None:
    if len(pieces) > _MOST_PIECES:
        raise FieldError(
            f"a title that can be broken in {len(pieces) - 1} places is too long",
            where="TITLE",
            remedy=f"at most {_MOST_PIECES - 1} can be tried; give what is to be lettered",
        )


def with_word_breaks(
    text: str, pieces: tuple[Piece, ...], language: str | None
) -> tuple[Piece, ...]:
    """The pieces of a text cut once more, where a word may be divided at a line's end."""
    found: list[Piece] = []
    for piece in pieces:
        word = text[piece.start : piece.end]
        points = dividing_points(word, language)
        starts = (0, *points)
        ends = (*points, len(word))
        for start, end in zip(starts, ends, strict=True):
            inside = end < len(word)
            found.append(
                Piece(
                    piece.start + start,
                    piece.start + end,
                    piece.forced_after and not inside,
                    inside,
                )
            )
    _refuse_many(found)
    return tuple(found)
