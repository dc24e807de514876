"""Ways out, each run again by hand."""

from __future__ import annotations

import pickle
import re
import shlex
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from spinefit import catalogue
from spinefit.backs import plan_back
from spinefit.job.model import Job, Lettering, Spine
from spinefit.job.places import FrontBoard
from spinefit.job.values import OldLettering, Panel, old_lettering
from spinefit.judgement.text import Trials
from spinefit.pipeline import check
from spinefit.plan.model import BackPlan, BackText
from spinefit.say.remedies import remedies
from spinefit.vocabulary import BreakWords, Case, Orientation, Role, Verdict

ACROSS, ALONG = Orientation.TRANSVERSE, Orientation.LONGITUDINAL


def a_job(title="The Harbour Light", *, spine=None, panel=None, **fields) -> Job:
    lettering = {
        name: fields.pop(name) for name in list(fields) if name in Lettering.__annotations__
    }
    if panel is None:
        spine = Spine(**({"width_mm": 20.0, "height_mm": 200.0} | (spine or {})))
    return Job(title=title, spine=spine, panel=panel, lettering=Lettering(**lettering), **fields)


def lettered(job: Job, **changes) -> Job:
    return replace(job, lettering=replace(job.lettering, **changes))


def best(report):
    return None if report.recommended is None else report.layouts[report.recommended]


def by_change(report) -> dict:
    return {remedy.change: remedy for remedy in remedies(report)}


def whole(job: Job) -> Job:
    title = job.title.replace(" / ", " ")
    return lettered(replace(job, title=title), lines=None)


_LETTERING = {
    "--size": ("size_pt", float),
    "--lines": ("lines", lambda value: None if value == "any" else int(value)),
    "--orientation": ("orientation", Orientation),
    "--case": ("case", Case),
    "--tracking": ("tracking", float),
    "--leading": ("leading_em", float),
    "--font": ("font", str),
    "--clearance": ("clearance_mm", lambda value: float(value.removesuffix("mm"))),
    "--break-words": ("break_words", BreakWords),
}


def by_options(job: Job, options: str) -> Job:
    """The job with a remedy's options added, as a person would add them."""
    words = shlex.split(options)
    changes: dict[str, object] = {}
    for name, value in zip(words[::2], words[1::2], strict=True):
        if name == "--title-panel":
            job = replace(job, spine=replace(job.spine, title_panel=int(value)))
        elif name == "--panel":
            width, height = map(float, value.removesuffix("mm").split("x"))
            job = replace(job, panel=Panel(width_mm=width, height_mm=height))
            if job.spine is not None:  # in place of the options of the back
                job = replace(job, spine=None, shape=None, old_lettering=None)
        elif name == "--front-board":  # in place of the options of the back
            width, height = map(float, value.removesuffix("mm").split("x"))
            board = FrontBoard(board=Panel(width_mm=width, height_mm=height))
            job = replace(
                job, spine=None, panel=None, shape=None, old_lettering=None, front_board=board
            )
        elif name == "--old-lettering":
            job = replace(job, old_lettering=old_lettering(value))
        elif name == "--method":
            job = replace(job, method=value)
        else:
            attribute, read = _LETTERING[name]
            changes[attribute] = read(value)
    return lettered(job, **changes)


def by_hand(job: Job, report, remedy):
    """The layout advised when the remedy is followed."""
    if remedy.change == "over-bands":
        found = next(one for one in report.layouts if one.over_bands)
        spine = replace(job.spine, bands=0, bands_at_mm=None, head_mm=3, foot_mm=3)
        same = replace(job, spine=spine, method=job.method or "hand-letters")
        bare = check(lettered(same, orientation=ALONG, lines=1))
        assert bare.layouts[0].largest_pt == found.largest_pt
        return found
    parts = remedy.change.split("+")
    if "split" in parts:
        job = whole(job)
    if "abbreviate" in parts:
        job = replace(job, title=re.search("\u201c(.+)\u201d", remedy.text)[1])
    if remedy.change == "turn" and job.lettering.orientation is Orientation.PILLAR:
        job = lettered(job, lines=None)
    return best(check(by_options(job, remedy.options)))


def claims_hold(job: Job) -> None:
    report = check(job)
    offered = remedies(report)
    for remedy in offered:
        assert remedy.text.endswith(".")
        if remedy.largest_pt is None:
            assert remedy.change == "cover"
            assert job.spine is None or job.spine.height_mm is None
            continue
        found = by_hand(job, report, remedy)
        assert found is not None
        assert remedy.largest_pt == found.largest_pt
        known = [getattr(found.spare_mm, side) for side in ("left", "right", "head", "tail")]
        assert remedy.spare_mm == min(side for side in known if side is not None)
        assert found.fits or found.over_bands
        assert f"{round(found.set_pt, 1):g} pt" in remedy.text
    costs = [remedy.cost for remedy in offered]
    assert costs == sorted(costs)
    kinds = [remedy.change for remedy in offered]
    assert len(kinds) == len(set(kinds)) <= 8
    if (
        job.old_lettering is None
        and report.verdict is Verdict.FITS
        and best(report).reads_from_mm >= (job.reading_distance_mm or 500.0)
    ):
        assert not offered


JOBS = {
    "too large": a_job("Tides", spine={"width_mm": 12.0}, size_pt=60.0),
    "tight": a_job(
        "Tides", spine={"width_mm": 6.0}, size_pt=10.0, orientation=Orientation.LONGITUDINAL
    ),
    "too narrow": a_job(spine={"width_mm": 2.5}),
    "across asked": a_job(spine={"width_mm": 13.0}, orientation=ACROSS),
    "one line asked": a_job(spine={"width_mm": 13.0}, orientation=ACROSS, lines=1),
    "forced breaks": a_job(
        "A / Light / in the / Harbour",
        spine={"width_mm": 7.0},
        orientation=Orientation.LONGITUDINAL,
    ),
    "bands": a_job(
        "A History of the Harbour Commissioners of the Port and Town",
        spine={"width_mm": 9.0, "bands": 5},
    ),
    "mixed case": a_job("quay", spine={"width_mm": 4.0}),
    "label": a_job("The Harbour Light", panel=Panel(width_mm=9.0, height_mm=6.0)),
    "open height": a_job(spine={"width_mm": 2.5, "height_mm": None}),
    "pillar": a_job("TIDES AND QUAYS", spine={"height_mm": 60.0}, orientation=Orientation.PILLAR),
    "long word": a_job("Constantinopolitanischer", spine={"width_mm": 28.0, "bands": 5}),
    "small method": a_job("Tides", size_pt=3.0),
}


@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_what_a_remedy_claims_is_what_the_changed_job_gives(job):
    claims_hold(job)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.sampled_from(
        [
            "Tides",
            "The Harbour Light",
            "Harbourmastership",
            "A Light / in the Harbour",
            "quays and piers of the coast",
            "A History of the Harbour Commissioners of the Port, Vol. 2",
            "Proceedings and Transactions of the Tidal Society, Volume 12",
        ]
    ),
    st.integers(4, 50),
    st.sampled_from([None, 120.0, 200.0]),
    st.sampled_from([None, 4]),
    st.fixed_dictionaries(
        {
            "size_pt": st.sampled_from([None, 4.0, 14.0, 40.0]),
            "orientation": st.sampled_from([None, ACROSS, Orientation.LONGITUDINAL]),
            "lines": st.sampled_from([None, 2]),
            "case": st.sampled_from([None, Case.CAPITALS]),
            "tracking": st.sampled_from([None, 60.0]),
            "leading_em": st.sampled_from([None, 1.6]),
            "font": st.sampled_from(["EB Garamond", "IBM Plex Sans Var"]),
            "method": st.sampled_from([None, "paper-label", "screen-print"]),
        }
    ),
)
def test_what_remedies_claim_holds_for_any_job(title, width, height, bands, asked):
    if title in ("Tides", "Harbourmastership"):
        asked["lines"] = None
    spine = {"width_mm": width / 2, "height_mm": height, "bands": bands}
    claims_hold(a_job(title, spine=spine, **asked))


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.sampled_from(["Tides", "The Harbour Light", "Quays and Piers of the Coast, Volume 2"]),
    st.integers(8, 60),
    st.integers(8, 60),
    st.sampled_from([None, 6.0, 14.0]),
    st.sampled_from([None, ACROSS, Orientation.LONGITUDINAL]),
    st.sampled_from([None, 1.0]),
    st.sampled_from([None, "leather-label", "hand-letters"]),
)
def test_what_remedies_claim_holds_for_any_label(
    title, width, height, size, orientation, clearance, method
):
    claims_hold(
        a_job(
            title,
            panel=Panel(width_mm=width / 2, height_mm=height / 2),
            size_pt=size,
            orientation=orientation,
            clearance_mm=clearance,
            method=method,
        )
    )


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@example("The Harbour Light", 27, 21, "paperback-cover", None, None, ({}, 0))
@given(
    st.sampled_from(["Tides", "The Harbour Light", "Quays and Piers of the Coast, Volume 2"]),
    st.integers(4, 60),
    st.integers(4, 60),
    st.sampled_from(["paperback-cover", "leather-label", "hand-letters", "paper-label"]),
    st.sampled_from([None, 12.0, 40.0]),
    st.sampled_from([None, ACROSS]),
    st.tuples(st.sampled_from([{}, {"rise_mm": 9.0}, {"bands": 4}]), st.integers(0, 150)),
)
def test_what_a_label_over_old_lettering_claims_holds(
    title, width, height, method, size, orientation, spine
):
    """Each option followed by hand, those of the back left out; and it covers."""
    spine, at = spine
    old = OldLettering(
        width_mm=width / 2, height_mm=height / 2, from_head_mm=at if at % 3 else None
    )
    job = a_job(
        title,
        spine={"width_mm": 40.0, **spine},
        method=method,
        size_pt=size,
        orientation=orientation,
        old_lettering=old,
    )
    claims_hold(job)
    remedy = by_change(check(job)).get("cover-old")
    if remedy is not None:
        label = by_options(job, remedy.options).panel
        around = 2 * catalogue.rules().value("rework.overlap_mm")
        assert label.width_mm >= width / 2 + around - 1e-9
        assert label.height_mm >= height / 2 + around - 1e-9


def test_a_size_too_large_is_answered_with_the_advised_one():
    report = check(JOBS["too large"])
    bare = check(lettered(JOBS["too large"], size_pt=None))
    first = remedies(report)[0]
    assert first.change == "smaller"
    assert f"{best(bare).set_pt:g} pt" in first.text


def test_a_tight_size_is_answered_with_one_that_is_not():
    """The largest step of the method at which the tolerance is covered."""
    job = JOBS["tight"]
    report = check(job)
    assert report.verdict is Verdict.TIGHT
    size = float(re.search(r"([\d.]+) pt", by_change(report)["smaller"].text)[1])
    assert check(lettered(job, size_pt=size)).verdict is Verdict.FITS
    assert check(lettered(job, size_pt=round(size + 0.1, 1))).verdict is Verdict.TIGHT


def test_what_cannot_be_read_is_not_to_be_set_smaller():
    """More room is no help to a title that is lost from the shelf."""
    job = a_job("The Lifeboat", spine={"width_mm": 4.2, "height_mm": 180.0}, market="GB")
    report = check(job)
    assert report.verdict is Verdict.TIGHT
    assert report.answer.endswith("too small to be read from the shelf.")
    offered = by_change(report)
    assert offered
    assert "smaller" not in offered


def test_turning_is_offered_where_one_orientation_was_asked():
    report = check(JOBS["across asked"])
    assert "along the back, from head to tail" in by_change(report)["turn"].text
    assert "turn" not in by_change(check(a_job(spine={"width_mm": 13.0})))


def test_breaking_a_word_is_offered_and_shown():
    """Only ever as a remedy, with the lines that it gives."""
    remedy = by_change(check(JOBS["long word"]))["break-word"]
    assert "- / " in remedy.text
    assert remedy.text.startswith("If you allow a word to be broken")


def test_over_the_bands_is_offered_only_if_forced():
    remedy = by_change(check(JOBS["bands"]))["over-bands"]
    assert remedy.text.startswith("Only if forced")


def test_the_cover_is_offered_last():
    report = check(JOBS["too narrow"])
    offered = remedies(report)
    assert offered[-1].change == "cover"
    assert offered[-1].cost == max(remedy.cost for remedy in offered)


def test_the_cover_is_judged_by_the_rules_of_a_front_board():
    """ISO 216: as broad as its height over the square root of 2; where the board's check fits."""
    remedy = remedies(check(JOBS["too narrow"]))[-1]
    height = JOBS["too narrow"].spine.height_mm
    assert remedy.options.startswith(f"--front-board {round(height * 2**-0.5, 1):g}x{height:g}mm ")
    found = check(by_options(JOBS["too narrow"], remedy.options))
    assert found.fits and found.front_board is not None
    assert f"{found.front_board.label_width_mm:.1f}".rstrip("0").rstrip(".") in remedy.text


def test_what_fits_and_can_be_read_needs_no_remedy():
    assert remedies(check(a_job())) == ()


def test_the_answer_says_by_how_much_and_leaves_remedies_to_those_who_ask():
    report = check(JOBS["too large"])
    assert report.answer == (
        "At 60 pt it does not fit: 22.6 pt is the most on a back of 12 mm, and 6.6 mm would stand "
        "over."
    )
    with pytest.raises(AttributeError, match=r"spinefit\.remedies\(report\)"):
        _ = report.remedies


def test_no_verdict_runs_a_changed_job(monkeypatch):
    """Nor does a plan, for any of its texts."""
    runs = []
    monkeypatch.setattr(Trials, "__call__", lambda self, job: runs.append(job) or (None, ()))
    report = check(JOBS["too large"])
    texts = (
        BackText(role=Role.TITLE, text="Tides", size_pt=60.0),
        BackText(role=Role.DATE, text="1931"),
    )
    assert not plan_back(BackPlan(spine=Spine(width_mm=12.0, height_mm=200.0), texts=texts)).fits
    assert not runs
    remedies(report)
    assert runs


@pytest.mark.parametrize("name", JOBS)
def test_a_report_from_another_process_has_the_same_remedies(name):
    report = check(JOBS[name])
    sent = pickle.loads(pickle.dumps(report))
    assert sent == report
    assert hash(sent) == hash(report)
    assert remedies(sent) == remedies(report)


# --- each kind of way out ------------------------------------------------------------------


def just_too_narrow(job: Job, mm: float = 0.1) -> Job:
    """The job asked for at a size that its largest setting misses by a little."""
    largest = max(one.largest_pt for one in check(job).layouts if not one.over_bands)
    return lettered(job, size_pt=round(largest * (1 + mm / 10), 1))


def test_letters_are_closed_up_only_as_far_as_it_takes():
    """A fiftieth of the size at most (practice); by half of that where it is enough."""
    job = lettered(a_job("LIGHTHOUSE", orientation=ACROSS), tracking=0)
    for beyond, tracking in ((0.05, "-10"), (0.15, "-20")):
        remedy = by_change(check(just_too_narrow(job, beyond)))["tracking"]
        assert remedy.options == f"--tracking {tracking}"
        assert remedy.cost == 1
    assert "tracking" not in by_change(check(just_too_narrow(job, 0.5)))


def test_space_added_between_letters_is_the_first_to_go():
    job = a_job("LIGHTHOUSE", orientation=ACROSS, tracking=100)
    remedy = by_change(check(just_too_narrow(job)))["tracking"]
    assert remedy.options == "--tracking 0"
    assert remedy.text.startswith("Leave out the space added between letters")


def test_letters_are_not_closed_up_until_they_run_together():
    """A method's gap is kept open: what it says of letters too near is not made worse."""
    job = just_too_narrow(a_job("LIGHTHOUSE", orientation=ACROSS, method="transfer-vinyl"))
    assert "tracking" not in by_change(check(job))


def test_lines_are_brought_closer_down_to_the_least_gap():
    """Capitals along a low panel: 1.6 cap heights can be 1.15 and a little."""
    job = a_job(
        "THE HARBOUR / LIGHT", spine={"width_mm": 14.0}, orientation=Orientation.LONGITUDINAL
    )
    remedy = by_change(check(just_too_narrow(job, 1.0)))["leading"]
    leading = float(remedy.options.split()[1])
    tighter = check(lettered(job, leading_em=leading - 0.02))
    assert any(finding.topic == "leading-raised" for finding in tighter.findings)
    assert not any(
        finding.topic == "leading-raised"
        for finding in check(lettered(job, leading_em=leading)).findings
    )


def test_a_font_has_a_companion_or_another_narrow_letter_stands_in():
    own = just_too_narrow(a_job("LIGHTHOUSE", orientation=ACROSS, font="IBM Plex Sans Var"), 0.5)
    remedy = by_change(check(own))["condensed"]
    assert remedy.options == "--font 'IBM Plex Sans Var Condensed'"
    assert "its condensed companion" in remedy.text
    other = just_too_narrow(a_job("LIGHTHOUSE", orientation=ACROSS), 0.5)
    stranger = by_change(check(other))["condensed"]
    assert stranger.cost > remedy.cost
    assert "a narrower letter" in stranger.text


def test_brass_letters_are_not_changed_for_a_font():
    job = just_too_narrow(a_job("LIGHTHOUSE", orientation=ACROSS, method="hand-letters"), 0.5)
    assert not {"condensed", "font"} & set(by_change(check(job)))


def test_a_larger_panel_is_offered():
    """The tail panel is the longest (Cockerell, ch. VII)."""
    job = a_job(
        "HARBOUR",
        spine={"bands": 5},
        method="paperback-cover",
        orientation=Orientation.LONGITUDINAL,
    )
    remedy = by_change(check(just_too_narrow(job)))["panel"]
    assert remedy.options == "--title-panel 6"
    assert "panel" not in by_change(check(lettered(JOBS["too large"], size_pt=60.0)))


def test_the_wider_label_is_the_least_that_serves():
    """A tenth of a millimetre less, on the side that grew, and it is tight or does not fit."""
    job = a_job("The Harbour Light", panel=Panel(width_mm=20.0, height_mm=8.0), size_pt=14.0)
    remedy = by_change(check(job))["wider-label"]
    wider = by_options(job, remedy.options)
    assert check(wider).verdict is Verdict.FITS
    assert wider.panel.width_mm >= 20.0 and wider.panel.height_mm >= 8.0
    for side in ("width_mm", "height_mm"):
        if getattr(wider.panel, side) > getattr(job.panel, side):
            less = {side: getattr(wider.panel, side) - 0.2}
            smaller = replace(wider, panel=replace(wider.panel, **less))
            assert check(smaller).verdict is not Verdict.FITS


def test_a_word_is_abbreviated_as_a_suggestion_with_its_source():
    job = a_job("Harbour History", orientation=ACROSS, spine={"width_mm": 18.0}, lines=1)
    remedy = by_change(check(just_too_narrow(job, 1.0)))["abbreviate"]
    assert "\u201cHarbour Hist.\u201d" in remedy.text
    assert remedy.text.startswith("If the title may be abbreviated")
    assert "ISO 4" in remedy.text and "memory" in remedy.text
    assert remedy.options == ""


@pytest.mark.parametrize(
    ("title", "short"),
    [
        ("TIDE TABLES VOLUME 12", "TIDE TABLES VOL. 12"),
        ("Tide Tables, Number iv", None),  # small letters are no Roman figure here
        ("Tide Tables, Number IV", "Tide Tables, No. IV"),
        ("The Number of the Tides", None),
        ("History", None),
    ],
)
def test_words_are_shortened_in_their_own_case(title, short):
    """Volume and Number only before a figure; a title of one word never."""
    job = a_job(title, orientation=ACROSS, lines=1, spine={"width_mm": 40.0})
    found = by_change(check(just_too_narrow(job, 0.2))).get("abbreviate")
    assert (found and re.search("\u201c(.+)\u201d", found.text)[1]) == short


def test_a_tight_setting_gets_ways_out_that_are_not_tight():
    report = check(JOBS["tight"])
    assert report.verdict is Verdict.TIGHT
    for change, remedy in by_change(report).items():
        if change not in ("cover", "over-bands"):
            assert check(by_options(JOBS["tight"], remedy.options)).verdict is Verdict.FITS


# --- two changes together ------------------------------------------------------------------

PAIRS = {
    "turn+condensed": a_job(
        "Constantinopolitanischer Leuchtturm",
        spine={"width_mm": 14.0, "height_mm": 60.0},
        orientation=ACROSS,
        lines=1,
        method="screen-print",
        font="EB Garamond",
        case=Case.CAPITALS,
    ),
    "split+turn": a_job(
        "Harbour History Society",
        spine={"width_mm": 6.0, "height_mm": 20.0},
        orientation=ACROSS,
        lines=1,
    ),
    "split+abbreviate": a_job(
        "Harbour History Society",
        spine={"width_mm": 9.0, "height_mm": 60.0, "bands": 5},
        method="paperback-cover",
        lines=1,
    ),
}


@pytest.mark.parametrize("change", PAIRS)
def test_two_changes_together_are_offered_where_neither_is_enough(change):
    """Both as run; each of them alone does not make it fit."""
    job = PAIRS[change]
    report = check(job)
    assert report.recommended is None
    pair = by_change(report)[change]
    assert pair.text.startswith("Two changes together: ")
    claims_hold(job)
    words = shlex.split(pair.options)
    for name, value in zip(words[::2], words[1::2], strict=True):
        alone = lettered(job, lines=None) if name == "--lines" else job
        assert not check(by_options(alone, shlex.join((name, value)))).fits


def test_no_pair_is_offered_where_one_change_is_enough():
    for job in (JOBS["across asked"], JOBS["too large"], a_job()):
        assert not any("+" in remedy.change for remedy in remedies(check(job)))


def test_small_letters_are_offered_where_capitals_were_asked():
    job = just_too_narrow(a_job("Lighthouse", orientation=ACROSS, case=Case.CAPITALS), 0.5)
    remedy = by_change(check(job))["as-typed"]
    assert remedy.options == "--case as-typed"
    assert "small letters instead of capitals" in remedy.text
    capitals = lettered(job, case=Case.CAPITALS)
    assert "as-typed" not in by_change(check(replace(capitals, title="LIGHTHOUSE")))
