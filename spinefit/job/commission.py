"""For whom is a job done, and how often? What stands on its paper and is never judged."""

from __future__ import annotations

from dataclasses import dataclass

from spinefit.job import checks, values
from spinefit.job.kinds import Kind, option

COMMISSION = "Customer and copies"
"""The heading of these fields in the help."""

_MOST_COPIES = 500
_WORDS = Kind("TEXT", values.text, checks.text)


@dataclass(frozen=True, slots=True, kw_only=True)
class Commission:
    """Whose job it is."""

    customer: str | None = option(
        "customer",
        COMMISSION,
        _WORDS,
        "For whom it is done: stands on drawings, worksheets and beside labels.",
    )
    job_number: str | None = option(
        "job-number", COMMISSION, Kind("TEXT", values.face, checks.text, whole=True),
        "The number of the job, likewise.",
    )  # fmt: skip
    copies: int | None = option(
        "copies", COMMISSION,
        Kind("N", values.count, checks.whole("copies", 1, _MOST_COPIES), whole=True),
        "How many labels of it are wanted; a sheet sets its spares beside them. [1]",
    )  # fmt: skip

    @property
    def in_words(self) -> str:
        """Customer and number, as captions have them; "" where neither was said."""
        return ", ".join(one for one in (self.customer, self.job_number) if one is not None)

    @property
    def on_paper(self) -> str:
        """The same with the copies, as drawings have it."""
        copies = f"{self.copies} {'copy' if self.copies == 1 else 'copies'}" if self.copies else ""
        return ", ".join(filter(None, (self.in_words, copies)))


def commission_of(job: Commission) -> Commission:
    """Whose job it is, and nothing else that was said of it."""
    return Commission(customer=job.customer, job_number=job.job_number, copies=job.copies)
