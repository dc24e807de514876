"""What is a drawing of, and on which sheets does it stand?

In: an answer or a plan's report, as a `Subject`: one title, several texts on a back, or the
volumes of a set. Out: scenes at their own sizes: the lettered back, on a rounded one also its
section and how it is seen from the shelf, with a title block in a column of its own; for lettering
on a front board the board instead; after either the cutting drawing of a recess. The sheet is
the smallest of ISO 216's A sizes that holds it, from A4 on, or as large as it must be: nothing
is ever drawn smaller, save a front board (`front_board`).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from spinefit.drawing.back import elevation
from spinefit.drawing.block import block
from spinefit.drawing.frame import ShownText, frame_of, shown_text
from spinefit.drawing.front_board import board_scene
from spinefit.drawing.marks import OUTLINE, box, boxes_mm, extents_mm, label
from spinefit.drawing.paper import paper_sizes
from spinefit.drawing.recess import recess_scene
from spinefit.drawing.round import section, seen
from spinefit.drawing.scene import Group, Item, Scene, moved
from spinefit.pipeline import Answer, answer_of
from spinefit.say import phrasing as say
from spinefit.say.model import FindingReport
from spinefit.say.plan_model import BackReport, PlanReport, TextReport
from spinefit.say.remedies import changes_of
from spinefit.shaping.glyphs import Box, Point
from spinefit.vocabulary import BackForm, Place, Role, Verdict

_PAPERS = ("A4", "A3", "A2", "A1")
_MARGIN_MM = 6.0
_OFF_MM = 11.0  # of the drawing from the edge of the sheet
_LOWER_SHARE = 0.35  # of the height to spare lies above the drawing where nothing is in the way
_COLUMN_MM = 66.0
_GAP_MM = 6.0
_SHELF_GAP_MM = 14.0
_NAME_MM = 18.0  # of a volume above the head, past its direction and its verdict


class Subject(NamedTuple):
    """What a drawing is of.

    Attributes:
        backs: the texts on each back; one back, or one for each volume.
        names: what each back is called; "" where there is one.
        verdict: of the whole.
        answer: the same in a sentence.
        title: in a few words.
        findings: what concerns the whole of several texts or volumes; none for one title, whose
            findings its own report holds.
        changes: what could be done about the whole, in sentences.
    """

    backs: tuple[tuple[ShownText, ...], ...]
    names: tuple[str, ...]
    verdict: Verdict
    answer: str
    title: str
    findings: tuple[FindingReport, ...] = ()
    changes: tuple[str, ...] = ()

    @property
    def texts(self) -> tuple[ShownText, ...]:
        """Every text that is drawn."""
        return tuple(shown for texts in self.backs for shown in texts)

    @property
    def whose(self) -> tuple[str, ...]:
        """Whose job each is, once; none where nothing was said."""
        found = dict.fromkeys(shown.answer.job.commission.on_paper for shown in self.texts)
        return tuple(filter(None, found))

    @property
    def on_board(self) -> bool:
        """Whether the lettering stands on the front board, which is drawn at half size."""
        texts = self.texts
        return len(texts) == 1 and texts[0].answer.judgement.board_place is not None


def subject_of(answer: Answer) -> Subject:
    """One title."""
    report = answer.report
    return Subject(
        ((shown_text(answer),),), ("",), report.verdict, report.answer, say.visible(report.title)
    )


def subject_of_plan(plan: PlanReport) -> Subject:
    """Several texts on one back, or the volumes of a set side by side."""
    if isinstance(plan, BackReport) and plan.is_single:
        return subject_of(answer_of(plan.texts[0].judged, plan.texts[0].report))
    if isinstance(plan, BackReport):
        labels = {one.name: (one.zone.begins_mm, one.zone.ends_mm) for one in plan.labels}
        backs: tuple[tuple[ShownText, ...], ...] = (
            tuple(
                one if text.label is None else one._replace(label_mm=labels[text.label])
                for text, one in zip(plan.texts, map(_shown_text, plan.texts), strict=True)
            ),
        )
        names: tuple[str, ...] = ("",)
        title = ", ".join(say.visible(shown.answer.report.title) for shown in backs[0])
    else:
        names = tuple(one.label for one in plan.volumes)
        title = f"A set of {len(names)}: {', '.join(map(say.visible, names))}"
        backs = tuple(tuple(map(_shown_text, one.texts)) for one in plan.volumes)
        if not plan.of_texts:
            backs = tuple((own[0]._replace(name=""), *own[1:]) for own in backs)
    changes = tuple(changes_of(plan))
    return Subject(backs, names, plan.verdict, plan.answer, title, plan.findings, changes)


def _shown_text(text: TextReport) -> ShownText:
    name = "number" if text.role is Role.CALL_NUMBER else text.role.words  # short, as room is
    shown, zone = shown_text(answer_of(text.judged, text.report), name), text.zone
    on_label = text.judged.job.method.place is Place.LABEL and text.panel is None
    if text.role is not Role.CALL_NUMBER or not on_label or zone is None or not text.fits:
        return shown
    return shown._replace(label_mm=(zone.begins_mm, zone.ends_mm))  # cut for it alone


def plates(subject: Subject) -> tuple[Scene, ...]:
    """Every sheet, each whole by itself."""
    return _sheets(subject, plate)


def figures(subject: Subject) -> tuple[Scene, ...]:
    """The same for a page that says the rest."""
    return _sheets(subject, figure)


def _sheets(subject: Subject, draw: Callable[[Subject], Scene]) -> tuple[Scene, ...]:
    """The board or the back, then how each recess is cut."""
    answers = [shown.answer for shown in subject.texts]
    return (
        board_scene(answers[0]) if subject.on_board else draw(subject),
        *(recess_scene(one) for one in answers if one.judgement.recess and one.report.fits),
    )


def stacked(scenes: Sequence[Scene]) -> Scene:
    """Scenes one under another on one sheet, for a format that has no pages."""
    if len(scenes) == 1:
        return scenes[0]
    height_mm = sum(one.height_mm for one in scenes)
    items: list[Item] = []
    top = height_mm
    for one in scenes:
        top -= one.height_mm
        items += moved(one.items, (0.0, top))
    first = scenes[0]
    described = " ".join(one.description for one in scenes)
    width_mm = max(one.width_mm for one in scenes)
    return Scene(width_mm, height_mm, first.title, described, tuple(items))


def plate(subject: Subject) -> Scene:
    """The whole drawing with its title block on a sheet of its own.

    Args:
        subject: what to draw.
    """
    drawn = _placed(_backs(subject), 0.0, 0.0)
    made, views = _block(subject), _views(subject)
    width, height, at = _sheet(drawn, made, views)
    corner = (width - _MARGIN_MM - _COLUMN_MM, _MARGIN_MM - extents_mm(made)[1])
    items = [
        box(_MARGIN_MM, _MARGIN_MM, width - _MARGIN_MM, height - _MARGIN_MM, pen=OUTLINE),
        *moved(drawn, at),
        *moved(made, corner),
    ]
    if views:
        items += moved(views, (width - _OFF_MM - extents_mm(views)[2], height - _OFF_MM))
    return Scene(width, height, subject.title, _described(subject), tuple(items))


def figure(subject: Subject) -> Scene:
    """The drawing alone, as large as it is, for a page that says the rest."""
    drawn = [*_placed(_backs(subject), 0.0, 0.0)]
    views = _views(subject)
    if views:
        drawn += moved(views, (extents_mm(drawn)[2] + _GAP_MM, 0.0))
    left, bottom, right, top = extents_mm(drawn)
    items = moved(drawn, (2.0 - left, 2.0 - bottom))
    return Scene(right - left + 4, top - bottom + 4, subject.title, _described(subject), items)


def _backs(subject: Subject) -> tuple[Item, ...]:
    """The back, or the volumes side by side, standing on one shelf."""
    found: list[Item] = []
    x = 0.0
    for texts, name in zip(subject.backs, subject.names, strict=True):
        frame = frame_of(texts)
        items = elevation(frame)
        if name:
            items = (*items, *label((0.0, _NAME_MM), say.visible(name), anchor="middle", bold=True))
        left, _bottom, right, _top = extents_mm(items)
        shift = x - left if found else 0.0
        found.append(Group("volume" if name else "drawing",
                           moved(items, (shift, -frame.tail_mm))))  # fmt: skip
        x = shift + right + _SHELF_GAP_MM
    return tuple(found)


def _placed(items: Sequence[Item], left: float, top: float) -> tuple[Item, ...]:
    """Items with their top left corner there."""
    found = extents_mm(items)
    return moved(items, (left - found[0], top - found[3]))


def _block(subject: Subject) -> tuple[Item, ...]:
    first = subject.backs[0][0]
    lines = [say.visible(line) for line in first.layout.lines]
    if len(subject.texts) > 1:
        lines = list(dict.fromkeys(say.joined(shown.layout) for shown in subject.texts))
    return block(
        subject.texts,
        titles=lines,
        verdict=subject.verdict,
        answer=subject.answer,
        wide_mm=_COLUMN_MM,
    )


def _views(subject: Subject) -> tuple[Item, ...]:
    """What is seen and the section, one under the other, from the origin down."""
    shown = subject.backs[0][0]
    back = shown.panel.back
    if len(subject.backs) > 1 or back is None or back.form is not BackForm.ROUNDED:
        return ()
    frame = frame_of(subject.backs[0][:1])
    items: list[Item] = []
    y = 0.0
    for heading, view in (
        ("As seen from the shelf", seen(frame)),
        ("Section, the reader below", section(frame)),
    ):
        items += label((0.0, y - 2.0), heading, bold=True, halo=False)
        placed = _placed(view, 0.0, y - 7.0)
        spare = _COLUMN_MM - extents_mm(placed)[2]
        items += moved(placed, (max(0.0, spare / 2), 0.0))
        y = extents_mm(items)[1] - 9.0
    return (Group("views", tuple(items)),)


def _sheet(
    drawn: Sequence[Item], made: Sequence[Item], views: Sequence[Item]
) -> tuple[float, float, Point]:
    """The smallest sheet on which nothing meets, and where the drawing's top left corner goes."""
    boxes = list(boxes_mm(drawn))
    whole = extents_mm(drawn)
    block_mm = (_COLUMN_MM + _MARGIN_MM + _GAP_MM, -extents_mm(made)[1] + _MARGIN_MM + _GAP_MM)
    views_mm = (0.0, 0.0)
    if views:
        view = extents_mm(views)
        views_mm = (view[2] - view[0] + _OFF_MM + _GAP_MM, -view[1] + _OFF_MM + _GAP_MM)
    tall = max(block_mm[1] + views_mm[1], 2 * _OFF_MM - whole[1])
    least = (2 * _OFF_MM + whole[2] + max(block_mm[0], views_mm[0]), tall)
    turned = whole[2] - whole[0] > whole[3] - whole[1]  # what is wider than high lies down first
    ways = (-1, 1) if turned else (1, -1)
    sheets = (size[:2][::way] for size in paper_sizes(_PAPERS) for way in ways)
    for width, height in (*sheets, least):
        spare = height - 2 * _OFF_MM + whole[1]
        for down in (_OFF_MM + spare * _LOWER_SHARE, _OFF_MM):
            room = _room_mm(boxes, (width, height), down, block_mm, views_mm)
            if spare >= 0 and room >= 0 and tall <= height:
                return width, height, (_OFF_MM + room / 2, height - down)
    raise AssertionError("the sheet made to measure holds the drawing")


def _room_mm(
    boxes: Sequence[Box], sheet: Point, down_mm: float, block_mm: Point, views_mm: Point
) -> float:
    """How far to the right the drawing may be moved; below 0 where it does not go at all."""
    room = sheet[0] - 2 * _OFF_MM - max(right for _left, _bottom, right, _top in boxes)
    for _left, bottom, right, top in boxes:
        if sheet[1] - down_mm + bottom < block_mm[1]:
            room = min(room, sheet[0] - block_mm[0] - _OFF_MM - right)
        if down_mm - top < views_mm[1]:
            room = min(room, sheet[0] - views_mm[0] - _OFF_MM - right)
    return room


def _described(subject: Subject) -> str:
    return f"{say.visible(subject.answer)} Drawn at true size, lengths in mm."
