"""What is the least change after which all texts of a back fit?

In: a plan that does not fit, the roles that find no room, and a way to plan again. Out: the
changes that were planned again and found to work, cheapest first: another size, another
panel, then leaving texts out in the order of ISO 6357, the imprint before the subtitle.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from spinefit.errors import ImpossibleBackError
from spinefit.plan.model import BackPlan, BackText, Role
from spinefit.plan.reports import BackReport, PlanRemedy

__all__ = ["remedies_for"]

_LEFT_OUT = (Role.IMPRINT, Role.SUBTITLE, Role.DATE, Role.AUTHOR)
"""What may be left out, first things first; the title and the volume stay (ISO 6357)."""


def remedies_for(
    plan: BackPlan, failing: Iterable[Role], again: Callable[[BackPlan], BackReport]
) -> tuple[PlanRemedy, ...]:
    """Changes that make everything fit.

    Args:
        plan: what does not fit.
        failing: the roles that find no room.
        again: plans a changed back, without remedies of its own.
    """
    roles = tuple(failing)
    tries = (
        *_other_sizes(plan),
        *_other_labels(plan, roles),
        *_other_panels(plan, roles),
        *_left_out(plan, roles),
    )
    found: dict[str, PlanRemedy] = {}
    for change, cost, what, other in tries:
        if change in found:
            continue
        try:
            report = again(other)
        except ImpossibleBackError:  # no room beside a label
            continue
        if report.fits:
            title_pt = next(one.set_pt for one in report.texts if one.role is Role.TITLE)
            text = f"{what}: then the title stands at {title_pt:g} pt."
            found[change] = PlanRemedy(change, text, title_pt, cost)
    return tuple(found.values())


def _other_sizes(plan: BackPlan) -> Iterator[tuple[str, int, str, BackPlan]]:
    """Sizes that were asked for, left open."""
    asked = [text for text in plan.texts if text.size_pt is not None]
    if not asked and plan.lettering.size_pt is None:
        return
    names = " and ".join(str(text.role) for text in asked) or "title"
    freed = tuple(replace(text, size_pt=None) for text in plan.texts)
    other = replace(plan, texts=freed, lettering=replace(plan.lettering, size_pt=None))
    yield "size", 1, f"Leave the size of the {names} open", other


def _other_labels(
    plan: BackPlan, failing: tuple[Role, ...]
) -> Iterator[tuple[str, int, str, BackPlan]]:
    """The size of a label left open, on which some text finds no room."""
    names = {text.label for text in plan.texts if text.role in failing and text.label is not None}
    given = {text.label for text in plan.texts if text.label_size_mm is not None} & names
    if given:
        freed = tuple(
            replace(text, label_size_mm=None) if text.label in given else text
            for text in plan.texts
        )
        said = " and ".join(f"'{name}'" for name in sorted(map(str, given)))
        yield (
            "label-size",
            2,
            f"Leave the size of the label {said} open",
            replace(plan, texts=freed),
        )


def _other_panels(
    plan: BackPlan, failing: tuple[Role, ...]
) -> Iterator[tuple[str, int, str, BackPlan]]:
    """A text that finds no room moved to a panel of its own."""
    bands = plan.spine.bands or len(plan.spine.bands_at_mm or ())
    if not bands:
        return
    for text in plan.texts:
        if text.role not in failing:
            continue
        for panel in range(bands + 1, 0, -1):
            other = replace(
                plan,
                texts=_with(plan, replace(text, panel=panel, label=None, label_size_mm=None)),
            )
            yield "panel", 2, f"Put the {text.role} into panel {panel}", other


def _with(plan: BackPlan, changed: BackText) -> tuple[BackText, ...]:
    return tuple(changed if text.role is changed.role else text for text in plan.texts)


def _left_out(
    plan: BackPlan, failing: tuple[Role, ...]
) -> Iterator[tuple[str, int, str, BackPlan]]:
    """Texts left out one after another, and last of all just those that find no room."""
    present = [role for role in _LEFT_OUT if any(text.role is role for text in plan.texts)]
    tries = [tuple(present[: count + 1]) for count in range(len(present))]
    own = tuple(role for role in present if role in failing)
    if own and set(own) == set(failing):
        tries.insert(0, own)
    for roles in tries:
        texts = tuple(text for text in plan.texts if text.role not in roles)
        names = " and ".join(f"the {role}" for role in roles)
        yield "leave-out", 4, f"Leave out {names}", replace(plan, texts=texts)
