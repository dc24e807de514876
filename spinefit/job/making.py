"""By which method is a title lettered, and in which font, where nobody said?

In: what was said. Out: the method's row, of blocked foil with what it holds on its stock with its
die, and the name of a font; what was assumed is named.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from spinefit import catalogue
from spinefit.catalogue import Method
from spinefit.errors import FieldError, FontError
from spinefit.job.model import Job, Lettering
from spinefit.vocabulary import Stock

T = TypeVar("T")

DEFAULT_METHOD = "paperback-cover"
_LABEL_METHOD = "paper-label"
_FOIL_LABEL, _FOIL_CASE = "leather-label", "blocked-case"
_BANDS_METHOD = "hand-letters"
_WITH_SERIFS = 2  # of more usual fonts the first is the sturdiest with serifs


def method_for(job: Job, assumed: list[str]) -> Method:
    """The method that was named, or the usual one for what else was said."""
    if job.lettering.tools is not None:
        from spinefit.job.tools import tools_method

        method = tools_method(job.method, assumed)
        _refuse_die(job, method)
        return method
    if isinstance(job.method, Method):
        method = job.method
    elif job.method is not None:
        method = catalogue.method(job.method)
    else:
        key = _usual_method(job)
        method = catalogue.method(key)
        why = ", since raised bands are handwork" if key == _BANDS_METHOD else ""
        assumed.append(f"method: a {method.name}{why}")
    return _blocked(job, method, assumed)


def _usual_method(job: Job) -> str:
    """The method of a job that names none, by what else it says."""
    of_labels = (job.front_board, job.recess, job.old_lettering, job.label_size, job.lap_mm)
    on_label = any(one is not None for one in of_labels)
    banded = job.spine is not None and bool(job.spine.bands or job.spine.bands_at_mm)
    if job.stock is not None or job.die is not None:
        is_label = on_label or banded or job.stock is Stock.SMOOTH_LEATHER
        return _FOIL_LABEL if is_label else _FOIL_CASE
    if on_label or job.parts:
        return _LABEL_METHOD
    return _BANDS_METHOD if banded else DEFAULT_METHOD


def _blocked(job: Job, method: Method, assumed: list[str]) -> Method:
    """The method with what its foil holds on its stock, with its die; others as they are."""
    if method.stock is None or method.die is None:
        _refuse_die(job, method)
        return method
    for what, said, usual_one in (
        ("stock", job.stock, method.stock), ("die", job.die, method.die),
    ):  # fmt: skip
        if said is None:
            assumed.append(f"{what}: {usual_one.replace('-', ' ')}")
    return catalogue.blocked(method, job.stock or method.stock, job.die or method.die)


def _refuse_die(job: Job, method: Method) -> None:
    """Refuse a stock or a die of what is not blocked."""
    for where, said in (("--stock", job.stock), ("--die", job.die)):
        if said is not None:
            raise FieldError(
                f"a {method.name} is not blocked with foil", value=said, where=where,
                remedy=f"give --method {_FOIL_LABEL} or {_FOIL_CASE}, or leave it out",
            )  # fmt: skip


def font_for(lettering: Lettering, method: Method, choice: int, assumed: list[str]) -> str:
    """The font that was named, or one of those usual for the method, with why it was taken."""
    if lettering.font is not None:
        return lettering.font
    usual_ones = catalogue.usual_fonts(method)
    font = usual_ones[min(choice, len(usual_ones) - 1)]
    if lettering.tools is None:
        why = ""
        if font != catalogue.default_font():
            serifs = " with serifs" if choice == 0 and len(usual_ones) > _WITH_SERIFS else ""
            why = f", the sturdiest at hand{serifs}, as a {method.name} needs a sturdy letter"
        assumed.append(f"font: {font}{why}")
    return font


def first_font(
    tries: Sequence[Callable[[], T]],
    looks_well: Callable[[T], bool],
    size_pt: Callable[[T], float | None],
) -> T:
    """The first of what comes of several fonts that looks well; else the smallest that fits.

    Else the first of all; fonts that lack a letter are passed over.

    Args:
        tries: one for each font, in the order in which they are wished for; the last only for
            letters that all others lack.
        looks_well: whether no other need be tried.
        size_pt: the size that it takes, None where it does not fit.

    Raises:
        FontError: every font lacks one; that of the first.
    """
    found: list[T] = []
    faults: list[FontError] = []
    for attempt in tries:
        if found and attempt is tries[-1]:
            break
        try:
            found.append(attempt())
        except FontError as fault:
            faults.append(fault)
            continue
        if looks_well(found[-1]):
            return found[-1]
    if not found:
        raise faults[0]
    sizes = [(at, size) for at, one in enumerate(found) if (size := size_pt(one)) is not None]
    return found[min(sizes, key=lambda each: each[1], default=(0, 0.0))[0]]
