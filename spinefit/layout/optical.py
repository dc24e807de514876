"""How large can each setting be where the font draws its letters for their size?

In: a title whose letters change with the size (an ``opsz`` axis, in points: OpenType axis
registry). Out: layouts as of `search`, each limit being the largest size that fits in the letters
of just that size. That size is a fixed point: it is sought from the top down among sizes of the
axis, then narrowed, and at last laid again at the size as it is written down, to 0.001 pt.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from spinefit.catalogue import TitleWords
from spinefit.geometry import UsablePanel
from spinefit.job.resolved import ResolvedJob
from spinefit.layout.search import laid_again, search
from spinefit.layout.standing import Layout, LayoutKey, key_of
from spinefit.shaping.title import ShapedTitle
from spinefit.tolerances import PAST_SHARE, STATED_PT
from spinefit.units import mm_from_pt, pt_from_mm, round_down_pt
from spinefit.vocabulary import Orientation

_SAMPLES = 6  # sizes of the axis that are tried; letters change slowly with their size
_WITHIN_PT = 0.0004  # less than half of the step to which a limit is written down
_MOST_STEPS = 60
_ROUNDS = 4  # a split that is best in the letters of one size may not be so in the next
_LABEL_ROUNDS = 12  # and texts beside a title grow by whole sizes of a drawer


def largest_pt(limit_pt: Callable[[float], float], optical: tuple[float, float]) -> float:
    """The largest size that fits in letters drawn for it, to 0.001 pt; 0 where none does.

    Args:
        limit_pt: the largest size of the letters drawn for a size; both in points.
        optical: from which to which size letters change.

    >>> largest_pt(lambda size_pt: 8 + size_pt / 5, (6, 72))
    10.0
    """
    least, most = optical

    def room_pt(size_pt: float) -> float:
        return limit_pt(size_pt) - size_pt

    ratio = (most / least) ** (1 / _SAMPLES) if 0 < least < most else 1.0
    samples = [most, *(least * ratio**step for step in range(_SAMPLES - 1, -1, -1))]
    above = most
    for size_pt in samples:
        room = room_pt(size_pt)
        if room >= 0:
            break
        above = size_pt
    else:  # no size of the axis fits: smaller letters are drawn as for its least
        return max(0.0, round_down_pt(min(limit_pt(least), least)))
    if size_pt == most:  # larger letters are all drawn as for its greatest
        return round_down_pt(limit_pt(most))
    found = round_down_pt(_narrowed(room_pt, size_pt, above))
    while found > 0 and room_pt(found) < 0:
        found = round_down_pt(found - STATED_PT / 2)
    after = round(found + STATED_PT, 3)
    return after if room_pt(after) >= 0 else found


def _narrowed(room_pt: Callable[[float], float], fits: float, above: float) -> float:
    """The size between one that fits and one that does not at which there is no room left."""
    for step in range(_MOST_STEPS):
        if above - fits <= _WITHIN_PT:
            break
        # The limit in the letters of either end is near the answer, since letters change slowly.
        end = fits if step % 3 == 0 else above
        guess = end + room_pt(end) * (1 + PAST_SHARE) if step % 3 < 2 else (fits + above) / 2
        if not fits < guess < above:
            guess = (fits + above) / 2
        if room_pt(guess) >= 0:
            fits = guess
        else:
            above = guess
    return fits


def search_optical(
    job: ResolvedJob, title: ShapedTitle, panel: UsablePanel, words: TitleWords
) -> tuple[Layout, ...]:
    """Every layout asked for, its limit being the largest size in letters of its own.

    Splits are sought in the letters of the size asked for or of the font's usual one, then in
    those of the largest sizes that were found, until no other split turns up.

    Args:
        job: the resolved job.
        title: its title in the letters of any size.
        panel: its usable panel, before clearance.
        words: small words of the title's language.
    """
    known: dict[LayoutKey, Layout] = {}
    wanted, tried = [title], [title]
    for _ in range(_LABEL_ROUNDS if title.stack else _ROUNDS):
        for one in wanted:
            for layout in search(job, one, panel, words):
                if key_of(layout) not in known:
                    known[key_of(layout)] = _at_largest(job, title, words, layout)
        best: dict[tuple[Orientation, int], Layout] = {}
        for layout in known.values():
            key = layout.candidate.orientation, len(layout.group.texts)
            if key not in best or layout.limit.size_mm > best[key].limit.size_mm:
                best[key] = layout
        found = [one.title for one in best.values()]
        if title.stack:  # in the next size up another text may be larger, and want another split
            found += [title.at_size(_just_above_pt(one)) for one in best.values()]
        wanted = list({id(one): one for one in found}.values())
        wanted = [one for one in wanted if one not in tried]
        tried += wanted
    return tuple(known[key] for key in sorted(known, key=lambda key: key[:3]))


def _just_above_pt(layout: Layout) -> float:
    return round(round_down_pt(pt_from_mm(layout.limit.size_mm)) + STATED_PT, 3)


def _at_largest(job: ResolvedJob, title: ShapedTitle, words: TitleWords, layout: Layout) -> Layout:
    """A layout in the letters of the largest size that fits in them."""

    @cache
    def of_title(own: ShapedTitle) -> Layout:
        return laid_again(job, own, words, layout)._replace(at_size=at_size)

    def at_size(size_pt: float) -> Layout:
        return of_title(title.at_size(size_pt))

    assert title.optical is not None  # or there would be nothing to solve
    size_pt = largest_pt(lambda size_pt: pt_from_mm(at_size(size_pt).limit.size_mm), title.optical)
    found = at_size(size_pt)
    if size_pt > 0:
        # A quarter of a step more, so that rounding down to steps gives that very size again.
        limit = found.limit._replace(size_mm=mm_from_pt(size_pt + STATED_PT / 4))
        found = found._replace(limit=limit)
    return found
