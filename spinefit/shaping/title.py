"""What is the title once it is set in its font and case?

In: a resolved job. Out: a `ShapedTitle` that knows the ink of every line the title could be broken
into, its heights, and its letters one by one for a pillar. Of a label with several texts it is the
leading one, and holds the others; `spinefit.shaping.stack` sets those together. Plane: em, baseline
at y = 0, y up.
"""

from __future__ import annotations

from collections.abc import Iterable
from copy import copy
from functools import cached_property, lru_cache
from typing import NamedTuple, Protocol

from spinefit.catalogue import PLAIN_CHARACTERS
from spinefit.errors import FontBrokenError, FontError
from spinefit.job.resolved import ResolvedJob
from spinefit.job.title import sets_upright
from spinefit.shaping.breaks import clusters, pieces_of, with_word_breaks
from spinefit.shaping.font_setter import Column, RunShaper, set_column
from spinefit.shaping.fontfile import OpenFont, open_font
from spinefit.shaping.glyphs import Box, Outline, Placed
from spinefit.shaping.run import ShapedRun
from spinefit.shaping.scripts import capitals, has_case, is_capitals
from spinefit.shaping.setter import Face, LetterSetter, Levels, SetLetter
from spinefit.shaping.vetting import WIDEST_EM
from spinefit.vocabulary import BreakWords, Case, Measure

Letter = tuple[str, Box | None]
"""A letter of a pillar and its ink extents in em; None for a space."""


class SetText(NamedTuple):
    """One text of a label as it is set, or a title alone.

    Attributes:
        number: which of the texts and rules it is, from 1; 0 for a title alone.
        title: the text in its letters.
        scale: its size over that of the leading text.
        leads: whether it is that text.
    """

    number: int
    title: ShapedTitle
    scale: float
    leads: bool = False


class SetRule(NamedTuple):
    """A rule of a label.

    Attributes:
        ruling_mm: its lines and the spaces between them.
        measure: how long it is.
        em_mm: the size of the leading text beside it.
    """

    ruling_mm: tuple[float, ...]
    measure: Measure
    em_mm: float


class TitleSizes(Protocol):
    """A title in the letters of each size, where they change with it.

    Attributes:
        range_pt: from which to which size they change.
    """

    range_pt: tuple[float, float]

    def title(self, size_pt: float) -> ShapedTitle:
        """The title for a size in points, shaped once."""


class ShapedTitle:
    """A title shaped once, or the leading text of a label with all that stands beside it.

    Attributes:
        lines: the title's forced lines as lettered, after the case change.
        text: the same in one line.
        font: the font it is set in, or the tools of one size.
        only_pt: the one size these letters are to be had in, in points; None for a font.
        optical: from which to which size its letters change with the size, in points; None
            where they do not.
        run: the title whole, cut at every break between words.
        language: BCP 47 tag or None.
        has_case: False where its letters are all of scripts without capitals.
        cap_height_em, x_height_em: of the font; x_height is that of the small capitals where
            they are set. In a script without capitals both are the height of its letters.
        reading_height_em: height of the capitals most of the title is set in.
        ascent_em, descent_em: greatest reach of its ink above and below a baseline.
        all_capitals: True where no small letter is seen, so that lines can stand closer.
        stack: the texts and rules of a label, itself among them; empty for a title alone. Then
            ``text`` has all of them for people, all else is of the leading text alone.
        nudges: of lines set by hand, how much higher each stands in em, and the text so tracked.
    """

    stack: tuple[SetText | SetRule, ...] = ()
    nudges: tuple[tuple[float, ShapedTitle], ...] = ()

    def __init__(
        self,
        *,
        lines: tuple[str, ...],
        shaper: LetterSetter,
        language: str | None,
        small_capitals: bool = False,
        only_pt: float | None = None,
        sizes: TitleSizes | None = None,
    ) -> None:
        self.lines = lines
        self.text = " ".join(lines)
        self.font: Face = shaper.font
        self.only_pt = only_pt
        self._sizes = sizes
        self.optical = None if sizes is None else sizes.range_pt
        self.language = language
        self._shaper = shaper
        self._small_capitals = small_capitals
        self._columns: dict[str, Column] = {}
        self._broken: dict[BreakWords, ShapedRun] = {}
        self.run = ShapedRun(shaper, self.text, pieces_of(lines, language), "")
        _left, bottom, _right, top = self.run.ink
        self.ascent_em, self.descent_em = top, -bottom
        self.has_case = has_case(self.text)
        self.cap_height_em = self.font.cap_height_em or top
        if not self.has_case:
            self.cap_height_em = self._letter_height() or top
        self.all_capitals = small_capitals or is_capitals(self.text)
        if self.cap_height_em <= 0:
            raise FontBrokenError(
                f"{self.font.name} draws no letter of this title above the line it stands on",
                value=self.text,
                where="--font",
                remedy="its outlines are damaged, or no letters: give another font",
            )
        self.x_height_em = self.font.x_height_em or self.cap_height_em
        if not self.has_case:
            self.x_height_em = self.cap_height_em
        if small_capitals:
            self.x_height_em = self._small_capital_height()
        self.reading_height_em = self.x_height_em if small_capitals else self.cap_height_em

    @cached_property
    def mostly_small(self) -> bool:
        """Whether more than half of its letters are small ones."""
        small = sum(map(str.islower, self.run.text))
        return not self.all_capitals and small * 2 > sum(map(str.isalpha, self.run.text))

    @property
    def texts(self) -> tuple[SetText, ...]:
        """The texts of a label from the top, or the title alone."""
        own = tuple(one for one in self.stack if isinstance(one, SetText))
        return own or (SetText(0, self, 1.0, leads=True),)

    def stacked(
        self, stack: Iterable[SetText | SetRule], sizes: TitleSizes | None = None
    ) -> ShapedTitle:
        """The title as the leading text of a label.

        Args:
            stack: what stands on the label, from the top.
            sizes: the label in each size, where it changes with that.
        """
        found = copy(self)
        found.stack = tuple(stack)
        found._sizes, found.optical = sizes, None if sizes is None else sizes.range_pt
        found.text = ", ".join(one.title.text for one in found.texts)
        return found

    def nudged(
        self, nudges: Iterable[tuple[float, ShapedTitle]], sizes: TitleSizes | None
    ) -> ShapedTitle:
        """The title with lines moved or spaced by hand; ``sizes`` as of `stacked`."""
        found = copy(self)
        found.nudges = tuple(nudges)
        found._sizes, found.optical = sizes, None if sizes is None else sizes.range_pt
        return found

    def _small_capital_height(self) -> float:
        box = self._shaper.ink(self._shaper.shape("x")) if self._shaper.has("x") else None
        return box[3] if box else self.x_height_em

    def at_size(self, size_pt: float) -> ShapedTitle:
        """The title in its letters as they are drawn for a size in points."""
        return self if self._sizes is None else self._sizes.title(size_pt)

    def _letter_height(self) -> float:
        """The middle one of the heights of its letters, where none is a capital or a small one."""
        boxes = [box for letter, box in self.letters() if box and letter[0].isalpha()]
        heights = sorted(box[3] - box[1] for box in boxes)
        return heights[len(heights) // 2] if heights else 0.0

    def run_broken(self, mode: BreakWords) -> ShapedRun:
        """The title cut at its breaks between words and inside them."""
        if mode is BreakWords.NEVER:
            return self.run
        if mode not in self._broken:
            pieces = with_word_breaks(self.run.text, self.run.pieces, self.language)
            suffix = "-" if mode is BreakWords.HYPHEN else ""
            self._broken[mode] = ShapedRun(self._shaper, self.run.text, pieces, suffix)
        return self._broken[mode]

    def letters(self) -> tuple[Letter, ...]:
        """The grapheme clusters of the title, each shaped alone."""
        return tuple(
            (cluster, None if cluster.isspace() else self._ink_of(cluster))
            for cluster in clusters(self.run.text, self.language)
        )

    def _ink_of(self, cluster: str) -> Box | None:
        return self._shaper.ink(self._shaper.shape(cluster))

    @property
    def known_thinness(self) -> tuple[float, float] | None:
        """Thinnest stroke and least counter in em, at least, where that is known beforehand."""
        plain = PLAIN_CHARACTERS.issuperset(self.run.text) and not self._small_capitals
        return self.font.plain_thinness_em if plain else None

    def fonts_used(self) -> list[tuple[Face, str]]:
        """Each font with the different letters that it sets; the first one first."""
        if not self.stack:
            return self._shaper.letters_by_font(self.text)
        found: dict[str, tuple[Face, str]] = {}
        for one in sorted(self.texts, key=lambda one: not one.leads):
            for font, letters in one.title._shaper.letters_by_font(one.title.run.text):
                _font, known = found.get(font.sha256, (font, ""))
                found[font.sha256] = _font, "".join(dict.fromkeys(known + letters))
        return list(found.values())

    def inked_glyphs(self) -> list[tuple[str, Outline]]:
        """Each different glyph of the title: its characters and its curves in em."""
        return self.run.inked_glyphs()

    @property
    def sets_columns(self) -> bool:
        """Whether a pillar of it is columns of upright characters in the font's vertical forms."""
        alone = not (self.stack or self.nudges) and isinstance(self._shaper, RunShaper)
        return alone and sets_upright(self.text)

    def column(self, text: str) -> Column:
        """Any piece of the title in a column."""
        assert isinstance(self._shaper, RunShaper)  # sets_columns says so
        if text not in self._columns:
            self._columns[text] = set_column(text, self._shaper)
        return self._columns[text]

    def set_line(self, text: str, levels: Levels = None) -> tuple[list[Placed], Box | None]:
        """Any piece of text in this setting: its curves from pen 0, and its ink, in em."""
        return self._shaper.set_line(text, levels)

    def set_letters(self, text: str) -> tuple[SetLetter, ...]:
        """The letters and spaces of any piece of text in this setting, one by one, in em."""
        return self._shaper.set_letters(text)


def shape_alone(job: ResolvedJob) -> tuple[ShapedTitle, ...]:
    """The job's title in its font and case; where letters are tools, once for each size.

    Each size of a set of tools has letters of its own proportions, so that a title has as
    many shapes as there are sizes; the sizes rise.

    Raises:
        FontError: no such font, a broken one, or one that lacks a character or its small
            capitals; or no size of the tools has every letter.
    """
    lines = job.title_lines
    if job.lettering.case is Case.CAPITALS:
        lines = tuple(capitals(line, job.language) for line in lines)
    if job.lettering.tools is None:
        return (_in_font(job, lines),)
    from spinefit.shaping.tools import setters_for

    return tuple(
        ShapedTitle(lines=lines, shaper=setter, language=job.language, only_pt=size_pt)
        for size_pt, setter in setters_for(job, job.lettering.tools, " ".join(lines))
    )


def _in_font(job: ResolvedJob, lines: tuple[str, ...]) -> ShapedTitle:
    lettering = job.lettering
    font = open_font(lettering.font, lettering.face, lettering.axes)
    if font.optical is None:
        return _set_in(font, job, lines)
    return OpticalSizes(font, job, lines).title(lettering.size_pt or dict(font.axes)["opsz"])


class OpticalSizes:
    """A title in the letters of each size, where the font draws them for the size.

    Attributes:
        range_pt: from which to which size they change.
    """

    def __init__(self, font: OpenFont, job: ResolvedJob, lines: tuple[str, ...]) -> None:
        assert font.optical is not None  # only such a font has sizes to choose from
        self.range_pt = font.optical
        self._font, self._job, self._lines = font, job, lines
        self._titles: dict[float, ShapedTitle] = {}

    def title(self, size_pt: float) -> ShapedTitle:
        """The title for a size in points, shaped once."""
        least, most = self.range_pt
        size = min(max(size_pt, least), most)
        if size not in self._titles:
            font = self._font.at_size(size)
            self._titles[size] = _set_in(font, self._job, self._lines, self)
        return self._titles[size]


def _set_in(
    font: OpenFont, job: ResolvedJob, lines: tuple[str, ...], sizes: OpticalSizes | None = None
) -> ShapedTitle:
    lettering = job.lettering
    small = lettering.case is Case.SMALL_CAPITALS
    names, tracking_em = lettering.fallback, lettering.tracking_em
    fallback = tuple(map(_fallback, names)) if names else ()
    shaped = _shaped if sizes is not None else _shaped_kept
    shaper = _shaper_of(font, job.language, small, tracking_em, job.right_to_left, fallback)
    return shaped(shaper, lines, small, sizes)


# A shaper keeps nothing of a title: those that follow one another are set by the same one.
@lru_cache(maxsize=16)
def _shaper_of(
    font: OpenFont,
    language: str | None,
    small: bool,
    tracking_em: float,
    right_to_left: bool,
    fallback: tuple[OpenFont, ...],
) -> RunShaper:
    return RunShaper(
        font,
        language=language,
        features={"smcp": True} if small else {},
        tracking_em=tracking_em,
        right_to_left=right_to_left,
        fallback=fallback,
    )


def _shaped(
    shaper: RunShaper, lines: tuple[str, ...], small: bool, sizes: OpticalSizes | None
) -> ShapedTitle:
    if small:
        _refuse_false_small_capitals(shaper, " ".join(lines))
    title = ShapedTitle(
        lines=lines,
        shaper=shaper,
        language=shaper.language,
        small_capitals=small,
        sizes=sizes,
    )
    _refuse_wild_length(title, shaper.tracking_em)
    return title


def _refuse_wild_length(title: ShapedTitle, tracking_em: float) -> None:
    """Refuse a length that damaged widths give, or kerning that is damaged."""
    left, _bottom, right, _top = title.run.ink
    most_em = (WIDEST_EM + abs(tracking_em)) * (len(title.text) + 1)
    if not right - left <= most_em:  # so that what is no number does not pass
        raise FontBrokenError(
            f"{title.font.name} sets this title {right - left:.0f} times its size long",
            where="--font",
            remedy="its widths are damaged: give a whole TTF or OTF file",
        )


# The last few are kept, since remedies run the same title in other places and other sizes.
_shaped_kept = lru_cache(maxsize=6)(_shaped)


def _fallback(name: str) -> OpenFont:
    try:
        return open_font(name)
    except FontError as fault:
        fault.where = "--fallback"
        raise


def _refuse_false_small_capitals(shaper: RunShaper, text: str) -> None:
    """Small letters that the font has no small capitals for are refused, never faked."""
    plain = [
        char
        for char in sorted(set(text))
        if char.upper() != char
        and char.isalpha()
        and [glyph.gid for glyph in shaper.shape(char)] == [shaper.sole_glyph(char)]
    ]
    if plain:
        raise FontError(
            f"{shaper.font.name} has no small capitals for {' '.join(plain[:8])}",
            where="--case",
            remedy="take --case capitals, or a font with small capitals: see 'spinefit fonts'",
        )
