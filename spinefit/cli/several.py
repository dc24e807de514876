"""How does one command line answer for several files? Each below its name, the gravest code last.

In: names of files, how they are to be answered, and what answers for one. Out: the answers as text,
a fault of one as a line on standard error, the others going on; and an exit code.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from spinefit.cli import output
from spinefit.errors import FieldError, SpinefitError, one_line

_BAD_INPUT = 2
_NAMES = {"text": "{}\n\n", "checklist": "# {}\n\n"}  # of what can stand one below another
_OF_ONE = {
    "output": "--output", "artwork": "--artwork", "drawings": "--drawing",
    "pattern_file": "--save-pattern", "force": "--force", "resume": "--resume",
}  # fmt: skip


def each(
    names: Sequence[str], options: Mapping[str, Any], answer: Callable[[str, str], int]
) -> int:
    """Let every file be answered, and say the gravest exit code.

    Args:
        names: the files.
        options: of the command, as typed.
        answer: answers for a file in a form, and says the exit code.

    Raises:
        FieldError: what can be answered for one file only.
    """
    form = options["form"] or "text"
    if form not in _NAMES:
        raise FieldError(
            "several files are answered as text", value=form, where="--format",
            remedy="give one file at a time",
        )  # fmt: skip
    for key, option in _OF_ONE.items():
        if options.get(key):
            raise FieldError("not of several files", where=option, remedy="give one file at a time")
    gravest = 0
    for number, name in enumerate(names):
        output.write_text("\n" * (number > 0) + _NAMES[form].format(one_line(name)))
        try:
            gravest = max(gravest, answer(name, form))
        except SpinefitError as fault:
            if fault.where.startswith("-"):
                raise  # it is the command line's, and the same for all
            output.complain(str(fault))
            gravest = _BAD_INPUT
    return gravest
