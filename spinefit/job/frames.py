"""How large is a label that is cut already, what is ruled on it, how far in does lettering stand?

In: what was said of a frame, the method, the rules. Out: the frame, completed, and the clearance
of the ink: with a frame from that, else from the label's edge. Where a frame is spoken of, be it
only to say that there is none, the line that the method's labels are cut by is not ruled. How far
a frame lies from the edge and from the ink is common practice (rules.toml frame.*).
"""

from __future__ import annotations

from dataclasses import replace

from spinefit.catalogue import Method, Rules, ruling_mm
from spinefit.errors import FieldError, JobError
from spinefit.job.model import Job, Shape
from spinefit.job.resolved import ResolvedFrame, ResolvedLettering
from spinefit.job.values import Panel
from spinefit.vocabulary import Frame, FrameCorners, PanelForm, Place, Ruling


def frame_of(
    job: Job, method: Method, rules: Rules, assumed: list[str]
) -> tuple[Method, ResolvedFrame | None]:
    """The method, without its cutting line where a frame is spoken of, and the frame.

    Raises:
        FieldError: corners of no frame, or other ones than the label's; a frame on no label.
    """
    form = job.frame
    if form is None or form is Frame.NONE:
        if job.frame_corners is not None:
            raise FieldError(
                "corners of which frame?", value=job.frame_corners, where="--frame-corners",
                remedy="give --frame thin, or leave it out",
            )  # fmt: skip
        return (method if form is None else _without_line(method)), None
    if method.place is not Place.LABEL and job.spine is not None:
        raise FieldError(
            f"a frame is ruled on a label, and a {method.name} is none", value=form,
            where="--frame", remedy="give --method paper-label or another label, or leave it out",
        )  # fmt: skip
    shape = job.shape or Shape()
    corners = _corners(job.frame_corners, shape)
    bent = corners in (FrameCorners.ROUNDED, FrameCorners.CUT)
    from_edge = rules["frame.to_cut_mm"]
    assumed.append(f"frame: {from_edge.value:g} mm inside the label's edge ({from_edge.status})")
    corner_mm = 0.0
    if bent:
        corner_mm = shape.corner_mm or rules.value("frame.corner_mm")
        if shape.corner_mm is None:
            assumed.append(f"corners of the frame: {corner_mm:g} mm (our choice)")
    lines_mm = ruling_mm(Ruling(form.value), method, rules)
    typed = shape.corner_mm is not None
    found = ResolvedFrame(form, corners, corner_mm, typed, lines_mm, from_edge.value)
    return _without_line(method), found


def on_own_label(job: Job) -> Job:
    """The job, with a label of given size as its panel where there is no back.

    Raises:
        JobError: a panel of another size, or a front board, beside it.
    """
    label = job.label_size
    if label is None or job.spine is not None:
        return job
    if job.front_board is not None or job.panel not in (None, label):
        where = "a panel" if job.front_board is None else "the front board"
        raise JobError(
            f"a label of given size beside {where}",
            remedy="leave it out; on a front board it is the board label",
        )  # fmt: skip
    return replace(job, panel=label)


def label_of(job: Job, method: Method) -> Panel | None:
    """A label of given size on the back; None for none.

    Raises:
        FieldError: a size of what is no label, a back of open height, or old lettering to cover.
    """
    if job.label_size is None:
        return None
    if method.place is not Place.LABEL:
        raise FieldError(
            f"a {method.name} is no label", where="--label-size",
            remedy="give --method paper-label or another label, or leave it out",
        )  # fmt: skip
    if job.spine is None:
        return None
    if job.spine.height_mm is None:
        raise FieldError(
            "where on the back?", where="--label-size",
            remedy="give --height, or the label alone, without --width",
        )  # fmt: skip
    if job.old_lettering is not None:
        raise FieldError(
            "a label of given size over old lettering on the back", where="--label-size",
            remedy="leave out the back: --label-size and --old-lettering WxH say whether it covers",
        )  # fmt: skip
    return job.label_size


def _without_line(method: Method) -> Method:
    return method._replace(frame=None, cut_outside=None)


def _corners(asked: FrameCorners | None, shape: Shape) -> FrameCorners | None:
    """Those asked for; None where the frame runs along the edge of a label of another shape."""
    if shape.form is PanelForm.RECTANGLE:
        return asked or FrameCorners.SQUARE
    if asked is not None and asked.value != shape.form.value:
        raise FieldError(
            f"the frame of a label of this shape ({shape.form}) runs along its edge", value=asked,
            where="--frame-corners", remedy="leave it out, or leave out --panel-shape",
        )  # fmt: skip
    return None


def with_clearance(
    lettering: ResolvedLettering,
    method: Method,
    frame: ResolvedFrame | None,
    rules: Rules,
    assumed: list[str],
) -> ResolvedLettering:
    """The lettering with the space round its ink: as typed, or what the method's labels keep."""
    clearance_mm, words = margin_of(method, frame, rules)
    if lettering.clearance_typed:
        clearance_mm = lettering.clearance_mm + (0.0 if frame is None else frame.inset_mm)
    else:
        assumed.append(f"clearance: {words}")
    return lettering._replace(clearance_mm=clearance_mm)


def margin_of(method: Method, frame: ResolvedFrame | None, rules: Rules) -> tuple[float, str]:
    """From the edge of a label to the ink in mm where nobody says, and the same in words.

    With a frame never less than the inner margin without one.
    """
    margin_mm = method.inner_margin.value if method.inner_margin is not None else 0.0
    if frame is not None:
        to_ink = rules["frame.to_ink_mm"]
        least_mm = max(to_ink.value, margin_mm - frame.from_edge_mm)
        words = f"{least_mm:g} mm inside the frame ({to_ink.status})"
        return round(least_mm + frame.inset_mm, 9), words
    if method.place is not Place.LABEL or method.inner_margin is None:
        return 0.0, "none"
    line_mm = method.frame.value if method.frame is not None else 0.0
    parts = f"an inner margin of {margin_mm:g} mm"
    if line_mm:
        parts += f" and a frame line of {line_mm:g} mm"
    clearance_mm = round(margin_mm + line_mm, 9)
    return clearance_mm, f"{clearance_mm:g} mm inside the label's edge, {parts}"
