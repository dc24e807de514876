"""Which settings of the title are possible, and how large can each be?

The entry point of the layout stage. In: the job, its shaped title, its usable panel. Out: a
`Layout` for every orientation and number of lines, with its exact largest size. For each
number of lines the split with the least greatest line, and beside it a second one where
another split gives a larger size or reads better within a tenth of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from spinefit.catalogue import TitleWords
from spinefit.geometry import Limit, OutlinePoints, UsablePanel, largest, turn_box, usable_panel
from spinefit.geometry.shapes import Ring
from spinefit.job.model import Shape
from spinefit.job.resolved import ResolvedJob
from spinefit.layout.candidates import Candidate, candidates
from spinefit.layout.group import (
    Group,
    columns_of,
    group_of,
    leading_em,
    pillar_of,
    vertical_reach,
)
from spinefit.layout.placing import placed_outlines
from spinefit.layout.splits import Split, Splitter, end_bounds
from spinefit.layout.title_rules import line_penalty
from spinefit.shaping.outline import Box, Point
from spinefit.shaping.run import ShapedRun
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import BreakWords, Centre, Orientation, Turn

if TYPE_CHECKING:
    from spinefit.geometry.polygons import Ink

__all__ = ["Layout", "laid_again", "search"]

_LARGER = 1 + 1e-9  # a second split must be larger by more than rounding


class Layout(NamedTuple):
    """One setting of the title and how large it can be.

    Attributes:
        candidate: orientation, reading, turn.
        group: its lines at one em.
        title: the title whose ink this is.
        limit: the largest size, em in mm, and what sets it.
        panel: the panel it stands in; the whole back for lettering over the bands.
        split: why this split is listed: least width, size, sense, as typed, whole.
        over_bands: True for lettering along the whole back over its bands.
        nearest_mm: for a panel that is no plain rectangle, the distance in mm from the ink to
            the parts of its outline that are no sides of its box, at a size (em in mm);
            None for a plain rectangle.
        floats: True where the group has no fixed place along the spine, so that it stands
            where custom puts it (a quarter down) and its limit is that of the whole height.
        cut: whether words may be broken, and the split; None for a pillar.
    """

    candidate: Candidate
    group: Group
    title: ShapedTitle
    limit: Limit
    panel: UsablePanel
    split: str
    over_bands: bool
    floats: bool
    nearest_mm: Callable[[float], float] | None = None
    cut: tuple[BreakWords, Split] | None = None


def search(
    job: ResolvedJob, title: ShapedTitle, panel: UsablePanel, words: TitleWords
) -> tuple[Layout, ...]:
    """Every layout asked for, fitting or not, in the order transverse, longitudinal, pillar.

    Args:
        job: the resolved job.
        title: its shaped title.
        panel: its usable panel, before clearance.
        words: small words of the title's language.

    Raises:
        FieldError: more lines asked for than the title has pieces.
    """
    found: list[Layout] = []
    wanted = candidates(job, title)
    tries = _Tries(job, title, panel, words)
    for candidate in wanted:
        found.extend(tries.of(candidate))
    found.extend(_over_bands(job, title, panel, words, wanted))
    return tuple(found)


class _Tries:
    """The splits and sizes of one title in one panel."""

    def __init__(
        self, job: ResolvedJob, title: ShapedTitle, panel: UsablePanel, words: TitleWords
    ) -> None:
        self._job = job
        self._title = title
        self._panel = panel
        self._words = words
        self._leading = leading_em(title, job.lettering.leading_em, job.rules)
        self._splitters: dict[BreakWords, Splitter] = {}
        self._best: dict[tuple[BreakWords, int], Split] = {}

    def of(self, candidate: Candidate) -> Iterator[Layout]:
        """Layouts of one orientation."""
        if candidate.orientation is Orientation.PILLAR and self._title.sets_columns:
            yield from self._columns(candidate)
            return
        if candidate.orientation is Orientation.PILLAR:
            group = pillar_of(self._title, self._job.rules)
            yield self._layout(candidate, group, "whole")
            return
        for lines in candidate.line_counts:
            if lines <= len(self._title.run.pieces):
                yield from self._of_lines(candidate, lines, BreakWords.NEVER)
            yield from self._broken(candidate, lines)

    def _columns(self, candidate: Candidate) -> Iterator[Layout]:
        """Columns of upright characters, cut so that the longest is as short as can be."""
        title = self._title
        run = title.run

        def length(first: int, to: int) -> float:
            box = title.column(run.line_text(first, to)).box
            return 0.0 if box is None else box[3] - box[1]

        splitter = self._splitter_of(run, length)
        for count in candidate.line_counts:
            if not splitter.least_lines <= count <= splitter.count:
                continue
            split = splitter.best_within(count, splitter.least_width(count))
            assert split is not None  # count is among those that can be
            texts = [run.line_text(first, last) for first, last in split]
            group = columns_of(
                title,
                texts,
                leading=self._leading,
                rules=self._job.rules,
                penalty=splitter.penalty_of(split),
            )
            yield self._layout(candidate, group, self._why(count))

    def _broken(self, candidate: Candidate, lines: int) -> Iterator[Layout]:
        """Splits that break a word, where the binder allows it and they break one."""
        mode = self._job.lettering.break_words
        if mode is BreakWords.NEVER or lines == 1:
            return
        along = candidate.orientation is Orientation.LONGITUDINAL
        if along and lines <= len(self._title.run.pieces):
            return
        for layout in self._of_lines(candidate, lines, mode):
            if any(layout.group.broken):
                yield layout

    def _of_lines(self, candidate: Candidate, lines: int, mode: BreakWords) -> Iterator[Layout]:
        splitter = self._splitter(mode)
        if not splitter.least_lines <= lines <= splitter.count:
            return
        first = self._layout_of(candidate, mode, self._least(mode, lines), self._why(lines))
        yield first
        if lines in (splitter.least_lines, splitter.count):
            return  # there is only the one split
        larger = self._larger(candidate, mode, lines, first)
        if larger is not None:
            yield larger
        best = larger or first
        sense = self._sense(candidate, mode, lines, best)
        if sense is not None and sense.group.texts not in (first.group.texts, best.group.texts):
            yield sense

    def _why(self, lines: int) -> str:
        if lines == 1:
            return "whole"
        typed = lines == len(self._title.lines)
        return "as typed" if typed else "least width"

    def _splitter(self, mode: BreakWords) -> Splitter:
        if mode not in self._splitters:
            run = self._title.run_broken(mode)

            def width(first: int, to: int) -> float:
                box = run.line_ink(first, to)
                return box[2] - box[0]

            self._splitters[mode] = self._splitter_of(run, width)
        return self._splitters[mode]

    def _splitter_of(self, run: ShapedRun, width: Callable[[int, int], float]) -> Splitter:
        """What cuts a run into lines, or columns, of which ``width`` is the length in em."""
        last = len(run.pieces) - 1

        def penalty(first: int, to: int) -> float:
            return line_penalty(
                run.line_text(first, to),
                is_last=to == last or run.pieces[to].forced_after,
                in_word=run.pieces[to].in_word,
                words=self._words,
            )

        return Splitter(
            count=len(run.pieces),
            forced_after=tuple(piece.forced_after for piece in run.pieces),
            width=width,
            penalty=penalty,
        )

    def _least(self, mode: BreakWords, lines: int) -> Split:
        """The split with the least greatest line; ties broken by sense and shape."""
        key = (mode, lines)
        if key not in self._best:
            splitter = self._splitter(mode)
            found = splitter.best_within(lines, splitter.least_width(lines))
            assert found is not None  # least_lines <= lines <= count, so there is one
            self._best[key] = found
        return self._best[key]

    def _larger(
        self, candidate: Candidate, mode: BreakWords, lines: int, first: Layout
    ) -> Layout | None:
        """Another split that can be larger, where the height of the group limits the first.

        Only the tops of the first line and the bottoms of the last can make a difference,
        and few of them differ.
        """
        run = self._title.run_broken(mode)
        splitter = self._splitter(mode)
        best, size = None, first.limit.size_mm
        for first_to, last_from in end_bounds(run, splitter):
            width = splitter.least_width(lines, first_line_to=first_to, last_line_from=last_from)
            if width == float("inf"):
                continue
            top = run.line_ink(0, first_to)[3]
            bottom = run.line_ink(last_from, splitter.count - 1)[1]
            box = self._outer_box(candidate, lines, width, top, bottom)
            if self._size_of(candidate, box) <= size * _LARGER:
                continue
            split = splitter.best_within(
                lines, width, first_line_to=first_to, last_line_from=last_from
            )
            if split is None:
                continue
            layout = self._layout_of(candidate, mode, split, "size")
            if layout.limit.size_mm > size * _LARGER:
                best, size = layout, layout.limit.size_mm
        return best

    def _sense(
        self, candidate: Candidate, mode: BreakWords, lines: int, best: Layout
    ) -> Layout | None:
        """The split that reads best among those within a tenth of the best size."""
        share = self._job.rules.value("lines.sense_share")
        splitter = self._splitter(mode)
        bound = self._widest_at(candidate, best, share)
        run = self._title.run_broken(mode)
        found: Layout | None = None
        for first_to, last_from in ((None, None), *end_bounds(run, splitter)):
            split = splitter.best_within(
                lines, bound, first_line_to=first_to, last_line_from=last_from
            )
            least = best.group.penalty if found is None else found.group.penalty
            if split is None or splitter.penalty_of(split) >= least:
                continue
            layout = self._layout_of(candidate, mode, split, "sense")
            if layout.limit.size_mm >= share * best.limit.size_mm:
                found = layout
            if first_to is None and found is not None:
                break  # nothing reads better than the best of all that are narrow enough
        return found

    def _widest_at(self, candidate: Candidate, best: Layout, share: float) -> float:
        """Greatest line width in em that can still be set at a share of the best size."""
        size_mm = best.limit.size_mm * share
        along = candidate.turn is not Turn.NONE
        room_mm = self._panel.height_mm if along else self._panel.width_mm
        if not self._panel.is_plain or size_mm <= 0:
            return max(best.group.widths_em) / share
        if room_mm is None:
            return float("inf")
        return (room_mm - 2 * self._job.lettering.clearance_mm) / size_mm

    def _outer_box(
        self, candidate: Candidate, lines: int, width: float, top: float, bottom: float
    ) -> Box:
        depth = self._leading * (lines - 1)
        reach = vertical_reach(self._title, top, bottom, depth, self._centre(candidate))
        return self._limiting(candidate, (-width / 2, reach[1], width / 2, reach[0]))

    def _limiting(self, candidate: Candidate, box: Box) -> Box:
        """The box that limits the size: a group free to move up and down counts from its middle."""
        if not self._floats(candidate):
            return box
        left, bottom, right, top = box
        return left, (bottom - top) / 2, right, (top - bottom) / 2

    def _size_of(self, candidate: Candidate, box: Box) -> float:
        """An upper bound of the size of a group with that box, exact in a plain rectangle."""
        if not self._panel.is_plain:
            return float("inf")
        turned = turn_box(box, candidate.turn)
        return self._limit(candidate, turned, lambda: ()).size_mm

    def _centre(self, candidate: Candidate) -> Centre:
        asked = self._job.lettering.centre
        if asked is not Centre.AUTO:
            return asked
        along = candidate.orientation is Orientation.LONGITUDINAL
        capitals = along and self._title.has_case and self._job.spine is not None
        return Centre.CAPITALS if capitals else Centre.INK

    def _floats(self, candidate: Candidate) -> bool:
        return (
            candidate.orientation is Orientation.TRANSVERSE
            and self._job.spine is not None
            and self._panel.number is None
            and self._panel.is_plain
        )

    def _layout_of(self, candidate: Candidate, mode: BreakWords, split: Split, why: str) -> Layout:
        group = group_of(
            self._title,
            self._title.run_broken(mode),
            split,
            leading=self._leading,
            centre=self._centre(candidate),
            penalty=self._splitter(mode).penalty_of(split),
        )
        return self._layout(candidate, group, why)._replace(cut=(mode, split))

    def again(self, layout: Layout) -> Layout:
        """The split of another title's layout in this one's letters."""
        if layout.cut is None:
            return next(iter(self.of(layout.candidate)))
        mode, split = layout.cut
        return self._layout_of(layout.candidate, mode, split, layout.split)

    def _layout(self, candidate: Candidate, group: Group, why: str) -> Layout:
        box = turn_box(self._limiting(candidate, group.box), candidate.turn)
        pillar = candidate.orientation is Orientation.PILLAR

        @cache
        def ink() -> Ink:
            from spinefit.geometry.polygons import ink_polygon

            placed = placed_outlines(self._title, group, pillar=pillar)
            return ink_polygon(placed, turn=candidate.turn)

        def outlines() -> tuple[Ring, ...]:
            from spinefit.geometry.polygons import ink_rings

            return ink_rings(ink())

        limit = self._limit(candidate, box, outlines)

        def nearest_mm(size_mm: float) -> float:
            from spinefit.geometry.polygons import distance_to_shape

            return distance_to_shape(ink(), self._panel, centre_mm=limit.centre_mm, size_mm=size_mm)

        return Layout(
            candidate=candidate,
            group=group,
            title=self._title,
            limit=limit,
            nearest_mm=None if self._panel.is_plain else nearest_mm,
            panel=self._panel,
            split=why,
            over_bands=False,
            floats=self._floats(candidate),
        )

    def _limit(self, candidate: Candidate, box: Box, outlines: OutlinePoints) -> Limit:
        return largest(
            self._panel,
            box,
            outlines,
            clearance_mm=self._job.lettering.clearance_mm,
            wanted_mm=self._wanted_place(candidate),
        )

    def _wanted_place(self, candidate: Candidate) -> Point | None:
        """Where custom puts lettering across an unbanded back whose panel is no rectangle."""
        panel, spine = self._panel, self._job.spine
        across = candidate.orientation is Orientation.TRANSVERSE
        if panel.is_plain or not across or spine is None or panel.number is not None:
            return None
        if panel.middle_from_head_mm is None or panel.back_height_mm is None:
            return None
        share = self._job.rules.value("ends.from_head")
        from_head_mm = spine.from_head_mm or share * panel.back_height_mm
        return 0.0, panel.middle_from_head_mm - from_head_mm


def _over_bands(
    job: ResolvedJob,
    title: ShapedTitle,
    panel: UsablePanel,
    words: TitleWords,
    wanted: tuple[Candidate, ...],
) -> Iterator[Layout]:
    """Lettering along the whole back over its bands: listed, never advised."""
    whole = _whole_back(job, panel)
    if whole is None:
        return
    for candidate in wanted:
        if candidate.orientation is Orientation.LONGITUDINAL and 1 in candidate.line_counts:
            one_line = candidate._replace(line_counts=range(1, 2))
            for layout in _Tries(job, title, whole, words).of(one_line):
                yield layout._replace(over_bands=True)


def _whole_back(job: ResolvedJob, panel: UsablePanel) -> UsablePanel | None:
    """The whole back over its bands; None where there are none, or its height is not known."""
    spine = job.spine
    if spine is None or panel.number is None or spine.height_mm is None:
        return None
    bare = spine._replace(bands=0, bands_at_mm=None, title_panel=1, typed=frozenset())
    return usable_panel(bare, Shape(), job.rules)


def laid_again(job: ResolvedJob, title: ShapedTitle, words: TitleWords, layout: Layout) -> Layout:
    """A layout with its lines broken at the same places, in letters of other proportions.

    Args:
        job: the resolved job.
        title: the same words in the other letters.
        words: small words of the title's language.
        layout: the layout found in its own letters.
    """
    again = _Tries(job, title, layout.panel, words).again(layout)
    return again._replace(over_bands=layout.over_bands)
