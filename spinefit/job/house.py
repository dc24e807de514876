"""What does a house say once for all its books, and what of that holds for one of them?

In: what stands in the file of a house, as `spinefit.job.read.read_house` has it, and what was said
of a job. Out: the values that hold beside that, in which words an answer names them, and where a
fault in one of them is to be mended. What was said always has the last word, and puts aside what
would contradict it: a house never makes a job impossible that is possible without it. What it keeps
free is a default as ours are: where nothing is left, a title does not fit, and nobody is at fault.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import TYPE_CHECKING, NamedTuple

from spinefit.errors import MissingCharacterError, SpinefitError
from spinefit.vocabulary import Letters, Place

if TYPE_CHECKING:
    from spinefit.catalogue import Method

OF_HOUSE = " (house defaults)"
"""How words end that name what came from the file of a house."""

_LETTERED_BY = ("method", "method-file", "tools")
_OF_LABELS = frozenset(("front-board", "leaves", "recess", "old-lettering", "label-size", "lap"))
_OF_FOIL = frozenset(("stock", "die"))
_CALL_NUMBER = "call-number"
_PUTS_ASIDE = {
    "method": ("tools", "work"),
    "method-file": ("method", "tools", "work"),
    "tools": ("method", "method-file", "sizes", "font", "face", "axes", "fallback", "work"),
    "sizes": ("tools",),
    "font": ("face", "axes", "tools"),
    "bands": ("from-head",),
    "bands-at": ("from-head", "tail-ratio"),
    "from-tail": ("first-line-from-tail",),
    "first-line-from-tail": ("from-tail",),
    "panel": ("work",),
    "label-size": ("work", "from-head"),
    "front-board": ("work",),
    "leaves": ("work",),
}
"""What a field that was said leaves no room for."""


def names_of_house(assumed: Iterable[str]) -> frozenset[str]:
    """Which fields of a job came from the file of a house, by what was assumed of it."""
    return frozenset(text.partition(" ")[0] for text in assumed if text.endswith(OF_HOUSE))


class House(NamedTuple):
    """What stands in the file of a house, found good.

    Attributes:
        file: its name, for messages; "" where there is none.
        values: the fields of jobs by name, files being looked for beside it.
        words: how each value is told, without a folder's name.
        needs: for some fields the names of which one has to be said for it to count.
        sheet: what its ``[sheet]`` table says.
    """

    file: str = ""
    values: Mapping[str, object] = {}
    words: Mapping[str, str] = {}
    needs: Mapping[str, tuple[str, ...]] = {}
    sheet: Mapping[str, object] = {}

    def in_words(
        self, said: Collection[str], method: str | None = None, keys: Collection[str] = ()
    ) -> list[str]:
        """What it says beside a command, name and value of each.

        Args:
            said: fields and keys of a sheet that were said.
            method: what the command takes itself; None where it leaves that to the job.
            keys: of a sheet, those that the command goes by.
        """
        gone = {*said, *(_LETTERED_BY if self.usual(said, method) else ())}
        of_sheet = {key: f"{value}" for key, value in self.sheet.items() if key in keys}
        told = {**self.words, **of_sheet}
        return [f"{name} {text}" for name, text in told.items() if name not in gone]

    def placed(self, fault: SpinefitError, said: Collection[str]) -> SpinefitError:
        """A fault of a later stage that names its file, where what is at fault stands there alone.

        Args:
            fault: what was found.
            said: fields that were said of the job, or of one of its texts.
        """
        name = fault.where.rpartition(": ")[2].removeprefix("--")
        if isinstance(fault, MissingCharacterError):
            name = "font"  # wherever the letter stands
        if name not in self.values or name in said or self.file in str(fault):
            return fault
        if fault.where.startswith("--"):
            fault.where = f"{self.file}: {name}"
        else:
            fault.remedy = f"{fault.remedy}; the {name} is that of {self.file}"
        return fault

    def usual(self, said: Collection[str], method: str | None) -> dict[str, object]:
        """The method of a command, where neither the job nor the house has letters made so.

        Args:
            said: fields that were said of the job.
            method: what the command takes itself; None where it leaves that to the job.
        """
        if method is None or not {*_LETTERED_BY}.isdisjoint(said):
            return {}
        from spinefit import catalogue

        own, on_label = _method_of(self.values), catalogue.method(method).place is Place.LABEL
        if own is None:
            return {"method": method}
        suits = own.place is Place.LABEL if on_label else own.letters is Letters.TOOLS
        return {} if suits else {"method": method}

    def beside(
        self, said: Mapping[str, object], *, roles: Collection[str] = (), of_label: bool = False
    ) -> dict[str, object]:
        """Its values that hold beside what was said of a job.

        Args:
            said: fields by name.
            roles: what the texts of a back are, where it has several.
            of_label: whether the texts stand on one label.
        """
        if not self.values:
            return {}
        names = {*said}
        role = str(said.get("role", "")).strip().casefold().replace("_", "-")
        if _CALL_NUMBER in (*roles, role):
            names.add(_CALL_NUMBER)
        aside = names.union(*(_PUTS_ASIDE.get(name, ()) for name in names))
        own = _method_of(self.values)
        no_label, no_foil = (
            own is None or own.place is not Place.LABEL,
            own is None or not own.stock,
        )
        if (no_label and (of_label or _OF_LABELS & names)) or (no_foil and _OF_FOIL & names):
            aside.update(_LETTERED_BY)
        found = {
            name: value
            for name, value in self.values.items()
            if name not in aside and (not self.needs[name] or names & {*self.needs[name]})
        }
        if _OF_FOIL & found.keys():
            method = _method_of({**found, **said})
            if method is None or method.stock is None:
                found = {name: value for name, value in found.items() if name not in _OF_FOIL}
        return found


NO_HOUSE = House()
"""Where there is no file of a house, or none is to be read."""


def _method_of(values: Mapping[str, object]) -> Method | None:
    """The method that values name; None for none, or none that is known, as is told elsewhere."""
    from spinefit import catalogue
    from spinefit.job.files import pick_method, read_methods

    name, file = values.get("method"), values.get("method-file")
    if name is None and file is None:
        return catalogue.method("hand-letters") if "tools" in values else None
    try:
        if file is not None:
            return pick_method(None if name is None else str(name), read_methods(str(file)), "")
        return catalogue.method(str(name))
    except SpinefitError:
        return None
