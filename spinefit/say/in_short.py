"""How does a report print in one line?

In: a report of any kind. Out: what it is of, its verdict, and size and setting of the title.
"""

from __future__ import annotations

from spinefit.say import phrasing as say
from spinefit.say.model import Report
from spinefit.say.plan_model import AnyReport, BackReport, TextReport
from spinefit.vocabulary import Role

_MOST_LETTERS = 60


def in_short(report: AnyReport) -> str:
    """A report in one line.

    >>> from spinefit import Job, Spine, check
    >>> in_short(check(Job(title="Tide Tables", spine=Spine(width_mm=12, height_mm=200))))
    "<Report 'Tide Tables': fits, 20.3 pt, descending, one line>"
    """
    if isinstance(report, Report):
        of, title = _quoted(report.title), report
    elif isinstance(report, BackReport):
        of, title = _quoted(", ".join(one.text for one in report.texts)), _title(report.texts)
    else:
        of, title = f"of {len(report.volumes)} volumes", _title(report.volumes[0].texts)
    layout = title.shown
    words = [str(report.verdict)]
    if layout is not None:
        words += [say.pt(layout.set_pt), str(layout.reading), say.lines_in_words(layout)]
    return f"<{type(report).__name__} {of}: {', '.join(words)}>"


def _title(texts: tuple[TextReport, ...]) -> Report:
    """The report of the title, or of a call number that stands alone."""
    return next((one for one in texts if one.role is Role.TITLE), texts[0]).report


def _quoted(text: str) -> str:
    shown = say.visible(text)
    return f"'{shown if len(shown) <= _MOST_LETTERS else f'{shown[: _MOST_LETTERS - 1]}…'}'"
