"""Which settings of a title decide what is advised?

In: the job, its title in each size, its panel. Out: every setting, judged; of a title alone in a
plain rectangle `Settings`, which searches and judges them when they are asked for. A number of
lines decides nothing where no setting in it can come within a tenth of the best size, nor be as
large as the roomiest across: most titles could be set in a dozen ways, and few of them decide.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property
from itertools import chain
from typing import overload

from spinefit import catalogue
from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob
from spinefit.judgement.custom import Aim, is_across_by_custom
from spinefit.judgement.judged import Judged
from spinefit.judgement.laying import layouts_of
from spinefit.judgement.offer import Offer, letters_hold, offer_of
from spinefit.judgement.reading import GRAVE, is_alone, most_lines, near_share
from spinefit.judgement.sizing import judge_in, judge_layouts
from spinefit.layout.by_lines import InLines, by_lines
from spinefit.layout.standing import Layout, sets_columns_here
from spinefit.shaping.title import ShapedTitle
from spinefit.units import pt_from_mm, round_down_pt
from spinefit.vocabulary import BreakWords, Orientation


def settings_of(
    job: ResolvedJob, titles: Sequence[ShapedTitle], panel: UsablePanel
) -> Sequence[Judged]:
    """Every setting of a title, judged.

    Raises:
        FieldError: more lines asked for than the title has pieces, or a shape that none has.
    """
    title = titles[0]
    if _bounds_tell(job, title, panel):
        offer = offer_of(job, title)
        if letters_hold(job, title, offer.smallest_pt()):
            words = catalogue.title_words(job.language)
            groups, over = by_lines(job, title, panel, words)
            return Settings(job, offer, title, panel, groups, over)
    return judge_layouts(job, title, layouts_of(job, titles, panel))


def _bounds_tell(job: ResolvedJob, title: ShapedTitle, panel: UsablePanel) -> bool:
    """Whether the narrowest and the lowest split bound what is advised of all."""
    lettering, method = job.lettering, job.method
    asked = (
        lettering.size_pt,
        lettering.group_shape,
        job.recess,
        job.old_lettering,
        job.call_number,
    )
    if any([one is not None for one in asked]) or not panel.is_plain:
        return False
    if title.only_pt is not None or title.optical is not None or title.stack:
        return False
    if lettering.orientation is Orientation.PILLAR or sets_columns_here(job, title):
        return False
    if lettering.break_words is not BreakWords.NEVER:
        return False
    finer = method.stroke_advised is not None or method.counter_advised is not None
    return not (finer and is_across_by_custom(job))


def largest_in(settings: Sequence[Judged], orientation: Orientation) -> Judged | None:
    """Of settings across or along the one that could be largest; None where there is none."""
    if isinstance(settings, Settings):
        return settings.largest(orientation)
    own = [one for one in settings if one.orientation is orientation]
    return max(own, key=lambda one: one.largest_pt, default=None)


class Settings(Sequence[Judged]):
    """Every setting of a title, each searched and judged when it is first asked for.

    Args:
        job: the resolved job.
        offer: the sizes that can be set, all of which hold the letters.
        title: the title.
        panel: what it stands in.
        groups: the layouts, by orientation and number of lines.
        over: gives those over the bands.
    """

    def __init__(
        self,
        job: ResolvedJob,
        offer: Offer,
        title: ShapedTitle,
        panel: UsablePanel,
        groups: Sequence[InLines],
        over: Callable[[], Iterable[Layout]],
    ) -> None:
        self._job, self._offer, self._groups, self._over = job, offer, groups, over
        self._panel, self._capital_em = panel, title.cap_height_em
        self._aim = Aim(job)
        self._judge = judge_in(job, offer, self._aim)
        self._found: dict[int, list[Judged]] = {}
        self._rooms_pt: dict[int, float] = {}
        self._bounds: dict[int, tuple[float, float]] = {}
        self._places: dict[Orientation, list[int]] = {}
        for at, one in enumerate(groups):
            self._places.setdefault(one.orientation, []).append(at)

    def _in(self, orientation: Orientation) -> list[int]:
        """The places of the groups of an orientation."""
        return self._places.get(orientation, [])

    def _of(self, at: int) -> list[Judged]:
        """Those of a number of lines."""
        found = self._found.get(at)
        if found is None:
            found = self._found[at] = list(map(self._judge, self._groups[at].layouts()))
        return found

    @cached_property
    def _all(self) -> tuple[Judged, ...]:
        own = chain.from_iterable(map(self._of, range(len(self._groups))))
        return (*own, *map(self._judge, self._over()))

    @overload
    def __getitem__(self, at: int) -> Judged: ...

    @overload
    def __getitem__(self, at: slice) -> tuple[Judged, ...]: ...

    def __getitem__(self, at: int | slice) -> Judged | tuple[Judged, ...]:
        return self._all[at]

    def __iter__(self) -> Iterator[Judged]:
        return iter(self._all)

    def __len__(self) -> int:
        return len(self._all)

    def tries(self, orientation: Orientation) -> bool:
        """Whether any stands so."""
        return bool(self._in(orientation))

    def deciding(self, orientation: Orientation) -> list[Judged]:
        """Of an orientation those among which the best is, and what decides why; in their order."""
        own = self._in(orientation)
        return list(chain.from_iterable(map(self._of, self._near(own, orientation)))) if own else []

    def largest(self, orientation: Orientation) -> Judged | None:
        """As of `largest_in`, no lines over bands among them."""
        return self._largest(self._in(orientation), lambda one: True)[0]

    def largest_sound(
        self, orientation: Orientation, most: float
    ) -> tuple[Judged | None, list[Judged]]:
        """The largest without a grave fault, and what faulty ones were met that are larger.

        Args:
            orientation: the orientation.
            most: how many lines it may have.
        """
        grave = self._job.rules.value(GRAVE)
        own = [at for at in self._in(orientation) if self._groups[at].lines <= most]
        found, met = self._largest(own, lambda one: one.layout.group.penalty < grave)
        return found, [] if found is None else [
            one for one in met if one.largest_pt >= found.largest_pt
        ]

    def _largest(
        self, own: list[int], is_wanted: Callable[[Judged], bool]
    ) -> tuple[Judged | None, list[Judged]]:
        """Of some numbers of lines the largest that is wanted, and those met that are not."""
        best: tuple[float, int] | None = None
        found: Judged | None = None
        met: list[Judged] = []
        for at in sorted(own, key=self._room_pt, reverse=True):
            # Of those as large the first one counts.
            if best is not None and (self._room_pt(at), -at) <= best:
                continue
            here = list(map(self._judge, self._groups[at].largest()))
            if not all(map(is_wanted, here)):
                here = self._of(at)
            for one in here:
                if not is_wanted(one):
                    met.append(one)
                elif best is None or (one.largest_pt, -at) > best:
                    best, found = (one.largest_pt, -at), one
        return found, met

    def _near(self, own: list[int], orientation: Orientation) -> list[int]:
        """Of the numbers of lines of an orientation those that decide."""
        job, most = self._job, most_lines(self._job, orientation)
        share, grave = near_share(job), job.rules.value(GRAVE)
        across = orientation is Orientation.TRANSVERSE
        near: list[int] = []
        usual: list[Judged] = []
        fitting: list[Judged] = []
        set_pt = largest_pt = 0.0
        for at in sorted(own, key=self._bounds_pt, reverse=True) if across else own:
            lines = self._groups[at].lines
            if not across and lines > 2 and self._aim_pt(at, math.inf) < share * set_pt:
                break  # the more lines, the smaller
            at_most_pt, room_pt = self._bounds_pt(at)
            if at_most_pt > room_pt:
                continue
            if at_most_pt < share * set_pt and not (across and room_pt >= largest_pt):
                continue
            near.append(at)
            for one in self._of(at):
                if not one.fits:
                    continue
                fitting.append(one)
                if lines <= most and one.layout.group.penalty < grave and not is_alone(one):
                    usual.append(one)
                    set_pt, largest_pt = max(set_pt, one.set_pt), max(largest_pt, one.largest_pt)
        if not near:
            return own[:1]
        if not self._decide(usual, fitting, across=across):
            return own
        if not all([one.is_read_with_ease for one in usual if one.set_pt >= share * set_pt]):
            # Where that is so more lines than usual may be read; along the round has a say too.
            own_fit = [at for at in own if self._groups[at].lines > most or not across]
            near += filter(self._may_fit, own_fit)
        return sorted({*near})

    def _decide(self, usual: list[Judged], fitting: list[Judged], *, across: bool) -> bool:
        """Whether those of one orientation that were looked at leave nothing to the others.

        Of which they are it depends whether small words have to be joined, and can be: all that
        is left out is smaller, and across it cannot be read where none of these can.

        Args:
            usual: the sound ones of usual numbers of lines: no grave fault, no line of small words.
            fitting: all of them that fit.
            across: whether they stand across.
        """
        rules = self._job.rules
        pinch, grave = rules.value("legibility.failing_arcmin"), rules.value(GRAVE)
        sound = all([one.layout.group.penalty < grave for one in fitting if not is_alone(one)])
        if not usual or not (sound or any(map(is_alone, fitting))):
            return False
        read = any([one.arcminutes >= pinch for one in usual])
        return read or (across and not any([one.arcminutes >= pinch for one in fitting]))

    def _room_pt(self, at: int) -> float:
        """What no setting in a number of lines can be larger than."""
        found = self._rooms_pt.get(at)
        if found is None:
            found = round_down_pt(pt_from_mm(self._groups[at].size_mm()))
            self._rooms_pt[at] = found
        return found

    def _aim_pt(self, at: int, largest_pt: float) -> float:
        """The largest advised size of settings in a number of lines that can be so large."""
        group = self._groups[at]
        wanted_pt, _why = self._aim.wanted(
            group.orientation, self._panel, self._capital_em, group.height_em(), largest_pt
        )
        return self._offer.at_most(wanted_pt)

    def _bounds_pt(self, at: int) -> tuple[float, float]:
        """What no setting in a number of lines is larger than: its advised and its largest size."""
        found = self._bounds.get(at)
        if found is None:
            room_pt = self._room_pt(at)
            found = self._bounds[at] = self._aim_pt(at, room_pt), room_pt
        return found

    def _may_fit(self, at: int) -> bool:
        at_most_pt, room_pt = self._bounds_pt(at)
        return at_most_pt <= room_pt
