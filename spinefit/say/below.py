"""What stands on a screen below a setting, of a title alone and of a plan?

In: findings, remedies and what was assumed. Out: rows of a `Page`: what to mind, what could be
done instead, then what can hurt in making it and what was assumed of most weight; where it is
asked why, also every reason, who says so, and all that was assumed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from spinefit.job.house import OF_HOUSE
from spinefit.say import phrasing as say
from spinefit.say.model import FindingReport, Report, hazards_of
from spinefit.say.page import Page
from spinefit.vocabulary import Level

MOST_REMEDIES = 3  # where nobody asks why; the cheapest come first
_STYLES = {
    Level.FAILURE: "bold red",
    Level.WARNING: "yellow",
    Level.NOTE: "",
    Level.GOOD: "green",
}
_REASONS = frozenset(
    {
        "across-alone", "across-broken", "across-does-not-fit", "across-larger", "across-least",
        "across-lines", "across-narrow", "across-small",
        "advised-floor", "along-does-not-fit", "axis-found", "edge-disagreed", "legibility-limit",
        "plan-order", "plan-panels", "plan-relation", "round-angle", "set-limit", "words-chosen",
    }
)  # fmt: skip
"""Notes that only say why the answer is as it is: nobody has to mind them at the bench."""
_OF_WEIGHT = ("method", "stock", "die", "joints", "market", "font")
"""What is named of all that was assumed, where nobody asks why: it changes most."""
_A_SCREEN = 30  # lines
_USUAL_COLUMNS = 80  # on a narrower screen a page is longer, and nothing is left out for it


def on_a_screen(
    draw: Callable[[int | None], Page],
    findings: Sequence[tuple[str, FindingReport]],
    *,
    why: bool = False,
) -> str:
    """The page as text, with as many of its notes as a screen holds; what fails or warns stays.

    Args:
        draw: the page with at most so many notes, the first ones; None for all, and for room to
            spare.
        findings: what it tells, as of `mind_rows`.
        why: whether all was asked for, however long.
    """
    page = draw(None)
    text, notes = page.text(), len(_notes_of(findings))
    if why or page.screen.columns < _USUAL_COLUMNS:
        return text
    while len(text.splitlines()) > _A_SCREEN and notes >= 0:
        text = draw(notes).text()
        notes -= 1
    return text


def _notes_of(findings: Sequence[tuple[str, FindingReport]]) -> list[FindingReport]:
    """The notes told where nobody asks why, each once."""
    notes = [one for _, one in findings if one.level is Level.NOTE and one.topic not in _REASONS]
    return list(dict.fromkeys(notes))


def closing(
    page: Page,
    reports: Sequence[Report],
    assumed: Sequence[str],
    *,
    why: bool = False,
    withheld: int = 0,
) -> None:
    """What can hurt in making it, then what was assumed of most weight and how to see more.

    Args:
        page: where it is written.
        reports: of every text that is made.
        assumed: every default taken.
        why: whether the reader has all of it already.
        withheld: how many notes are left for that.
    """
    if why:
        page.heading("Take care")
        page.bulleted(dict.fromkeys(text for one in reports for text in one.cautions))
        return
    page.blank()
    for line in hazards_of(reports):
        page.row("Take care", line)
    of_weight = [text for text in assumed if text.partition(":")[0] in _OF_WEIGHT]
    of_weight = [one.partition(",")[0] if one.startswith("market:") else one for one in of_weight]
    of_weight = [one.partition(", as a ")[0] for one in of_weight]  # why is said where it is asked
    if of_weight:
        page.row("Assumed", say.visible("; ".join(of_weight)))
    for text in say.assumed_parted(assumed)[0]:
        if text.endswith(OF_HOUSE):
            page.row("House", say.visible(text.removesuffix(OF_HOUSE)))
    more = "reasons, sources, other settings"
    if withheld:
        more = f"{withheld} {'note' if withheld == 1 else 'notes'}, {more}"
    else:
        more += ", all that was assumed"
    page.row("More", f"--why adds {more}")


def doubt_rows(page: Page, doubts: Sequence[str]) -> None:
    """What puts the answer itself in doubt, right below it."""
    for text in doubts:
        page.row(str(Level.WARNING), say.visible(text), style=_STYLES[Level.WARNING])


def mind_rows(
    page: Page,
    findings: Sequence[tuple[str, FindingReport]],
    *,
    parts: frozenset[str] = frozenset(),
    why: bool = False,
    most_notes: int | None = None,
) -> int:
    """What to mind: every failure and warning, and notes that are more than a reason.

    Args:
        page: where it is written.
        findings: each with the name of the text or volume it is of, "" for the whole; what is
            found alike of several is said once.
        parts: the names of all texts or volumes; what is of all of them names none.
        why: whether who says so is wanted too, and the notes that are only reasons.
        most_notes: how many notes there is room for; None for all.

    Returns:
        How many notes found no room.
    """
    notes = _notes_of(findings)
    withheld = [] if most_notes is None else notes[most_notes:]
    named: dict[FindingReport, list[str]] = {}
    for level in (Level.FAILURE, Level.WARNING, Level.NOTE):
        waits = frozenset() if why or level is not Level.NOTE else _REASONS
        for name, one in findings:
            if one.level is level and one.topic not in waits and one not in withheld:
                named.setdefault(one, []).append(name)
    for one, names in named.items():
        if len(parts) > 1 and parts <= set(names):
            named[one] = ["All"]
    _finding_rows(page, "What to mind", named, sourced=why)
    return len(withheld)


def reason_rows(page: Page, findings: Sequence[FindingReport]) -> None:
    """What speaks for the answer, and who says so."""
    good = {one: [""] for one in findings if one.level is Level.GOOD}
    _finding_rows(page, "Why", good, sourced=True)


def _finding_rows(
    page: Page, heading: str, named: Mapping[FindingReport, Sequence[str]], *, sourced: bool
) -> None:
    """Findings below their heading, each with its level."""
    if named:
        page.heading(heading)
    for finding, names in named.items():
        of = ", ".join(dict.fromkeys(filter(None, names)))
        source = say.source_in_words(finding.source, finding.status) if sourced else ""
        page.row(
            str(finding.level),
            say.visible(f"{of}: {finding.text}" if of else finding.text),
            style=_STYLES[finding.level],
            dim=f"[{source}]" if source else "",
        )


def numbered_rows(
    page: Page,
    heading: str,
    texts: Sequence[str],
    *,
    why: bool = False,
    most: int = MOST_REMEDIES,
) -> None:
    """Texts below their heading, numbered from 1; only the first few unless it is asked why."""
    if texts:
        page.heading(heading)
    shown = texts if why else texts[:most]
    for number, text in enumerate(shown, 1):
        page.row(str(number), say.visible(text))
    if len(texts) > len(shown):
        page.row("", f"and {len(texts) - len(shown)} more, with --why")


def assumed_rows(page: Page, assumed: Sequence[str]) -> None:
    """What was assumed of the book, each by itself; then in one row how it is set."""
    if not assumed:
        return
    of_book, of_setting = say.assumed_parted(assumed)
    page.heading("Assumed, as it was not stated")
    rows = list(of_book)
    if of_setting:
        rows.append(f"the setting: {'; '.join(of_setting)}")
    page.bulleted(say.visible(text) for text in rows)
