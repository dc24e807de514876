"""Which files of artwork has a row, and what are they called?

In: rows with their answers. Out: for each that fits a PDF of its lettering, named by its line and
title, so that a folder lists in the order of the table and no two are called the same; a row whose
letters or back can have none is at fault.
"""

from __future__ import annotations

from collections.abc import Iterable
from unicodedata import category

from spinefit.batch.books import Answered, at_fault
from spinefit.batch.model import Fault, Settings
from spinefit.drawing.artwork import artwork_files
from spinefit.drawing.frame import shown_text
from spinefit.drawing.plate import Subject, subject_of_plan
from spinefit.errors import SpinefitError
from spinefit.say.plan_model import BackReport
from spinefit.vocabulary import Verdict

_DIGITS = 4
_LONGEST_TITLE = 40  # characters of four bytes at most: a file system allows 255


def with_artwork(
    answered: Iterable[Answered], settings: Settings
) -> tuple[list[Answered], tuple[tuple[str, str | bytes], ...]]:
    """The rows, those at fault that can have no artwork, and the files of the others."""
    rows: list[Answered] = []
    files: list[tuple[str, str | bytes]] = []
    for one in answered:
        try:
            made = [] if one.result.fault else _files(one, settings)
        except SpinefitError as fault:
            rows.append(at_fault(one.row, Fault("", str(fault))))
            continue
        rows.append(one)
        files += made
    return rows, tuple(files)


def _files(one: Answered, settings: Settings) -> list[tuple[str, str | bytes]]:
    files = artwork_files(_subject(one), file_name(one.row.line, one.result.title), settings.spot)
    made = [(file.path, file.data) for file in files]
    return [] if one.result.verdict == Verdict.DOES_NOT_FIT else made


def _subject(one: Answered) -> Subject:
    if isinstance(one.report, BackReport):
        return subject_of_plan(one.report)
    texts = tuple(map(shown_text, one.answers))
    found = one.result
    return Subject((texts,), ("",), Verdict(found.verdict), found.answer, found.title)


def file_name(line: int, title: str) -> str:
    """The name of a row's artwork.

    Args:
        line: where the row begins.
        title: as it stands there.

    >>> file_name(12, "Tides & Shoals: 1889")
    '0012-Tides-Shoals-1889.pdf'
    """
    plain = "".join(char if category(char)[0] in "LMN" else " " for char in title)
    return f"{line:0{_DIGITS}}-{'-'.join(plain.split())[:_LONGEST_TITLE].strip('-')}.pdf"
