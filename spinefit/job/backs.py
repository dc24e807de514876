"""What back was measured, and what does it keep free where nothing was said?

In: the spine as said. Out: a `ResolvedSpine` at its least width and, for a range, another at
its greatest; defaults named in ``assumed``. Lengths in mm. Dividing the back into panels and
judging whether a round can exist is for the geometry stage.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.catalogue import Method, Rules
from spinefit.errors import FieldError, ImpossibleBackError
from spinefit.job.bulk import OF_MAKING, Estimate, estimate, refuse_both
from spinefit.job.checks import usual
from spinefit.job.fields import checked, names_said
from spinefit.job.house import names_of_house
from spinefit.job.kinds import BANDS
from spinefit.job.model import Spine
from spinefit.job.resolved import ResolvedSpine
from spinefit.vocabulary import BackForm, BindingSide, Cover, Measured, Place, Sourced, Work


class _BandFigures(NamedTuple):
    height_mm: float
    clearance_mm: float
    tail_ratio: float
    title_panel: int


def edge_of(width_mm: float, rules: Rules) -> tuple[float, Sourced]:
    """The space to keep free at each joint of a back, in mm, and the row that decides it.

    Usable width = w - 2 up to 10 mm; max(8, w - 4) up to 30; max(26, w - 6) above; never
    below 0. Source: a publisher's printer's guidelines for cover designers, made monotone.
    """
    narrow, usual_row = rules["edge.narrow_mm"], rules["edge.usual_mm"]
    narrow_to_mm = rules.value("edge.narrow_to_mm")
    usual_to_mm = rules.value("edge.usual_to_mm")
    if width_mm <= narrow_to_mm:
        row, usable_mm = narrow, width_mm - narrow.value
    elif width_mm <= usual_to_mm:
        row, usable_mm = usual_row, max(narrow_to_mm - narrow.value, width_mm - usual_row.value)
    else:
        row = rules["edge.wide_mm"]
        usable_mm = max(usual_to_mm - usual_row.value, width_mm - row.value)
    return min(width_mm, width_mm - usable_mm) / 2, row


def resolve_backs(
    spine: Spine, side: BindingSide, method: Method, work: Work, rules: Rules, assumed: list[str]
) -> tuple[ResolvedSpine, ResolvedSpine | None]:
    """The back at its least width and, for a range, at its greatest; a label has its own edge.

    Args:
        spine: as measured.
        side: where such a book is bound as a rule.
        method: for the edge that a label keeps.
        work: the kind of work, by which an estimated back is covered.
        rules: for what was not said.
        assumed: takes the defaults.
    """
    spine = checked(spine)
    refuse_both(names_said(spine))
    made = _estimate(spine, work, rules, assumed) if spine.width_mm is None else None
    widths = spine.width_mm if made is None else made.back_mm
    if not isinstance(widths, tuple):
        assert widths is not None  # else it was estimated
        return _spine(spine, _width_of_back_mm(spine, widths), side, method, rules, assumed), None
    least_mm, most_mm = widths
    if made is None:
        least_mm, most_mm = (_width_of_back_mm(spine, width_mm) for width_mm in widths)
    narrow = _spine(spine, least_mm, side, method, rules, assumed, made)
    if most_mm == least_mm:
        return narrow, None
    edge_mm = _edge_mm(spine, most_mm, method, rules, [], made)
    return narrow, narrow._replace(width_mm=most_mm, edge_mm=edge_mm)


def _estimate(spine: Spine, work: Work, rules: Rules, assumed: list[str]) -> Estimate:
    """The width by the making of the book, where none was measured."""
    if not names_said(spine).intersection(OF_MAKING):
        raise FieldError(
            "the width of the back is not known", where="--width",
            remedy="give --width, or --extent with --caliper for a book not yet bound",
        )  # fmt: skip
    round_known = any(one is not None for one in (spine.rise_mm, spine.radius_mm, spine.arc_mm))
    usual_form = BackForm.ROUNDED if round_known else BackForm.FLAT
    taken: list[str] = []
    made = estimate(
        spine, work, rules, taken, form=spine.back or usual_form, round_known=round_known,
        board_mm=spine.board_mm,
    )  # fmt: skip
    least_mm, most_mm = made.back_mm
    assumed.append(
        f"width: an estimate from {made.of}, {round(least_mm, 1):g} to "
        f"{round(most_mm, 1):g} mm, judged at the least: measure before cutting"
    )
    assumed += taken
    return made


def _width_of_back_mm(spine: Spine, width_mm: float) -> float:
    over_boards = spine.measured is Measured.OVER_BOARDS
    if spine.board_mm is None:
        if over_boards:
            raise FieldError(
                "a width measured over the boards needs their thickness",
                where="--measured",
                remedy="give --board, such as 2.5mm",
            )
        return width_mm
    if not over_boards:
        raise FieldError(
            "a board's thickness counts only for a width measured over the boards",
            where="--board",
            remedy="add --measured over-boards or leave --board out",
        )
    back_mm = width_mm - 2 * spine.board_mm
    if back_mm <= 0:
        raise ImpossibleBackError(
            f"two boards of {spine.board_mm:g} mm leave nothing of {width_mm:g} mm",
            where="--board",
            remedy="measure the boards and the width over them again",
        )
    return back_mm


def _spine(
    spine: Spine,
    width_mm: float,
    side: BindingSide,
    method: Method,
    rules: Rules,
    assumed: list[str],
    made: Estimate | None = None,
) -> ResolvedSpine:
    form = _form(spine, assumed)
    bands = _band_count(spine)
    measured = usual(
        spine.measured, Measured.BACK,
        "width: measured straight across the back, between the joints",
        assumed if made is None else [],
    )  # fmt: skip
    if spine.bands is None and not bands:
        assumed.append("bands: none")
    if spine.height_mm is None:
        assumed.append("height: left open")
    figures = _band_figures(spine, bands, rules, assumed)
    edge_mm = _edge_mm(spine, width_mm, method, rules, assumed, made)
    head_mm, foot_mm = _ends_mm(spine, bands, method, rules, assumed)
    return ResolvedSpine(
        width_mm=width_mm,
        height_mm=spine.height_mm,
        measured=measured,
        form=form,
        rise_mm=spine.rise_mm,
        radius_mm=spine.radius_mm,
        arc_mm=spine.arc_mm,
        bands=bands,
        bands_at_mm=spine.bands_at_mm,
        edge_mm=edge_mm,
        head_mm=head_mm,
        foot_mm=foot_mm,
        max_angle_deg=_max_angle_deg(spine, form, rules, assumed),
        binding_side=_binding_side(spine, side, assumed),
        typed=names_said(spine) - names_of_house(assumed),
        band_height_mm=figures.height_mm,
        band_clearance_mm=figures.clearance_mm,
        tail_ratio=figures.tail_ratio,
        title_panel=figures.title_panel,
        from_head_mm=_from_head_mm(spine, bands),
        estimate=made,
    )


def _form(spine: Spine, assumed: list[str]) -> BackForm:
    figures = (("--rise", spine.rise_mm), ("--radius", spine.radius_mm), ("--arc", spine.arc_mm))
    given = [name for name, value in figures if value is not None]
    if len(given) > 1:
        raise FieldError(
            f"{' and '.join(given)} for one round", where="--back",
            remedy="keep the one you measured best",
        )  # fmt: skip
    if not given:
        return usual(spine.back, BackForm.FLAT, "back: flat", assumed)
    if spine.back is BackForm.FLAT:
        raise FieldError(
            f"a flat back has no {given[0].removeprefix('--')}", where=given[0],
            remedy="give --back rounded or leave it out",
        )  # fmt: skip
    words = f"back: {BackForm.ROUNDED}, since {given[0]} is given"
    return usual(spine.back, BackForm.ROUNDED, words, assumed)


def _max_angle_deg(spine: Spine, form: BackForm, rules: Rules, assumed: list[str]) -> float:
    if spine.max_angle_deg is not None:
        return spine.max_angle_deg
    usual_deg = rules.value("round.max_angle_deg")
    if form is BackForm.ROUNDED:
        assumed.append(f"largest angle: {usual_deg:g} degrees from the middle of the round")
    return usual_deg


def _band_count(spine: Spine) -> int:
    at = spine.bands_at_mm
    count: int = spine.bands if spine.bands is not None else BANDS.check(len(at or ()), "--bands")
    if at is not None and len(at) != count:
        raise FieldError(
            f"{len(at)} positions for {count} bands",
            where="--bands-at",
            remedy="give the middle of every band, measured from the head",
        )
    if count == 0:
        for name, value in (
            ("--band-height", spine.band_height_mm),
            ("--band-clearance", spine.band_clearance_mm),
            ("--tail-ratio", spine.tail_ratio),
        ):
            if value is not None:
                raise FieldError(
                    "counts only on a back with bands",
                    where=name,
                    remedy="give --bands or leave it out",
                )
    return count


def _edge_mm(
    spine: Spine,
    width_mm: float,
    method: Method,
    rules: Rules,
    assumed: list[str],
    made: Estimate | None = None,
) -> float:
    """From each joint to the label, or to the ink where it stands straight on the back, in mm.

    A back estimated for a case is wider than its block, and lettering no wider than that.
    """
    beyond_mm, by_bulk = 0.0, ""
    if made is not None and made.cover is Cover.CASE:
        block_mm = made.block_mm[0] if width_mm == made.back_mm[0] else made.block_mm[1]
        lettered = rules["bulk.lettered"]
        beyond_mm = (width_mm - lettered.value * block_mm) / 2
        by_bulk = f", from the bulk of {block_mm:.1f} mm ({lettered.source}; {lettered.status})"
    own = _own_edge(method)
    if own is None:
        edge_mm, rule = edge_of(width_mm - 2 * beyond_mm, rules)
        words = f" mm kept free at each joint ({rule.source}; {rule.status})"
    else:
        edge_mm = own.value
        words = f" mm from each joint to the {'label' if method.place is Place.LABEL else 'ink'}"
        if method.place is not Place.LABEL:
            words += f" ({own.source}; {own.status})"
    edge_mm += beyond_mm
    figure = f"{edge_mm:g}" if made is None else f"{edge_mm:.3g}"
    return usual(spine.edge_mm, edge_mm, f"edge: {figure}{words}{by_bulk}", assumed)


def _own_edge(method: Method) -> Sourced | None:
    """What the method itself keeps free at each joint; None for a printed cover."""
    return method.label_edge if method.place is Place.LABEL else method.edge


def _ends_mm(
    spine: Spine, bands: int, method: Method, rules: Rules, assumed: list[str]
) -> tuple[float, float]:
    """Space kept free at head and tail in mm; only a printed cover is trimmed."""
    is_trimmed = not bands and _own_edge(method) is None
    at_head = rules["ends.trim_mm" if is_trimmed else "ends.headcap_mm"]
    at_foot = rules["ends.trim_mm" if is_trimmed else "ends.turn_in_mm"]
    head_mm = usual(spine.head_mm, at_head.value, _kept_free("head", at_head), assumed)
    return head_mm, usual(spine.foot_mm, at_foot.value, _kept_free("foot", at_foot), assumed)


def _kept_free(end: str, rule: Sourced) -> str:
    return f"{end}: {rule.value:g} mm kept free ({rule.source}; {rule.status})"


def _from_head_mm(spine: Spine, bands: int) -> float | None:
    """Where the middle of lettering across is wanted, in mm from the head; None where unsaid."""
    from_head_mm = spine.from_head_mm
    if from_head_mm is None:
        return None
    if bands:
        what = "in a panel between bands lettering stands in the middle"
        remedy = "leave it out, or give --title-panel"
    elif spine.height_mm is None:
        what, remedy = "needs the height of the back", "give --height"
    elif from_head_mm > spine.height_mm:
        what, remedy = "beyond the tail of the back", f"the back is {spine.height_mm:g} mm high"
    else:
        return from_head_mm
    raise FieldError(what, value=f"{from_head_mm:g} mm", where="--from-head", remedy=remedy)


def _binding_side(spine: Spine, side: BindingSide, assumed: list[str]) -> BindingSide:
    if spine.binding_side is None and side is BindingSide.RIGHT:
        assumed.append("binding side: right, as such books are bound")
    return spine.binding_side or side


def _band_figures(spine: Spine, bands: int, rules: Rules, assumed: list[str]) -> _BandFigures:
    """Band height, clearance, tail ratio and the panel to letter; named where there are bands."""
    named = assumed if bands else []
    height_mm, clearance_mm = rules.value("bands.height_mm"), rules.value("bands.clearance_mm")
    ratio = rules.value("bands.tail_ratio")
    panel = min(int(rules.value("bands.title_panel")), bands + 1)
    return _BandFigures(
        usual(
            spine.band_height_mm, height_mm,
            f"band height: {height_mm:g} mm along the back (common practice)", named,
        ),
        usual(
            spine.band_clearance_mm, clearance_mm,
            f"band clearance: {clearance_mm:g} mm on either side of a band (common practice)",
            named,
        ),
        usual(
            spine.tail_ratio, ratio,
            f"panels: equal, the tail part {ratio:g} times as long (Cockerell, ch. VII)",
            named if spine.bands_at_mm is None else [],
        ),
        usual(
            spine.title_panel, panel,
            f"title panel: number {panel} from the head (American manual on rebinding)", named,
        ),
    )  # fmt: skip
