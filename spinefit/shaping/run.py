"""How long is every line that a title could be set in?

In: a text, its pieces, and what sets it. The title is shaped once; the ink of a candidate
line is cut out of that run, and reshaped only where HarfBuzz says that breaking there would
change it. Plane: em, pen running to the right, baseline at y = 0. Ink never counts spaces.
"""

from __future__ import annotations

from itertools import accumulate
from operator import sub

from spinefit.errors import FontError, NoInkError
from spinefit.shaping.breaks import Piece
from spinefit.shaping.glyphs import Box, Outline, Placed, union
from spinefit.shaping.setter import LetterSetter, Levels

_INSIDE = -1  # of a character that begins no glyph: it is inside a ligature
_OUTLINES = "give a font with outlines for its letters"
_FILLERS = "\u115f\u1160\u3164\uffa0"  # of Hangul: letters to Unicode, and without ink


class ShapedRun:
    """A title shaped once, from which any line's ink is cut.

    Args:
        shaper: font and features.
        text: the whole title; forced breaks are spaces here.
        pieces: what no break parts, in order.
        suffix: what is set at the end of a line that breaks a word: "" or "-".

    Attributes:
        ink: extents of the whole text in one line, in em.
        keeps_ink: whether each line is a stretch of this very run, so that none has ink beyond
            its own.
    """

    def __init__(
        self, shaper: LetterSetter, text: str, pieces: tuple[Piece, ...], suffix: str
    ) -> None:
        self._shaper = shaper
        self.text = text
        self.pieces = pieces
        self._suffix = suffix
        self._directions = shaper.directions(text)
        self._glyphs = shaper.shape(text)
        self._reach = shaper.reach(self._glyphs)
        ink = self._reach.box(0, len(self._glyphs))
        if ink is None:
            raise FontError(
                f"{shaper.font.name} draws no ink for this title",
                value=text,
                where="--font",
                remedy=_OUTLINES,
            )
        self._refuse_blanks()
        self.ink: Box = ink
        clusters = self._glyphs.clusters
        self._sliceable = self._directions is None and clusters == sorted(clusters)
        self.keeps_ink = False
        self._boxes: dict[tuple[int, int], Box] = {}
        if self._sliceable:
            self._prepare(clusters)

    def _refuse_blanks(self) -> None:
        """Refuse a font that leaves a letter or figure out, as where its parts go in a circle."""
        clusters, text = self._glyphs.clusters, self.text
        blank = self._reach.blanks()
        letters = [at for at in blank if text[clusters[at]].isalnum()]
        if not letters:
            return
        inked = {cluster for at, cluster in enumerate(clusters) if at not in blank}
        for letter in (text[clusters[at]] for at in letters if clusters[at] not in inked):
            # Some fonts draw a ligature in one glyph of several: a letter alone has its ink.
            if letter not in _FILLERS and self._shaper.ink(self._shaper.shape(letter)) is None:
                raise FontError(
                    f"{self._shaper.font.name} draws no ink for a letter",
                    value=letter,
                    where="--font",
                    remedy=_OUTLINES,
                )

    def _prepare(self, clusters: list[int]) -> None:
        """The first glyph of each character, and the ink of each piece in place."""
        count, length = len(clusters), len(self.text)
        first = list(range(count + 1))
        if count != length or clusters != first[:-1]:
            first = [_INSIDE] * length + [count]
            for at in range(count - 1, -1, -1):
                first[clusters[at]] = at
        self._first = first
        begins = [first[piece.start] for piece in self.pieces]
        ends = [first[piece.end] for piece in self.pieces]
        if _INSIDE in begins or _INSIDE in ends:
            self._inner = [self._cut(piece.start, piece.end) for piece in self.pieces]
        else:
            self._inner = self._reach.boxes(zip(begins, ends, strict=True))
        self._holed = None in self._inner
        self._opening = self._closing = self._inner
        self.keeps_ink = not (self._holed or self._suffix or self._glyphs.unsafe(begins + ends))
        if not self.keeps_ink:
            self._opening = [self._opened(at, piece) for at, piece in enumerate(self.pieces)]
            self._closing = [self._closed(at, piece) for at, piece in enumerate(self.pieces)]

    def _cut(self, start: int, end: int) -> Box | None:
        """Ink of the characters from start to end, where they stand in the run."""
        low, high = self._first[start], self._first[end]
        if start >= end or _INSIDE in (low, high):
            return None
        return self._reach.box(low, high)

    def _opened(self, at: int, piece: Piece) -> Box | None:
        """Ink of a piece that begins a line; None where only reshaping the line tells."""
        if self._is_safe(piece.start):
            return self._inner[at]
        safe = next(
            (spot for spot in range(piece.start + 1, piece.end + 1) if self._is_safe(spot)), None
        )
        if safe is None:
            return None
        fresh = self._shaper.shape(self.text[piece.start : safe])
        length = sum(fresh.advances_em)
        ink = self._shaper.ink(fresh, self._pen_at(safe) - length)
        return union([ink, self._cut(safe, piece.end)])

    def _closed(self, at: int, piece: Piece) -> Box | None:
        """Ink of a piece that ends a line; None where only reshaping the line tells."""
        if piece.in_word and self._suffix:
            return None
        if self._is_safe(piece.end):
            return self._inner[at]
        safe = next(
            (spot for spot in range(piece.end - 1, piece.start - 1, -1) if self._is_safe(spot)),
            None,
        )
        if safe is None:
            return None
        fresh = self._shaper.shape(self.text[safe : piece.end])
        return union([self._cut(piece.start, safe), self._shaper.ink(fresh, self._pen_at(safe))])

    def _pen_at(self, at: int) -> float:
        """Where the pen stands in the run before a character."""
        return self._reach.pens_em[self._first[at]]

    def _is_safe(self, at: int) -> bool:
        """Whether the run may be cut before a character without changing the shaping."""
        start = self._first[at]
        return start != _INSIDE and not self._glyphs.unsafe((start,))

    def inked_glyphs(self) -> list[tuple[str, Outline]]:
        """Each different glyph of the run: the characters it stands for, and its curves in em."""
        return self._shaper.inked_glyphs(self.text, self._glyphs)

    @property
    def gids(self) -> list[int]:
        """The numbers of the glyphs of the run."""
        return self._glyphs.gids

    def line_text(self, first: int, last: int) -> str:
        """The text of a line of pieces first to last, both included."""
        piece = self.pieces[last]
        suffix = self._suffix if piece.in_word and last + 1 < len(self.pieces) else ""
        return self.text[self.pieces[first].start : piece.end] + suffix

    def line_levels(self, first: int, last: int) -> Levels:
        """Levels of the characters of that line's text; None where all read left to right."""
        if self._directions is None:
            return None
        found = self._directions.of_line(self.pieces[first].start, self.pieces[last].end)
        # A hyphen at a break goes with the letter before it.
        return (*found, *found[-1:] * (len(self.line_text(first, last)) - len(found)))

    def line_ink(self, first: int, last: int) -> Box:
        """Ink of a line of pieces first to last in em; x from an arbitrary origin.

        Raises:
            FontError: the line has no ink.
        """
        key = (first, last)
        box = self._boxes.get(key)
        if box is None:
            box = self._line_box(first, last)
            self._boxes[key] = box
        return box

    def line_placed(self, first: int, last: int) -> tuple[list[Placed], Box]:
        """The curves of a line of pieces first to last, and its ink; x from one arbitrary origin.

        Cut out of the run where that may be cut there, else shaped afresh.
        """
        start, piece = self.pieces[first].start, self.pieces[last]
        suffixed = bool(self._suffix) and piece.in_word
        if not suffixed and self._sliceable and self._is_safe(start) and self._is_safe(piece.end):
            low, high = self._first[start], self._first[piece.end]
            placed = self._shaper.placed(self._glyphs[low:high], self._reach.pens_em[low])
            return placed, self.line_ink(first, last)
        text = self.line_text(first, last)
        placed, ink = self._shaper.set_line(text, self.line_levels(first, last))
        return placed, ink or self.line_ink(first, last)

    def line_widths(self, first: int, last: int) -> list[float]:
        """Ink widths in em of the lines of pieces first to each piece up to last."""
        if self.keeps_ink:
            lefts, _bottoms, rights, _tops = zip(*self._inner[first : last + 1], strict=True)
            return list(map(sub, accumulate(rights, max), accumulate(lefts, min)))
        box = self.line_ink(first, first)
        found = [box[2] - box[0]]
        opening = self._opening[first] if self._sliceable else None
        if opening is None or self._has_hole(first, last):
            later = (self.line_ink(first, at) for at in range(first + 1, last + 1))
            return [*found, *(box[2] - box[0] for box in later)]
        left, right = opening[0], opening[2]
        for at in range(first + 1, last + 1):
            closing, inner = self._closing[at], self._inner[at]
            if closing is None or inner is None:
                box = self.line_ink(first, at)
                found.append(box[2] - box[0])
            else:
                ends = right if right > closing[2] else closing[2]
                found.append(ends - (left if left < closing[0] else closing[0]))
            if inner is not None:
                left = left if left < inner[0] else inner[0]
                right = right if right > inner[2] else inner[2]
        return found

    def line_tops(self, last: int) -> list[float]:
        """The highest ink in em of the lines of the first piece to each piece up to last."""
        if self.keeps_ink:
            return list(accumulate([box[3] for box in self._inner[: last + 1] if box], max))
        return [self.line_ink(0, at)[3] for at in range(last + 1)]

    def line_bottoms(self, first: int) -> list[float]:
        """The lowest ink in em of the lines of each piece from first on to the last piece."""
        if self.keeps_ink:
            found = accumulate([box[1] for box in reversed(self._inner[first:]) if box], min)
            return [*found][::-1]
        end = len(self.pieces) - 1
        return [self.line_ink(at, end)[1] for at in range(first, end + 1)]

    def _line_box(self, first: int, last: int) -> Box:
        cut = self._cut_line(first, last) if self._sliceable else None
        if cut is not None:
            return cut
        text = self.line_text(first, last)
        ink = self._shaper.ink(self._shaper.shape(text, self.line_levels(first, last)))
        if ink is None:
            raise NoInkError(text)
        return ink

    def _cut_line(self, first: int, last: int) -> Box | None:
        """Ink of a line cut out of the run; None where only reshaping tells."""
        opening, closing = self._opening[first], self._closing[last]
        if opening is None or closing is None or self._has_hole(first, last):
            return None
        if first < last:
            return union([opening, *self._inner[first + 1 : last], closing])
        inner = self._inner[first]
        if opening is inner:
            return closing
        return opening if closing is inner else None

    def _has_hole(self, first: int, last: int) -> bool:
        """Whether a piece has no ink of its own, as where a break cuts a ligature."""
        return self._holed and None in self._inner[first : last + 1]
