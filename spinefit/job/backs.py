"""What back was measured, and what does it keep free where nothing was said?

In: the spine as said. Out: a `ResolvedSpine` at its least width and, for a range, another at
its greatest; defaults named in ``assumed``. Lengths in mm. Dividing the back into panels and
judging whether a round can exist is for the geometry stage.
"""

from __future__ import annotations

from typing import NamedTuple

from spinefit.catalogue import Method, Rules
from spinefit.errors import FieldError, ImpossibleBackError
from spinefit.job.checks import length_mm, member, number
from spinefit.job.model import Spine
from spinefit.job.resolved import ResolvedSpine
from spinefit.provenance import Sourced
from spinefit.vocabulary import BackForm, BindingSide, Measured, Place

__all__ = ["edge_mm_of", "resolve_backs"]

_MOST_BANDS = 50


class _BandFigures(NamedTuple):
    height_mm: float
    clearance_mm: float
    tail_ratio: float
    title_panel: int


def _edge_rule(width_mm: float, rules: Rules) -> Sourced:
    """The row that decides the edge of a back of that width."""
    if width_mm <= rules.value("edge.narrow_to_mm"):
        return rules["edge.narrow_mm"]
    wide = width_mm > rules.value("edge.usual_to_mm")
    return rules["edge.wide_mm" if wide else "edge.usual_mm"]


def edge_mm_of(width_mm: float, rules: Rules) -> float:
    """The space to keep free at each joint of a back, in mm.

    Usable width = w - 2 up to 10 mm; max(8, w - 4) up to 30; max(26, w - 6) above; never
    below 0. Source: a publisher's printer's guidelines for cover designers, made monotone.
    """
    narrow_to, usual_to = rules.value("edge.narrow_to_mm"), rules.value("edge.usual_to_mm")
    narrow, usual = rules.value("edge.narrow_mm"), rules.value("edge.usual_mm")
    if width_mm <= narrow_to:
        usable = width_mm - narrow
    elif width_mm <= usual_to:
        usable = max(narrow_to - narrow, width_mm - usual)
    else:
        usable = max(usual_to - usual, width_mm - rules.value("edge.wide_mm"))
    return min(width_mm, width_mm - usable) / 2


def resolve_backs(
    said: Spine, side: BindingSide, method: Method, rules: Rules, assumed: list[str]
) -> tuple[ResolvedSpine, ResolvedSpine | None]:
    """The back at its least width and, for a range, at its greatest; a label has its own edge.

    Args:
        said: the spine as measured.
        side: where such a book is bound as a rule.
        method: for the edge that a label keeps.
        rules: for what was not said.
        assumed: takes the defaults.
    """
    if not isinstance(said.width_mm, tuple):
        width_mm = _width_of_back(said, length_mm(said.width_mm, "--width"))
        return _spine(said, width_mm, side, method, rules, assumed), None
    least, most = (length_mm(width, "--width") for width in said.width_mm)
    if least > most:
        raise FieldError(
            "the range runs backwards",
            value=f"{least:g}..{most:g}",
            where="--width",
            remedy="give the lesser width first",
        )
    least, most = (_width_of_back(said, width) for width in (least, most))
    spine = _spine(said, least, side, method, rules, assumed)
    if most == least:
        return spine, None
    return spine, spine._replace(width_mm=most, edge_mm=_edge(said, most, method, rules, []))


def _width_of_back(said: Spine, width_mm: float) -> float:
    over_boards = said.measured is Measured.OVER_BOARDS
    if said.board_mm is None:
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
    back_mm = width_mm - 2 * length_mm(said.board_mm, "--board")
    if back_mm <= 0:
        raise ImpossibleBackError(
            f"two boards of {said.board_mm:g} mm leave nothing of {width_mm:g} mm",
            where="--board",
            remedy="measure the boards and the width over them again",
        )
    return back_mm


def _spine(
    said: Spine,
    width_mm: float,
    side: BindingSide,
    method: Method,
    rules: Rules,
    assumed: list[str],
) -> ResolvedSpine:
    form = _form(said, assumed)
    bands = _band_count(said)
    _assume_measurement(said, assumed)
    if said.bands is None and not bands:
        assumed.append("bands: none")
    if said.height_mm is None:
        assumed.append("height: left open")
    figures = _band_figures(said, bands, rules, assumed)
    edge_mm = _edge(said, width_mm, method, rules, assumed)
    head_mm, foot_mm = _ends(said, bands, rules, assumed)
    return ResolvedSpine(
        width_mm=width_mm,
        height_mm=None if said.height_mm is None else length_mm(said.height_mm, "--height"),
        measured=said.measured or Measured.BACK,
        form=form,
        rise_mm=_figure(said.rise_mm, "--rise"),
        radius_mm=_figure(said.radius_mm, "--radius"),
        arc_mm=_figure(said.arc_mm, "--arc"),
        bands=bands,
        bands_at_mm=said.bands_at_mm,
        edge_mm=edge_mm,
        head_mm=head_mm,
        foot_mm=foot_mm,
        max_angle_deg=_max_angle_deg(said, form, rules, assumed),
        binding_side=_binding_side(said, side, assumed),
        typed=_typed(said),
        band_height_mm=figures.height_mm,
        band_clearance_mm=figures.clearance_mm,
        tail_ratio=figures.tail_ratio,
        title_panel=figures.title_panel,
        from_head_mm=_from_head(said, bands),
    )


def _form(said: Spine, assumed: list[str]) -> BackForm:
    figures = (("--rise", said.rise_mm), ("--radius", said.radius_mm), ("--arc", said.arc_mm))
    given = [name for name, value in figures if value is not None]
    if len(given) > 1:
        raise FieldError(
            "one figure describes a round",
            value=" and ".join(given),
            where="--back",
            remedy="keep the one you measured best",
        )
    if said.back is not None:
        member(said.back, BackForm, "--back")
        if given and said.back is BackForm.FLAT:
            raise FieldError(
                f"a flat back has no {given[0].removeprefix('--')}",
                where=given[0],
                remedy="give --back rounded or leave it out",
            )
        return said.back
    if given:
        assumed.append(f"back: {BackForm.ROUNDED}, since {given[0]} is given")
        return BackForm.ROUNDED
    assumed.append("back: flat")
    return BackForm.FLAT


def _max_angle_deg(said: Spine, form: BackForm, rules: Rules, assumed: list[str]) -> float:
    if said.max_angle_deg is not None:
        return number(said.max_angle_deg, "--max-angle", least=0.0, most=90.0, above=True)
    usual_deg = rules.value("round.max_angle_deg")
    if form is BackForm.ROUNDED:
        assumed.append(f"largest angle: {usual_deg:g} degrees from the middle of the round")
    return usual_deg


def _figure(value: float | None, where: str) -> float | None:
    return None if value is None else length_mm(value, where)


def _band_count(said: Spine) -> int:
    at = said.bands_at_mm
    count = said.bands if said.bands is not None else len(at or ())
    if isinstance(count, bool) or not isinstance(count, int) or not 0 <= count <= _MOST_BANDS:
        raise FieldError(
            "no number of bands",
            value=count,
            where="--bands",
            remedy=f"give a whole number from 0 to {_MOST_BANDS}",
        )
    if at is not None and len(at) != count:
        raise FieldError(
            f"{len(at)} positions for {count} bands",
            where="--bands-at",
            remedy="give the middle of every band, measured from the head",
        )
    if count == 0:
        for name, value in (
            ("--band-height", said.band_height_mm),
            ("--band-clearance", said.band_clearance_mm),
            ("--tail-ratio", said.tail_ratio),
        ):
            if value is not None:
                raise FieldError(
                    "counts only on a back with bands",
                    where=name,
                    remedy="give --bands or leave it out",
                )
    return count


def _assume_measurement(said: Spine, assumed: list[str]) -> None:
    if said.measured is None:
        assumed.append("width: measured straight across the back, between the joints")
    else:
        member(said.measured, Measured, "--measured")


def _edge(said: Spine, width_mm: float, method: Method, rules: Rules, assumed: list[str]) -> float:
    """From each joint to the label, or to the ink where it stands straight on the back, in mm."""
    if said.edge_mm is not None:
        return length_mm(said.edge_mm, "--edge", zero=True)
    if method.place is Place.LABEL and method.label_edge is not None:
        edge_mm = method.label_edge.value
        assumed.append(f"edge: {edge_mm:g} mm from each joint to the label")
        return edge_mm
    edge_mm = edge_mm_of(width_mm, rules)
    rule = _edge_rule(width_mm, rules)
    assumed.append(f"edge: {edge_mm:g} mm kept free at each joint ({rule.source}; {rule.status})")
    return edge_mm


def _ends(said: Spine, bands: int, rules: Rules, assumed: list[str]) -> tuple[float, float]:
    """Space kept free at head and tail in mm."""
    at_head, at_foot = "ends.trim_mm", "ends.trim_mm"
    if bands:
        at_head, at_foot = "ends.headcap_mm", "ends.turn_in_mm"
    head_mm = _end("head", said.head_mm, rules[at_head], assumed)
    return head_mm, _end("foot", said.foot_mm, rules[at_foot], assumed)


def _end(option: str, typed_mm: float | None, rule: Sourced, assumed: list[str]) -> float:
    if typed_mm is not None:
        return length_mm(typed_mm, f"--{option}", zero=True)
    assumed.append(f"{option}: {rule.value:g} mm kept free ({rule.source}; {rule.status})")
    return rule.value


def _from_head(said: Spine, bands: int) -> float | None:
    """Where the middle of lettering across is wanted, in mm from the head; None where unsaid."""
    if said.from_head_mm is None:
        return None
    from_head_mm = length_mm(said.from_head_mm, "--from-head", zero=True)
    if bands:
        raise FieldError(
            "in a panel between bands lettering stands in the middle",
            value=f"{from_head_mm:g} mm",
            where="--from-head",
            remedy="leave it out, or give --title-panel",
        )
    if said.height_mm is None or from_head_mm > said.height_mm:
        beyond = said.height_mm is not None
        raise FieldError(
            "beyond the tail of the back" if beyond else "needs the height of the back",
            value=f"{from_head_mm:g} mm",
            where="--from-head",
            remedy=f"the back is {said.height_mm:g} mm high" if beyond else "give --height",
        )
    return from_head_mm


def _binding_side(said: Spine, side: BindingSide, assumed: list[str]) -> BindingSide:
    if said.binding_side is None:
        if side is BindingSide.RIGHT:
            assumed.append("binding side: right, as such books are bound")
        return side
    member(said.binding_side, BindingSide, "--binding-side")
    return said.binding_side


def _band_figures(said: Spine, bands: int, rules: Rules, assumed: list[str]) -> _BandFigures:
    """Band height, clearance, tail ratio and the panel to letter."""
    height, clearance, ratio = said.band_height_mm, said.band_clearance_mm, said.tail_ratio
    panel = said.title_panel
    if panel is None:
        panel = min(int(rules.value("bands.title_panel")), bands + 1)
    elif isinstance(panel, bool) or not isinstance(panel, int):
        raise FieldError("no panel's number", value=panel, where="--title-panel")
    figures = _BandFigures(
        rules.value("bands.height_mm") if height is None else length_mm(height, "--band-height"),
        rules.value("bands.clearance_mm")
        if clearance is None
        else length_mm(clearance, "--band-clearance", zero=True),
        rules.value("bands.tail_ratio")
        if ratio is None
        else number(ratio, "--tail-ratio", least=0.1, most=10.0),
        panel,
    )
    if bands:
        _assume_bands(said, figures, assumed)
    return figures


def _assume_bands(said: Spine, figures: _BandFigures, assumed: list[str]) -> None:
    height_mm, clearance_mm, ratio, panel = figures
    if said.band_height_mm is None:
        assumed.append(f"band height: {height_mm:g} mm along the back (common practice)")
    if said.band_clearance_mm is None:
        assumed.append(
            f"band clearance: {clearance_mm:g} mm on either side of a band (common practice)"
        )
    if said.bands_at_mm is None and said.tail_ratio is None:
        assumed.append(f"panels: equal, the tail part {ratio:g} times as long (Cockerell, ch. VII)")
    if said.title_panel is None:
        assumed.append(f"title panel: number {panel} from the head (American manual on rebinding)")


def _typed(said: Spine) -> frozenset[str]:
    """Names of the options of the back that were said."""
    values: tuple[tuple[str, object], ...] = (
        ("height", said.height_mm),
        ("edge", said.edge_mm),
        ("head", said.head_mm),
        ("foot", said.foot_mm),
        ("bands", said.bands),
        ("bands-at", said.bands_at_mm),
        ("band-height", said.band_height_mm),
        ("band-clearance", said.band_clearance_mm),
        ("title-panel", said.title_panel),
        ("max-angle", said.max_angle_deg),
    )
    return frozenset([name for name, value in values if value is not None])
