"""Which sizes can be set, and from which size on does the method hold the letters?

In: the job's method, the binder's own drawer if one was given, and the shaped title. Out: an
`Offer` of sizes in DTP points with the floor below which letters do not hold, and the letter
that is the weakest: the size below which a stroke is thinner, or a counter smaller, than the
method holds. Only letters that may be too fine are measured. Letters that are tools of their own
are not judged by a font's outlines.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from spinefit.geometry.gaps import closed_up_pair, gap_between
from spinefit.job.resolved import ResolvedJob
from spinefit.layout.group import placed_as_cut
from spinefit.layout.standing import Layout
from spinefit.shaping.glyphs import Outline
from spinefit.shaping.title import SetText, ShapedTitle
from spinefit.tolerances import SAME_PT, SAME_SHARE
from spinefit.units import mm_from_pt, pt_from_mm, step_down_pt
from spinefit.vocabulary import Letters, Sourced

if TYPE_CHECKING:
    from spinefit.judgement.own_sizes import UnheldText

_HELD_WITHIN_PT = 0.02  # a fifth of the finest step in which sizes are set
_STEP_UP = 1.01  # letters finer in larger sizes are outgrown, past the largest drawn for at last
_MOST_STEPS = 400
_MEASURED = ("stroke", "counter")


class Weakest(NamedTuple):
    """The letter that needs the largest size.

    Attributes:
        what: stroke or counter.
        letter: the characters it stands for.
        measured_em: its thinnest stroke, or the circle in its smallest counter, in em.
        rule: the limit of the method, in mm.
        needs_pt: the size at which it reaches the limit.
    """

    what: str
    letter: str
    measured_em: float
    rule: Sourced
    needs_pt: float


class Offer(NamedTuple):
    """The sizes a job can be set in.

    Attributes:
        sizes_pt: the drawer, rising; None where sizes are continuous.
        step_pt: step of continuous sizes.
        floor_pt: below it the letters do not hold, or are not to be had.
        floor: the rule that sets the floor.
        weakest: the letter that sets it, where a stroke or a counter does.
        of_method: the same without that letter; None where no letter sets the floor.
        touching: two letters that were closed up until they touch, where that spoils them; no
            size holds then.
        unheld: a text of the label whose own size cannot be set; likewise.
    """

    sizes_pt: tuple[float, ...] | None
    step_pt: float
    floor_pt: float
    floor: Sourced
    weakest: Weakest | None = None
    of_method: Offer | None = None
    touching: tuple[str, ...] = ()
    unheld: UnheldText | None = None

    def raised_by(self, weakest: Weakest | None) -> Offer:
        """The offer with the floor that its weakest letter asks for, if that is higher."""
        if weakest is None or self.unheld or weakest.needs_pt <= self.floor_pt:
            return self
        needs_pt, rule = weakest.needs_pt, weakest.rule
        return self._replace(floor_pt=needs_pt, floor=rule, weakest=weakest, of_method=self)

    def reaches(self, largest_pt: float) -> bool:
        """Whether a size that is offered and held is no larger than the largest that fits."""
        smallest_pt = self.smallest_pt()
        return self.holds(smallest_pt) and smallest_pt <= largest_pt

    def smallest_pt(self) -> float:
        """The smallest size offered that is not below the floor; else the largest there is."""
        if self.sizes_pt is None:
            return _step_up(self.floor_pt, self.step_pt)
        held = [size for size in self.sizes_pt if size >= self.floor_pt - SAME_PT]
        return held[0] if held else self.sizes_pt[-1]

    def at_most(self, size_pt: float) -> float:
        """The largest size offered up to ``size_pt``, or the smallest if none is so small."""
        smallest = self.smallest_pt()
        if self.sizes_pt is None:
            return max(smallest, step_down_pt(size_pt, self.step_pt))
        under = [size for size in self.sizes_pt if smallest <= size <= size_pt + SAME_PT]
        return under[-1] if under else smallest

    def nearest(self, size_pt: float, *, at_most_pt: float) -> float:
        """The size offered up to ``at_most_pt`` that is nearest to one wanted, in ratio.

        A drawer has what it has; of sizes without steps it is the largest up to the one wanted.
        """
        if self.sizes_pt is None:
            return self.at_most(size_pt)
        smallest = self.smallest_pt()
        held = [size for size in self.sizes_pt if smallest <= size <= at_most_pt + SAME_PT]
        return min(held, key=lambda size: max(size, size_pt) / min(size, size_pt), default=smallest)

    def at_least(self, size_pt: float) -> float:
        """The smallest size offered from ``size_pt`` up, or the largest if none is so large."""
        smallest = self.smallest_pt()
        if self.sizes_pt is None:
            return max(smallest, _step_up(size_pt, self.step_pt))
        over = [size for size in self.sizes_pt if size >= max(smallest, size_pt) - SAME_PT]
        return over[0] if over else self.sizes_pt[-1]

    def holds(self, size_pt: float) -> bool:
        """Whether a size is offered and not below the floor."""
        if self.touching or self.unheld or size_pt < self.floor_pt - SAME_PT:
            return False
        return self.sizes_pt is None or any(
            abs(size - size_pt) <= SAME_PT for size in self.sizes_pt
        )


@lru_cache(maxsize=64)
def _step_up(size_pt: float, step_pt: float) -> float:
    down = step_down_pt(size_pt, step_pt)
    return down if down >= size_pt - SAME_PT else round(down + step_pt, 6)


def offer_of(job: ResolvedJob, title: ShapedTitle) -> Offer:
    """The sizes of a job's method, or of the drawer given instead."""
    method = job.method
    own = job.lettering.sizes_pt
    sizes = own if own is not None else (method.sizes.values if method.sizes else None)
    floor_pt, floor = method.smallest.value, method.smallest
    if sizes is not None:
        floor_pt = 0.0 if own is not None else min(floor_pt, sizes[0])
        if (row := method.sizes) is not None:
            floor = Sourced(sizes[0], "pt", row.source, row.status)
    if method.smallest_cap is not None:
        cap_pt = pt_from_mm(
            method.smallest_cap.value / min(one.title.reading_height_em for one in title.texts)
        )
        if cap_pt > floor_pt:
            floor_pt, floor = cap_pt, method.smallest_cap
    least = job.rules["call_number.least_pt"]
    if job.call_number is not None and job.lettering.size_pt is None and floor_pt < least.value:
        floor_pt, floor = least.value, least
    touching = _touching(job, title)
    unheld = None
    if job.parts:
        from spinefit.judgement.own_sizes import unheld_text

        unheld = unheld_text(job, title)
    return Offer(sizes, method.step.value, floor_pt, floor, touching=touching, unheld=unheld)


def whose_floor(job: ResolvedJob, offer: Offer) -> str:
    """What no smaller size serves: the method, or a call number on the shelf."""
    is_own = offer.floor is job.rules["call_number.least_pt"]
    return "call number" if is_own else job.method.name


def _touching(job: ResolvedJob, title: ShapedTitle) -> tuple[str, ...]:
    """Two letters that touch by the tracking asked for, in what is blocked or cut; else none."""
    closed_up_em = -job.lettering.tracking_em
    if closed_up_em <= 0 or not job.method.parts_letters:
        return ()
    for one in title.texts:
        placed, _box = one.title.set_line(one.title.run.text)
        pair = closed_up_pair(placed, closed_up_em)
        if pair is not None:
            names = {curves: text for text, curves in one.title.inked_glyphs()}
            return tuple(names[placed[at][0]] for at in pair if placed[at][0] in names)
    return ()


def weakest_at(job: ResolvedJob, title: ShapedTitle, size_pt: float) -> Weakest | None:
    """The letter that the size at which a method holds the title goes by, where that is larger.

    Args:
        job: the resolved job.
        title: its shaped title.
        size_pt: the size to be lettered, in points.
    """
    return next(iter(failing_letters(job, title, size_pt)), None)


def failing_letters(job: ResolvedJob, title: ShapedTitle, size_pt: float) -> list[Weakest]:
    """The letters too fine for a method to hold at a size, by stroke and by counter.

    First what needs the largest size. Of blocked foil a few letters may be finer than the rest,
    and are warned of only: the k and the & of some text faces (rules.toml foil.few_letters).

    Args:
        job: as of `weakest_at`.
        title: as of `weakest_at`.
        size_pt: as of `weakest_at`.
    """
    fine = finer_letters(job, title, size_pt, as_advised=False)
    spared = 0.0
    if fine and job.method.stock is not None:
        inked = sum(not char.isspace() for char in title.text)
        spared = job.rules.value("foil.few_letters") * inked + SAME_SHARE
    seen: set[str] = set()
    for at, one in enumerate(fine):
        if one.letter not in seen:
            seen.add(one.letter)
            spared -= title.text.count(one.letter) * len(one.letter)
        if spared < 0:
            return fine[at:]
    return []


def letters_hold(job: ResolvedJob, title: ShapedTitle, size_pt: float) -> bool:
    """Whether a method holds a title at a size; arguments as of `weakest_at`."""
    return weakest_at(job, title, size_pt) is None


def finer_letters(
    job: ResolvedJob, title: ShapedTitle, size_pt: float, *, as_advised: bool
) -> list[Weakest]:
    """Letters too fine for a size, by stroke and by counter, first what needs the largest.

    Args:
        job: as of `weakest_at`.
        title: as of `weakest_at`.
        size_pt: as of `weakest_at`.
        as_advised: hold the letters against what is advised, not against what just holds.
    """
    method, size_mm = job.method, mm_from_pt(size_pt)
    if method.letters is Letters.TOOLS:
        return []
    rows = (
        (method.stroke_advised, method.counter_advised)
        if as_advised
        else (method.stroke, method.counter)
    )
    found = [each for one in title.texts for each in _finer(one, size_mm, rows)]
    return sorted(found, key=lambda one: -one.needs_pt)


def _finer(text: SetText, size_mm: float, rows: Sequence[Sourced | None]) -> Iterator[Weakest]:
    """The letters of one text that are finer than a row says, in em of the leading text."""
    own_mm = text.scale * size_mm
    listed = text.title.known_thinness or (0.0, 0.0)
    asked = [
        (at, rule)
        for at, rule in enumerate(rows)
        if rule is not None and rule.value > listed[at] * own_mm
    ]
    if not asked:
        return
    sturdy, glyphs = _sturdy(text.title.font, tuple(asked), own_mm), text.title.run.gids
    if sturdy.issuperset(glyphs):
        return
    finer = False
    for letter, curves in text.title.inked_glyphs():
        for at, rule in asked:
            own_em = _widths_of(curves)[at].below(rule.value / own_mm)
            if own_em is not None:
                finer = True
                measured_em = own_em * text.scale
                needs_pt = pt_from_mm(rule.value / measured_em)
                yield Weakest(_MEASURED[at], letter, measured_em, rule, needs_pt)
    if not finer:
        sturdy.update(glyphs)


@lru_cache(maxsize=64)
def _sturdy(_face: Hashable, _rows: tuple[tuple[int, Sourced], ...], _own_mm: float) -> set[int]:
    """The glyphs of a face that are known to be no finer than some rows say at a size."""
    return set()


class Close(NamedTuple):
    """Two letters that stand nearer than the method keeps open.

    Attributes:
        gap_mm: the gap between them.
        rule: the limit, in mm.
        missing_em: what it lacks, in em of the size.
        in_line: True where they stand in one line, False in two.
    """

    gap_mm: float
    rule: Sourced
    missing_em: float
    in_line: bool


def held_from(job: ResolvedJob, title: ShapedTitle, size_pt: float) -> Weakest | None:
    """The letter that sets the least size the method holds, where that is above ``size_pt``.

    Where the font draws its letters for the size, each size is tried in letters of its own:
    larger ones until one holds, then between that and the last that does not.
    """
    weakest = weakest_at(job, title.at_size(size_pt), size_pt)
    if weakest is None or title.optical is None:
        return weakest
    below_pt, above_pt = size_pt, weakest.needs_pt
    for _ in range(_MOST_STEPS):
        finer = weakest_at(job, title.at_size(above_pt), above_pt)
        if finer is None:
            break
        below_pt, weakest = above_pt, finer
        above_pt = max(finer.needs_pt, above_pt * _STEP_UP)
    while above_pt - below_pt > _HELD_WITHIN_PT:
        middle_pt = (below_pt + above_pt) / 2
        if letters_hold(job, title.at_size(middle_pt), middle_pt):
            above_pt = middle_pt
        else:
            below_pt = middle_pt
    weakest = weakest_at(job, title.at_size(below_pt), below_pt) or weakest
    return weakest._replace(needs_pt=above_pt)


class _Width:
    """What is known of a glyph's thinnest stroke, or its smallest counter."""

    def __init__(self, measure: Callable[[float], float | None]) -> None:
        self._measure = measure
        self._at_least_em = 0.0
        self._em: float | None = None

    def below(self, limit_em: float) -> float | None:
        """Its width in em where that is below a limit, measured once."""
        if self._em is None and limit_em > self._at_least_em:
            self._em = self._measure(limit_em)
            self._at_least_em = limit_em
        return self._em if self._em is not None and self._em < limit_em else None


@lru_cache(maxsize=4096)
def _widths_of(curves: Outline) -> tuple[_Width, _Width]:
    """Of a glyph's stroke and of its counter."""
    from spinefit.geometry import polygons, strokes

    return (
        _Width(lambda limit_em: strokes.thinner_stroke(curves, limit_em)),
        _Width(lambda limit_em: polygons.least_counter_em(curves, below_em=limit_em)),
    )


def closest_letters(
    job: ResolvedJob, title: ShapedTitle, layout: Layout, size_pt: float
) -> Close | None:
    """Neighbouring letters, of one line or two, nearer than the method keeps open."""
    rule = job.method.gap
    if rule is None or job.method.letters is Letters.TOOLS or layout.group.shape == "pillar":
        return None
    size_mm = mm_from_pt(size_pt)
    if layout.cut is None or layout.group.set_lines:
        placed = layout.placed()
    else:
        mode, split = layout.cut
        placed = placed_as_cut(title.run_broken(mode), split, layout.group)
    found = gap_between(placed, at_most_em=rule.value / size_mm)
    if found is None:
        return None
    baselines = layout.group.baselines_em
    lines = {
        min(range(len(baselines)), key=lambda line: abs(baselines[line] - placed[glyph][2]))
        for glyph in (found.first, found.second)
    }
    missing_em = rule.value / size_mm - found.gap_em
    return Close(found.gap_em * size_mm, rule, missing_em, in_line=len(lines) == 1)
