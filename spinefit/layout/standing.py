"""Which ways can a title stand in a panel, and how large can a group of lines be there?

In: the job and its shaped title; then a panel, one of these orientations and groups at one em.
Out: the orientations and numbers of lines to try, in the order a report lists them: a pillar on
request only, or where the market sets its own script upright. Then a `Layout` for each group, with
its exact largest size, or only a bound on that. Which lines a group has is for `divisions`.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, lru_cache
from itertools import chain
from typing import TYPE_CHECKING, NamedTuple

from spinefit.errors import FieldError, FontBrokenError
from spinefit.geometry import Limit, UsablePanel, largest, limits_in, reach_of, turn_box
from spinefit.geometry.framing import within_frame
from spinefit.geometry.plane import Corners, Ring, is_convex
from spinefit.job.resolved import ResolvedJob
from spinefit.layout.divisions import Lines
from spinefit.layout.group import Group, placed_outlines, vertical_reach
from spinefit.layout.splits import Split
from spinefit.shaping.glyphs import Box, Placed, Point
from spinefit.shaping.scripts import CURSIVE, itemise
from spinefit.shaping.setter import Levels
from spinefit.shaping.title import ShapedTitle
from spinefit.vocabulary import BreakWords, Centre, LimitedBy, Orientation, Reading, Turn

if TYPE_CHECKING:
    from spinefit.geometry.polygons import Ink

_UPRIGHT_LANGUAGES = frozenset(("ja", "ko", "yue", "zh"))


class Candidate(NamedTuple):
    """An orientation, the way it reads, and the numbers of lines to try."""

    orientation: Orientation
    reading: Reading
    turn: Turn
    line_counts: range


def candidates(job: ResolvedJob, title: ShapedTitle) -> tuple[Candidate, ...]:
    """What is to be tried.

    Raises:
        FieldError: more lines asked for than the title has pieces.
    """
    asked = job.lettering.orientation
    pieces = len(title.run_broken(job.lettering.break_words).pieces)
    _refuse_too_many(job, pieces)
    pillar = asked is Orientation.PILLAR
    if title.nudges and (pillar or len(title.nudges) != job.lettering.lines):
        raise FieldError(
            "lines moved or spaced by hand keep their number, and make no pillar",
            where="--lines-up", remedy="leave --lines-up and --lines-tracking out",
        )  # fmt: skip
    if asked is Orientation.PILLAR:
        _refuse_joined(title.text)
    found: list[Candidate] = []
    if asked in (Orientation.ANY, Orientation.TRANSVERSE):
        counts = _counts(job, len(title.lines), pieces, int(job.rules.value("lines.most")))
        found.append(Candidate(Orientation.TRANSVERSE, Reading.ACROSS, Turn.NONE, counts))
    if asked in (Orientation.ANY, Orientation.LONGITUDINAL):
        counts = _counts(job, len(title.lines), pieces, int(job.rules.value("lines.most")))
        turn = turn_of(job.lettering.reading, right_to_left=job.right_to_left)
        found.append(Candidate(Orientation.LONGITUDINAL, job.lettering.reading, turn, counts))
    if asked is Orientation.PILLAR or sets_columns_here(job, title):
        counts = range(1, 2)
        if title.sets_columns:
            most = int(job.rules.value("lines.most_along"))
            counts = _counts(job, len(title.lines), len(title.run.pieces), most)
        found.append(Candidate(Orientation.PILLAR, Reading.STACKED, Turn.NONE, counts))
    return tuple(found)


def turn_of(reading: Reading, *, right_to_left: bool) -> Turn:
    """How lines are turned, so that a right-to-left script reads the same way along the back."""
    descending = reading is Reading.DESCENDING
    if right_to_left:
        descending = not descending
    return Turn.CLOCKWISE if descending else Turn.ANTICLOCKWISE


def _refuse_too_many(job: ResolvedJob, pieces: int) -> None:
    count = job.lettering.lines
    if count is None or count <= pieces or job.lettering.orientation is Orientation.PILLAR:
        return
    what = "one piece" if pieces == 1 else f"{pieces} pieces"
    remedy = f"give {pieces} or fewer"
    if job.lettering.break_words is BreakWords.NEVER:
        remedy += ", or allow words to be broken with --break-words"
    raise FieldError(
        f"the title breaks into {what} at most", value=count, where="--lines", remedy=remedy
    )


def _refuse_joined(text: str) -> None:
    """Letters that join lose their joins, and their forms, one under another."""
    if text.isascii() or not any(run.script in CURSIVE for run in itemise(text)):
        return
    raise FieldError(
        "letters that join cannot stand one under another",
        value=text,
        where="--orientation",
        remedy="take longitudinal or transverse",
    )


def _counts(job: ResolvedJob, forced: int, pieces: int, most: int) -> range:
    asked = job.lettering.lines
    if asked is not None:
        return range(asked, asked + 1)
    return range(forced, max(forced, min(pieces, most)) + 1)


def sets_columns_here(job: ResolvedJob, title: ShapedTitle) -> bool:
    """Whether columns were asked for, or the market or the language sets such letters so."""
    asked = job.lettering.orientation
    primary = (job.language or "").split("-")[0].lower()
    own = job.market.reading is Reading.UPRIGHT or primary in _UPRIGHT_LANGUAGES
    wanted = asked is Orientation.PILLAR or (asked is Orientation.ANY and own)
    return wanted and title.sets_columns


class Layout(NamedTuple):
    """One setting of the title and how large it can be.

    Attributes:
        candidate: orientation, reading, turn.
        group: its lines at one em.
        title: the title whose ink this is.
        limit: the largest size, em in mm, and what sets it.
        panel: the panel it stands in; the whole back for lettering over the bands.
        split: why this split is listed: least width, size, sense, as typed, whole.
        over_bands: True for lettering along the whole back over its bands.
        nearest_mm: for a panel that is no plain rectangle, the distance in mm from the ink to
            the parts of its outline that are no sides of its box, at a size (em in mm);
            None for a plain rectangle.
        floats: True where the group has no fixed place along the spine, so that it stands
            where custom puts it (a quarter down), or over old lettering, and its limit is that
            of the whole height.
        cut: whether words may be broken, and the split; None for a pillar.
        at_size: the setting in the letters drawn for a size in points, the limit being that of
            letters of its own; None where letters are the same in every size.
    """

    candidate: Candidate
    group: Group
    title: ShapedTitle
    limit: Limit
    panel: UsablePanel
    split: str
    over_bands: bool
    floats: bool
    nearest_mm: Callable[[float], float] | None = None
    cut: tuple[BreakWords, Split] | None = None
    at_size: Callable[[float], Layout] | None = None

    def meeting(self) -> tuple[str, str] | None:
        """Two lines, the upper one first, that a hand moved until they meet; else None."""
        if not any([text.title.nudges for text in self.title.texts]):
            return None
        from spinefit.layout.by_hand import meeting

        return meeting(self.group)

    def placed(self) -> list[Placed]:
        """Its outlines in em about the placing point, their letters not turned."""
        pillar = self.candidate.orientation is Orientation.PILLAR
        return placed_outlines(self.title, self.group, pillar=pillar)


LayoutKey = tuple[bool, int, int, tuple[str, ...]]
"""What makes a layout the same in every size; in the order in which layouts are listed."""

_ORDER = (Orientation.TRANSVERSE, Orientation.LONGITUDINAL, Orientation.PILLAR)


def key_of(layout: Layout) -> LayoutKey:
    """What a layout has in common with those of the same lines in other sizes."""
    candidate, texts = layout.candidate, layout.group.texts
    return layout.over_bands, _ORDER.index(candidate.orientation), len(texts), texts


class Standing:
    """One orientation in one panel.

    Attributes:
        candidate: the orientation, its reading and turn.
        centre: what is put on the middle of the panel.
        floats: True where the group has no fixed place along the spine.
        is_plain: True where the panel is a plain rectangle.
    """

    def __init__(
        self, job: ResolvedJob, title: ShapedTitle, panel: UsablePanel, candidate: Candidate
    ) -> None:
        self._title = title
        self._panel = panel
        self.is_plain = panel.is_plain
        self._along = candidate.turn is not Turn.NONE
        self._clearance_mm = job.lettering.clearance_mm
        self.candidate = candidate
        self.centre = _centre(job, title, candidate)
        on_back = job.spine is not None and panel.number is None and job.label is None
        across = candidate.orientation is Orientation.TRANSVERSE
        old = job.old_lettering
        covers = job.spine is not None and old is not None and old.covered
        free = on_back and (across or job.call_number is not None)
        self.floats = self.is_plain and (free or covers)
        if self.is_plain:
            self._in_rectangle = limits_in(panel, self._clearance_mm)
        self._wanted_mm = None
        if across and on_back and not self.is_plain:
            self._wanted_mm = _place_by_custom(job, panel)

    def layout(self, group: Group, why: str, cut: tuple[BreakWords, Split] | None = None) -> Layout:
        """A group standing so, and its largest size.

        Args:
            group: its lines at one em.
            why: why this split is listed.
            cut: whether words may be broken, and the split; None for a pillar.
        """
        nearest_mm = None
        if self.is_plain:
            limit = self._in_rectangle.limit(*self._reach(group.box))
        else:
            limit, nearest_mm = self._shaped_limit(group)
        return Layout(
            self.candidate,
            group,
            self._title,
            limit,
            self._panel,
            why,
            False,  # over the bands
            self.floats,
            nearest_mm,
            cut,
        )

    def size_bound_mm(self, width: float, top: float, bottom: float, depth: float) -> float:
        """A size that no group of these extents exceeds, in mm; exact in a plain rectangle.

        Args:
            width: of its widest line, in em.
            top: of the first line's ink over its baseline, in em.
            bottom: of the last line's ink, likewise.
            depth: from the first baseline to the last, in em.
        """
        if not self.is_plain:
            return float("inf")
        reach = vertical_reach(self._title, top, bottom, depth, self.centre)
        half = width / 2
        return self._in_rectangle.size_mm(*self._reach((-half, reach[1], half, reach[0])))

    def limited_by_lines(self, layout: Layout) -> bool:
        """True where the widest line sets the size, so that only narrower ones can be larger."""
        if not self.is_plain:
            return False
        return (layout.limit.by is LimitedBy.HEIGHT) is self._along

    def is_least_high(self, layout: Layout, reach: tuple[float, float]) -> bool:
        """True where no split into as many lines is lower than the layout's.

        Args:
            layout: one of the splits of a title.
            reach: the lowest top of all first lines and the highest bottom of all last ones.
        """
        lines = layout.group.lines
        if not self.is_plain or not isinstance(lines, Lines):
            return False
        return lines.top_em <= reach[0] and lines.bottom_em >= reach[1] - lines.depth_em

    def widest_at(self, best: Layout, share: float) -> float:
        """Greatest line width in em that can still be set at a share of the best size."""
        size_mm = best.limit.size_mm * share
        room_mm = self._panel.height_mm if self._along else self._panel.width_mm
        if not self.is_plain or size_mm <= 0:
            return max(best.group.widths_em) / share
        if room_mm is None:
            return float("inf")
        return (room_mm - 2 * self._clearance_mm) / size_mm

    def _reach(self, box: Box) -> tuple[float, float]:
        """How far ink in that box, level, reaches across and up once it is turned.

        A group free to move up and down counts from its middle.
        """
        if self.floats and not self._along:  # lines along are centred on their middle anyhow
            return box[2], (box[3] - box[1]) / 2
        level, upright = reach_of(box)
        return (upright, level) if self._along else (level, upright)

    def _shaped_limit(self, group: Group) -> tuple[Limit, Callable[[float], float]]:
        """The limit in a panel that is no plain rectangle, and how near its outline is."""
        from spinefit.geometry import panel_polygons, polygons

        turn = self.candidate.turn
        pillar = self.candidate.orientation is Orientation.PILLAR
        panel = within_frame(self._panel)[0]
        convex = panel.outline_mm and not panel.holes_mm and is_convex(panel.outline_mm)

        @cache
        def placed() -> list[Placed]:
            return placed_outlines(self._title, group, pillar=pillar)

        @cache
        def hull() -> Ring:
            if group.set_lines:
                return polygons.hull_of([_label_hull(group, turn)])
            return polygons.ink_hull(placed(), turn=turn)

        def rings() -> tuple[Corners, ...]:
            if convex and group.set_lines:  # the corners of its hull, as they come
                return (_label_hull(group, turn),)
            found = (hull(),) if convex else polygons.ink_rings(ink())
            if not any(map(len, found)):
                raise FontBrokenError(
                    f"the outlines of {self._title.font.name} take one another away and leave no "
                    "ink",
                    value=self._title.text, where="--font", remedy="give another font",
                )  # fmt: skip
            return found

        @cache
        def ink() -> Ink:
            if convex:
                return polygons.ring_line(hull())
            return polygons.ink_parts(placed(), turn=turn)

        limit = largest(
            self._panel,
            turn_box(group.box, turn),
            rings,
            clearance_mm=self._clearance_mm,
            wanted_mm=self._wanted_mm,
        )

        def nearest_mm(size_mm: float) -> float:
            return panel_polygons.distance_to_shape(
                ink(), panel, centre_mm=limit.centre_mm, size_mm=size_mm
            )

        return limit, nearest_mm


def _label_hull(group: Group, turn: Turn) -> Corners:
    """The hull of a label with several texts, laid in many sizes: of those of its lines."""
    from spinefit.geometry.polygons import lines_hull

    hulls = (
        (_line_hull(one.title, one.text, one.levels and tuple(one.levels)), one.scale,
         one.baseline_em)
        for one in group.set_lines
    )  # fmt: skip
    return lines_hull(hulls, chain.from_iterable(group.rules), turn=turn)


@lru_cache(maxsize=64)
def _line_hull(title: ShapedTitle, text: str, levels: Levels) -> Corners:
    """The hull of a line in its own em, its ink centred on x = 0."""
    from spinefit.geometry.polygons import line_hull

    placed, box = title.set_line(text, levels)
    assert box is not None  # it has ink, or it would have no width
    middle = (box[0] + box[2]) / 2
    return line_hull((outline, x - middle, y) for outline, x, y in placed)


def _centre(job: ResolvedJob, title: ShapedTitle, candidate: Candidate) -> Centre:
    asked = job.lettering.centre
    if asked is not Centre.AUTO:
        return asked
    along = candidate.orientation is Orientation.LONGITUDINAL
    capitals = along and title.has_case and job.spine is not None and job.label is None
    return Centre.CAPITALS if capitals else Centre.INK


def _place_by_custom(job: ResolvedJob, panel: UsablePanel) -> Point | None:
    """Where custom puts lettering across an unbanded back whose panel is no rectangle."""
    if job.spine is None or panel.middle_from_head_mm is None or panel.back_height_mm is None:
        return None
    share = job.rules.value("ends.from_head")
    from_head_mm = job.spine.from_head_mm or share * panel.back_height_mm
    return 0.0, panel.middle_from_head_mm - from_head_mm
