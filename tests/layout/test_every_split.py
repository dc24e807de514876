"""What a search lists, against every split, where the words are of very different heights."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from types import SimpleNamespace
from typing import NamedTuple

import pytest

from spinefit import catalogue
from spinefit.geometry import outright_panel
from spinefit.job.model import Job, Lettering
from spinefit.job.resolve import resolve
from spinefit.job.values import Panel
from spinefit.layout.divisions import Divisions, lines_of
from spinefit.layout.group import group_of, leading_em
from spinefit.layout.search import PanelSearch
from spinefit.layout.sense import begin_phrases, is_good_shape, line_penalty, sense_of
from spinefit.layout.splits import Ends, Split, Splitter
from spinefit.layout.standing import Layout, Standing, candidates
from spinefit.vocabulary import BreakWords, Centre, GroupShape, LimitedBy, Orientation, SmallWords
from tests.layout.all_splits import all_splits
from tests.layout.sketched import SketchedTitle, at_random, sketched

ACROSS, ALONG = Orientation.TRANSVERSE, Orientation.LONGITUDINAL
WORDS = catalogue.title_words("en")
SENSE = sense_of(WORDS, catalogue.rules(), SmallWords.JOINED)
SHARE = catalogue.rules().value("lines.sense_share")
NEAR = 1e-9  # of sizes and penalties


class Way(NamedTuple):
    """One split of all there are, laid by itself."""

    split: Split
    layout: Layout
    penalty: float
    width_em: float

    @property
    def size_mm(self) -> float:
        return self.layout.limit.size_mm

    @property
    def reads(self) -> tuple[float, bool]:
        """Its penalty, and whether it makes no good shape."""
        return round(self.penalty, 9), not is_good_shape(self.layout.group.shape)

    @property
    def rank(self) -> tuple[object, ...]:
        """By which one reads better than another."""
        group = self.layout.group
        squares = round(sum(width * width for width in group.widths_em), 9)
        width_em = round(self.width_em, 9)
        return *self.reads, -group.lines.phrases, width_em, squares, self.split


class Asked:
    """A title in a panel, lettered one way."""

    def __init__(
        self, title: SketchedTitle, sides: tuple[float, float], way: Orientation, **lettering
    ) -> None:
        panel = Panel(width_mm=sides[0], height_mm=sides[1])
        keys = {"clearance_mm": 0.0, "centre": Centre.INK} | lettering
        said = Lettering(orientation=way, **keys)
        self.job = resolve(Job(title="Quay", panel=panel, lettering=said, language="en"))
        self.title = title
        self.panel = outright_panel(self.job.panel, self.job.shape)
        self.candidate = candidates(self.job, title)[0]
        self.standing = Standing(self.job, title, self.panel, self.candidate)

    def listed(self, lines: int, share: float = SHARE) -> list[Layout]:
        """What is listed in so many lines, sense being looked for from such a share of the best."""
        job = self.job._replace(rules=self.job.rules.replaced(lines__sense_share=share))
        return PanelSearch(job, self.title, self.panel, WORDS).in_lines(self.standing, lines)

    def every(self, lines: int) -> list[Way]:
        """Every split into so many lines, in the order of their breaks."""
        run, found = self.title.run, []
        last = len(run.pieces) - 1
        leading = leading_em(self.title, None, self.job.rules)
        begins = begin_phrases([run.line_text(at, at) for at in range(last + 1)], SENSE)
        for split in all_splits(last + 1, lines):
            ends = {end for _first, end in split}
            if any(piece.forced_after and at not in ends for at, piece in enumerate(run.pieces)):
                continue
            penalty = 0.0
            for first, end in split:
                is_last = end == last or run.pieces[end].forced_after
                said = {"is_last": is_last, "in_word": False, "words": SENSE}
                penalty += line_penalty(run.line_text(first, end), **said)
            phrases = sum(begins[first] for first, _end in split[1:]) if begins else 0
            cut = lines_of(run, split, leading, (penalty, phrases), SENSE)
            layout = self.standing.layout(group_of(self.title, cut, centre=Centre.INK), "")
            found.append(Way(split, layout, penalty, max(cut.widths_em)))
        return found


def splits_of(layouts: list[Layout]) -> list[Split]:
    return [one.cut[1] for one in layouts if one.cut is not None]


def cases(count: int, seed: int, most: int = 7) -> Iterator[tuple[Asked, list[int]]]:
    """Titles in panels, and the numbers of lines that they can have."""
    random = Random(seed)
    for _each in range(count):
        sides = random.choice(((20.0, 30.0), (60.0, 12.0), (12.0, 60.0), (60.0, 60.0)))
        asked = Asked(at_random(random, most), sides, random.choice((ACROSS, ALONG)))
        yield asked, list(asked.candidate.line_counts)


def test_the_narrowest_the_largest_and_one_that_reads_best_are_listed():
    """Each once, the least greatest line first.

    Of the splits within a tenth of the largest, one is listed that reads no worse than any.
    """
    for asked, counts in cases(1000, seed=1):
        for lines in counts:
            every = {way.split: way for way in asked.every(lines)}
            listed = asked.listed(lines)
            own = [every[split] for split in splits_of(listed)]
            assert len({*splits_of(listed)}) == len(own)
            for way, layout in zip(own, listed, strict=True):
                assert layout.limit.size_mm == pytest.approx(way.size_mm)
                assert layout.group.penalty == pytest.approx(way.penalty)
            least_em = min(way.width_em for way in every.values())
            best_mm = max(way.size_mm for way in every.values())
            assert own[0].width_em == pytest.approx(least_em)
            assert max(way.size_mm for way in own) == pytest.approx(best_mm)
            near = [way for way in every.values() if way.size_mm >= SHARE * best_mm * (1 + NEAR)]
            listed_near = [way for way in own if way.size_mm >= SHARE * best_mm * (1 - NEAR)]
            assert min(way.reads for way in listed_near) <= min(way.reads for way in near)


def test_the_best_of_all_that_are_narrow_enough_is_listed_if_it_is_large_enough():
    """By penalty, shape, phrases, width, evenness and breaks.

    The first stands for it only where that makes a good shape and has no greater penalty.
    """
    for asked, counts in cases(1000, seed=2, most=8):
        for lines in counts:
            every = asked.every(lines)
            listed = splits_of(asked.listed(lines))
            first = next(way for way in every if way.split == listed[0])
            best = max(every, key=lambda way: way.size_mm)
            least_mm = SHARE * best.size_mm
            bound_em = asked.standing.widest_at(best.layout, SHARE) * (1 + NEAR)
            read = min([way for way in every if way.width_em <= bound_em], key=lambda way: way.rank)
            if read.size_mm < least_mm * (1 + NEAR):
                continue
            stands = first.size_mm >= least_mm and first.reads <= (read.reads[0], False)
            assert stands or read.split in listed


@pytest.fixture
def laid(monkeypatch) -> list[Layout]:
    """The layouts that are made, in order; small words on a line alone are not looked for."""
    made: list[Layout] = []
    lay = Standing.layout

    def watched(*said: object) -> Layout:
        made.append(lay(*said))  # type: ignore[arg-type]
        return made[-1]

    monkeypatch.setattr(Standing, "layout", watched)
    monkeypatch.setattr(Divisions, "joined", lambda *_said: None)
    return made


def test_nothing_is_laid_that_reads_no_better_than_what_was_found(laid, monkeypatch):
    """Of those that are laid for their sense the first that reads best is listed.

    Once one makes a good shape, only those of less penalty are laid. The ends of a group are
    looked at only where the best of all that are narrow enough is too high.
    """
    asked_ends: list[Ends | None] = []
    least = Splitter.least_penalty

    def watched(self: Splitter, lines: int, bound: float, ends: Ends | None = None) -> float:
        asked_ends.append(ends)
        return least(self, lines, bound, ends)

    monkeypatch.setattr(Splitter, "least_penalty", watched)
    for asked, counts in cases(1200, seed=3, most=9):
        search = PanelSearch(asked.job, asked.title, asked.panel, WORDS)
        for lines in counts:
            laid.clear()
            asked_ends.clear()
            listed = search.in_lines(asked.standing, lines)
            sense = [one for one in laid if one.split == "sense"]
            best_mm = max(one.limit.size_mm for one in listed if one.split != "sense")
            good = [one for one in sense if one.limit.size_mm >= SHARE * best_mm]
            if good:
                assert min(good, key=reads).cut in [one.cut for one in listed]
            if not sense or sense[0] in good:
                assert asked_ends in ([], [None])
            for at, one in enumerate(sense):
                before = [
                    each.group.penalty for each in sense[:at] if each in good and shaped(each)
                ]
                assert all(one.group.penalty < penalty - NEAR for penalty in before)


def reads(layout: Layout) -> tuple[float, bool]:
    return round(layout.group.penalty, 9), not shaped(layout)


def shaped(layout: Layout) -> bool:
    return is_good_shape(layout.group.shape)


def test_what_is_smaller_by_just_a_tenth_still_counts(laid):
    """Whatever share that is by the rules: the first keeps its place, and sense is listed."""
    tried = {"least width": 0, "sense": 0}
    for asked, counts in cases(400, seed=4):
        for lines in counts:
            found = {one.split: one for one in reversed(asked.listed(lines))}
            first = found.get("least width")
            best_mm = max(one.limit.size_mm for one in found.values())
            for why, one in found.items():
                share = one.limit.size_mm / best_mm
                exact = share * best_mm == one.limit.size_mm
                if why not in tried or not exact or not 0.6 < share < 1:
                    continue
                again = asked.listed(lines, share)
                tried[why] += 1
                if why == "sense":
                    assert reads(one) >= min(reads(each) for each in again)
                elif shaped(first):
                    sense = [each for each in again if each.split == "sense"]
                    assert all(each.group.penalty < first.group.penalty for each in sense)
    assert min(tried.values()) > 20


def test_what_is_laid_for_its_size_is_larger_than_all_before(laid):
    """A split is laid only where its widest line and its ends allow more."""
    larger = 0
    for asked, counts in cases(400, seed=5):
        for lines in counts:
            laid.clear()
            asked.listed(lines)
            sizes_mm = [one.limit.size_mm for one in laid if one.split != "sense"]
            assert sizes_mm == sorted({*sizes_mm})
            larger += len(sizes_mm) - 1
    assert larger > 100


HIGH = (0.2, 0.9, 0.5, 0.9)


def of_four(words: str, widths: tuple[float, ...] = (1.0,) * 4) -> SketchedTitle:
    """Four words of different heights."""
    return sketched(words.split(), widths, HIGH, (0.0, -0.4, 0.0, -0.2))


def test_where_nothing_fits_only_the_narrowest_is_laid(laid):
    """No other can be larger than nothing."""
    asked = Asked(of_four("Quay Tide Rope Light"), (60.0, 20.0), ACROSS, clearance_mm=10.0)
    for lines in (1, 2, 3, 4):
        laid.clear()
        (only,) = asked.listed(lines)
        assert laid == [only]
        assert only.limit == (0.0, LimitedBy.HEIGHT, (0.0, 0.0))


@pytest.mark.parametrize("way", [ACROSS, ALONG])
def test_a_title_in_one_line_is_laid_once_though_words_may_be_broken(laid, way):
    said = {"break_words": BreakWords.HYPHEN}
    asked = Asked(of_four("Quay Tide Rope Light"), (60.0, 20.0), way, **said)
    assert asked.listed(1) == laid
    assert len(laid) == 1


def test_sizes_that_differ_by_rounding_alone_are_one(monkeypatch):
    """Of splits of a shape as large as each other the one that reads best is taken.

    Whichever has less than a billionth of a millimetre more, from the order of adding up.
    """
    title = of_four("Tide of Rope Bay", (4.0, 1.0, 0.5, 0.5))
    said = {"group_shape": GroupShape.HALF_DIAMOND}
    asked = Asked(title, (60.0, 20.0), ACROSS, **said)
    for more_mm, texts in (
        (4e-10, ("Tide", "of Rope Bay")),
        (2e-9, ("Tide of", "Rope Bay")),
    ):
        monkeypatch.setattr(
            Standing,
            "size_bound_mm",
            lambda _self, width, *_ends, more_mm=more_mm: 5.0 + more_mm * (5.0 < width < 5.5),
        )
        (found,) = asked.listed(2)
        assert found.group.texts == texts


class Blanks(SketchedTitle):
    """Upright cells, of which only Q has ink."""

    sets_columns = True

    def column(self, text: str) -> SimpleNamespace:
        at = text.replace(" ", "").find("Q")
        return SimpleNamespace(box=None if at < 0 else (-0.4, -at - 0.95, 0.4, -at - 0.05))


def test_a_column_without_ink_has_no_length():
    """Blank, letter, blank is a lozenge; blank, blank, letter makes no shape."""
    drawn = of_four("x x Q x")
    title = Blanks(drawn.text.split(), drawn.run.boxes)
    asked = Asked(title, (60.0, 60.0), Orientation.PILLAR)
    search = PanelSearch(asked.job, title, asked.panel, WORDS)
    (found,) = search.of(asked.candidate._replace(line_counts=range(3, 4)))
    assert found.group.texts == ("x", "x Q", "x")
