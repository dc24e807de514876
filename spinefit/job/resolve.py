"""Is the job possible, and what is assumed where nothing was said?

In: a `Job`. Out: a `ResolvedJob` in which every choice is made and every default that was
taken is named. Everything that can be judged without measuring letters or dividing the back
is checked here, once. Numbers come from the rules of the trade, never from this file.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from spinefit import catalogue
from spinefit.catalogue import Market, Method, Rules
from spinefit.errors import FieldError, JobError
from spinefit.job.backs import resolve_backs
from spinefit.job.checks import usual
from spinefit.job.commission import commission_of
from spinefit.job.fields import checked
from spinefit.job.frames import frame_of, label_of, on_own_label, with_clearance
from spinefit.job.house import OF_HOUSE
from spinefit.job.kinds import checked_axes
from spinefit.job.making import font_for, method_for
from spinefit.job.model import Job, Lettering, Shape
from spinefit.job.nudges import nudges_of
from spinefit.job.parts import led, lines_asked, placed, resolved_parts
from spinefit.job.resolved import (
    ResolvedBoard,
    ResolvedJob,
    ResolvedLettering,
    ResolvedOldLettering,
    ResolvedRecess,
    ResolvedSpine,
)
from spinefit.job.title import (
    guess_language,
    reads_right_to_left,
    sets_upright,
    stands_along,
    usual_binding_side,
)
from spinefit.job.values import Panel
from spinefit.vocabulary import (
    AxisGoal,
    BackForm,
    BindingSide,
    BreakWords,
    Case,
    Centre,
    FrameCorners,
    GroupShape,
    Lap,
    Orientation,
    PanelForm,
    Place,
    Reading,
    SmallWords,
    Tone,
    Work,
)

_RECTANGLE = Shape()


def resolve(job: Job, *, font_choice: int = 0) -> ResolvedJob:
    """Complete a job and refuse the impossible.

    Args:
        job: what the person said, in mm and points.
        font_choice: which of the fonts usual for the method is taken where none is named.

    Returns:
        The same job with nothing left to guess, its defaults named in ``assumed``.

    Raises:
        JobError: a field's value cannot be, or fields contradict each other.
    """
    rules = catalogue.rules()
    assumed = [f"{words}{OF_HOUSE}" for words in job.house]
    job, leader, lines, every = led(said := on_own_label(checked(job)), assumed)
    market, known, language = _market(job, every, assumed)
    right_to_left = reads_right_to_left(" ".join(lines), language)
    job, method, lap = _lapped(job, method_for(job, assumed), rules, assumed)
    method, frame = frame_of(job, method, rules, assumed)
    board, panel = _board(job, rules, assumed)
    side = usual_binding_side(" ".join(lines), market, right_to_left=right_to_left)
    spine, widest = _backs(job, side, method, rules, assumed)
    lettering = _lettering(job, font_choice, lines, market, method, assumed)
    lettering = with_clearance(lettering, method, frame, rules, assumed)
    spine, call_number = placed(job, spine, lettering.clearance_mm, rules, assumed)
    thickness_mm, old_lettering = _label(job, spine, method, rules, assumed)
    if old_lettering is not None:
        from spinefit.job.old_lettering import with_old

        spine, widest, method = with_old((spine, widest), method, old_lettering, assumed)
    return ResolvedJob(
        title_lines=lines,
        spine=spine,
        widest=widest,
        panel=panel,
        shape=_shape(job),
        lettering=_with_tools(job, lettering, method, rules, assumed),
        market=market,
        market_code=None if job.market is None else catalogue.country(job.market),
        market_known=known,
        language=language,
        method=method,
        work=_work(job, method, assumed),
        reading_distance_mm=_distance_mm(job, rules, assumed),
        rules=rules,
        front_board=board,
        parts=resolved_parts(said, leader, method, rules, assumed),
        recess=_recess(job, method, rules, assumed),
        assumed=tuple(assumed),
        label_thickness_mm=thickness_mm,
        old_lettering=old_lettering,
        right_to_left=right_to_left,
        frame=frame,
        leader=leader,
        lap=lap,
        **_as_drawn(job, method),
        commission=commission_of(job),
        call_number=call_number,
    )


def _lapped(
    job: Job, method: Method, rules: Rules, assumed: list[str]
) -> tuple[Job, Method, Lap | None]:
    """Job, method and reach of a label that goes round over the joints; else as they are."""
    if job.lap_mm is None:
        return job, method, None
    from spinefit.job.boards import resolve_lap

    return resolve_lap(job, job.lap_mm, method, rules, assumed)


def _board(job: Job, rules: Rules, assumed: list[str]) -> tuple[ResolvedBoard | None, Panel | None]:
    """The front board with the panel on it, where it is lettered; else a panel given outright."""
    if job.front_board is None:
        return None, _outright(job)
    if job.spine is not None or job.panel is not None:
        raise JobError(
            f"both a front board and a {'spine' if job.panel is None else 'panel'} given",
            remedy="the lettering stands on one of them",
        )
    from spinefit.job.boards import board_panel, resolve_board

    board = resolve_board(job.front_board, rules, assumed)
    return board, board_panel(job.front_board, board, rules)


def _backs(
    job: Job, side: BindingSide, method: Method, rules: Rules, assumed: list[str]
) -> tuple[ResolvedSpine | None, ResolvedSpine | None]:
    """The back at its least width and at its greatest; nothing where none is lettered."""
    if job.spine is None:
        return None, None
    return resolve_backs(job.spine, side, method, _kind_of_work(job, method), rules, assumed)


def _recess(job: Job, method: Method, rules: Rules, assumed: list[str]) -> ResolvedRecess | None:
    if job.recess is None:
        return None
    from spinefit.job.boards import resolve_recess

    return resolve_recess(job, method, rules, assumed)


def _label(
    job: Job, spine: ResolvedSpine | None, method: Method, rules: Rules, assumed: list[str]
) -> tuple[float | None, ResolvedOldLettering | None]:
    """Thickness of a label over a round or joints, and what it is to cover; mostly nothing."""
    over_round = spine is not None and spine.form is BackForm.ROUNDED
    bent = method.place is Place.LABEL and (over_round or job.lap_mm is not None)
    given = (job.label_thickness_mm, job.old_lettering, job.overlap_mm)
    if not bent and given == (None, None, None):
        return None, None
    from spinefit.job.boards import thickness_mm_of
    from spinefit.job.old_lettering import old_lettering_of

    thickness_mm = thickness_mm_of(job, method, assumed, bent=bent)
    return thickness_mm, old_lettering_of(job, spine, method, rules, assumed)


def _market(
    job: Job, lines: tuple[str, ...], assumed: list[str]
) -> tuple[Market, bool, str | None]:
    """The row that serves titles of this language, whether it is the market's own, the language."""
    market, known = catalogue.market(job.market)
    if job.market is None:
        assumed.append("market: none given, so the international standard ISO 6357")
    language = _language(job, lines, market, assumed)
    titles, _known = catalogue.market(job.market, language)
    if titles != market and job.language is None:
        assumed.append(f"market: {titles.name}, by the language of the title")
    return titles, known, language


def _language(job: Job, lines: tuple[str, ...], market: Market, assumed: list[str]) -> str | None:
    if job.language is not None:
        return job.language
    language = guess_language(lines, market.languages)
    if language:
        own = language == next(iter(market.languages), None)
        assumed.append(
            f"language: {language}, by {'the market' if own else 'the small words of the title'}"
        )
    return language


def _work(job: Job, method: Method, assumed: list[str]) -> Work:
    """The kind of work, named where it was not said."""
    work = _kind_of_work(job, method)
    return usual(job.work, work, f"work: a {work.words}", assumed)


def _kind_of_work(job: Job, method: Method) -> Work:
    """What was said; else that of a label, of a back with bands, or the method's."""
    if job.work is not None:
        return job.work
    if method.place is Place.LABEL or (job.spine is None and job.method is None):
        return Work.LABEL
    if job.spine is not None and (job.spine.bands or job.spine.bands_at_mm):
        return Work.LEATHER
    return method.work


def _distance_mm(job: Job, rules: Rules, assumed: list[str]) -> float:
    usual_mm = rules.value("legibility.distance_mm")
    words = f"reading distance: {usual_mm:g} mm"
    return usual(job.reading_distance_mm, usual_mm, words, assumed)


def _as_drawn(job: Job, method: Method) -> dict[str, Any]:
    """The label, and the colours of covering and ink, each what stands out on the other.

    A label hides its covering: there neither says what the other is, and its ink is dark.
    """
    covering, ink = job.covering_colour, job.ink_colour
    if method.place is Place.LABEL:
        ink = ink or (None if covering is None else Tone.DARK)
    else:
        ink = ink or (covering and covering.opposite)
        covering = covering or (ink and ink.opposite)
    label = label_of(job, method)
    return {"label": label, "covering_colour": covering, "ink_colour": ink}


def _outright(job: Job) -> Panel | None:
    if (job.panel is None) == (job.spine is None):
        what = "no width given" if job.panel is None else "both a spine and a panel given"
        raise JobError(what, remedy="give either --width or --panel WxH")
    return job.panel


def _shape(job: Job) -> Shape:
    if job.shape is None:
        return _RECTANGLE
    shape = checked(job.shape)
    needs_corner = shape.form in (PanelForm.ROUNDED, PanelForm.CUT)
    if needs_corner and shape.corner_mm is None:
        raise FieldError(
            f"a {shape.form} panel needs the size of its corner", where="--panel-shape",
            remedy="give --corner, such as 3mm",
        )  # fmt: skip
    framed = job.frame_corners in (FrameCorners.ROUNDED, FrameCorners.CUT)
    if shape.corner_mm is not None and not needs_corner and not framed:
        raise FieldError(
            "only a rounded or cut panel has corners", value=f"{shape.corner_mm:g} mm",
            where="--corner", remedy="give --panel-shape or --frame-corners, rounded or cut",
        )  # fmt: skip
    return shape


def _lettering(
    job: Job,
    font_choice: int,
    lines: tuple[str, ...],
    market: Market,
    method: Method,
    assumed: list[str],
) -> ResolvedLettering:
    """The lettering, completed but for its clearance: its market settles which way it runs."""
    font = font_for(job.lettering, method, font_choice, assumed)
    lettering = checked(job.lettering)
    if job.front_board is not None and lettering.orientation is None:
        lettering = replace(lettering, orientation=Orientation.TRANSVERSE)
        assumed.append("orientation: transverse, as a board is read level")
    reading, chosen = _reading(lettering, market)
    if lettering.orientation is None and any(map(stands_along, lines)):
        lettering = replace(lettering, orientation=Orientation.LONGITUDINAL)
        assumed.append("orientation: along, descending, as Mongolian columns stand")
        reading = reading if chosen else Reading.DESCENDING
    orientation = lettering.orientation or Orientation.ANY
    axes: tuple[tuple[str, float], ...] = ()
    sought: tuple[str, AxisGoal] | None = None
    if lettering.axes is not None:
        axes, sought = checked_axes(lettering.axes, size_pt=lettering.size_pt)
    count = lines_asked(job, lines)
    by_hand = lettering.lines_up_mm, lettering.lines_tracking
    nudges = nudges_of(*by_hand, usual=lettering.tracking, forced=len(lines), asked=count)
    count = len(nudges) or count
    _assume_setting(lettering, count, assumed)
    return ResolvedLettering(
        font=font,
        case=lettering.case or Case.AS_TYPED,
        tracking_em=(lettering.tracking or 0.0) / 1000,
        orientation=orientation,
        reading=reading,
        reading_asked=chosen,
        lines=_line_count(count, lines, orientation),
        size_pt=lettering.size_pt,
        leading_em=lettering.leading_em,
        clearance_mm=lettering.clearance_mm or 0.0,
        clearance_typed=lettering.clearance_mm is not None,
        centre=lettering.centre or Centre.AUTO,
        break_words=lettering.break_words or BreakWords.NEVER,
        small_words=lettering.small_words or SmallWords.JOINED,
        group_shape=_group_shape(lettering, orientation),
        nudges=nudges,
        sizes_pt=lettering.sizes_pt,
        face=lettering.face,
        axes=axes,
        sought=sought,
        fallback=lettering.fallback,
    )


def _with_tools(
    job: Job, lettering: ResolvedLettering, method: Method, rules: Rules, assumed: list[str]
) -> ResolvedLettering:
    """The lettering, its letters those of tools where there are any."""
    if job.lettering.tools is None:
        return lettering
    from spinefit.job.tools import resolve_tools

    return resolve_tools(job.lettering, lettering, method, rules, assumed)


def _assume_setting(lettering: Lettering, count: int | None, assumed: list[str]) -> None:
    """Name what was not said of the setting itself."""
    for value, words in (
        (lettering.case, "case: as typed"),
        (lettering.orientation, "orientation: any"),
        (count, "lines: any number"),
        (lettering.break_words, "break words: never"),
        (lettering.leading_em, "leading: by rule, never so close that lines touch"),
        (lettering.centre, "centre: capitals along a back, ink otherwise"),
    ):
        if value is None:
            assumed.append(words)


def _reading(lettering: Lettering, market: Market) -> tuple[Reading, bool]:
    if lettering.reading in (Reading.DESCENDING, Reading.ASCENDING):
        return lettering.reading, True
    if lettering.reading not in (None, Reading.AUTO):
        raise FieldError(
            "longitudinal lettering is descending or ascending", value=lettering.reading,
            where="--reading", remedy="or leave it to the market with auto",
        )  # fmt: skip
    upright = market.reading is Reading.UPRIGHT
    return (Reading.DESCENDING if upright else market.reading), False


def _group_shape(lettering: Lettering, orientation: Orientation) -> GroupShape | None:
    if lettering.group_shape is not None and orientation is Orientation.PILLAR:
        raise FieldError(
            "a pillar has no lines to make a shape", value=str(lettering.group_shape),
            where="--shape",
            remedy="leave it out, or take --orientation transverse",
        )  # fmt: skip
    return lettering.group_shape


def _line_count(count: int | None, lines: tuple[str, ...], orientation: Orientation) -> int | None:
    if count is None and len(lines) == 1:
        return None
    pillar = orientation is Orientation.PILLAR
    one_column = pillar and not sets_upright(" ".join(lines))
    if one_column and len(lines) > 1:
        raise FieldError(
            "a pillar is one column", where="TITLE", remedy="take out the forced break ' / '"
        )
    if count is None:
        return None
    if one_column and count != 1:
        raise FieldError(
            "a pillar is one column", value=count, where="--lines", remedy="leave --lines out"
        )
    if count < len(lines):
        raise FieldError(
            f"the title's forced breaks make {len(lines)} lines",
            value=count,
            where="--lines",
            remedy=f"give {len(lines)} or more, or take out a ' / '",
        )
    return count
