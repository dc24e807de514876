"""What are the settings of a report?

In: a judgement, and what describes a setting. Out: all of them, each found and described when it is
first read. Nothing is decided here.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from typing import TYPE_CHECKING, overload

if TYPE_CHECKING:
    from spinefit.geometry import UsablePanel
    from spinefit.job.resolved import ResolvedJob
    from spinefit.judgement.judged import Judged
    from spinefit.judgement.verdict import Judgement
    from spinefit.say.model import LayoutReport


class Settings(Sequence["LayoutReport"]):
    """The settings of a title, each found and described when it is first read.

    A title has a dozen, to describe one takes nearly as long as to find it, and most readers
    look at no more than one. They equal, print and pickle as the tuple of them all.

    Args:
        made_of: the job, completed, its usable panel, and the judgement of the title.
        make: describes one.

    Attributes:
        made_of: the same, for those who draw it.
    """

    __slots__ = ("_judgement", "_make", "made_of")

    def __init__(
        self,
        made_of: tuple[ResolvedJob, UsablePanel, Judgement],
        make: Callable[[Judged], LayoutReport],
    ) -> None:
        self.made_of = made_of
        self._judgement = made_of[-1]
        self._make = cache(make)

    def shown(self) -> LayoutReport:
        """The one that is shown."""
        return self._make(self._judgement.shown)

    def __len__(self) -> int:
        return len(self._judgement.judged)

    @overload
    def __getitem__(self, at: int) -> LayoutReport: ...

    @overload
    def __getitem__(self, at: slice) -> tuple[LayoutReport, ...]: ...

    def __getitem__(self, at: int | slice) -> LayoutReport | tuple[LayoutReport, ...]:
        found = self._judgement.judged[at]
        return tuple(map(self._make, found)) if isinstance(found, Sequence) else self._make(found)

    def __eq__(self, other: object) -> bool:
        return tuple(self) == (tuple(other) if isinstance(other, Settings) else other)

    def __hash__(self) -> int:
        return hash(tuple(self))

    def __repr__(self) -> str:
        return repr(tuple(self))

    def __reduce__(self) -> tuple[type[tuple[LayoutReport, ...]], tuple[tuple[LayoutReport, ...]]]:
        return tuple, (tuple(self),)
