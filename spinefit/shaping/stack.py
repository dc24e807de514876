"""What are the texts of a label once they are set together?

The entry point of the shaping stage. In: a resolved job. Out: its `ShapedTitle`; on a label that of
the leading text, with all others and the rules. Sizes of the others follow from its size, in those
that can be set, and rules are as thick in every size: so a label changes with its size as letters
do that are drawn for theirs.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from spinefit.errors import FaultsMoved
from spinefit.job.checks import LARGEST_SIZE_PT
from spinefit.job.resolved import ResolvedJob, ResolvedPart
from spinefit.job.title import reads_right_to_left
from spinefit.shaping.title import SetRule, SetText, ShapedTitle, TitleSizes, shape_alone
from spinefit.tolerances import SAME_PT, SAME_SHARE
from spinefit.units import mm_from_pt, pt_from_mm, step_down_pt
from spinefit.vocabulary import Role

_SIZES_PT = (0.1, LARGEST_SIZE_PT)  # beyond any that is lettered
_SHOWN_PT = 12.0  # the size at which a label is held until its own is known


def shape_titles(job: ResolvedJob) -> tuple[ShapedTitle, ...]:
    """The job's title in its font and case, or the texts of its label.

    Where letters are tools, once for each size that the title can be set in; the sizes rise.

    Raises:
        FontError: as of `shape_alone`; of a text of a label its number is named.
    """
    if not job.parts:
        return _nudged(job)
    texts = _Texts(job)
    if job.lettering.tools is not None:
        return texts.of_tools()
    return (_Sizes(texts.at_size).title(job.lettering.size_pt or _SHOWN_PT),)


def shape_title(job: ResolvedJob) -> ShapedTitle:
    """The first of `shape_titles`: the only one in a font, the smallest of tools."""
    return shape_titles(job)[0]


class _Sizes:
    """What changes with its size, put together once for each; as of `TitleSizes`.

    A length in mm, of a rule or of a line moved by hand, is another part of every size.
    """

    def __init__(self, make: Callable[[float, TitleSizes], ShapedTitle]) -> None:
        self.range_pt = _SIZES_PT
        self._make = make
        self._titles: dict[float, ShapedTitle] = {}

    def title(self, size_pt: float) -> ShapedTitle:
        """The text or the label for a size in points."""
        size = min(max(size_pt, _SIZES_PT[0]), _SIZES_PT[1])
        if size not in self._titles:
            self._titles[size] = self._make(size, self)
        return self._titles[size]


def _nudged(job: ResolvedJob) -> tuple[ShapedTitle, ...]:
    """A text alone, as of `shape_alone`, with what was done to its lines by hand."""
    titles, lettering = shape_alone(job), job.lettering
    if not lettering.nudges:
        return titles
    spaced = [
        shape_alone(job._replace(lettering=lettering._replace(tracking_em=nudge.tracking_em)))
        for nudge in lettering.nudges
    ]

    def moved(size_pt: float, sizes: TitleSizes | None, at: int = 0) -> ShapedTitle:
        lifts = [nudge.up_mm / mm_from_pt(size_pt) for nudge in lettering.nudges]
        lines = [own[at].at_size(size_pt) for own in spaced]
        return titles[at].at_size(size_pt).nudged(zip(lifts, lines, strict=True), sizes)

    if lettering.tools is None:
        return (_Sizes(moved).title(lettering.size_pt or _SHOWN_PT),)
    return tuple(moved(one.only_pt or _SHOWN_PT, None, at) for at, one in enumerate(titles))


class _Texts:
    """The texts of a label, each shaped once in its own letters."""

    def __init__(self, job: ResolvedJob) -> None:
        self._job = job
        self._titles = [
            () if part.ruling_mm else _shaped(job, at) for at, part in enumerate(job.parts)
        ]

    def of_tools(self) -> tuple[ShapedTitle, ...]:
        """The label in every size of the tools that has the letters of its leading text."""
        leading = self._titles[self._job.leader]
        return tuple(self.together(one, one.only_pt or _SHOWN_PT) for one in leading)

    @property
    def leading(self) -> ShapedTitle:
        """The leading text, in a font."""
        return self._titles[self._job.leader][0]

    def at_size(self, size_pt: float, sizes: TitleSizes) -> ShapedTitle:
        """The label in a font, its leading text at a size in points."""
        return self.together(self.leading.at_size(size_pt), size_pt, sizes)

    def together(
        self, leading: ShapedTitle, size_pt: float, sizes: TitleSizes | None = None
    ) -> ShapedTitle:
        """The label, its leading text at a size in points."""
        em_mm = mm_from_pt(size_pt)
        stack: list[SetText | SetRule] = []
        for at, (part, titles) in enumerate(zip(self._job.parts, self._titles, strict=True)):
            if part.ruling_mm:
                stack.append(SetRule(part.ruling_mm, part.measure, em_mm))
            elif at == self._job.leader:
                stack.append(SetText(at + 1, leading, 1.0, leads=True))
            else:
                title, own_pt = self._beside(part, titles, size_pt)
                stack.append(SetText(at + 1, title, own_pt / size_pt))
        return leading.stacked(stack, sizes)

    def _beside(
        self, part: ResolvedPart, titles: Sequence[ShapedTitle], size_pt: float
    ) -> tuple[ShapedTitle, float]:
        """A text in the size that it has beside a leading text of that size."""
        most_pt = self._most_pt(part, size_pt)
        if titles[0].only_pt is None:
            own_pt = _beside_pt(self._job, part, titles[0], size_pt, most_pt)
            return titles[0].at_size(own_pt), own_pt
        by_pt = {title.only_pt or 0.0: title for title in titles}
        if part.size_pt is None:
            own_pt = _nearest_pt([*by_pt], _aim_pt(part, size_pt, most_pt), most_pt)
        else:
            wanted_pt = part.size_pt
            own_pt = min(by_pt, key=lambda pt: abs(pt - wanted_pt))
        return by_pt[own_pt], own_pt

    def _most_pt(self, part: ResolvedPart, size_pt: float) -> float:
        """No text is larger than the leading one, and no date larger than an author either.

        A call number has a size of its own, whatever stands beside it.
        """
        most_pt = size_pt
        if part.role is Role.CALL_NUMBER and part.least_pt > 0:
            return self._job.rules.value("call_number.advised_pt")
        if part.least_pt > 0:
            for one, titles in zip(self._job.parts, self._titles, strict=True):
                if (
                    one.role is Role.AUTHOR
                    and titles
                    and one is not self._job.parts[self._job.leader]
                ):
                    most_pt = min(most_pt, self._beside(one, titles, size_pt)[1])
        return most_pt


def _shaped(job: ResolvedJob, at: int) -> tuple[ShapedTitle, ...]:
    """A text of a label by itself."""
    part, lettering = job.parts[at], job.lettering
    if at != job.leader:
        # A face and axes are those of a font; another font has its own.
        own = part.font is not None and part.font != lettering.font
        lettering = lettering._replace(
            font=part.font or lettering.font,
            case=part.case or lettering.case,
            face=None if own else lettering.face,
            axes=() if own else lettering.axes,
            size_pt=part.size_pt,
            nudges=part.nudges,
        )
    lines = part.lines if at != job.leader else job.title_lines
    here = f"text {at + 1}"
    with FaultsMoved({"TITLE": here, "--font": here, "--case": here, "--tools": here}):
        return _nudged(
            job._replace(
                title_lines=lines,
                lettering=lettering,
                right_to_left=reads_right_to_left(" ".join(lines), job.language),
            )
        )


def _aim_pt(part: ResolvedPart, title_pt: float, most_pt: float) -> float:
    """The size wanted of a text beside a leading one, in points; some have a most."""
    aim_pt = part.ratio * title_pt
    return min(max(aim_pt, part.least_pt), most_pt) if part.least_pt > 0 else aim_pt


def _beside_pt(
    job: ResolvedJob, part: ResolvedPart, title: ShapedTitle, title_pt: float, most_pt: float
) -> float:
    """The size that a text has beside a leading one, one that can be set where it can.

    It never falls as the leading text grows, so that a label that fits does so in every smaller
    size too.
    """
    method, aim_pt = job.method, _aim_pt(part, title_pt, most_pt)
    if part.size_pt is not None:
        return part.size_pt
    if abs(part.ratio - 1) <= SAME_SHARE:
        return title_pt
    sizes = job.lettering.sizes_pt or (method.sizes.values if method.sizes else None)
    if sizes is not None:
        return _nearest_pt(sizes, aim_pt, most_pt)
    floor_pt = method.smallest.value
    if method.smallest_cap is not None:
        floor_pt = max(floor_pt, pt_from_mm(method.smallest_cap.value / title.reading_height_em))
    own_pt = step_down_pt(aim_pt, method.step.value)
    return max(own_pt, min(floor_pt, most_pt), method.step.value)


def _nearest_pt(sizes: Sequence[float], aim_pt: float, most_pt: float) -> float:
    """The size of a drawer nearest to one wanted, in ratio; no larger than one or the most."""
    most_pt = max(aim_pt, most_pt)
    under = [size for size in sizes if size <= most_pt + SAME_PT] or sizes[:1]
    return min(under, key=lambda size: max(size, aim_pt) / min(size, aim_pt))
