"""What stands in the title block of a drawing?

In: the texts of a drawing and the answer in one sentence. Out: items, the top left corner at
the origin: title, verdict, answer, the settings, what can hurt, the legend, and a bar of
50 mm by which a print is checked.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spinefit.drawing.back import reads_in_words
from spinefit.drawing.frame import ShownText
from spinefit.drawing.marks import (
    CENTRE,
    DASHED,
    FINE,
    OUTLINE,
    THIN,
    WORDS_MM,
    Letters,
    box,
    hatching,
    label,
    measured,
    room_mm,
    wrapped,
)
from spinefit.drawing.paper import check_bar
from spinefit.drawing.scene import Group, Item, Line, Text, mapped, moved
from spinefit.say import phrasing as say
from spinefit.say.label_texts import rows_of
from spinefit.say.model import Report, doubts_of, hazards_of
from spinefit.vocabulary import Orientation, Verdict

_TITLE_MM, _LONG_TITLE_MM, _VERDICT_MM = 5.2, 3.4, 4.4
_LINE_MM = 4.1
_PAD_MM = 3.0
_NAME_MM = 17.0
_MOST_TITLE_LINES = 6


def block(
    texts: Sequence[ShownText],
    *,
    titles: Sequence[str],
    verdict: Verdict,
    answer: str,
    wide_mm: float,
) -> tuple[Item, ...]:
    """The title block, growing downwards from the origin.

    Args:
        texts: what is drawn; the first gives font and method.
        titles: the title as lettered, a line or a volume each.
        verdict: of the whole.
        answer: the same in a sentence.
        wide_mm: how wide the block is.
    """
    writer = _Writer(wide_mm)
    letters = texts[0].judged.layout.title.set_line
    size_mm = _title_mm(titles[:_MOST_TITLE_LINES], wide_mm - 2 * _PAD_MM)
    for title in titles[:_MOST_TITLE_LINES]:
        writer.lines(title, size_mm, bold=True, letters=letters)
    if len(titles) > _MOST_TITLE_LINES:
        writer.lines(f"and {len(titles) - _MOST_TITLE_LINES} more", WORDS_MM)
    writer.rule()
    writer.lines(str(verdict).capitalize(), _VERDICT_MM, bold=True)
    writer.lines(say.visible(answer), WORDS_MM)
    for line in doubts_of(shown.answer.report for shown in texts):
        writer.lines(say.visible(line), WORDS_MM, bold=True)
    writer.rule()
    for name, words in _rows(texts):
        writer.row(name, words)
    writer.rule()
    for line in hazards_of(shown.answer.report for shown in texts):
        writer.lines(line, WORDS_MM)
    writer.rule()
    writer.legend(texts)
    writer.rule()
    writer.bar()
    return (
        Group("title-block", (box(0.0, writer.y, wide_mm, 0.0, pen=OUTLINE),
                              *writer.items)),
    )  # fmt: skip


def _title_mm(titles: Sequence[str], most_mm: float) -> float:
    """Em of the title: smaller where it would take too many lines."""
    lines = sum(len(wrapped(title, _TITLE_MM, most_mm, bold=True)) for title in titles)
    return _TITLE_MM if lines <= _MOST_TITLE_LINES else _LONG_TITLE_MM


def _rows(texts: Sequence[ShownText]) -> Iterator[tuple[str, str]]:
    report: Report = texts[0].answer.report
    whose = dict.fromkeys(shown.answer.job.commission.on_paper for shown in texts)
    for words in filter(None, whose):
        yield "Job", say.visible(words)
    yield ("Tools" if report.font.of == "tools" else "Font"), say.visible(report.font.name)
    yield from _sizes(texts)
    layout = texts[0].layout
    if not texts[0].name:
        letters = say.capitals_or_letters(report.title).capitalize()
        yield letters, f"{layout.cap_height_mm:.2f} mm high"
    if layout.texts:
        for name, words in rows_of(layout):
            yield name, words
    elif not texts[0].name and len(layout.baselines_mm) > 1 and layout.turn == "none":
        step = abs(layout.baselines_mm[0] - layout.baselines_mm[1])
        name = "Letters" if layout.orientation is Orientation.PILLAR else "Lines"
        yield name, f"{len(layout.baselines_mm)}, baselines {step:.2f} mm apart"
    yield "Direction", reads_in_words(texts[0])
    yield "Method", report.method.name
    yield "Scale", "1:1, lengths in mm"


def _sizes(texts: Sequence[ShownText]) -> Iterator[tuple[str, str]]:
    """The size of each text, once for all volumes that have it in the same size."""
    alike: dict[tuple[str, float], float] = {}
    for shown in texts:
        of = (shown.name, shown.layout.set_pt)
        alike[of] = min(shown.layout.largest_pt, alike.get(of, shown.layout.largest_pt))
    for (name, set_pt), largest_pt in alike.items():
        most = say.limit_pt(largest_pt) if largest_pt > 0 else "none"
        of_text = f"{name}: " if name and len(alike) > 1 else ""
        yield "Size", f"{of_text}{say.pt(set_pt)} (the most: {most})"


class _Writer:
    """Writes from the top downwards."""

    def __init__(self, wide_mm: float) -> None:
        self._wide_mm = wide_mm
        self.items: list[Item] = []
        self.y = -_PAD_MM

    def lines(
        self, words: str, size_mm: float, *, bold: bool = False, letters: Letters | None = None
    ) -> None:
        for line in wrapped(words, size_mm, self._wide_mm - 2 * _PAD_MM, bold=bold):
            self.y -= 0.78 * size_mm
            text = Text((_PAD_MM, self.y), line, size_mm, bold=bold)
            self.items.append(_held(measured(text, letters), self._wide_mm - 2 * _PAD_MM))
            self.y -= 0.5 * size_mm

    def rule(self) -> None:
        self.y -= 1.2
        self.items.append(Line(((0.0, self.y), (self._wide_mm, self.y)), THIN))
        self.y -= 2.2

    def row(self, name: str, words: str) -> None:
        room = self._wide_mm - 2 * _PAD_MM - _NAME_MM
        for at, line in enumerate(wrapped(words, WORDS_MM, room)):
            y = self.y - 1.2
            if not at:
                self.items += label((_PAD_MM, y), name, halo=False)
            text = measured(Text((_PAD_MM + _NAME_MM, y - 0.32 * WORDS_MM), line, WORDS_MM))
            self.items.append(_held(text, room))
            self.y -= _LINE_MM

    def legend(self, texts: Sequence[ShownText]) -> None:
        panel = texts[0].panel
        of = texts[0].answer.report.panel.of
        shown = [("middle of the width", "centre")]
        if of == "back":
            shown.insert(0, ("usable panel", "dashed"))
        elif texts[0].answer.job.lettering.clearance_mm > 0:
            shown.insert(0, ("inner margin", "dashed"))
        if panel.frame is not None:
            shown.append(("frame on the label", "frame"))
        if panel.back is not None:
            shown.append(("kept free by the allowances", "grey"))
        if texts[0].answer.job.lap is not None:
            shown.append(("end of the label, covered", "dashed box"))
        if texts[0].judged.layout.title.only_pt is not None:
            shown.append(("faces, the letter in another hand", "face"))
        old = [one.answer.report.old_lettering for one in texts]
        for words, under in dict.fromkeys(one.in_legend for one in old if one is not None):
            shown.append((words, "dashed box" if under else "hatched"))
        if panel.holes_mm:
            shown.append(("area kept free", "hatched"))
        for words, kind in shown:
            y = self.y - 1.2
            swatch = _SWATCHES[kind]
            if kind == "grey":
                swatch = (box(*_AREA, grey=texts[0].greys.covering),)
            self.items += moved(swatch, (_PAD_MM, y))
            self.items += label((_PAD_MM + _NAME_MM, y), words, halo=False)
            self.y -= _LINE_MM

    def bar(self) -> None:
        self.y -= 2.2
        self.items += check_bar((_PAD_MM, self.y))
        self.y -= 5.8


def _held(text: Text, most_mm: float) -> Text:
    """The text, made smaller where a single word may be wider than its room."""
    needed_mm = text.width_mm
    if not text.drawn:
        needed_mm = room_mm(text.text, text.size_mm, bold=text.bold)
    if needed_mm <= most_mm:
        return text
    share = most_mm / needed_mm
    return text._replace(
        size_mm=text.size_mm * share,
        width_mm=text.width_mm * share,
        drawn=tuple(
            mapped(one, lambda point: (point[0] * share, point[1] * share)) for one in text.drawn
        ),
    )


_ENDS = ((0.0, 0.0), (_NAME_MM - 4.0, 0.0))
_AREA = (0.0, -1.4, _NAME_MM - 4.0, 1.4)
_SWATCHES: dict[str, tuple[Item, ...]] = {
    "dashed": (Line(_ENDS, DASHED),),
    "centre": (Line(_ENDS, CENTRE),),
    "frame": (Line(_ENDS, OUTLINE),),
    "face": (box(0.0, -1.2, 2.0, 1.2, pen=FINE),),
    "dashed box": (box(*_AREA, pen=DASHED),),
    "grey": (),  # as the back is
    "hatched": (box(*_AREA, pen=THIN), *hatching(_AREA)),
}
