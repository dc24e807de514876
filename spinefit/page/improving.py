"""What could be changed, and which values of the draft change so?

In: a report of one title, of several texts or of a set. Out: its remedies in sentences, each with
the edit that makes it where one does: values of the job by field (empty where it is left open),
of texts by role (None where one is left out) or by label, and of volumes by their place whether
they go their own way and the texts that only one of them has; or the place to be lettered, of which
nothing is known yet. The shapes of the lines stand beside them.
"""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from typing import Any

from spinefit.job.fields import FIELDS
from spinefit.judgement.remedy import Remedy
from spinefit.plan.remedies import Change, changes_for
from spinefit.say.model import Report
from spinefit.say.plan_model import AnyReport, BackReport, SetReport
from spinefit.say.plan_words import alike_in_words, change_in_words
from spinefit.say.remedies import (
    changes_of,
    compromise_in_words,
    like_the_others_run,
    remedies_run,
)
from spinefit.say.shapes import shapes

_FLAGS = frozenset(field.name for field in FIELDS if field.kind.flag)
_LABEL_SIZE = "label-size"


def improvements(report: AnyReport) -> dict[str, Any]:
    """What could be changed, with the edits that change it, and the shapes of the lines."""
    if isinstance(report, BackReport) and report.is_single:
        report = report.texts[0].report
    if isinstance(report, Report):
        return {"remedies": [*_of_a_title(report)], "shapes": [*_shapes(report)]}
    if isinstance(report, SetReport):
        every = list(_of_a_set(report))
    else:
        found = dict(_of_a_back(report))
        every = [(text, found.get(text)) for text in changes_of(report)]
    return {"remedies": [{"text": text, "edit": edit} for text, edit in every], "shapes": []}


def _of_a_title(report: Report) -> Iterator[dict[str, Any]]:
    for remedy, told in remedies_run(report.to_improve):
        edit: dict[str, Any] = {}
        if remedy.outcome is None:  # a board of which nothing is known
            edit["place"] = "board"
        if told.options:
            edit["values"] = changed_fields(told.options)
        title = _new_title(remedy)
        if title:
            edit["texts"] = {"title": {"text": title}}
        yield {"text": told.text, "edit": edit or None}


def _new_title(remedy: Remedy) -> str:
    """The words that a remedy puts in place of the title; "" where it leaves them."""
    every = [remedy.facts, *(facts for _, facts in _parts(remedy))]
    return next((str(facts["title"]) for facts in every if "title" in facts), "")


def _parts(remedy: Remedy) -> Any:
    return remedy.facts.get("parts", ())


def _shapes(report: Report) -> Iterator[dict[str, Any]]:
    for one in shapes(report):
        yield {
            "shape": str(one.shape), "lines": list(one.lines), "set_pt": one.set_pt,
            "largest_pt": one.largest_pt, "fits": one.fits,
        }  # fmt: skip


def _of_a_back(report: BackReport) -> Iterator[tuple[str, dict[str, Any]]]:
    """Sentences of `changes_of`, and what makes each."""
    for one in changes_for(report.plan):
        yield change_in_words(one), edit_of(one)


def edit_of(one: Change) -> dict[str, Any]:
    """What makes a change of the texts of a back.

    >>> edit_of(Change("leave-out", ("imprint",), None, 12.0, 3))
    {'texts': {'imprint': None}}
    >>> edit_of(Change("panel", ("author",), 3, 12.0, 2))
    {'texts': {'author': {'panel': '3'}}}
    """
    if one.change == "size":  # one that was asked for all is left open too
        return {"values": {"size": ""}, "texts": {name: {"size": ""} for name in one.names}}
    if one.change == _LABEL_SIZE:
        return {"labels": {name: {_LABEL_SIZE: ""} for name in one.names}}
    told = None if one.change == "leave-out" else {"panel": str(one.panel)}
    return {"texts": dict.fromkeys(one.names, told)}


def _of_a_set(report: SetReport) -> Iterator[tuple[str, dict[str, Any] | None]]:
    """Of a set: a volume in other words, one that goes its own way, or all of them alike."""
    places = {one.label: at for at, one in enumerate(report.plan.volumes)}
    for label, remedy, text in like_the_others_run(report.plan):
        title = _new_title(remedy)
        there = {str(places[label]): {"title": {"text": title}}}
        yield text, {"volumes": there} if title else None
    alike = {one.label for one in report.plan.volumes if one.apart is None}
    for one in report.compromises:
        first = one.volume in alike  # the first of a volume is what it does when set apart
        alike.discard(one.volume)
        edit = {"apart": {str(places[one.volume]): True}} if first else None
        yield compromise_in_words(one), edit
    if report.alike is not None:
        yield alike_in_words(report.alike), {"apart": {str(at): False for at in places.values()}}


def changed_fields(options: str) -> dict[str, str]:
    """What options say, by field.

    >>> changed_fields("--lines 3 --font 'EB Garamond Bold'")
    {'lines': '3', 'font': 'EB Garamond Bold'}
    """
    words = shlex.split(options)
    found: dict[str, str] = {}
    while words:
        name, _, value = words.pop(0).removeprefix("--").partition("=")
        if not value and name not in _FLAGS and words:
            value = words.pop(0)
        found[name] = value or "yes"
    return found
