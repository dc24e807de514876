"""How does one command line answer for several files? One after another, the gravest code last.

In: names of files, how they are to be answered, and what answers for one. Out: the answers as text,
each below its name, or as one document of JUnit XML; a fault of one as a line on standard error,
the others going on; in the end a line with how many fit; and an exit code.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from spinefit.cli import output
from spinefit.cli.tables import shown_name
from spinefit.errors import FieldError, SpinefitError, one_line

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

_BAD_INPUT = 2
_NAMES = {"text": "{}\n\n", "checklist": "# {}\n\n"}  # of what can stand one below another
_NAMED = 5  # files that do not fit, or are at fault, in the closing line
_OF_ONE = {
    "artwork": "--artwork", "drawings": "--drawing", "pattern_file": "--save-pattern",
    "force": "--force", "resume": "--resume",
}  # fmt: skip


def refuse_for_several(options: Mapping[str, Any]) -> None:
    """Refuse files that only one answer can be written into.

    Raises:
        FieldError: an option about such a file.
    """
    for key, option in _OF_ONE.items():
        if options.get(key):
            raise FieldError("not of several files", where=option, remedy="give one file at a time")


def each(names: Sequence[str], form: str, answer: Callable[[str], int]) -> int:
    """Let every file be answered, and say the gravest exit code.

    Args:
        names: the files.
        form: text or checklist, to stand below their names; another for answers that do not.
        answer: answers for a file, and says the exit code.
    """
    codes: list[int] = []
    for number, name in enumerate(names):
        if form in _NAMES:
            output.write_text("\n" * (number > 0) + _NAMES[form].format(one_line(name)))
        try:
            codes.append(answer(name))
        except SpinefitError as fault:
            if fault.where.startswith("-"):
                raise  # it is the command line's, and the same for all
            output.complain(str(fault))
            codes.append(_BAD_INPUT)
    if len(names) > 1:
        output.complain(_closing(names, codes))
    return max(codes)


def each_in_junit(names: Sequence[str], answer: Callable[[str, list[Element]], int]) -> int:
    """Let every file be answered, in one document, and say the gravest exit code.

    Args:
        names: the files.
        answer: answers for a file by its suites, which it puts to the others, and says the code.
    """
    from spinefit.say import junit

    suites: list[Element] = []

    def one(name: str) -> int:
        try:
            return answer(name, suites)
        except SpinefitError as fault:
            suites.append(junit.fault_suite(fault, name))
            raise

    code = each(names, "junit", one)
    output.write_utf8(junit.document(junit.OF_CHECK, suites))
    return code


def is_folder(path: str) -> bool:
    """Whether a path is meant as a folder, be it there or not."""
    return path.endswith(("/", os.sep)) or os.path.isdir(path)


def files_in(folder: str, names: Sequence[str], ending: str) -> Mapping[str, str]:
    """The file in a folder that the results of each file go into.

    Raises:
        FieldError: two files that would have the same.
    """
    files: dict[str, str] = {}
    for name in names:
        stem = os.path.splitext(os.path.basename(shown_name(name)))[0]
        path = os.path.join(folder, f"{stem.replace(' ', '-')}{ending}")
        if path in files.values():
            raise FieldError(
                "two tables of one name", value=name, where="--output",
                remedy="their results would be one file: give one of them by itself",
            )  # fmt: skip
        files[name] = path
    return files


def _closing(names: Sequence[str], codes: Sequence[int]) -> str:
    """How many files fit, and which do not."""
    said = [f"{len(names)} files: {codes.count(0)} passed"]
    for code, what in ((1, "failed"), (_BAD_INPUT, "at fault")):
        bad = [name for name, own in zip(names, codes, strict=True) if own == code]
        if bad:
            more = f" and {len(bad) - _NAMED} more" if len(bad) > _NAMED else ""
            said.append(f"{len(bad)} {what} ({', '.join(bad[:_NAMED])}{more})")
    return ", ".join(said)
