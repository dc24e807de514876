"""How wide is a back by the making of its book, where nobody could measure it yet?

In: pages or leaves, their paper, endpapers, sewing and cover, as said; lengths in mm, grammage in
g/m2, bulk in cm3/g. Out: an `Estimate`, each figure a least and a greatest. The block is leaves
times the thickness of one, more or less by how paper is pressed; sewing and cover come on top. A
round makes the back longer over it, not wider across. Lettering is judged on the least, and an
estimate is never taken for a measurement. Source: the rows ``bulk`` of rules.toml, and ISO 534:
bulk is thickness over grammage.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from spinefit.catalogue import Rules
from spinefit.errors import FieldError
from spinefit.job import kinds as kind
from spinefit.job.checks import LARGEST_MM, usual
from spinefit.job.kinds import fields_of, option
from spinefit.job.paper import Counted, leaf_mm
from spinefit.vocabulary import BackForm, Cover, Sewing, Work

MAKING = "Back of a book not yet measured, by its making"

Range = tuple[float, float]
"""The least and the greatest, in mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bulk:
    """What the width of a back follows from; a number of pages or leaves may be a range."""

    extent: Counted | None = option(
        "extent", MAKING, kind.PAGES,
        "Pages, blank ones too, or a range: 304..336. What follows is an estimate.",
    )  # fmt: skip
    leaf_count: Counted | None = option(
        "leaf-count", MAKING, kind.LEAVES, "Leaves, instead of --extent."
    )
    caliper_mm: float | None = option(
        "caliper", MAKING, kind.CALIPER,
        "Thickness of one leaf: 100um, 0.1mm, 4mil; or 500ppi, pages in an inch.",
    )  # fmt: skip
    grammage_gsm: float | None = option(
        "grammage", MAKING, kind.GRAMMAGE, "Of the paper in g/m2, with --paper-bulk."
    )
    paper_bulk: float | None = option(
        "paper-bulk", MAKING, kind.PAPER_BULK,
        "Of the paper in cm3/g, a tenth of its volume, as its maker states it: 1.25.",
    )  # fmt: skip
    endpapers: int | None = option(
        "endpapers", MAKING, kind.ENDPAPERS,
        "Free leaves of endpaper, pastedowns not counted. [2; none in a limp cover or one section]",
    )  # fmt: skip
    sewing: Sewing | None = option(
        "sewing", MAKING, kind.one_of("HOW", Sewing),
        "sewn in sections, glued, or fold, one section. [glued in a limp cover, else either]",
    )  # fmt: skip
    cover: Cover | None = option(
        "cover", MAKING, kind.one_of("WHAT", Cover),
        "limp, case, or boards laced on. [by the kind of work; of a label nothing is added]",
    )  # fmt: skip


OF_MAKING = tuple(field.name for field in fields_of(Bulk))
"""Fields that stand for a width."""

EITHER = (
    (("width", "measured"), OF_MAKING),
    (("extent",), ("leaf-count",)),
    (("caliper",), ("grammage", "paper-bulk")),
)
"""Fields that say the same thing in two ways, of which one is given."""

_COVER_OF = {
    Work.PAPERBACK: Cover.LIMP, Work.CASE: Cover.CASE, Work.LIBRARY: Cover.CASE,
    Work.LEATHER: Cover.BOARDS,
}  # fmt: skip


class Estimate(NamedTuple):
    """How wide a back is likely to be; ranges of a least and a greatest, in mm.

    Attributes:
        of: what it follows from, in words.
        leaves: of the book, free endpapers not counted.
        endpapers: free leaves of them.
        leaf_mm: thickness of one leaf.
        block_mm: of all leaves, endpapers too, pressed.
        sewing_mm: what thread adds at the back.
        cover: what covers it; None where nothing is added for it.
        cover_mm: what that adds.
        back_mm: width of the back, straight across.
        over_round_mm: the back over a round that was not measured; None where there is none.
        case_mm: what is allowed over the round for a case that is made before the block is
            known; None for other books.
    """

    of: str
    leaves: tuple[int, int]
    endpapers: int
    leaf_mm: float
    block_mm: Range
    sewing_mm: Range
    cover: Cover | None
    cover_mm: Range
    back_mm: Range
    over_round_mm: Range | None
    case_mm: Range | None


def estimate(
    bulk: Bulk,
    work: Work,
    rules: Rules,
    assumed: list[str],
    *,
    form: BackForm,
    round_known: bool,
    board_mm: float | None,
) -> Estimate:
    """The width that a book's making gives its back.

    Args:
        bulk: the making as said, each value checked, in one way only.
        work: the kind of work, by which it is covered where nothing was said.
        rules: the figures of the trade.
        assumed: takes the defaults.
        form: whether the back is rounded.
        round_known: whether the round was measured.
        board_mm: thickness of a board, or None.

    Raises:
        FieldError: something is missing, or cannot go with the rest.
    """
    leaves, words = _leaves(bulk)
    leaf, paper = _leaf(bulk)
    cover = usual(
        bulk.cover, _COVER_OF.get(work), f"cover: {_COVER_OF.get(work, 'nothing added for it')}",
        assumed,
    )  # fmt: skip
    endpapers = _endpapers(bulk, cover, rules, assumed)
    loose, tight = rules.value("bulk.most"), rules.value("bulk.least")
    block_mm = (
        (leaves[0] + endpapers) * leaf * tight,
        (leaves[1] + endpapers) * leaf * loose,
    )
    sewing_mm = _sewing_mm(bulk, leaves, cover, rules, assumed)
    cover_mm = _cover_mm(cover, form, board_mm, rules, assumed)
    back_mm = _sum(block_mm, sewing_mm, cover_mm)
    if back_mm[1] > LARGEST_MM:
        raise FieldError(
            f"{words} of {paper} make a back of {back_mm[1]:.0f} mm", where="--extent",
            remedy="look at the figures and their units",
        )  # fmt: skip
    over_round_mm, case_mm = None, None
    if form is BackForm.ROUNDED and not round_known:
        over_round_mm = (
            back_mm[0] * rules.value("bulk.round_least"),
            back_mm[1] * rules.value("bulk.round_most"),
        )
        if cover is Cover.CASE:
            for_round_mm = rules.value("bulk.case_round_mm")
            case_mm = _sum(block_mm, (for_round_mm, for_round_mm))
    return Estimate(
        of=f"{words} of {paper}", leaves=leaves, endpapers=endpapers, leaf_mm=leaf,
        block_mm=block_mm, sewing_mm=sewing_mm, cover=cover, cover_mm=cover_mm, back_mm=back_mm,
        over_round_mm=over_round_mm, case_mm=case_mm,
    )  # fmt: skip


def refuse_both(said: frozenset[str]) -> None:
    """Refuse two ways of saying one thing.

    Args:
        said: names of the fields that were said.

    Raises:
        FieldError: both were.
    """
    for one, other in EITHER:
        if not (said.isdisjoint(one) or said.isdisjoint(other)):
            names = [next(name for name in way if name in said) for way in (one, other)]
            raise FieldError(
                f"beside --{names[0]}, which rules it out", where=f"--{names[1]}",
                remedy="a back is measured or estimated, in one way: leave out one of them",
            )  # fmt: skip


def said_otherwise(said: Iterable[str]) -> frozenset[str]:
    """Fields that would say again, in another way, what these say."""
    ways = [pair for one, other in EITHER for pair in ((one, other), (other, one))]
    names = frozenset(said)
    return frozenset(name for one, other in ways if names & {*one} for name in other)


def _leaves(bulk: Bulk) -> tuple[tuple[int, int], str]:
    """Least and greatest number of leaves, and how that was said."""
    given, noun = (bulk.extent, "pages") if bulk.extent is not None else (bulk.leaf_count, "leaves")
    if given is None:
        raise FieldError(
            "the number of pages is not known", where="--extent",
            remedy="give --extent or --leaf-count, or the measured --width",
        )  # fmt: skip
    least, most = given if isinstance(given, tuple) else (given, given)
    words = f"{least} {noun}" if least == most else f"{least} to {most} {noun}"
    if noun == "pages":
        odd = least % 2 or most % 2
        least, most = -(-least // 2), -(-most // 2)
        if odd:  # a leaf has two pages
            counted = f"{least}" if least == most else f"{least} to {most}"
            words += f" ({counted} leaves, one page blank)"
    return (least, most), words


def _leaf(bulk: Bulk) -> tuple[float, str]:
    """Thickness of a leaf in mm, and what paper that is."""
    if bulk.caliper_mm is not None:
        return bulk.caliper_mm, f"paper {bulk.caliper_mm:.4g} mm thick"
    if bulk.grammage_gsm is None:
        raise FieldError(
            "the thickness of a leaf is not known",
            where="--caliper" if bulk.paper_bulk is None else "--grammage",
            remedy="give --caliper, or --grammage with --paper-bulk",
        )
    if bulk.paper_bulk is None:
        raise FieldError(
            f"{bulk.grammage_gsm:g} g/m2 is a weight, and not how thick the paper is",
            where="--grammage",
            remedy="give --paper-bulk too, such as 1.25, as its maker states it; or --caliper",
        )
    found_mm = bulk.grammage_gsm * bulk.paper_bulk / 1000
    words = f"{bulk.grammage_gsm:g} g/m2, bulk {bulk.paper_bulk:g}"
    return leaf_mm(found_mm, "--paper-bulk"), words


def _endpapers(bulk: Bulk, cover: Cover | None, rules: Rules, assumed: list[str]) -> int:
    """Free leaves of endpaper, as thick as the others."""
    has_none = cover is Cover.LIMP or bulk.sewing is Sewing.FOLD
    number = 0 if has_none else int(rules.value("bulk.endpapers"))
    words = f"endpapers: {f'{number} free leaves, as thick as the others' if number else 'none'}"
    return usual(bulk.endpapers, number, words, assumed)


def _sewing_mm(
    bulk: Bulk, leaves: tuple[int, int], cover: Cover | None, rules: Rules, assumed: list[str]
) -> Range:
    """What thread adds at the back."""
    most_in_one = rules["bulk.section_leaves"]
    if bulk.sewing is Sewing.FOLD and leaves[0] > most_in_one.value:
        raise FieldError(
            f"{leaves[0]} leaves in one section", where="--sewing",
            remedy=f"one holds {most_in_one.value:g} at most: give sewn or glued",
        )  # fmt: skip
    least_mm, most_mm = rules.value("bulk.sewn_least_mm"), rules.value("bulk.sewn_most_mm")
    if bulk.sewing is Sewing.SEWN:
        return least_mm, most_mm
    if bulk.sewing is None and cover is not Cover.LIMP:
        assumed.append(f"sewing: glued at the least, sewn at the greatest, {most_mm:g} mm thicker")
        return 0.0, most_mm
    if bulk.sewing is None:
        assumed.append("sewing: glued")
    return 0.0, 0.0


def _cover_mm(
    cover: Cover | None, form: BackForm, board_mm: float | None, rules: Rules, assumed: list[str]
) -> Range:
    """What both sides of the cover add across the back."""
    flat_case = cover is Cover.CASE and form is BackForm.FLAT
    if board_mm is not None:
        if not flat_case:
            raise FieldError(
                "a board's thickness counts only across a flat case", value=f"{board_mm:g} mm",
                where="--board", remedy="give --cover case and --back flat, or leave it out",
            )  # fmt: skip
        return 2 * board_mm, 2 * board_mm
    if not flat_case and cover is not Cover.LIMP:
        return 0.0, 0.0
    what = "board" if flat_case else "paper"
    least, most = rules[f"bulk.{what}_least_mm"], rules[f"bulk.{what}_most_mm"]
    noun = "boards" if flat_case else "cover paper"
    assumed.append(f"{noun}: {least.value:g} to {most.value:g} mm on either side ({least.status})")
    return 2 * least.value, 2 * most.value


def _sum(*ranges: Range) -> Range:
    """Least and greatest of all together."""
    return sum(one[0] for one in ranges), sum(one[1] for one in ranges)
