"""Which settings of the texts of one label are possible, and how large can each be?

In: the job, the leading text with all others, the usable panel. Out: a `Layout` for each group of
lines worth listing, with its exact largest size, as of `spinefit.layout.search` for a title alone.
"""

from __future__ import annotations

from spinefit.catalogue import TitleWords
from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob
from spinefit.layout.divisions import SetLines
from spinefit.layout.sense import is_good_shape, sense_of
from spinefit.layout.stack import Stacker, gap_em_of
from spinefit.layout.standing import Candidate, Layout, Standing
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import Orientation


class LabelSearch:
    """The splits and sizes of several texts, one under another in one label.

    Listed are the groups that no other is both narrower and lower than, and beside those within a
    tenth of the largest the ways to break their texts that read best.
    """

    def __init__(
        self, job: ResolvedJob, title: ShapedTitle, panel: UsablePanel, words: TitleWords
    ) -> None:
        self._job, self._title, self._panel = job, title, panel
        self._words = sense_of(words, job.rules, job.lettering.small_words)

    def of(self, candidate: Candidate) -> list[Layout]:
        """Layouts of one orientation, those of the fewest lines first."""
        standing = Standing(self._job, self._title, self._panel, candidate)
        stacker = self._stacker(candidate)
        every = stacker.lowest(candidate.line_counts)
        # Those where no article or line of small words stands alone, which may be less low.
        sound = stacker.lowest(candidate.line_counts, most_penalty=self._words.stranded)
        groups = [*dict.fromkeys((*every, *sound))]
        found = [standing.layout(stacker.group(ways), "size") for ways in groups]
        best = max(found, key=lambda one: one.limit.size_mm)
        share = self._job.rules.value("lines.sense_share")
        known = {one.group.texts for one in found}
        for layout, ways in zip(tuple(found), groups, strict=True):
            width_em = standing.widest_at(best, share)
            sense = standing.layout(stacker.group(stacker.reading_best(ways, width_em)), "sense")
            reads_better = sense.group.penalty < layout.group.penalty or not is_good_shape(
                layout.group.shape
            )
            near = sense.limit.size_mm >= share * best.limit.size_mm
            if reads_better and near and sense.group.texts not in known:
                known.add(sense.group.texts)
                found.append(sense)
        return sorted(found, key=lambda one: one.group.line_count)

    def again(self, layout: Layout) -> Layout:
        """A layout with its texts broken at the same places, in the letters of another size."""
        lines = layout.group.lines
        assert isinstance(lines, SetLines)  # it is one of a label
        standing = Standing(self._job, self._title, self._panel, layout.candidate)
        stacker = self._stacker(layout.candidate)
        return standing.layout(stacker.group(stacker.again(lines.splits)), layout.split)

    def _stacker(self, candidate: Candidate) -> Stacker:
        job, panel = self._job, self._panel
        along = candidate.orientation is Orientation.LONGITUDINAL
        measure_mm = panel.height_mm if along else panel.width_mm
        if measure_mm is not None:
            # What a hand or a printer may be out of place lies beyond the ends of a rule too.
            measure_mm -= 2 * max(job.lettering.clearance_mm, job.method.placing.value)
        return Stacker(
            self._title,
            gap_em=gap_em_of(self._title, job.lettering.leading_em, job.rules),
            measure_mm=measure_mm if panel.is_plain else None,
            short_share=job.rules.value("ruling.short_share"),
            words=self._words,
            # More lines than are looked for may have been asked for.
            most_lines=max((int(job.rules.value("lines.most")), *candidate.line_counts)),
        )
