"""Do the check values of shared/checks come out of the program?

Each row is a test of its own, named by the row's id, and states its source there.
"""

from __future__ import annotations

import itertools
import math
from collections import Counter
from typing import Any

import pytest

from spinefit import catalogue
from spinefit.geometry import largest, outright_panel, turn_box, usable_panel
from spinefit.geometry.back import Back, angle_at, bent_label, build_back, foreshortening
from spinefit.geometry.panels import band_middles_mm, divide
from spinefit.geometry.plane import turn_point
from spinefit.job import Job, Panel, Spine
from spinefit.job.backs import edge_of
from spinefit.job.fields import assemble
from spinefit.job.lengths import parse_length
from spinefit.job.model import Shape
from spinefit.job.resolve import resolve
from spinefit.job.resolved import ResolvedSpine
from spinefit.layout.splits import Splitter
from spinefit.layout.standing import turn_of
from spinefit.shaping.breaks import clusters, line_breaks
from spinefit.units import (
    DIDOT_POINT_MM,
    MM_PER_UNIT,
    PRINTERS_POINT_MM,
    arcminutes_of,
    distance_mm_at_arcminutes,
    height_mm_at_arcminutes,
    mm_from_pt,
    pt_from_mm,
)
from spinefit.vocabulary import BackForm, BindingSide, Reading, Status, Turn
from tests.layout.all_splits import all_splits, by_widths
from tests.published.check_rows import CHECKS, Row, agrees, each, rows_of

RULES = catalogue.rules()


# All files


FILES = sorted(path.stem for path in CHECKS.glob("*.toml"))


def test_every_file_is_read_here() -> None:
    """Source: shared/checks; a file that nobody reads tests nothing."""
    assert FILES == [
        "circular_segments",
        "directions",
        "figures",
        "label_bending",
        "legibility",
        "panels",
        "points",
        "splits",
        "thickness",
        "usable_width",
    ]


@pytest.mark.parametrize("name", FILES)
def test_every_row_says_who_says_so(name: str) -> None:
    """Source: each row's own; id, quantity, source and status, and a tolerance for figures."""
    rows = rows_of(name)
    ids = [row["id"] for row in rows]
    assert len(set(ids)) == len(ids)
    for row in rows:
        assert row["quantity"] and row["source"].strip() and row["expected"], row["id"]
        assert Status(row["status"]), row["id"]
        figures = (value for value in row["expected"].values() if isinstance(value, float))
        assert row.get("tolerance", -1.0) >= 0 or not any(True for _ in figures), row["id"]


def test_the_readme_counts_the_rows_by_their_status() -> None:
    """Source: shared/README.md; how much of this rests on what was read, and how much does not."""
    counted = Counter(row["status"] for name in FILES for row in rows_of(name))
    words = {"memory": "recalled"}
    total = sum(counted.values())
    parts = [f"{count} {words.get(status, status)}" for status, count in sorted(counted.items())]
    said = " ".join((CHECKS.parent / "README.md").read_text(encoding="utf-8").split())
    assert f"Of {total} rows {', '.join(parts)}." in said


# How thick a book is


@each("thickness")
def test_thickness(row: Row) -> None:
    """Source: each row's own: leaves by paper merchants, backs by hand from the rules."""
    spine = resolve(assemble("T", row["inputs"])).spine
    assert spine is not None and spine.estimate is not None
    made, expected = spine.estimate, dict(row["expected"])
    found_mm = expected.pop("block_mm", None)
    if found_mm is not None:
        assert made.block_mm[0] <= found_mm <= made.block_mm[1]
    found = {
        "leaf_mm": made.leaf_mm, "loose_mm": made.leaves[0] * made.leaf_mm,
        "back_least_mm": made.back_mm[0], "back_most_mm": made.back_mm[1],
    }  # fmt: skip
    agrees({**row, "expected": expected}, found)
    assert spine.width_mm == made.back_mm[0]


# Labels over a round


@each("label_bending")
def test_label_bending(row: Row) -> None:
    """Source: each row's own, computed by hand."""
    agrees(row, bent_label(**row["inputs"])._asdict())


# Rounded backs


def _rounded(chord_mm: float, **figure: float) -> Back:
    job = Job(title="T", spine=Spine(width_mm=chord_mm, back=BackForm.ROUNDED, **figure))
    spine = resolve(job).spine
    assert spine is not None
    return build_back(spine, RULES)


def _chord_and_angle(inputs: Row) -> tuple[float, float]:
    """Chord in mm and whole angle in radians of the segment a row describes."""
    if "rise_mm" in inputs:
        chord, rise = inputs["chord_mm"], inputs["rise_mm"]
        return chord, 4 * math.atan(2 * rise / chord)
    angle = math.radians(inputs["angle_deg"])
    if "radius_mm" in inputs:
        return 2 * inputs["radius_mm"] * math.sin(angle / 2), angle
    return inputs["chord_mm"], angle


def _backs(inputs: Row) -> list[Back]:
    """The same back described three ways, or only by the figure that the row gives."""
    if "rise_mm" in inputs:
        return [_rounded(inputs["chord_mm"], rise_mm=inputs["rise_mm"])]
    chord_mm, angle = _chord_and_angle(inputs)
    radius_mm = chord_mm / (2 * math.sin(angle / 2))
    return [
        _rounded(chord_mm, rise_mm=chord_mm / 2 * math.tan(angle / 4)),
        _rounded(chord_mm, radius_mm=radius_mm),
        _rounded(chord_mm, arc_mm=radius_mm * angle),
    ]


def _figures(back: Back) -> dict[str, float]:
    assert back.radius_mm is not None
    angle = 2 * back.half_angle_rad
    return {
        "radius_mm": back.radius_mm,
        "arc_mm": back.arc_mm,
        "chord_mm": back.chord_mm,
        "rise_mm": back.rise_mm,
        "angle_deg": math.degrees(angle),
        "area_mm2": back.radius_mm * (back.arc_mm - back.radius_mm * math.sin(angle)) / 2,
    }


SEGMENTS = [
    row
    for row in rows_of("circular_segments")
    if not row["expected"].keys() & {"foreshortening", "lettering_arc_mm"}
]


@pytest.mark.parametrize("row", SEGMENTS, ids=[row["id"] for row in SEGMENTS])
def test_circular_segments(row: Row) -> None:
    """Source: circular_segments.toml, segments as engineers' handbooks tabulate them."""
    for back in _backs(row["inputs"]):
        agrees(row, _figures(back))


@each("circular_segments", having="lettering_arc_mm")
def test_arc_within_the_largest_angle(row: Row) -> None:
    """Source: circular_segments.toml, a third of a circle as Zaehnsdorf rounds a back."""
    chord_mm, angle = _chord_and_angle(row["inputs"])
    spine = Spine(
        width_mm=chord_mm,
        back=BackForm.ROUNDED,
        rise_mm=chord_mm / 2 * math.tan(angle / 4),
        edge_mm=0,
        max_angle_deg=row["inputs"]["max_angle_deg"],
    )
    resolved = resolve(Job(title="T", spine=spine)).spine
    assert resolved is not None
    panel = usable_panel(resolved, Shape(), RULES)
    assert panel.angle_limited
    agrees(row, {"lettering_arc_mm": panel.width_mm})


@each("circular_segments", having="foreshortening")
def test_foreshortening(row: Row) -> None:
    """Source: circular_segments.toml, the cosine of the angle from the middle of the back."""
    back = _rounded(20.0, rise_mm=10.0)
    assert back.radius_mm is not None
    x_mm = back.radius_mm * math.radians(row["inputs"]["angle_deg"])
    assert math.degrees(angle_at(back, x_mm)) == pytest.approx(row["inputs"]["angle_deg"])
    agrees(row, {"foreshortening": foreshortening(back, x_mm)})


# Points


OURS_MM = {
    "length_mm": MM_PER_UNIT["mm"],
    "length_in": MM_PER_UNIT["in"],
    "length_m": 100 * MM_PER_UNIT["cm"],
    "length_pt": MM_PER_UNIT["pt"],
    "length_pica": 12 * MM_PER_UNIT["pt"],
    "length_printers_pt": PRINTERS_POINT_MM,
    "length_printers_pica": 12 * PRINTERS_POINT_MM,
    "length_didot_pt": DIDOT_POINT_MM,
}


@each("points")
def test_points(row: Row) -> None:
    """Source: points.toml, NIST SP 811 and paper merchants' notes, as each row says."""
    inputs = dict(row["inputs"])
    if "cap_height_em" in inputs:
        agrees(row, {"cap_height_mm": mm_from_pt(inputs["size_pt"]) * inputs["cap_height_em"]})
        return
    ((key, number),) = inputs.items()
    agrees(row, {to: number * OURS_MM[key] / mm for to, mm in OURS_MM.items()})


@each("points", having="length_pt")
def test_points_as_typed(row: Row) -> None:
    """Source: points.toml; a length typed in points is that many DTP points."""
    if "length_pt" in row["inputs"] and "length_mm" in row["expected"]:
        typed = parse_length(f"{row['inputs']['length_pt']}pt")
        assert typed == mm_from_pt(row["inputs"]["length_pt"])
        agrees(row, {"length_mm": typed})


@each("points", having="length_in")
def test_inches_as_typed(row: Row) -> None:
    """Source: points.toml; a length typed in inches is 25.4 mm for each."""
    if "length_in" in row["inputs"]:
        typed = parse_length(f"{row['inputs']['length_in']}in")
        agrees(row, {"length_mm": typed, "length_m": typed / 1000})


# Legibility


@each("legibility")
def test_legibility(row: Row) -> None:
    """Source: legibility.toml, NUREG-0700, ASR A6 and rules of thumb, as each row says."""
    inputs, expected = row["inputs"], row["expected"]
    if "distance_per_height" in inputs:
        agrees(row, {"angle_arcmin": arcminutes_of(1.0, inputs["distance_per_height"])})
    elif "angle_from_arcmin" in inputs:
        found = {
            f"height_{end}_mm": height_mm_at_arcminutes(
                inputs[f"angle_{end}_arcmin"], inputs["distance_mm"]
            )
            for end in ("from", "to")
        }
        agrees(row, found)
        assert RULES.value("advised.most_arcmin") == inputs["angle_to_arcmin"]
    elif "angle_arcmin" in inputs:
        height_mm = height_mm_at_arcminutes(inputs["angle_arcmin"], inputs["distance_mm"])
        agrees(row, {"height_mm": height_mm})
        assert arcminutes_of(height_mm, inputs["distance_mm"]) == pytest.approx(
            inputs["angle_arcmin"]
        )
        assert distance_mm_at_arcminutes(height_mm, inputs["angle_arcmin"]) == pytest.approx(
            inputs["distance_mm"]
        )
    else:
        (angle,) = (
            one["expected"]["angle_arcmin"]
            for one in rows_of("legibility")
            if one["id"] == row["as_angle"]
        )
        height_mm = height_mm_at_arcminutes(angle, inputs["distance_mm"])
        assert height_mm == pytest.approx(expected["height_mm"], rel=1e-3)


# Usable width


def _resolved(**spine: Any) -> ResolvedSpine:
    found = resolve(Job(title="T", spine=Spine(**spine))).spine
    assert found is not None
    return found


@each("usable_width", having="usable_width_mm")
def test_usable_width(row: Row) -> None:
    """Source: usable_width.toml, a printer's guidelines for cover designers, made monotone."""
    inputs = row["inputs"]
    spine = _resolved(width_mm=inputs["width_mm"], edge_mm=inputs.get("margin_mm"))
    agrees(row, {"usable_width_mm": usable_panel(spine, Shape(), RULES).width_mm})
    if "margin_mm" not in inputs:
        edge_mm = edge_of(inputs["width_mm"], RULES)[0]
        agrees(row, {"usable_width_mm": inputs["width_mm"] - 2 * edge_mm})


def test_a_wider_back_never_holds_less() -> None:
    """Source: usable_width.toml, head: the published margins were made monotone."""
    usable = [width / 8 - 2 * edge_of(width / 8, RULES)[0] for width in range(8 * 60)]
    assert usable == sorted(usable)
    assert min(usable) == 0


@each("usable_width", having="ink_height_em")
def test_largest_size_along_the_back(row: Row) -> None:
    """Source: usable_width.toml, width less two margins over the height of the ink."""
    inputs = row["inputs"]
    half_em = inputs["ink_height_em"] / 2
    panel = outright_panel(Panel(width_mm=inputs["width_mm"], height_mm=1000.0), Shape())
    limit = largest(
        panel,
        turn_box((-0.5, -half_em, 0.5, half_em), Turn.CLOCKWISE),
        lambda: (),
        clearance_mm=inputs["margin_mm"],
    )
    agrees(row, {"largest_pt": pt_from_mm(limit.size_mm)})


# Directions


@each("directions", having="market")
def test_directions(row: Row) -> None:
    """Source: directions.toml, standards and shelves of a market, where the row decides."""
    inputs = row["inputs"]
    market, known = catalogue.market(inputs["market"] or None, inputs.get("language"))
    assert known
    if row["decides"]:
        assert {key: getattr(market, key) for key in row["expected"]} == row["expected"]
        assert market.status == row["status"]


@each("directions", having="turn")
def test_turns(row: Row) -> None:
    """Source: directions.toml, geometry of a book lying front cover up."""
    inputs, expected = row["inputs"], row["expected"]
    right_to_left = inputs["script_direction"] == "right-to-left"
    turn = turn_of(Reading(inputs["reading"]), right_to_left=right_to_left)
    assert turn == Turn(expected["turn"])
    tops = turn_point((0.0, 1.0), turn)
    assert ("right" if tops[0] > 0 else "left") == expected["letter_tops"]
    # A book bound at the left shows its spine turned anticlockwise when it lies face up.
    left_bound = BindingSide(inputs["binding_side"]) is BindingSide.LEFT
    lying = turn_point(tops, Turn.ANTICLOCKWISE if left_bound else Turn.CLOCKWISE)
    assert (lying[1] > 0) == expected["upright_front_cover_up"]


# Panels


def _panel_lengths_mm(spine: ResolvedSpine) -> list[float]:
    """From middle to middle of the bands, and to the ends of the back, head first."""
    assert spine.height_mm is not None
    at = [0.0, *band_middles_mm(spine), spine.height_mm]
    return [below - above for above, below in itertools.pairwise(at)]


@each("panels", having="panel_mm")
def test_panels(row: Row) -> None:
    """Source: panels.toml, Cockerell, ch. VII: equal parts, the tail part longer."""
    spine = _resolved(width_mm=30.0, **row["inputs"])
    lengths = _panel_lengths_mm(spine)
    assert len(lengths) == len(divide(spine)) == row["inputs"]["bands"] + 1
    assert lengths[:-1] == pytest.approx([lengths[0]] * (len(lengths) - 1))
    agrees(row, {"panel_mm": lengths[0], "tail_panel_mm": lengths[-1]})


def test_usual_panels() -> None:
    """Source: panels.toml, Cockerell, ch. VII, and Zaehnsdorf: five equal, the tail longer."""
    rows = {row["id"]: row["expected"] for row in rows_of("panels")}
    spine = _resolved(width_mm=30.0, height_mm=210.0, bands=rows["usual-bands"]["bands"])
    lengths = dict(enumerate(_panel_lengths_mm(spine), start=1))
    assert len(divide(spine)) == len(lengths) == rows["usual-bands"]["panels"]
    order = rows["five-equal-one-longer"]
    equal = [lengths[number] for number in order["equal_panels"]]
    assert equal == pytest.approx([equal[0]] * 5)
    assert lengths[order["longer_panel"]] > equal[0] * 1.01


# Splits


class Counted:
    """A title whose lines are measured in characters, a space counting as one."""

    def __init__(self, title: str) -> None:
        self.title = title
        starts = (0, *line_breaks(title, "en"))
        ends = (*starts[1:], len(title))
        self.pieces = [
            (start, start + len(title[start:end].rstrip()))
            for start, end in zip(starts, ends, strict=True)
        ]
        self.splitter = Splitter(
            forced_after=(False,) * len(self.pieces),
            widths=lambda first, last: [
                float(len(self.line(first, to))) for to in range(first, last + 1)
            ],
            penalties=lambda first, last: [0.0] * (last + 1 - first),
            shape=by_widths,
        )

    def line(self, first: int, last: int) -> str:
        return self.title[self.pieces[first][0] : self.pieces[last][1]]

    def lines(self, split: tuple[tuple[int, int], ...]) -> list[str]:
        return [self.line(first, last) for first, last in split]


@each("splits", having="longest_line_characters")
def test_splits(row: Row) -> None:
    """Source: splits.toml, Cockerell's THE WORKS OF ROBERT LOUIS STEVENSON, counted."""
    counted, lines = Counted(row["inputs"]["title"]), row["inputs"]["lines"]
    least, expected = counted.splitter.least_width(lines), row["expected"]
    assert least == expected["longest_line_characters"]
    as_good = [
        found
        for split in all_splits(counted.splitter.count, lines)
        if max(map(len, found := counted.lines(split))) == least
    ]
    assert len(as_good) == expected["splits"]
    assert expected["best_split"] in as_good
    best = counted.splitter.best_within(lines, least)
    assert best is not None
    assert counted.lines(best) in as_good


def test_no_line_is_shorter_than_the_longest_word() -> None:
    """Source: splits.toml; Cockerell's four lines of five letters cannot hold it unbroken."""
    row = next(row for row in rows_of("splits") if "longest_word_characters" in row["expected"])
    splitter = Counted(row["inputs"]["title"]).splitter
    longest = row["expected"]["longest_word_characters"]
    assert splitter.least_width(splitter.count) == longest
    assert splitter.least_width(4) == longest > 5
    assert splitter.best_within(4, 5.0) is None


@each("splits", having="characters")
def test_counting_letters(row: Row) -> None:
    """Source: splits.toml, Cockerell, ch. XV: a space counts as a letter."""
    letters, expected = clusters(row["inputs"]["title"]), row["expected"]
    assert len(letters) == expected["characters"]
    for place, letter in expected.items():
        if place.endswith("centre_letter"):
            assert letters[expected[place.replace("_letter", "_place")] - 1] == letter
    if "centre_place" in expected:
        assert 2 * expected["centre_place"] == len(letters) + 1
