"""What does a printer or an engraver place: which pages of lettering, and what goes with them?

In: a `Subject`. Out: a page for each back, of exactly its size: round the arc where that is known,
else straight across; of a label or panel of given size that one's, of a front board the label's.
On it stands the lettering alone, as outlines, positive: no edge, no mark, and no bleed, which
lettering does not need. An engraver mounts the die by a placing sheet, the drawing at true size.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePath
from typing import NamedTuple

from spinefit.drawing.back import panels_shown
from spinefit.drawing.frame import Frame, ShownText, frame_of, ink_extents_mm, lettering_mm
from spinefit.drawing.pdf import artwork_pdf, to_pdf
from spinefit.drawing.plate import Subject, plates
from spinefit.drawing.ruled import ruled_frame
from spinefit.drawing.scene import Area, Group, Item, Scene, moved
from spinefit.drawing.svg import artwork_svg
from spinefit.errors import FieldError
from spinefit.say import phrasing as say
from spinefit.say.model import doubts_of
from spinefit.say.thickness import range_in_words
from spinefit.shaping.glyphs import Box
from spinefit.vocabulary import BackForm, Letters, Place

_WHERE = "--artwork"


class ArtworkFile(NamedTuple):
    """What belongs in a file.

    Attributes:
        path: where.
        data: its text or bytes.
        said: what it holds, in a sentence.
    """

    path: str
    data: str | bytes
    said: str


def artwork_files(subject: Subject, path: str, spot: str | None = None) -> Iterator[ArtworkFile]:
    """The files of artwork: of a set a PDF with a page each, or an SVG each, NAME-1.svg on.

    Args:
        subject: what is lettered.
        path: where, ending in .pdf or .svg.
        spot: name of the one ink of a PDF; None for black.

    Raises:
        FieldError: letters that have no outlines, or a back of open height.
    """
    pages, file = artwork_pages(subject), PurePath(path)
    if file.suffix.lower() == ".pdf":
        sizes = "; ".join(dict.fromkeys(page.description for page in pages))
        count = f"{len(pages)} pages, " if len(pages) > 1 else ""
        ink = "100 % black" if spot is None else f"one spot, {spot}"
        yield _file(path, artwork_pdf(pages, spot), f"{count}{sizes}; {ink}")
    else:
        for number, page in enumerate(pages, 1):
            own = path if len(pages) == 1 else str(file.with_stem(f"{file.stem}-{number}"))
            yield _file(own, artwork_svg(page), f"{page.description}; black")
    if any(shown.answer.job.method.die is not None for shown in subject.texts):
        scale = "half size, with figures" if subject.on_board else "true size"
        yield _file(
            str(file.with_name(f"{file.stem}-placing.pdf")),
            to_pdf(plates(subject)),
            f"where the die stands, at {scale}; the artwork is positive, without marks",
            "placing sheet",
        )


def _file(path: str, data: str | bytes, said: str, what: str = "artwork") -> ArtworkFile:
    return ArtworkFile(path, data, f"{what} {say.visible(path)}: {said}")


def artwork_pages(subject: Subject) -> tuple[Scene, ...]:
    """A page for each back, its size in words as its description."""
    for shown in subject.texts:
        _refuse_letters(shown)
    if subject.on_board:
        pages = [_board_page(subject)]
    else:
        named = zip(subject.backs, subject.names, strict=True)
        pages = [_page(texts, name or subject.title) for texts, name in named]
    doubts = map(say.visible, doubts_of(shown.answer.report for shown in subject.texts))
    told = "".join(f"; {text.removesuffix('.')}" for text in doubts)
    return tuple(page._replace(description=f"{page.description}{told}") for page in pages)


def _refuse_letters(shown: ShownText) -> None:
    method = shown.answer.job.method
    if method.letters is Letters.TOOLS or shown.judged.layout.title.only_pt is not None:
        raise FieldError(
            "tools strike their letters, and there are no outlines to place", value=method.name,
            where=_WHERE,
            remedy="name its --method, such as blocked-case, or take 'spinefit worksheet'",
        )  # fmt: skip


def _page(texts: tuple[ShownText, ...], title: str) -> Scene:
    frame = frame_of(texts)
    if frame.open_tail:
        raise FieldError(
            "the page is as high as the back, and its height is not known", where=_WHERE,
            remedy="give --height",
        )  # fmt: skip
    inks = tuple(
        Group(shown.name or "lettering", (Area(ink),), say.joined(shown.layout))
        for shown, ink in zip(frame.texts, frame.inks, strict=True)
    )
    of, (left, bottom, right, top) = _ground(frame)
    items = moved((*inks, *_ruled(frame)), (-left, -bottom))
    return _scene(right - left, top - bottom, of, title, items)


def _ground(frame: Frame) -> tuple[str, Box]:
    """What has the size of the page, and where it is: a label that is cut already, or the back."""
    label, (left, bottom, right, top) = frame.first.answer.job.label, frame.panels_mm[0]
    if label is None or len(frame.texts) > 1:
        return f"{_of(frame.first)}{_at_least(frame.first)}", (
            frame.left_mm,
            frame.tail_mm,
            frame.right_mm,
            0.0,
        )
    x, y, wide, high = (left + right) / 2, (bottom + top) / 2, label.width_mm, label.height_mm
    return "the label", (x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)


def _ruled(frame: Frame) -> Iterator[Item]:
    """The frames of its labels, which are printed or blocked with the lettering."""
    for shown, (left, bottom, right, top) in panels_shown(frame):
        ruled = ruled_frame(shown.panel, (left, bottom, right, top))
        yield from moved(ruled, ((left + right) / 2, (bottom + top) / 2))


def _of(shown: ShownText) -> str:
    """What has the size of the page."""
    back = shown.panel.back
    if back is None:
        return "the label" if shown.answer.job.method.place is Place.LABEL else "the panel"
    if back.form is not BackForm.ROUNDED:
        return "the back"
    return "the back, " + ("round its arc" if back.curve_known else "straight across its round")


def _at_least(shown: ShownText) -> str:
    """That the back may be wider than its page, by a range of widths or an estimate."""
    spine, widest = shown.answer.job.spine, shown.answer.job.widest
    if shown.panel.back is None or spine is None or (spine.estimate is None and widest is None):
        return ""
    most_mm = spine.width_mm if widest is None else widest.width_mm
    of = "a range" if spine.estimate is None else "an estimate"
    widths = range_in_words((spine.width_mm, most_mm))
    return f", the least of {of} ({widths} across): measure before it is used"


def _board_page(subject: Subject) -> Scene:
    """The label on a front board; of lettering straight on the board as much as is inked."""
    (shown,) = subject.texts
    place = shown.answer.judgement.board_place
    assert place is not None  # it stands on a board
    width_mm, height_mm = place.label_width_mm, place.label_height_mm
    ink = lettering_mm(shown.judged)
    left, bottom, right, top = ink_extents_mm(ink)
    middle = (0.0, 0.0) if place.is_label else ((left + right) / 2, (bottom + top) / 2)
    group = Group("lettering", (Area(ink),), say.joined(shown.layout))
    ruled = ruled_frame(shown.panel, (-width_mm / 2, -height_mm / 2, width_mm / 2, height_mm / 2))
    items = moved((group, *ruled), (width_mm / 2 - middle[0], height_mm / 2 - middle[1]))
    of = "the label" if place.is_label else "the ink"
    return _scene(width_mm, height_mm, of, subject.title, items)


def _scene(
    width_mm: float, height_mm: float, of: str, title: str, items: tuple[Item, ...]
) -> Scene:
    size = f"{width_mm:.2f} x {height_mm:.2f} mm, {of}"
    return Scene(width_mm, height_mm, title, size, items)
