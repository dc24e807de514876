"""Days at the bench, walked through in a browser from the first measure to the file."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import expect

from tests.browser import browser_marks
from tests.page.walking import SECONDS, answered, begun, job_of, made, no_violation

pytestmark = browser_marks


def test_a_pamphlet_of_9_mm(tab, page):
    tab.fill("#field-width", "9 mm")
    tab.fill("#field-height", "210")
    tab.fill("#text-0-text", "Tide Tables")
    answered(tab, "along")
    no_violation(tab)
    asked = page.ask("ask/answer", {"job": job_of(tab)})["texts"][0]
    least = round(asked["smallest_pt"])
    tab.fill("#scale", str(least))
    expect(tab.locator("#scale-of-sizes .now")).to_contain_text(f"{least} pt", timeout=SECONDS)
    assert f'size = "{least}"' in job_of(tab)
    tab.click("#scale-advised")
    expect(tab.locator("#scale-of-sizes .now")).to_contain_text("advised", timeout=SECONDS)
    assert made(tab, "trial").read_bytes().startswith(b"%PDF")


def test_a_label_with_author_and_title_on_a_sheet(tab, page):
    tab.select_option("#place", "panel")
    tab.fill("#field-panel-0", "30")
    tab.fill("#field-panel-1", "40")
    tab.select_option("#field-method", "paper-label")
    tab.fill("#text-0-text", "The Harbour Light")
    tab.select_option("#add-text", "author")
    tab.keyboard.type("Ebenezer Quillfeather")
    tab.select_option("#add-text", "rule")
    answered(tab, "the author")
    assert made(tab, "sheet").read_bytes().startswith(b"%PDF")
    expect(tab.locator(".said")).to_contain_text("labels on 1 sheet")
    no_violation(tab)
    before = answered(tab)
    tab.click("#break-2-1")
    saved = job_of(tab)
    assert "The / Harbour Light" in saved
    wanted = page.ask("ask/answer", {"job": saved})["answer"]
    assert wanted not in before
    answered(tab, wanted)


def test_a_folio_of_five_bands_by_hand_letters(tab):
    tab.fill("#field-width", "58")
    tab.fill("#field-height", "420")
    tab.select_option("#field-back", "rounded")
    tab.fill("#field-rise", "14")
    tab.fill("#field-bands", "5")
    tab.fill("#text-0-text", "THE GREAT CHART BOOK")
    tab.select_option("#field-method", "hand-letters")
    tab.fill("#tool-0-face", "3.2")
    tab.fill("#tool-0-e_row", "15.5")
    answered(tab, "panel")
    saved = job_of(tab)
    assert 'tools = "hand-letters.toml"' in saved
    assert made(tab, "worksheet").read_bytes().startswith(b"%PDF")
    no_violation(tab)


def test_an_old_book_is_labelled_anew(tab):
    tab.fill("#field-width", "30")
    tab.fill("#field-height", "220")
    tab.fill("#text-0-text", "Harbour Dues")
    tab.select_option("#field-method", "paper-label")
    for at, value in enumerate(("24", "14", "40")):
        tab.fill(f"#field-old-lettering-{at}", value)
    answered(tab)
    tab.click("#look")
    expect(tab.locator(".remedies, .improve .soft").first).to_be_visible(timeout=SECONDS)
    expect(tab.locator("#drawings .old-lettering").first).to_be_attached()
    no_violation(tab)


def test_a_set_of_three_with_a_thin_one(tab):
    tab.fill("#field-width", "30")
    tab.fill("#field-height", "230")
    tab.fill("#text-0-text", "Annals of the Harbour")
    answered(tab)
    for width in ("32", "9"):
        tab.click(".book.add")
        tab.fill("#field-width", width)
    answered(tab, "set")
    saved = job_of(tab)
    assert saved.count("[[volume]]") == 3
    assert [f'width = "{width}"' in saved for width in ("30", "32", "9")] == [True] * 3
    tab.click("#book-1")
    expect(tab.locator("#field-width")).to_have_value("32")
    tab.fill("#volume-label", "The second")
    assert 'label = "The second"' in job_of(tab)
    no_violation(tab)
    tab.click("#undo")
    assert 'label = "The second"' not in job_of(tab)


def test_a_walk_by_keyboard_alone(tab):
    """From the head of the page with Tab and letters to an answer and a file."""

    def go_to(name: str) -> None:
        for _ in range(120):
            if tab.evaluate("document.activeElement.id") == name:
                return
            tab.keyboard.press("Tab")
        raise AssertionError(f"{name} is not reached by Tab")

    go_to("field-width")
    tab.keyboard.type("13 mm")
    go_to("field-height")
    tab.keyboard.type("200")
    go_to("text-0-text")
    tab.keyboard.type("Tide Tables")
    answered(tab)
    go_to("break-0-1")
    tab.keyboard.press("Enter")
    assert tab.evaluate("document.activeElement.id") == "break-0-1"
    assert tab.input_value("#text-0-text") == "Tide / Tables"
    tab.keyboard.press("Enter")
    assert tab.input_value("#text-0-text") == "Tide\u00a0Tables"
    assert "never a break" in tab.locator("#break-0-1").get_attribute("aria-label")
    tab.keyboard.press("Enter")
    assert tab.input_value("#text-0-text") == "Tide Tables"
    go_to("make-checklist")
    tab.keyboard.press("Enter")
    expect(tab.locator("#give-checklist")).to_be_visible(timeout=SECONDS)
    go_to("give-checklist")
    with tab.expect_download(timeout=SECONDS) as found:
        tab.keyboard.press("Enter")
    assert "Tide" in Path(found.value.path()).read_text(encoding="utf-8")


def test_a_fault_stands_beside_its_field_and_goes(tab):
    tab.fill("#field-width", "9")
    tab.fill("#text-0-text", "Tides")
    answered(tab)
    tab.fill("#field-width", "9 furlongs")
    expect(tab.locator("#state")).to_contain_text("before the last change", timeout=SECONDS)
    expect(tab.locator("#field-width-fault")).to_contain_text("furlongs", timeout=SECONDS)
    no_violation(tab)
    tab.fill("#field-width", "9 mm")
    expect(tab.locator("#field-width-fault")).to_be_hidden(timeout=SECONDS)
    expect(tab.locator("#state")).to_be_empty()


def test_what_hand_letters_lack_is_said_beside_them(tab):
    tab.fill("#field-width", "30")
    tab.fill("#field-height", "210")
    tab.select_option("#field-method", "hand-letters")
    tab.fill("#tool-0-face", "3.2")
    tab.fill("#tool-0-e_row", "15.5")
    tab.fill("#text-0-text", "Tides")
    expect(tab.locator("#own-tools-fault")).to_contain_text("capitals", timeout=SECONDS)
    no_violation(tab)
    tab.select_option("#field-case", "capitals")
    expect(tab.locator("#own-tools-fault")).to_be_hidden(timeout=SECONDS)
    answered(tab)


def test_what_has_failed_is_cut_only_by_who_says_so(tab):
    """A title that fits, and cannot be read from where it will stand."""
    tab.fill("#field-width", "9")
    tab.fill("#field-height", "210")
    tab.fill("#text-0-text", "Tide Tables")
    tab.click("#more > summary")
    tab.fill("#field-reading-distance", "4000 mm")
    expect(tab.locator("#answer .minding .failure").first).to_be_visible(timeout=SECONDS)
    tab.click("#make-artwork")
    assert tab.is_disabled("#give-it")
    no_violation(tab)
    tab.check("#acknowledge")
    with tab.expect_download(timeout=2 * SECONDS) as found:
        tab.click("#give-it")
    assert Path(found.value.path()).read_bytes().startswith(b"%PDF")


def test_a_recess_that_spoils_the_back_is_asked_about(tab):
    """The page learns of it from who draws the recess."""
    tab.fill("#field-width", "30")
    tab.fill("#field-height", "200")
    tab.fill("#text-0-text", "Tide Tables")
    tab.select_option("#field-method", "paper-label")
    tab.click("#more > summary")
    tab.fill("#field-edge", "1.1 mm")
    answered(tab)
    tab.click("#make-recess")
    expect(tab.locator("#dialog")).to_contain_text("0.4 mm of card", timeout=SECONDS)
    tab.check("#acknowledge")
    with tab.expect_download(timeout=2 * SECONDS) as found:
        tab.click("#give-it")
    assert Path(found.value.path()).read_bytes().startswith(b"%PDF")


def test_a_remedy_is_done_by_its_button_and_undone(tab):
    tab.fill("#field-width", "6")
    tab.fill("#field-height", "60")
    tab.fill("#text-0-text", "Annals of the Harbour Commissioners of Wrackness")
    answered(tab, "along the spine")
    tab.click("#look")
    tab.get_by_role("button", name="front cover or board").click(timeout=SECONDS)
    answered(tab, "board")
    expect(tab.locator("#place")).to_have_value("board")
    saved = job_of(tab)
    assert "front-board" in saved
    assert "width" not in saved
    tab.click("#undo")
    answered(tab, "along the spine")
    expect(tab.locator("#place")).to_have_value("back")
    expect(tab.locator("#field-width")).to_have_value("6")


def test_a_board_that_nobody_measured_is_measured_next(tab):
    tab.fill("#field-width", "3")
    tab.fill("#text-0-text", "Annals of the Harbour Commissioners of Wrackness")
    answered(tab)
    tab.click("#look")
    tab.get_by_role("button", name="front cover or board").click(timeout=SECONDS)
    expect(tab.locator("#place")).to_have_value("board")
    expect(tab.locator("#field-front-board-0")).to_be_focused()
    assert "width" not in job_of(tab)
    tab.fill("#field-front-board-0", "140")
    tab.fill("#field-front-board-1", "210")
    answered(tab, "board")


def test_a_volume_takes_the_shorter_words_that_make_it_alike(tab):
    tab.fill("#field-width", "30")
    tab.fill("#field-height", "120")
    tab.fill("#text-0-text", "Harbour Tide Tables")
    for words in ("Harbour Tide Tables", "Harbour International Proceedings"):
        tab.click(".book.add")
        tab.fill("#field-width", "30")
        tab.fill("#text-0-text", words)
    answered(tab, "apart")
    tab.click("#look")
    tab.get_by_role("button", name="like the others").first.click(timeout=SECONDS)
    expect(tab.locator("#answer .say")).not_to_contain_text("apart", timeout=SECONDS)
    saved = job_of(tab)
    assert saved.count('title = "Harbour Tide Tables"') == 2
    assert 'title = "Harbour Int. Proc."' in saved


def test_what_was_found_comes_back_with_the_job_it_was_found_for(context, page):
    tab = begun(context, page.address)
    drawn = tab.locator("#drawings svg")
    expect(drawn).to_have_attribute("aria-label", "Tides", timeout=SECONDS)
    tab.click("#look")
    expect(tab.locator("#look")).to_have_count(0)
    expect(tab.locator(".improve")).not_to_contain_text("Each change", timeout=SECONDS)
    found = tab.inner_html(".improve")
    tab.press("#text-0-text", "End")
    tab.keyboard.type("x")
    expect(drawn).to_have_attribute("aria-label", "Tidesx", timeout=SECONDS)
    expect(tab.locator("#look")).to_be_visible()
    tab.keyboard.press("Backspace")
    expect(drawn).to_have_attribute("aria-label", "Tides", timeout=SECONDS)
    assert tab.inner_html(".improve") == found


def test_each_text_of_a_back_has_its_size(tab):
    tab.fill("#field-width", "34")
    tab.fill("#field-height", "230")
    tab.fill("#text-0-text", "Annals of the Harbour")
    tab.select_option("#add-text", "author")
    tab.keyboard.type("J. Penwarne")
    answered(tab, "author")
    tab.select_option("#scale-of", "author")
    tab.fill("#scale", "9")
    expect(tab.locator("#scale-of-sizes .now")).to_contain_text("9 pt asked", timeout=SECONDS)
    assert 'text = "J. Penwarne"\nsize = "9"' in job_of(tab)
    expect(tab.locator("#settings .way")).to_have_count(2, timeout=SECONDS)
    tab.get_by_role("button", name="Across").click()
    answered(tab, "across")
    assert 'orientation = "transverse"' in job_of(tab)
    tab.click("#as-advised")
    assert "orientation" not in job_of(tab)
    no_violation(tab)


def test_lines_are_nudged_and_the_way_and_shape_chosen(tab):
    tab.fill("#field-width", "40")
    tab.fill("#field-height", "200")
    tab.fill("#text-0-text", "The Harbour Light of the North")
    answered(tab)
    tab.get_by_role("button", name="Across, 3 lines").first.click(timeout=SECONDS)
    answered(tab, "three lines")
    assert 'lines = "3"' in job_of(tab)
    tab.click("#look")
    shape = tab.locator("[id^=shape-]").first
    with tab.expect_response("**/ask/answer*", timeout=SECONDS):  # lines of this shape
        shape.click(timeout=SECONDS)
    assert 'shape = "' in job_of(tab)
    answered(tab, "three lines")
    tab.click("#by-hand > summary")
    tab.get_by_role("button", name="Raise line 2 by 0.1 mm").click()
    expect(tab.locator("#by-hand li").nth(1)).to_contain_text("0.1 mm", timeout=SECONDS)
    saved = job_of(tab)
    assert 'lines-up = "0, 0.1, 0"' in saved
    assert saved.splitlines()[0].count(" / ") == 2
    no_violation(tab)


def test_lines_of_a_label_are_nudged_each_in_its_text(tab):
    tab.select_option("#place", "panel")
    tab.fill("#field-panel-0", "30")
    tab.fill("#field-panel-1", "40")
    tab.select_option("#field-method", "paper-label")
    tab.fill("#text-0-text", "The Harbour Light")
    tab.select_option("#add-text", "author")
    tab.keyboard.type("Ebenezer Quillfeather")
    answered(tab, "four lines")
    tab.click("#by-hand > summary")
    tab.get_by_role("button", name="Raise line 4 by 0.1 mm").click()
    moved = tab.locator("#by-hand li").nth(3)
    expect(moved).to_contain_text("0.1 mm", timeout=SECONDS)
    saved = job_of(tab)
    assert 'text = "Ebenezer Quillfeather"' in saved
    assert 'text = "The Harbour / Light"\nlines-up = "0, 0.1"' in saved
    answered(tab, "four lines")
    expect(tab.locator("#state")).to_be_empty()
    tab.click("#by-rule")
    expect(moved).to_contain_text("0 mm", timeout=SECONDS)
    assert "lines-up" not in job_of(tab)


def test_the_sheet_compares_what_was_wished_for(tab):
    tab.select_option("#place", "panel")
    tab.fill("#field-panel-0", "30")
    tab.fill("#field-panel-1", "40")
    tab.fill("#text-0-text", "The Harbour Light")
    tab.select_option("#field-method", "paper-label")
    answered(tab)
    tab.click("#sheet-wishes > summary")
    tab.fill("#sheet-spares", "2")
    tab.fill("#sheet-sizes", "4")
    saved = job_of(tab)
    assert '[sheet]\nspares = "2"\nsizes = "4"' in saved
    no_violation(tab)
    assert made(tab, "sheet").read_bytes().startswith(b"%PDF")
    expect(tab.locator(".said")).to_contain_text("4 settings, 3 of each", timeout=SECONDS)


def test_volumes_are_put_in_order_and_set_apart(tab):
    tab.fill("#field-width", "30")
    tab.fill("#field-height", "230")
    tab.fill("#text-0-text", "Annals")
    tab.click(".book.add")
    tab.fill("#field-width", "9")
    answered(tab, "apart")
    tab.get_by_role("button", name="Move it to the left").click()
    assert job_of(tab).index("Vol. 2") < job_of(tab).index("Vol. 1")
    tab.locator("#book-1").drag_to(tab.locator("#book-0"))
    expect(tab.locator("#book-0")).to_have_text("Vol. 1")
    tab.click("#undo")
    expect(tab.locator("#book-0")).to_have_text("Vol. 2")
    expect(tab.locator("#apart")).to_be_visible()
    tab.select_option("#apart", "false")
    answered(tab, "for every volume")
    assert "apart = false" in job_of(tab)
    tab.check("#field-width-all")
    assert job_of(tab).count("width") == 1
    tab.uncheck("#field-width-all")
    assert job_of(tab).count("width") == 2
    no_violation(tab)


def test_a_changed_letter_is_drawn(tab):
    """Without a button; how soon is for the benchmarks."""
    tab.fill("#field-width", "20")
    tab.fill("#field-height", "210")
    tab.fill("#text-0-text", "The Harbour Ligh")
    answered(tab)
    tab.locator("#text-0-text").press("End")
    tab.keyboard.type("t")
    drawn = tab.locator("#drawings svg")
    expect(drawn).to_have_attribute("aria-label", "The Harbour Light", timeout=SECONDS)
