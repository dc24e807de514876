"""Which job a tab has, what is opened in it, and what is said where that cannot be."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.browser import browser_marks
from tests.page.served import ROOT
from tests.page.test_answers import JOBS, files_beside, text_of
from tests.page.walking import SECONDS, answered, begun, job_of, opened

pytestmark = browser_marks


def test_a_tab_keeps_its_job_wherever_its_address_leads(context, page):
    one = begun(context, page.address)
    other = opened(context, page.address)
    other.click("#fresh")
    other.fill("#text-0-text", "Harbour Dues")
    one.get_by_role("link", name="Make it").click()
    one.reload()
    one.wait_for_selector("body:not(.starting)")
    expect(one.locator("#text-0-text")).to_have_value("Tides")
    other.click("#fresh")
    other.reload()
    other.wait_for_selector("body:not(.starting)")
    expect(other.locator("#text-0-text")).to_have_value("")


def test_a_browser_that_keeps_nothing_says_so_and_goes_on(context, page):
    context.add_init_script("delete IDBFactory.prototype.open; IDBFactory.prototype.open = null;")
    tab = begun(context, page.address)
    expect(tab.locator("#notice")).to_contain_text("save it as a file", timeout=SECONDS)
    assert 'title = "Tides"' in job_of(tab)


def test_what_is_on_its_way_is_not_shown_of_words_taken_away(tab):
    tab.fill("#field-width", "9 furlongs")
    tab.fill("#text-0-text", "Tides")
    expect(tab.locator("body.stale")).to_be_attached(timeout=SECONDS)
    tab.fill("#field-width", "20")
    tab.fill("#text-0-text", "")
    expect(tab.locator("body:not(.stale)")).to_be_visible()
    tab.wait_for_load_state("networkidle")
    expect(tab.locator("#answer")).to_contain_text("Give the measures")
    expect(tab.locator("#drawings svg")).to_have_count(0)


def test_a_font_opened_letters_the_title_and_a_table_is_none(context, page, tmp_path):
    tab = begun(context, page.address)
    own = next((ROOT / "fonts_open/cinzel").glob("*.ttf"))
    tab.set_input_files("#open", str(own))
    expect(tab.get_by_role("radio", name=own.name)).to_be_checked()
    tab.click("#why > summary")
    expect(tab.locator("#why")).to_contain_text("Cinzel", timeout=SECONDS)
    table = tmp_path / "trolley.csv"
    table.write_text("title,width\nTide Tables,20mm\n", encoding="utf-8")
    tab.set_input_files("#open", str(table))
    tab.get_by_role("button", name="Not now").click()
    tab.select_option("#field-method", "paper-label")
    expect(tab.get_by_role("radio", name="trolley.csv")).to_have_count(0)
    other = tmp_path / "letter.docx"
    other.write_text("no job")
    tab.set_input_files("#open", str(other))
    expect(tab.locator("#notice")).to_contain_text("letter.docx cannot be opened")


def test_what_is_not_made_of_several_says_what_is(tab):
    tab.fill("#field-width", "30")
    tab.fill("#field-height", "230")
    tab.fill("#text-0-text", "Annals")
    answered(tab)
    tab.click("#make-sheet")
    expect(tab.locator(".said")).to_contain_text("Made as")
    tab.click("#add-volume")
    tab.fill("#field-width", "32")
    answered(tab, "set")
    tab.click("#make-trial")
    expect(tab.locator(".said")).to_contain_text("one book")
    expect(tab.get_by_text("Size, for all volumes")).to_be_visible()


def test_the_widths_of_hand_letters_are_live_and_undone(tab):
    tab.fill("#field-width", "40")
    tab.fill("#field-height", "210")
    tab.select_option("#field-method", "hand-letters")
    tab.fill("#text-0-text", "TIDE TABLES")
    tab.fill("#tool-0-face", "4")
    tab.fill("#tool-0-e_row", "18")
    now = tab.locator("#scale-of-sizes .now")
    expect(now).to_contain_text("16.2 pt", timeout=SECONDS)
    tab.wait_for_timeout(1000)  # what is typed later is another step
    tab.fill("#tool-0-face", "5")
    expect(now).to_contain_text("20.25 pt", timeout=SECONDS)
    tab.click("#undo")
    expect(now).to_contain_text("16.2 pt", timeout=SECONDS)
    expect(tab.locator("#tool-0-face")).to_have_value("4")
    tab.fill("#tool-0-face", "x")
    fault = tab.locator("#own-tools-fault")
    expect(fault).to_contain_text("hand-letters.toml: size 1, face", timeout=SECONDS)


def test_the_keys_go_from_size_to_size_of_a_drawer(tab):
    tab.fill("#field-width", "58")
    tab.fill("#field-height", "420")
    tab.fill("#text-0-text", "CHART BOOK")
    tab.select_option("#field-method", "hand-letters")
    now = tab.locator("#scale-of-sizes .now")
    expect(tab.locator("#scale-largest")).to_be_visible(timeout=SECONDS)
    tab.click("#scale-largest")
    expect(now).to_contain_text("asked for, fits", timeout=SECONDS)
    largest = now.inner_text()
    tab.focus("#scale")
    tab.keyboard.press("ArrowLeft")
    expect(now).not_to_have_text(largest, timeout=SECONDS)
    expect(now).to_contain_text("asked for, fits")
    tab.keyboard.press("ArrowRight")
    expect(now).to_have_text(largest, timeout=SECONDS)


def test_a_rule_is_offered_where_it_can_stand(tab):
    rule = tab.locator("#add-text option[value=rule]")
    tab.fill("#field-width", "30")
    tab.select_option("#add-text", "author")
    expect(rule).to_have_count(0)
    tab.fill("#field-label-size-0", "26")
    tab.fill("#field-label-size-1", "40")
    tab.select_option("#add-text", "date")
    expect(rule).to_have_count(1)


def test_each_way_to_set_a_label_of_several_texts_is_what_it_shows(tab):
    """Its lines are those of each text, and chosen so."""
    tab.select_option("#place", "panel")
    tab.fill("#field-panel-0", "30")
    tab.fill("#field-panel-1", "40")
    tab.select_option("#field-method", "paper-label")
    tab.fill("#text-0-text", "The Harbour Light")
    tab.select_option("#add-text", "author")
    tab.keyboard.type("Ebenezer Quillfeather")
    answered(tab, "four lines")
    first = tab.get_by_role("button", name="Across, 2 lines fits, 9 pt")
    first.click(timeout=SECONDS)
    answered(tab, "two lines")
    expect(tab.locator("#scale-of-sizes .now")).to_contain_text("9 pt", timeout=SECONDS)
    assert 'text = "Ebenezer\u00a0Quillfeather"' in job_of(tab)
    tab.click("#as-advised")
    answered(tab, "four lines")
    assert 'text = "Ebenezer Quillfeather"' in job_of(tab)


def test_who_looks_in_vain_may_look_again(context, page):
    tab = begun(context, page.address)
    tab.route("**/ask/improve", lambda route: route.fulfill(json={"fault": {"text": "no time"}}))
    tab.click("#look")
    expect(tab.locator("#notice")).to_contain_text("no time", timeout=SECONDS)
    expect(tab.locator("#look")).to_be_visible()


WRITTEN = "async (draft) => (await import('./part/toml.js')).jobFile(draft)"


def test_every_example_opened_and_written_again_is_the_same_job(tab, page):
    for job in JOBS:
        about = {"job": text_of(job), "files": files_beside(page, job)}
        draft = page.ask("ask/open", about)["draft"]
        again = {**about, "job": tab.evaluate(WRITTEN, draft)}
        assert page.ask("ask/open", again)["draft"] == draft, job.name
        assert page.ask("ask/answer", again) == page.ask("ask/answer", about), job.name
