"""What is a remedy, and how is a changed job run?

Shared by the modules that look for remedies. A `Remedy` holds the layout that its changed job
advises, so that nothing is claimed that a run did not show.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any, NamedTuple

from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.judged import Judged
from spinefit.shaping.title import ShapedTitle
from spinefit.tolerances import SAME_SHARE

Trial = Callable[[ResolvedJob], tuple[Judged | None, Sequence[Judged]]]
"""Runs a changed job; gives the advised layout, or None, and all layouts."""


class Remedy(NamedTuple):
    """A change that was run and found to work.

    Attributes:
        change: larger, smaller, split, tracking, leading, font, turn, capitals, as-typed,
            condensed, panel, wider-label, cover-old, old-panel, old-clear, abbreviate,
            break-word, over-bands, cover; font+case; or another pair, as "condensed+tracking".
        options: the options of the command line that make the change (for cover-old and
            cover in place of those of the back); empty where it is no change of
            options (another title, over the bands, a cover of unknown size).
        outcome: the layout it gives; None where the place cannot be measured.
        cost: 1, the setting alone (size, lines, tracking, leading); 2, another letter or
            another way round (capitals, a font, across or along); 3, another place or other
            words (panel, label cut anew, a letter of another design, abbreviations); 4, what
            authorities advise against (a word broken, over the bands); 5, off the back.
        facts: what the sentence needs beside.
    """

    change: str
    options: str
    outcome: Judged | None
    cost: int
    facts: Mapping[str, object] = MappingProxyType({})

    def rank(self) -> tuple[float, ...]:
        """The cheapest first, and of those the one with the highest capitals."""
        height_mm = 0.0 if self.outcome is None else self.outcome.cap_height_mm
        return self.cost, -height_mm


class Need(NamedTuple):
    """The judged job that a remedy is looked for, and the means to run it changed.

    Attributes:
        job, title: the resolved job and its shaped title.
        judged: all its layouts.
        best: the advised one, or None.
        trial: runs a changed job.
    """

    job: ResolvedJob
    title: ShapedTitle
    judged: Sequence[Judged]
    best: Judged | None
    trial: Trial

    @property
    def is_readable(self) -> bool:
        """Whether the advised layout is read with ease."""
        return self.best is not None and self.best.is_read_with_ease

    @property
    def is_tight(self) -> bool:
        """Whether the advised layout is placed without room."""
        return self.best is not None and self.best.tight

    def helps(self, outcome: Judged | None) -> bool:
        """Whether a run makes it fit, be read, or be placed with room, whichever was lacking.

        What is too small must become larger in its letters, not only in points.
        """
        best = self.best
        if outcome is None or best is None:
            return outcome is not None
        worth_while = self.job.rules.value("remedies.worth_while")
        larger = outcome.cap_height_mm >= worth_while * best.cap_height_mm
        if not self.is_readable and larger and outcome.set_pt > best.set_pt:
            return True
        as_large = outcome.cap_height_mm >= (1 - SAME_SHARE) * best.cap_height_mm
        return self.is_tight and not outcome.tight and as_large


def run(
    need: Need, change: str, options: str, job: ResolvedJob, cost: int, **facts: object
) -> Iterator[Remedy]:
    """The remedy that a changed job is, where its run helps."""
    outcome, _all = need.trial(job)
    if need.helps(outcome):
        yield Remedy(change, options, outcome, cost, facts)


def size_option(size_pt: float) -> str:
    """The option that asks for a size, with all the figures of one in another point."""
    return f"--size {size_pt:.10g}"


def with_lettering(job: ResolvedJob, **changes: Any) -> ResolvedJob:
    """The job lettered otherwise."""
    return job._replace(lettering=job.lettering._replace(**changes))
