"""Sets on a screen, as a binder reads them at the bench: what is alike said once.

Standing: that an answer should fit a screen is our own choice; that no warning may be lost for it
is the point of the tool.
"""

from __future__ import annotations

import pytest

from spinefit import BackPlan, Spine
from spinefit.backs import plan_set
from spinefit.plan import BackText
from spinefit.say.phrasing import grave
from spinefit.say.plan_text import render
from spinefit.vocabulary import Role

TWELVE = (28, 30, 33, 41, 36, 32, 14, 29, 35, 38, 31, 40)
TITLE = "Annals of the Harbour Commissioners"
A_SCREEN = 30


def volumes(widths_mm, texts_of, **said):
    """Backs of 240 mm by number, with the words that ``texts_of`` gives each of its roles."""
    return [
        (
            str(number),
            BackPlan(
                spine=Spine(width_mm=width_mm, height_mm=240, bands=said.get("bands", 0)),
                texts=tuple(
                    BackText(role=Role(role), text=text) for role, text in texts_of(number).items()
                ),
                market="GB",
                method=said.get("method"),
            ),
        )
        for number, width_mm in enumerate(widths_mm, 1)
    ]


def dated(number):
    return {"title": TITLE, "volume": str(number), "date": str(1869 + number)}


def of_four(number):
    return {"author": "Mary Pell", "title": TITLE, "volume": str(number), "imprint": "Wrackness"}


def numbered(number):
    return {"title": f"{TITLE} / {number}"}


def by_name(number):
    return {"title": f"Tide Tables {chr(64 + number) * 3} of the {chr(64 + number)}th Coast"}


@pytest.mark.parametrize(
    ("plan", "texts_of", "widths_mm", "said"),
    [
        (plan_set, numbered, TWELVE, {"method": "paper-label"}),
        (plan_set, by_name, TWELVE[:6], {"method": "paper-label"}),
        (plan_set, dated, TWELVE, {"bands": 5}),
        (plan_set, of_four, (30, 32, 36), {"bands": 5}),
        (plan_set, of_four, (30, 32, 36), {"method": "blocked-case"}),
    ],
)
def test_a_set_is_told_on_one_screen_with_all_its_warnings(plan, texts_of, widths_mm, said):
    """Twelve volumes of a title each, or three of four texts, within thirty lines."""
    report = plan(volumes(widths_mm, texts_of, **said))
    told = render(report)
    assert len(told.splitlines()) <= A_SCREEN
    in_one = " ".join(told.split())
    topics = {found.topic for _, one in report.parts for found in grave(one)}
    assert in_one.count(" warning ") + in_one.count(" failure ") >= len(topics)


def test_eleven_alike_are_said_once_and_the_thin_one_by_itself():
    told = render(plan_set(volumes(TWELVE, dated, bands=5)))
    assert "1-6, 8-12 alike, from head to tail; least spare " in told
    assert "\n7, from head to tail; least spare " in told
    assert "date        1870-1875, 1877-1881; " in told
    assert told.count("Annals / of the Harbour / Commissioners") == 1


def test_every_volume_is_told_by_itself_where_it_is_asked_why():
    told = render(plan_set(volumes(TWELVE, dated, bands=5)), why=True)
    for number in range(1, 13):
        assert f"\n{number}, from head to tail\n" in told
    assert told.count("Annals / of the Harbour / Commissioners") >= 11


def test_titles_of_their_own_each_stand_with_their_volume():
    """Nothing tells which of several titles is whose but its place beside the name."""
    names = {1: "The Harbour Light", 2: "The Northern Shoals", 3: "The Drowned Bell"}
    report = plan_set(volumes((30, 33, 36), lambda at: {"title": names[at]}, method="paper-label"))
    told = render(report)
    for number, name in names.items():
        (line,) = (line for line in told.splitlines() if line.startswith(f"{number}  "))
        assert line.split("  ", 1)[1].strip().replace(" / ", " ").startswith(name)


def test_digits_too_near_are_one_warning_with_the_widest_tracking():
    """Three dates ask for three spacings; a set is spaced alike, so the most is what counts."""
    report = plan_set(volumes((30, 31, 32), dated, method="blocked-case"))
    found = [
        one.text for _, part in report.parts for one in grave(part) if one.topic == "letters-close"
    ]
    told = " ".join(render(report).split())
    assert len(set(found)) > 1 and told.count("Neighbouring letters stand ") == 1
    asked = {int(text.rpartition(" ")[2].rstrip(".")) for text in found}
    assert f"--tracking of about {max(asked)}." in told


def test_what_else_could_be_done_stands_below_what_to_mind():
    told = render(plan_set(volumes(TWELVE, numbered, method="paper-label")))
    assert told.index("What to mind") < told.index("What else could be done")
