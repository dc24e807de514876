"""Who works by keys is never sent back to the head of the page."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser import browser_marks
from tests.page.walking import begun, opened

pytestmark = browser_marks


@pytest.mark.parametrize(
    ("control", "keys", "then"),
    [
        ("field-method", ["ArrowDown"], "field-method"),
        ("field-back", ["ArrowDown"], "field-back"),
        ("place", ["ArrowDown"], "place"),
        ("font-3", ["ArrowDown"], "font-4"),
        ("field-bands", ["3", "Tab"], "field-band-height"),
        ("text-0-text", ["Home", "x", "y", "Control+z"], "text-0-text"),
        ("add-volume", ["Enter"], "field-width"),
    ],
)
def test_the_focus_stays_where_one_works(context, page, control, keys, then):
    tab = begun(context, page.address)
    tab.focus(f"#{control}")
    for key in keys:
        tab.keyboard.press(key)
    expect(tab.locator(f"#{then}")).to_be_focused()


def test_texts_and_volumes_are_moved_by_keys(tab):
    tab.fill("#text-0-text", "Tides")
    tab.select_option("#add-text", "author")
    tab.focus("#down-0")
    tab.keyboard.press("Enter")
    expect(tab.locator("#text-0-text")).to_have_value("Tides")
    expect(tab.locator("#up-1")).to_be_focused()
    tab.focus("#remove-1")
    tab.keyboard.press("Enter")
    expect(tab.locator("#add-text")).to_be_focused()
    tab.click("#add-volume")
    tab.focus("#earlier")
    tab.keyboard.press("Enter")
    expect(tab.locator("#book-0")).to_be_focused()


def test_a_caret_stays_among_its_letters(context, page):
    """Another tab that shows the same job types too."""
    one = begun(context, page.address)
    other = opened(context, page.address)
    one.focus("#text-0-text")
    one.keyboard.press("Home")
    other.fill("#field-width", "21")
    expect(one.locator("#field-width")).to_have_value("21")
    one.keyboard.type("The ")
    expect(one.locator("#text-0-text")).to_have_value("The Tides")


def test_the_typefaces_stay_in_view(tab):
    tab.fill("#text-0-text", "Tides")
    tab.locator("#font-12").click()
    before = tab.evaluate("document.querySelector('#field-font').scrollTop")
    assert before > 0
    tab.focus("#text-0-text")
    tab.keyboard.type("x")
    tab.keyboard.press("Control+z")
    expect(tab.locator("#font-12")).to_be_in_viewport()
    assert tab.evaluate("document.querySelector('#field-font').scrollTop") == before
