"""Which settings of the title are possible, and how large can each be?

The entry point of the layout stage. In: the job, its shaped title, its usable panel. Out: a
`Layout` for every orientation and number of lines, with its exact largest size. For each
number of lines the split with the least greatest line, and beside it a second one where
another split gives a larger size or reads better within a tenth of it. Which orientations are
tried is for `standing`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import chain
from typing import TYPE_CHECKING

from spinefit.catalogue import TitleWords
from spinefit.geometry import UsablePanel, usable_panel
from spinefit.job.model import Shape
from spinefit.job.resolved import ResolvedJob
from spinefit.layout.divisions import Divisions, divisions_of, splitter_of
from spinefit.layout.group import columns_of, group_of, leading_em, pillar_of
from spinefit.layout.sense import is_good_shape, sense_of
from spinefit.layout.splits import Ends, Split
from spinefit.layout.standing import Candidate, Layout, Standing, candidates
from spinefit.shaping.title import ShapedTitle
from spinefit.tolerances import SAME_COST, SAME_SHARE
from spinefit.vocabulary import BreakWords, GroupShape, Orientation

if TYPE_CHECKING:
    from spinefit.layout.label import LabelSearch

_MOST_LAID = 60  # of one shape and number of lines
_SIZE_DECIMALS = 9  # a millionth of what can be measured: less is the order of adding up
_ALWAYS_SHAPED = 2  # so few lines are of a good shape whatever their widths


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
    wanted = candidates(job, title)
    in_panel = _search_of(job, title, panel, words)
    found = chain.from_iterable(map(in_panel.of, wanted))
    return (*found, *over_bands(job, title, panel, words, wanted))


def over_bands(
    job: ResolvedJob,
    title: ShapedTitle,
    panel: UsablePanel,
    words: TitleWords,
    wanted: tuple[Candidate, ...],
) -> Iterator[Layout]:
    """Lettering along the whole back over its bands: listed, never advised, and on no cut label."""
    spine = job.spine
    if spine is None or job.label is not None or panel.number is None or spine.height_mm is None:
        return
    bare = spine._replace(bands=0, bands_at_mm=None, title_panel=1, typed=frozenset())
    whole = usable_panel(bare, Shape(), job.rules)
    for candidate in wanted:
        if candidate.orientation is Orientation.LONGITUDINAL and 1 in candidate.line_counts:
            one_line = candidate._replace(line_counts=range(1, 2))
            for layout in PanelSearch(job, title, whole, words).of(one_line):
                yield layout._replace(over_bands=True)


def laid_again(job: ResolvedJob, title: ShapedTitle, words: TitleWords, layout: Layout) -> Layout:
    """A layout with its lines broken at the same places, in letters of other proportions.

    Args:
        job: the resolved job.
        title: the same words in the other letters.
        words: small words of the title's language.
        layout: the layout found in its own letters.
    """
    again = _search_of(job, title, layout.panel, words).again(layout)
    return again._replace(over_bands=layout.over_bands)


def _search_of(
    job: ResolvedJob, title: ShapedTitle, panel: UsablePanel, words: TitleWords
) -> PanelSearch | LabelSearch:
    """What searches one title, or the texts of a label."""
    if not title.stack:
        return PanelSearch(job, title, panel, words)
    from spinefit.layout.label import LabelSearch

    return LabelSearch(job, title, panel, words)


class PanelSearch:
    """The splits and sizes of one title in one panel."""

    def __init__(
        self, job: ResolvedJob, title: ShapedTitle, panel: UsablePanel, words: TitleWords
    ) -> None:
        self._job = job
        self._title = title
        self._panel = panel
        self._words = sense_of(words, job.rules, job.lettering.small_words)
        self._leading = leading_em(title, job.lettering.leading_em, job.rules)
        self._divisions: dict[BreakWords, Divisions] = {}

    def of(self, candidate: Candidate) -> list[Layout]:
        """Layouts of one orientation."""
        standing = Standing(self._job, self._title, self._panel, candidate)
        if candidate.orientation is Orientation.PILLAR:
            if self._job.lettering.group_shape is not None:
                return []
            if self._title.sets_columns:
                return list(self._columns(standing))
            return [standing.layout(pillar_of(self._title, self._job.rules), "whole")]
        return [one for lines in candidate.line_counts for one in self.in_lines(standing, lines)]

    def in_lines(self, standing: Standing, lines: int) -> list[Layout]:
        """Layouts of one orientation in one number of lines."""
        found: list[Layout] = []
        if lines <= len(self._title.run.pieces):
            found = self._of_lines(standing, self._whole_words, lines)
        if self._job.lettering.break_words is not BreakWords.NEVER:
            found += self._broken(standing, lines)
        return found

    def largest_in_lines(self, standing: Standing, lines: int) -> list[Layout]:
        """Of those of `in_lines` that break no word the first, and a larger one if there is one."""
        return self._largest(standing, self._whole_words, lines)

    def may_have(self, candidate: Candidate) -> range:
        """The numbers of lines into which the title is cut, no word being broken."""
        splitter, counts = self._whole_words.splitter, candidate.line_counts
        return range(max(counts.start, splitter.least_lines), min(counts.stop, splitter.count + 1))

    def size_bound_mm(self, standing: Standing, lines: int) -> float:
        """As of `InLines`: as wide as the narrowest split, as high as the lowest ends."""
        division = self._whole_words
        top, bottom = self._ends(lines)
        width, depth = division.splitter.least_width(lines), division.leading * (lines - 1)
        return standing.size_bound_mm(width, top, bottom, depth)

    def least_height_em(self, lines: int) -> float:
        """As of `InLines`."""
        top, bottom = self._ends(lines)
        return top - bottom + self._leading * (lines - 1)

    def _ends(self, lines: int) -> tuple[float, float]:
        """The lowest top of first lines and the highest bottom of last ones."""
        if lines == 1:
            return self._title.ascent_em, -self._title.descent_em
        return self._whole_words.reach

    def _columns(self, standing: Standing) -> Iterator[Layout]:
        """Columns of upright characters, cut so that the longest is as short as can be."""
        title, run = self._title, self._title.run

        def lengths(first: int, last: int) -> list[float]:
            boxes = [title.column(run.line_text(first, to)).box for to in range(first, last + 1)]
            return [0.0 if box is None else box[3] - box[1] for box in boxes]

        splitter = splitter_of(run, lengths, self._words)
        for count in standing.candidate.line_counts:
            if not splitter.least_lines <= count <= splitter.count:
                continue
            split = splitter.best_within(count, splitter.least_width(count))
            assert split is not None  # count is among those that can be
            group = columns_of(
                title,
                [run.line_text(first, last) for first, last in split],
                leading=self._leading,
                rules=self._job.rules,
                penalty=splitter.penalty_of(split),
            )
            yield standing.layout(group, self._why(count))

    def again(self, layout: Layout) -> Layout:
        """The split of another title's layout in this one's letters."""
        if layout.cut is None:
            return next(iter(self.of(layout.candidate)))
        mode, split = layout.cut
        standing = Standing(self._job, self._title, self._panel, layout.candidate)
        return self._laid(standing, self._division(mode), split, layout.split)

    def _broken(self, standing: Standing, lines: int) -> list[Layout]:
        """Splits that break a word, where they break one."""
        along = standing.candidate.orientation is Orientation.LONGITUDINAL
        if lines == 1 or (along and lines <= len(self._title.run.pieces)):
            return []
        division = self._division(self._job.lettering.break_words)
        found = [one for one in self._of_lines(standing, division, lines) if one.group.breaks]
        return [*found, *self._broken_beside(standing, division, found)]

    def _broken_beside(
        self, standing: Standing, division: Divisions, found: Sequence[Layout]
    ) -> Iterator[Layout]:
        """The word broken at the next place, where one is broken: CORI / OLANUS, CORIO / LANUS.

        Whoever divides a word wants to see where else it divides; authorities name no one place.
        """
        shaped = (
            self._job.lettering.group_shape is not None
        )  # one beside it may be of another shape
        if shaped or not found or found[0].group.breaks != 1 or found[0].cut is None:
            return
        pieces, splitter = self._title.run_broken(division.mode).pieces, division.splitter
        split, known = found[0].cut[1], [layout.cut for layout in found]
        line = next(at for at, (_first, last) in enumerate(split) if pieces[last].in_word)
        (first, at), (_next, end) = split[line : line + 2]
        beside = [
            (*split[:line], (first, to), (to + 1, end), *split[line + 2 :])
            for to in (at - 1, at + 1)
            if first <= to < end and pieces[to].in_word
        ]
        beside = [other for other in beside if (division.mode, other) not in known]
        if beside:
            widest = min(beside, key=lambda other: max(splitter.widths_of(other)))
            yield self._laid(standing, division, widest, "beside")

    def _of_lines(self, standing: Standing, division: Divisions, lines: int) -> list[Layout]:
        if not division.may_have(lines):
            return []
        if self._job.lettering.group_shape is not None:
            return self._of_shape(standing, division, lines, self._job.lettering.group_shape)
        found = self._largest(standing, division, lines)
        if not division.has_choice(lines):
            return found
        first, best = found[0], found[-1]
        sense = self._sense(standing, division, lines, first, best)
        if sense is not None and sense.cut not in (first.cut, best.cut):
            found.append(sense)
        if all([one.group.lines.strands_small_words for one in found]):
            joined = division.joined(lines)
            if joined is not None:
                found.append(self._laid(standing, division, joined, "sense"))
        return found

    def _largest(self, standing: Standing, division: Divisions, lines: int) -> list[Layout]:
        """The split with the least greatest line, and a larger one if there is one."""
        first = self._laid(standing, division, division.least(lines), self._why(lines))
        if not division.has_choice(lines):
            return [first]
        larger = self._larger(standing, division, lines, first)
        return [first] if larger is None else [first, larger]

    def _of_shape(
        self, standing: Standing, division: Divisions, lines: int, shape: GroupShape
    ) -> list[Layout]:
        """The largest of all splits of a shape; of those as large, the one that reads best.

        In a panel that is no rectangle, of the narrowest `_MOST_LAID`, since each is laid there.
        """
        splitter, depth = division.splitter, division.leading * (lines - 1)

        def size_mm(split: Split) -> float:
            if not standing.is_plain:
                return self._laid(standing, division, split, "shape").limit.size_mm
            top, bottom = division.tops[split[0][1]], division.bottoms[split[-1][0]]
            width = max(splitter.widths_of(split))
            return standing.size_bound_mm(width, top, bottom, depth)

        splits = sorted(division.of_shape(shape, lines), key=splitter.looks_of)
        if not standing.is_plain:
            splits.sort(key=lambda split: max(splitter.widths_of(split)))
            splits = splits[:_MOST_LAID]
        best = max(splits, key=lambda split: round(size_mm(split), _SIZE_DECIMALS), default=None)
        return [] if best is None else [self._laid(standing, division, best, "shape")]

    def _why(self, lines: int) -> str:
        if lines == 1:
            return "whole"
        typed = lines == len(self._title.lines)
        return "as typed" if typed else "least width"

    @cached_property
    def _whole_words(self) -> Divisions:
        return self._division(BreakWords.NEVER)

    def _division(self, mode: BreakWords) -> Divisions:
        if mode not in self._divisions:
            run = self._title.run_broken(mode)
            self._divisions[mode] = divisions_of(run, mode, self._words, self._leading)
        return self._divisions[mode]

    def _laid(self, standing: Standing, division: Divisions, split: Split, why: str) -> Layout:
        call = self._job.call_number
        lines = division.lines(split)
        flush_left = call is not None and call.flush_left
        group = group_of(self._title, lines, centre=standing.centre, flush_left=flush_left)
        if self._title.nudges:
            from spinefit.layout.by_hand import moved_group

            group = moved_group(self._title, lines, group)
        return standing.layout(group, why, (division.mode, split))

    def _larger(
        self, standing: Standing, division: Divisions, lines: int, first: Layout
    ) -> Layout | None:
        """Another split that can be larger, where the height of the group limits the first.

        Only the tops of the first line and the bottoms of the last can make a difference,
        and few of them differ.
        """
        if standing.limited_by_lines(first) or standing.is_least_high(first, division.reach):
            return None
        splitter, depth = division.splitter, division.leading * (lines - 1)
        best, size_mm = None, first.limit.size_mm

        def may_be_larger(width: float, top: float, bottom: float) -> bool:
            return standing.size_bound_mm(width, top, bottom, depth) > size_mm * (1 + SAME_SHARE)

        least_width, (lowest, highest) = splitter.least_width(lines), division.reach
        if not may_be_larger(least_width, lowest, highest):
            return None
        for ends, top, bottom in division.ends:
            if not may_be_larger(least_width, top, bottom):
                continue
            width = splitter.least_width(lines, ends)
            if width == float("inf") or not may_be_larger(width, top, bottom):
                continue
            split = splitter.best_within(lines, width, ends)
            assert split is not None  # there is one of that width
            layout = self._laid(standing, division, split, "size")
            if layout.limit.size_mm > size_mm * (1 + SAME_SHARE):
                best, size_mm = layout, layout.limit.size_mm
        return best

    def _sense(
        self, standing: Standing, division: Divisions, lines: int, first: Layout, best: Layout
    ) -> Layout | None:
        """The split that reads best among those within a tenth of the best size.

        Args:
            standing: how the lines stand.
            division: the splits of the title.
            lines: how many lines.
            first: the split with the least greatest line.
            best: the largest one.
        """
        share = self._job.rules.value("lines.sense_share")
        least_mm = share * best.limit.size_mm
        known = best
        if first.limit.size_mm >= least_mm and first.group.penalty <= best.group.penalty:
            known = first
        # None is narrower than the first: only less penalty, or a good shape for want of one,
        # reads better.
        shaped = lines <= _ALWAYS_SHAPED or is_good_shape(known.group.shape)
        only_by_penalty = known is first and shaped
        if only_by_penalty and known.group.penalty <= 0:
            return None
        splitter = division.splitter
        bound = standing.widest_at(best, share)
        most = known.group.penalty + (-SAME_COST if only_by_penalty else SAME_COST)
        found: Layout | None = None
        for ends in _all_then(division):
            if splitter.least_penalty(lines, bound, ends) > most:
                if ends is None:
                    break  # the best of all that are narrow enough reads no better
                continue
            split = splitter.best_within(lines, bound, ends)
            assert split is not None  # there is one of such a penalty
            layout = self._laid(standing, division, split, "sense")
            shaped = lines <= _ALWAYS_SHAPED or is_good_shape(layout.group.shape)
            penalty = layout.group.penalty
            better = found is None or shaped or penalty < found.group.penalty - SAME_COST
            if layout.limit.size_mm >= least_mm and better:
                found, most = layout, penalty + (-SAME_COST if shaped else SAME_COST)
            if ends is None and found is not None:
                break  # nothing reads better than the best of all that are narrow enough
        return found


def _all_then(division: Divisions) -> Iterator[Ends | None]:
    """No bound on the ends of a group, then each that makes a difference to its ink."""
    yield None
    for bound in division.ends:
        yield bound.ends
