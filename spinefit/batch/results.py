"""What is written of an answer: which figures, and what is to be minded?

In: a judged title and what was said of it, or of every text of its back or label. Out: a `Result`.
Places are mm from the head, or of a label of several texts from its upper edge; nothing is worked
out here.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from spinefit.batch.columns import plain_name
from spinefit.batch.model import RESULT_COLUMNS, Result, Row, Settings, TextFigures, columns_of_text
from spinefit.say.model import FindingReport, Report
from spinefit.say.phrasing import grave, shown
from spinefit.say.plan_words import told_once
from spinefit.vocabulary import Level, Orientation, Role

if TYPE_CHECKING:
    from spinefit.judgement import Judged
    from spinefit.judgement.text import JudgedText
    from spinefit.pipeline import Answer

_DECIMALS = 4  # as in the JSON of a report
_OF_WORDS = (
    "catalogue-marks", "font-checksum", "order-of-letters", "character-lost", "encoded-twice",
    "letter-of-another-script",
)  # fmt: skip


def headings(settings: Settings) -> dict[str, str]:
    """The columns of the results but the line, in their order, each with its heading.

    One of a name that a column carried along has already gets another; only the title is left out
    where it is carried along, by whatever name.

    >>> [*headings(Settings(kept=("Titel", "Lines"), titled=True)).items()][3]
    ('lines', 'found_lines')
    """
    names = [
        *RESULT_COLUMNS[1:],
        *(name for role in settings.texts for name in columns_of_text(role)),
    ]
    taken = {plain_name(name) for name in settings.kept}
    found = {name: f"found_{name}" if plain_name(name) in taken else name for name in names}
    if settings.titled or found["title"] != "title":
        del found["title"]
    return found


def line_heading(settings: Settings) -> str:
    """The heading of the line, by the same rule."""
    return "found_line" if "line" in map(plain_name, settings.kept) else "line"


_EITHER = re.compile(r"-?[1-9][0-9]{0,2}[.,][0-9]{3}", re.ASCII)  # thousands, or decimals
_PLAIN_NUMBER = re.compile(r"-?(0|[1-9][0-9]{0,14})(\.[0-9]+)?", re.ASCII)


def value_in(text: str, *, comma: bool) -> str | float:
    """The figure in a cell carried along, or its text; 007 is one, and so is a longer number.

    Where commas may be decimal, so is what may be thousands as well.

    Args:
        text: as it stands there.
        comma: True where figures may have decimal commas.

    >>> value_in("9,5", comma=True), value_in("9,5", comma=False), value_in("007", comma=False)
    (9.5, '9,5', '007')
    >>> value_in("1,250", comma=True)
    '1,250'
    """
    if comma and _EITHER.fullmatch(text):
        return text
    plain = text.replace(",", ".") if comma else text
    if not _PLAIN_NUMBER.fullmatch(plain):
        return text
    return float(plain) if "." in plain else int(plain)


def result_of(
    row: Row,
    answer: tuple[str, str],
    title: JudgedText | Answer,
    parts: Iterable[tuple[str, Report]],
    mind: Iterable[str] = (),
    findings: Iterable[FindingReport] = (),
) -> Result:
    """The figures of a title with its answer, and what is to be minded of every text.

    Args:
        row: as it was read.
        answer: the sentence and the verdict.
        title: the title, judged.
        parts: each text's name, "" for a title alone, with its report.
        mind: what is to be minded of the words, beside what the letters themselves tell.
        findings: those of the back as a whole.
    """
    job, setting = title.job, title.judgement.shown
    words = [*mind]
    told = [("", one.text) for one in findings if one.level in (Level.FAILURE, Level.WARNING)]
    for name, report in parts:
        words += [one.text for one in report.findings if one.topic in _OF_WORDS]
        told += [(name, one.text) for one in grave(report) if one.text not in words]
    figures, back = figures_of(setting), job.spine or job.panel
    assert back is not None  # a checked job has one of them
    return Result(
        line=row.line,
        title=row.title,
        verdict=answer[1],
        largest_pt=setting.largest_pt,
        set_pt=setting.set_pt,
        lines=figures.lines,
        orientation=str(setting.orientation),
        reading=str(setting.reading),
        spare_mm=figures.spare_mm,
        answer=answer[0],
        mind=" ".join(dict.fromkeys(words)),
        method=job.method.key,
        width_mm=_rounded(back.width_mm),
        height_mm=_rounded(back.height_mm),
        first_baseline_mm=figures.baseline_mm,
        from_head_mm=figures.from_head_mm,
        warnings=" ".join(told_once(told)),
    )


def figures_of(setting: Judged) -> TextFigures:
    """How a text stands that is judged by itself."""
    across = setting.orientation is Orientation.TRANSVERSE
    first_mm = _rounded(setting.first_from_head_mm)
    return TextFigures(
        pt=setting.set_pt,
        spare_mm=_rounded(min(setting.spare_mm.known())),
        lines=" / ".join(setting.lines),
        baseline_mm=first_mm if across else None,
        from_head_mm=None if across else first_mm,
    )


def of_label(result: Result, report: Report) -> Result:
    """The result of a label of several texts, with the size and place of each in their group."""
    layout = shown(report)
    across = layout.orientation is Orientation.TRANSVERSE
    texts = {
        str(one.role): TextFigures(
            pt=one.set_pt,
            spare_mm=None,
            lines=" / ".join(one.lines),
            baseline_mm=_rounded(one.baselines_mm[0]) if across else None,
            from_head_mm=None,
        )
        for one in layout.texts
    }
    title = texts.pop(str(Role.TITLE))
    return result._replace(texts=texts, first_baseline_mm=title.baseline_mm)


def _rounded(value_mm: float | None) -> float | None:
    return None if value_mm is None else round(value_mm, _DECIMALS) + 0.0
