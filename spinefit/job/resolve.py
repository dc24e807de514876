"""Is the job possible, and what is assumed where nothing was said?

In: a `Job`. Out: a `ResolvedJob` in which every choice is made and every default that was
taken is named. Everything that can be judged without measuring letters or dividing the back
is checked here, once. Numbers come from the rules of the trade, never from this file.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from spinefit import catalogue
from spinefit.catalogue import Market, Method, Rules
from spinefit.errors import FieldError, ImpossibleBackError, JobError, nearest
from spinefit.job.model import Job, Lettering, Panel, Shape, Spine
from spinefit.job.resolved import ResolvedJob, ResolvedLettering, ResolvedSpine
from spinefit.job.title import guess_language, title_lines
from spinefit.vocabulary import (
    BackForm,
    BindingSide,
    BreakWords,
    Case,
    Centre,
    Measured,
    Orientation,
    PanelForm,
    Reading,
)

__all__ = ["DEFAULT_METHOD", "edge_mm_of", "resolve"]

DEFAULT_METHOD = "paperback-cover"
_LARGEST_MM = 2000.0  # no book is larger; a slip of a unit is
_LARGEST_SIZE_PT = 5000.0
_MOST_BANDS = 50
_MOST_LINES = 60
_TRACKING = (-200.0, 2000.0)


def resolve(job: Job) -> ResolvedJob:
    """Complete a job and refuse the impossible.

    Args:
        job: what the person said, in mm and points.

    Returns:
        The same job with nothing left to guess, its defaults named in ``assumed``.

    Raises:
        JobError: a field's value cannot be, or fields contradict each other.
        CatalogueError: a data file is broken.
    """
    rules = catalogue.rules()
    assumed: list[str] = []
    lines = title_lines(job.title, slash_breaks=job.slash_breaks)
    market, known = catalogue.market(job.market) if job.market else (catalogue.market(None)[0], True)
    if job.market is None:
        assumed.append("market: none given, so the international standard ISO 6357")
    language = _language(job, lines, market, assumed)
    method = _method(job, assumed)
    spine, widest = _backs(job, market, rules, assumed)
    return ResolvedJob(
        title_lines=lines,
        spine=spine,
        widest=widest,
        panel=_outright(job),
        shape=_shape(job),
        lettering=_lettering(job.lettering, lines, market, assumed),
        market=market,
        market_code=job.market.strip().upper() if job.market else None,
        market_known=known,
        language=language,
        method=method,
        reading_distance_mm=_distance(job, rules, assumed),
        rules=rules,
        assumed=tuple(assumed),
    )


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


def _number(value: float, where: str, *, least: float, most: float, above: bool = False) -> float:
    """``value`` if it is a finite number in bounds (above ``least`` where asked)."""
    if not isinstance(value, int | float) or isinstance(value, bool) or not math.isfinite(value):
        raise FieldError("not a number", value=value, where=where, remedy="give a plain number")
    if value > most or value < least or (above and value <= least):
        low = f"more than {least:g}" if above else f"at least {least:g}"
        raise FieldError(
            f"{value:g} is out of bounds", where=where, remedy=f"give {low} and at most {most:g}"
        )
    return float(value)


def _length(value: float, where: str, *, zero: bool = False) -> float:
    return _number(value, where, least=0.0, most=_LARGEST_MM, above=not zero)


def _one_of(value: object, kind: type, where: str) -> None:
    if not isinstance(value, kind):
        choices = [str(member.value) for member in kind]  # type: ignore[attr-defined]
        like = nearest(str(value), choices)
        remedy = f"did you mean '{like}'?" if like else f"choose from {', '.join(choices)}"
        raise FieldError("no such choice", value=value, where=where, remedy=remedy)


def _language(
    job: Job, lines: tuple[str, ...], market: Market, assumed: list[str]
) -> str | None:
    if job.language is not None:
        tag = job.language.strip()
        if not tag or not all(part.isalnum() and part.isascii() for part in tag.split("-")):
            raise FieldError(
                "no BCP 47 language tag", value=job.language, where="--language",
                remedy="give one such as en, de or el",
            )
        if not 2 <= len(tag.split("-")[0]) <= 3:
            raise FieldError(
                "no BCP 47 language tag", value=job.language, where="--language",
                remedy="its first part has two or three letters, such as en, de or el",
            )
        return tag
    language = guess_language(lines, market.languages)
    if language:
        assumed.append(f"language: {language}, by the title's small words or the market")
    return language


def _method(job: Job, assumed: list[str]) -> Method:
    if job.method is None:
        method = catalogue.method(DEFAULT_METHOD)
        assumed.append(f"method: a {method.name}")
        return method
    return catalogue.method(job.method)


def _distance(job: Job, rules: Rules, assumed: list[str]) -> float:
    if job.reading_distance_mm is None:
        distance = rules.value("legibility.distance_mm")
        assumed.append(f"reading distance: {distance:g} mm")
        return distance
    return _number(
        job.reading_distance_mm, "--reading-distance", least=0.0, most=10_000.0, above=True
    )


def _outright(job: Job) -> Panel | None:
    if (job.panel is None) == (job.spine is None):
        what = "no width given" if job.panel is None else "both a spine and a panel given"
        raise JobError(what, remedy="give either --width or --panel WxH")
    if job.panel is None:
        return None
    return Panel(
        width_mm=_length(job.panel.width_mm, "--panel"),
        height_mm=_length(job.panel.height_mm, "--panel"),
    )


def _shape(job: Job) -> Shape:
    shape = job.shape or Shape()
    _one_of(shape.form, PanelForm, "--panel-shape")
    needs_corner = shape.form in (PanelForm.ROUNDED, PanelForm.CUT)
    if needs_corner and shape.corner_mm is None:
        raise FieldError(
            f"a {shape.form} panel needs the size of its corner", where="--panel-shape",
            remedy="give --corner, such as 3mm",
        )
    if shape.corner_mm is not None:
        if not needs_corner:
            raise FieldError(
                "only a rounded or cut panel has corners", where="--corner",
                value=f"{shape.corner_mm:g} mm", remedy="give --panel-shape rounded or cut",
            )
        _length(shape.corner_mm, "--corner")
    for area in shape.keep_free:
        _length(area.width_mm, "--keep-free")
        _length(area.height_mm, "--keep-free")
        for offset in (area.x_mm, area.y_mm):
            _number(offset, "--keep-free", least=-_LARGEST_MM, most=_LARGEST_MM)
    return shape


def _lettering(
    said: Lettering, lines: tuple[str, ...], market: Market, assumed: list[str]
) -> ResolvedLettering:
    for value, kind, where in (
        (said.case, Case, "--case"),
        (said.orientation, Orientation, "--orientation"),
        (said.reading, Reading, "--reading"),
        (said.centre, Centre, "--centre"),
        (said.break_words, BreakWords, "--break-words"),
    ):
        if value is not None:
            _one_of(value, kind, where)
    font = said.font
    if font is None:
        font = catalogue.font_rows()[0].name
        assumed.append(f"font: {font}")
    tracking = said.tracking or 0.0
    _number(tracking, "--tracking", least=_TRACKING[0], most=_TRACKING[1])
    reading, asked = _reading(said, market)
    orientation = said.orientation or Orientation.ANY
    return ResolvedLettering(
        font=font,
        case=said.case or Case.AS_TYPED,
        tracking_em=tracking / 1000,
        orientation=orientation,
        reading=reading,
        reading_asked=asked,
        lines=_line_count(said.lines, lines, orientation),
        size_pt=_optional(said.size_pt, "--size", _LARGEST_SIZE_PT),
        leading_em=_optional(said.leading_em, "--leading", 20.0),
        clearance_mm=_length(said.clearance_mm or 0.0, "--clearance", zero=True),
        centre=said.centre or Centre.AUTO,
        break_words=said.break_words or BreakWords.NEVER,
    )


def _optional(value: float | None, where: str, most: float) -> float | None:
    return None if value is None else _number(value, where, least=0.0, most=most, above=True)


def _reading(said: Lettering, market: Market) -> tuple[Reading, bool]:
    if said.reading in (Reading.DESCENDING, Reading.ASCENDING):
        return said.reading, True
    if said.reading not in (None, Reading.AUTO):
        raise FieldError(
            "longitudinal lettering is descending or ascending",
            value=said.reading, where="--reading", remedy="or leave it to the market with auto",
        )
    upright = market.reading is Reading.UPRIGHT
    return (Reading.DESCENDING if upright else market.reading), False


def _line_count(
    count: int | None, lines: tuple[str, ...], orientation: Orientation
) -> int | None:
    pillar = orientation is Orientation.PILLAR
    if pillar and len(lines) > 1:
        raise FieldError(
            "a pillar is one column", where="TITLE", remedy="take out the forced break ' / '"
        )
    if count is None:
        return None
    if isinstance(count, bool) or not isinstance(count, int) or not 1 <= count <= _MOST_LINES:
        raise FieldError(
            "no number of lines", value=count, where="--lines",
            remedy=f"give any, or a whole number from 1 to {_MOST_LINES}",
        )
    if pillar and count != 1:
        raise FieldError(
            "a pillar is one column", value=count, where="--lines", remedy="leave --lines out"
        )
    if count < len(lines):
        raise FieldError(
            f"the title's forced breaks make {len(lines)} lines", value=count, where="--lines",
            remedy=f"give {len(lines)} or more, or take out a ' / '",
        )
    return count


def _backs(
    job: Job, market: Market, rules: Rules, assumed: list[str]
) -> tuple[ResolvedSpine | None, ResolvedSpine | None]:
    """The back at its least width and, for a range, at its greatest."""
    if job.spine is None:
        return None, None
    said = job.spine
    pair = said.width_mm if isinstance(said.width_mm, tuple) else (said.width_mm, said.width_mm)
    least, most = (_length(width, "--width") for width in pair)
    if least > most:
        raise FieldError(
            "the range runs backwards", value=f"{least:g}..{most:g}", where="--width",
            remedy="give the lesser width first",
        )
    least, most = (_width_of_back(said, width) for width in (least, most))
    spine = _spine(said, least, market, rules, assumed)
    if most == least:
        return spine, None
    edge_mm = spine.edge_mm if "edge" in spine.typed else edge_mm_of(most, rules)
    return spine, replace(spine, width_mm=most, edge_mm=edge_mm)


def _width_of_back(said: Spine, width_mm: float) -> float:
    over_boards = said.measured is Measured.OVER_BOARDS
    if said.board_mm is None:
        if over_boards:
            raise FieldError(
                "a width measured over the boards needs their thickness",
                where="--measured", remedy="give --board, such as 2.5mm",
            )
        return width_mm
    if not over_boards:
        raise FieldError(
            "a board's thickness counts only for a width measured over the boards",
            where="--board", remedy="add --measured over-boards or leave --board out",
        )
    back_mm = width_mm - 2 * _length(said.board_mm, "--board")
    if back_mm <= 0:
        raise ImpossibleBackError(
            f"two boards of {said.board_mm:g} mm leave nothing of {width_mm:g} mm",
            where="--board", remedy="measure the boards and the width over them again",
        )
    return back_mm


def _spine(
    said: Spine, width_mm: float, market: Market, rules: Rules, assumed: list[str]
) -> ResolvedSpine:
    form = _form(said, assumed)
    bands = _band_count(said)
    _assume_measurement(said, assumed)
    edge_mm = _edge(said, width_mm, rules, assumed)
    head_mm, foot_mm = _ends(said, bands, rules, assumed)
    max_angle = said.max_angle_deg
    if max_angle is None:
        max_angle = rules.value("round.max_angle_deg")
        if form is BackForm.ROUNDED:
            assumed.append(f"largest angle: {max_angle:g} degrees from the middle of the round")
    return ResolvedSpine(
        width_mm=width_mm,
        height_mm=None if said.height_mm is None else _length(said.height_mm, "--height"),
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
        max_angle_deg=_number(max_angle, "--max-angle", least=0.0, most=90.0, above=True),
        binding_side=_binding_side(said, market, assumed),
        typed=_typed(said),
        **_band_figures(said, bands, rules, assumed),
    )


def _form(said: Spine, assumed: list[str]) -> BackForm:
    figures = {"--rise": said.rise_mm, "--radius": said.radius_mm, "--arc": said.arc_mm}
    given = [name for name, value in figures.items() if value is not None]
    if len(given) > 1:
        raise FieldError(
            "one figure describes a round", value=" and ".join(given), where="--back",
            remedy="keep the one you measured best",
        )
    if said.back is not None:
        _one_of(said.back, BackForm, "--back")
        if given and said.back is BackForm.FLAT:
            raise FieldError(
                f"a flat back has no {given[0].removeprefix('--')}", where=given[0],
                remedy="give --back rounded or leave it out",
            )
        return said.back
    form = BackForm.ROUNDED if given else BackForm.FLAT
    assumed.append(f"back: {form}" + (f", since {given[0]} is given" if given else ""))
    return form


def _figure(value: float | None, where: str) -> float | None:
    return None if value is None else _number(value, where, least=-_LARGEST_MM, most=_LARGEST_MM)


def _band_count(said: Spine) -> int:
    at = said.bands_at_mm
    count = said.bands if said.bands is not None else len(at or ())
    if isinstance(count, bool) or not isinstance(count, int) or not 0 <= count <= _MOST_BANDS:
        raise FieldError(
            "no number of bands", value=count, where="--bands",
            remedy=f"give a whole number from 0 to {_MOST_BANDS}",
        )
    if at is not None and len(at) != count:
        raise FieldError(
            f"{len(at)} positions for {count} bands", where="--bands-at",
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
                    "counts only on a back with bands", where=name,
                    remedy="give --bands or leave it out",
                )
    return count


def _assume_measurement(said: Spine, assumed: list[str]) -> None:
    if said.measured is None:
        assumed.append("width: measured straight across the back, between the joints")
    else:
        _one_of(said.measured, Measured, "--measured")


def _edge(said: Spine, width_mm: float, rules: Rules, assumed: list[str]) -> float:
    if said.edge_mm is not None:
        return _length(said.edge_mm, "--edge", zero=True)
    edge_mm = edge_mm_of(width_mm, rules)
    assumed.append(f"edge: {edge_mm:g} mm kept free at each joint")
    return edge_mm


def _ends(said: Spine, bands: int, rules: Rules, assumed: list[str]) -> tuple[float, float]:
    """Space kept free at head and tail in mm."""
    names = ("ends.headcap_mm", "ends.turn_in_mm") if bands else ("ends.trim_mm", "ends.trim_mm")
    found = []
    for option, value, rule in zip(
        ("head", "foot"), (said.head_mm, said.foot_mm), names, strict=True
    ):
        if value is None:
            value = rules.value(rule)
            assumed.append(f"{option}: {value:g} mm kept free")
        found.append(_length(value, f"--{option}", zero=True))
    return found[0], found[1]


def _binding_side(said: Spine, market: Market, assumed: list[str]) -> BindingSide:
    if said.binding_side is None:
        if market.binding_side is BindingSide.RIGHT:
            assumed.append("binding side: right, as the market's books")
        return market.binding_side
    _one_of(said.binding_side, BindingSide, "--binding-side")
    return said.binding_side


def _band_figures(
    said: Spine, bands: int, rules: Rules, assumed: list[str]
) -> dict[str, float | int]:
    """Band height, clearance, tail ratio and the panel to letter."""
    height, clearance, ratio = said.band_height_mm, said.band_clearance_mm, said.tail_ratio
    panel = said.title_panel
    if height is None:
        height = rules.value("bands.height_mm")
    if clearance is None:
        clearance = rules.value("bands.clearance_mm")
    if ratio is None:
        ratio = rules.value("bands.tail_ratio")
    if panel is None:
        panel = min(int(rules.value("bands.title_panel")), bands + 1)
    if isinstance(panel, bool) or not isinstance(panel, int):
        raise FieldError("no panel's number", value=panel, where="--title-panel")
    if bands:
        _assume_bands(said, height, clearance, ratio, panel, assumed)
    return {
        "band_height_mm": _length(height, "--band-height"),
        "band_clearance_mm": _length(clearance, "--band-clearance", zero=True),
        "tail_ratio": _number(ratio, "--tail-ratio", least=0.1, most=10.0),
        "title_panel": panel,
    }


def _assume_bands(
    said: Spine,
    height_mm: float,
    clearance_mm: float,
    ratio: float,
    panel: int,
    assumed: list[str],
) -> None:
    if said.band_height_mm is None:
        assumed.append(f"bands: {height_mm:g} mm wide along the back")
    if said.band_clearance_mm is None:
        assumed.append(f"band clearance: {clearance_mm:g} mm on either side of a band")
    if said.bands_at_mm is None and said.tail_ratio is None:
        assumed.append(f"panels: equal, the tail part {ratio:g} times as long")
    if said.title_panel is None:
        assumed.append(f"title panel: number {panel} from the head")


def _typed(said: Spine) -> frozenset[str]:
    """Names of the options of the back that were said."""
    values: Iterable[tuple[str, object]] = (
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
    return frozenset(name for name, value in values if value is not None)
