"""What is the least change after which all texts of a back fit, or a volume is like its set?

In: several texts on a back that do not fit, and the roles that find no room. Out: the changes that
were planned again and found to work, cheapest first: another size, another label or panel, then
leaving texts out in the order of ISO 6357, the imprint before the subtitle.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from spinefit.errors import ImpossibleBackError, SpinefitError
from spinefit.job.resolve import resolve
from spinefit.job.resolved import ResolvedJob
from spinefit.plan.model import BackPlan
from spinefit.plan.planner import plan
from spinefit.plan.result import Plan
from spinefit.plan.standing import Standing, job_in
from spinefit.vocabulary import Role

_LEFT_OUT = (Role.IMPRINT, Role.SUBTITLE, Role.DATE, Role.AUTHOR)
"""What may be left out, first things first; the title and the volume stay (ISO 6357)."""


class Change(NamedTuple):
    """A change after which the whole back fits, as planning it again showed.

    Attributes:
        change: a fixed word: size, label-size, panel, leave-out.
        names: of the texts, or of the labels, that are changed.
        panel: the panel that a text is put into; None for other changes.
        title_pt: the size at which the title then stands.
        cost: 1 (nothing but the setting) to 5.
    """

    change: str
    names: tuple[str, ...]
    panel: int | None
    title_pt: float
    cost: int


class _Try(NamedTuple):
    """A change to be tried, and the back so changed; as of `Change`."""

    change: str
    cost: int
    names: tuple[str, ...]
    back: BackPlan
    panel: int | None = None


def changes_for(found: Plan) -> tuple[Change, ...]:
    """Changes that make everything fit; none where it does, for a title alone or a set.

    None either beside a pattern, which says how the title is set.

    Args:
        found: the plan of one back.
    """
    own = found.backs[0]
    if found.fits or found.matched or len(found.backs) > 1 or own.is_single:
        return ()
    failing = found.volumes[0].failing
    changes: dict[str, Change] = {}
    for one in (
        *_other_sizes(own),
        *_other_labels(own, failing),
        *_other_panels(own, failing),
        *_left_out(own, failing),
    ):
        if one.change in changes:
            continue
        try:
            again = plan([("", one.back)])
        except ImpossibleBackError:  # no room beside a label
            continue
        if again.fits:
            title_pt = again.volumes[0].title.set_pt
            changes[one.change] = Change(one.change, one.names, one.panel, title_pt, one.cost)
    return tuple(changes.values())


def like_the_others(found: Plan) -> Iterator[tuple[str, ResolvedJob]]:
    """Every title that is set apart, as a job in the size, lines and direction of the others.

    For finding words or letters with which it fits so; several texts share what none is told of.
    """
    common = next(one for one in found.roles if one.role is Role.TITLE)
    standing = Standing(orientation=common.orientation, lines=common.lines, size_pt=common.set_pt)
    for own, volume in zip(found.backs, found.volumes, strict=True):
        if volume.apart is None or not own.is_single:
            continue
        try:
            yield volume.label, resolve(job_in(own, own.texts[0], standing))
        except SpinefitError:  # its title has not so many lines
            continue


def _other_sizes(own: BackPlan) -> Iterator[_Try]:
    """Sizes that were asked for, left open."""
    asked = tuple(str(text.role) for text in own.texts if text.size_pt is not None)
    if not asked and own.lettering.size_pt is None:
        return
    freed = tuple(replace(text, size_pt=None) for text in own.texts)
    other = replace(own, texts=freed, lettering=replace(own.lettering, size_pt=None))
    yield _Try("size", 1, asked or ("title",), other)


def _other_labels(own: BackPlan, failing: tuple[Role, ...]) -> Iterator[_Try]:
    """The size of a label left open, on which some text finds no room."""
    crowded = {text.label for text in own.texts if text.role in failing and text.label is not None}
    given = {text.label for text in own.texts if text.label_size_mm is not None} & crowded
    if given:
        freed = tuple(
            replace(text, label_size_mm=None) if text.label in given else text for text in own.texts
        )
        yield _Try("label-size", 2, tuple(sorted(map(str, given))), replace(own, texts=freed))


def _other_panels(own: BackPlan, failing: tuple[Role, ...]) -> Iterator[_Try]:
    """A text that finds no room moved to a panel of its own."""
    if not own.has_bands:
        return
    for text in own.texts:
        if text.role not in failing:
            continue
        for panel in range(own.bands + 1, 0, -1):
            moved = replace(text, panel=panel, label=None, label_size_mm=None)
            texts = tuple(moved if one.role is text.role else one for one in own.texts)
            yield _Try("panel", 2, (str(text.role),), replace(own, texts=texts), panel)


def _left_out(own: BackPlan, failing: tuple[Role, ...]) -> Iterator[_Try]:
    """Texts left out one after another, and first of all just those that find no room."""
    present = [role for role in _LEFT_OUT if any(text.role is role for text in own.texts)]
    tries = [tuple(present[: count + 1]) for count in range(len(present))]
    crowded = tuple(role for role in present if role in failing)
    if crowded and set(crowded) == set(failing):
        tries.insert(0, crowded)
    for roles in tries:
        texts = tuple(text for text in own.texts if text.role not in roles)
        yield _Try("leave-out", 4, tuple(map(str, roles)), replace(own, texts=texts))
