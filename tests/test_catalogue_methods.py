"""The ways of lettering: rows that are whole, and tables that are refused."""

from __future__ import annotations

import re
import tomllib

import pytest

from spinefit import catalogue
from spinefit.catalogue.meant import method_meant
from spinefit.catalogue.method_table import METHOD_KEYS, NUMBER_KEYS, method_of
from spinefit.catalogue.tables import DATA
from spinefit.errors import CatalogueError, FieldError
from spinefit.vocabulary import Die, Letters, Place, Sourced, SourcedList, Status, Stock

TABLES = tomllib.loads((DATA / "methods.toml").read_text(encoding="utf-8"))
WHERE = "own.toml: [test]"


def a_row(value: object, unit: str = "mm") -> dict[str, object]:
    return {"value": value, "unit": unit, "source": "a test", "status": "practice"}


PLAIN = {"smallest_pt": a_row(6, "pt"), "placing_mm": a_row(0.5)}


def made(like=None, **table):
    """A method of a plain table with these keys besides."""
    return method_of("test", (PLAIN if like is None else {}) | table, WHERE, like=like)


def test_the_methods_of_the_trade_are_there():
    """The printed paperback cover, which is assumed, comes first."""
    assert list(catalogue.methods()) == [
        "paperback-cover",
        "paper-label",
        "cloth-print",
        "leather-label",
        "blocked-case",
        "hand-letters",
        "type-holder",
        "transfer-vinyl",
        "screen-print",
    ]


@pytest.mark.parametrize("key", TABLES)
def test_every_method_is_whole(key):
    """In the file and as it is loaded, by itself as among all."""
    row, table = catalogue.method(key), TABLES[key]
    assert row == catalogue.methods()[key]
    assert row.key == key
    assert set(table) <= set(METHOD_KEYS)
    assert {"name", "place", "letters", "gap_mm", "placing_mm"} <= set(table)
    assert ("stroke_mm" in table) != ("stock" in table)  # foil has its grades by stock and die
    assert ("counter_mm" in table) == ("stroke_mm" in table and row.letters is Letters.OUTLINES)
    assert ("sizes_pt" in table) != ("step_pt" in table)
    assert (row.letters is Letters.TOOLS) == (row.sizes is not None)
    assert row.smallest.value > 0 and row.step.value > 0 and row.placing.value > 0
    assert row.cautions
    assert not row.name.startswith(("a ", "the "))


@pytest.mark.parametrize(
    ("key", "name"), [(key, name) for key in TABLES for name in NUMBER_KEYS if name in TABLES[key]]
)
def test_every_number_is_loaded_with_unit_source_and_status(key, name):
    """The unit is the one its key ends with; practice is called so."""
    table = TABLES[key][name]
    loaded = getattr(catalogue.method(key), name[:-3])
    value = table["value"]
    if isinstance(loaded, SourcedList):
        assert loaded.values == tuple(value) == tuple(sorted(set(value)))
    else:
        assert loaded.value == value
    assert loaded.unit == table["unit"] == name[-2:]
    assert (loaded.source, loaded.status) == (table["source"], table["status"])
    assert len(loaded.source) > 5
    if loaded.status is Status.PUBLISHED:
        assert "common practice" not in loaded.source
    if "common practice" in loaded.source:
        assert loaded.status is Status.PRACTICE


@pytest.mark.parametrize("key", TABLES)
def test_a_label_has_its_margins_and_nothing_else_has(key):
    row = catalogue.method(key)
    of_labels = (row.label_edge, row.inner_margin, row.frame, row.cut_outside, row.thickness)
    assert all(number is not None for number in of_labels) == (row.place is Place.LABEL)
    assert any(number is not None for number in of_labels) == (row.place is Place.LABEL)
    if row.place is Place.LABEL:
        assert row.cut_outside.value < row.inner_margin.value


@pytest.mark.parametrize("key", TABLES)
def test_what_is_advised_is_at_least_what_is_held(key):
    row = catalogue.method(key)
    if row.stock is not None:
        row = catalogue.blocked(row, row.stock, row.die)
    for held, advised in (
        (row.stroke, row.stroke_advised),
        (row.counter, row.counter_advised),
        (row.gap, row.gap_advised),
    ):
        assert advised is None or advised.value >= held.value


FOIL = tomllib.loads((DATA / "foil.toml").read_text(encoding="utf-8"))


def test_every_stock_and_die_has_its_grades():
    assert list(FOIL) == [*Stock, *Die]
    for table in FOIL.values():
        assert set(table) == {
            "stroke_mm", "stroke_advised_mm", "counter_mm", "counter_advised_mm",
        }  # fmt: skip


@pytest.mark.parametrize("die", Die)
@pytest.mark.parametrize("stock", Stock)
def test_the_harsher_of_stock_and_die_governs(stock, die):
    """Each figure by itself, with the source of the one that governs."""
    method = catalogue.blocked(catalogue.method("leather-label"), stock, die)
    for name in ("stroke", "stroke_advised", "counter", "counter_advised"):
        rows = [FOIL[key][f"{name}_mm"] for key in (stock, die)]
        found = getattr(method, name)
        assert found.value == max(row["value"] for row in rows)
        assert found.source in [row["source"] for row in rows if row["value"] == found.value]


def test_what_a_die_maker_asks_is_published_and_what_fails_is_recalled():
    method = catalogue.blocked(catalogue.method("blocked-case"), Stock.FINE_CLOTH, Die.MAGNESIUM)
    assert (method.stroke_advised.value, method.stroke_advised.status) == (0.2, Status.MEMORY)
    assert (method.counter_advised.value, method.counter_advised.status) == (0.5, Status.PUBLISHED)
    assert {method.stroke.status, method.counter.status} == {Status.MEMORY}


def test_a_binders_own_figures_stand_before_those_of_stock_and_die():
    """And only those that were given."""
    own = made(like=catalogue.method("leather-label"), stroke_mm=a_row(0.15))
    held = catalogue.blocked(own, Stock.COARSE_CLOTH, Die.BRASS)
    assert (held.stroke.value, held.stroke_advised) == (0.15, None)
    assert (held.counter.value, held.counter_advised.value) == (0.35, 0.6)


def test_a_workshop_can_name_its_own_die():
    own = made(like=catalogue.method("blocked-case"), die="brass")
    assert (own.stock, own.die) == (Stock.FINE_CLOTH, Die.BRASS)
    assert made(stock="coarse-cloth").die is Die.MAGNESIUM
    with pytest.raises(CatalogueError, match="a die without a stock"):
        made(die="brass")


@pytest.mark.parametrize(
    ("key", "name", "value"),
    [
        ("paperback-cover", "smallest", 5),
        ("paperback-cover", "placing", 1.6),
        ("paperback-cover", "stroke", 0.021),
        ("leather-label", "inner_margin", 2),
        ("paper-label", "inner_margin", 1.5),
        ("paper-label", "label_edge", 1.25),
        ("blocked-case", "gap", 0.5),
        ("transfer-vinyl", "smallest_cap", 6),
    ],
)
def test_figures_of_the_trade(key, name, value):
    assert getattr(catalogue.method(key), name).value == value


def test_an_unknown_method_is_refused_with_those_known():
    with pytest.raises(FieldError) as fault:
        catalogue.method("embroidery")
    assert all(key in fault.value.remedy for key in TABLES)
    for typed, like in (("paperback-covers", "paperback-cover"), ("leather", "leather-label")):
        with pytest.raises(FieldError) as fault:
            catalogue.method(typed)
        assert fault.value.remedy == f"did you mean '{like}'?"
    for typed in ("", "paper]", "paper-label]\n[leather-label", "\0"):
        with pytest.raises(FieldError):
            catalogue.method(typed)


@pytest.mark.parametrize("key", TABLES)
def test_a_method_is_known_by_its_key_and_its_name(key):
    """However the words are parted, as they are shown on the screen too."""
    row = catalogue.method(key)
    for typed in (key.upper(), key.replace("-", "_"), f" {key.replace('-', '  ')} ", row.name,
                  f"A {row.name}", row.name.replace("-", " ").title()):  # fmt: skip
        assert catalogue.method(typed) == row


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ("paper label", "paper-label"), ("blocked leather", "leather-label"),
        ("Label of paper", None), ("blocked_case", "blocked-case"),
        ("vinyl, cut", "transfer-vinyl"),
        ("printed label", None), ("foil-blocked", None),
    ],
)  # fmt: skip
def test_two_words_of_a_method_mean_it_where_they_mean_no_other(typed, key):
    if key is not None:
        assert catalogue.method(typed).key == key
        return
    with pytest.raises(FieldError) as fault:
        catalogue.method(typed)
    assert fault.value.where == "--method"
    if typed == "printed label":
        assert str(fault.value) == (
            "--method: more than one such method: 'printed label'; name one: paper-label (printed "
            "paper label), cloth-print (printed cloth label)"
        )


@pytest.mark.parametrize(
    ("typed", "hint"),
    [
        ("paper", "more than one such method: 'paper'; name one: paperback-cover (printed "
         "paperback cover), paper-label (printed paper label)"),
        ("Foil", "leather-label (foil-blocked leather label), blocked-case (foil-blocked case)"),
        ("vinyl", "no such method: 'vinyl'; did you mean 'transfer-vinyl'?"),
        ("pamphlet", "no such method: 'pamphlet'; known methods: paperback-cover, paper-label,"),
    ],
)  # fmt: skip
def test_a_word_by_itself_names_the_methods_that_have_it(typed, hint):
    with pytest.raises(FieldError) as fault:
        catalogue.method(typed)
    assert hint in str(fault.value)


def test_methods_of_one_name_are_told_apart_by_their_keys():
    """As those of a binder's file are that are all like one of ours; the key goes first."""
    names = {"our-labels": "printed paper label", "paper-label": "printed paper label"}
    assert method_meant("Paper label", names) == "paper-label"
    with pytest.raises(FieldError, match=r"name one: our-labels .*, paper-label "):
        method_meant("a printed paper label", names)


def test_a_plain_table_has_plain_defaults():
    """Straight on the back, of outlines, continuous, spoken of by its key."""
    row = method_of("our-way", PLAIN, WHERE)
    assert row.name == "our way"
    assert (row.place, row.letters, row.sizes) == (Place.BACK, Letters.OUTLINES, None)
    assert row.step.value == 0.1
    assert row.stroke is None and row.smallest_cap is None and row.cautions == ()


def test_a_drawer_rises_and_begins_with_its_least():
    row = method_of("test", {"sizes_pt": a_row([12, 8], "pt"), "placing_mm": a_row(0)}, WHERE)
    assert row.sizes.values == (8.0, 12.0)
    assert row.smallest == Sourced(8.0, "pt", "a test", Status.PRACTICE)


def test_a_method_like_another_has_its_other_numbers():
    leather = catalogue.method("leather-label")
    row = made(like=leather, placing_mm=a_row(0.3))
    assert row._replace(key="", name="", placing=leather.placing) == leather._replace(
        key="", name=""
    )
    assert (row.key, row.name, row.placing.value) == ("test", "test", 0.3)


def test_own_words_replace_what_hangs_on_them():
    """A drawer its steps, steps a drawer, a stroke what was advised, a back a label's margins."""
    leather, tools = catalogue.method("leather-label"), catalogue.method("hand-letters")
    drawer = made(like=leather, sizes_pt=a_row([10, 12], "pt"))
    assert drawer.smallest.value == 10
    stepped = made(like=tools, step_pt=a_row(0.5, "pt"))
    assert (stepped.sizes, stepped.step.value) == (None, 0.5)
    assert made(like=leather, stroke_mm=a_row(0.6)).stroke_advised is None
    bare = made(like=leather, place="back")
    assert (bare.label_edge, bare.inner_margin, bare.frame) == (None, None, None)


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ({"stroke": a_row(1)}, "own.toml: [test]: no such key: 'stroke'; did you mean 'stroke_mm'"),
        ({"colour": "gold"}, "known keys: name, place"),
        ({"stroke_mm": None}, "own.toml: [test] stroke_mm: a number without value and unit"),
        ({"stroke_mm": {"value": 1, "unit": "mm"}}, "a number without source and status"),
        ({"stroke_mm": a_row("thin")}, "not a number: 'thin'"),
        ({"stroke_mm": a_row(10**400)}, "not a number"),
        ({"stroke_mm": a_row(float("nan"))}, "give 0 or more, in mm"),
        ({"stroke_mm": a_row(-1)}, "give 0 or more, in mm"),
        ({"stroke_mm": a_row(3000)}, "out of bounds"),
        ({"smallest_pt": a_row(0, "pt")}, "give more than 0, in pt"),
        ({"stroke_mm": a_row(1, "pt")}, "not in mm: 'pt'"),
        ({"stroke_mm": a_row(1, None)}, "a unit must be a text"),
        ({"stroke_mm": a_row(1) | {"source": " "}}, "a number needs a source"),
        (
            {"stroke_mm": a_row(1) | {"status": "hearsay"}},
            "choose from published, reported, practice",
        ),
        ({"sizes_pt": a_row([], "pt")}, "not a number"),
        ({"sizes_pt": a_row(12, "pt")}, "not a number"),
        ({"sizes_pt": a_row([12, 12], "pt")}, "a size given twice"),
        ({"sizes_pt": a_row([0, 12], "pt")}, "give more than 0"),
        ({"sizes_pt": a_row([4, 5], "pt")}, "no size in sizes_pt is as large as smallest_pt"),
        ({"sizes_pt": a_row([8], "pt"), "step_pt": a_row(1, "pt")}, "both sizes_pt and step_pt"),
        ({"place": "shelf"}, "choose from back, label, case"),
        ({"letters": ["tools"]}, "choose from outlines, tools"),
        ({"cautions": "mind"}, "not a plain text"),
        ({"cautions": ["mind\n"]}, "not a plain text"),
        ({"name": ""}, "not a plain text"),
        ({"place": "label"}, "a label needs label_edge_mm"),
        ({"place": "label", "label_edge_mm": a_row(1)}, "a label needs inner_margin_mm"),
        ({"frame_mm": a_row(1)}, "[test] frame_mm: counts only for a label"),
        ({"stroke_mm": a_row(1), "stroke_advised_mm": a_row(0.5)}, "less than the 1 mm that"),
    ],
)
def test_a_table_at_fault_is_refused_with_file_table_and_key(table, said):
    with pytest.raises(CatalogueError) as fault:
        made(**table)
    assert said in str(fault.value)
    assert str(fault.value).startswith("own.toml: [test]")
    assert fault.value.remedy and "\n" not in str(fault.value)


@pytest.mark.parametrize("name", sorted(PLAIN))
def test_a_table_without_its_least_numbers_is_refused(name):
    table = {key: row for key, row in PLAIN.items() if key != name}
    with pytest.raises(CatalogueError, match=re.escape(f"no {name}")):
        method_of("test", table, WHERE)
