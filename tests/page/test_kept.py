"""What is typed and opened is kept: by other tabs, a killed server, files, and hostile words."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser import browser_marks
from tests.page.served import ROOT, served
from tests.page.walking import SECONDS, answered, begun, job_of, no_violation, opened

pytestmark = browser_marks


@pytest.mark.parametrize(
    "title",
    [
        "<img src=x onerror=alert(1)>", '"></svg><script>alert(1)</script>', "a\u202egnol",
        'quotes "and" \\ backslashes', "\u0000\u0007 bells", "{{7*7}} ${7*7}", "é" * 300,
    ],
)  # fmt: skip
def test_hostile_words_stay_words(tab, title):
    alerts = []
    tab.on("dialog", lambda one: (alerts.append(one.message), one.dismiss()))
    tab.fill("#field-width", "40")
    tab.fill("#field-height", "300")
    tab.fill("#text-0-text", title)
    expect(tab.locator("#answer .verdict, .fault:visible, #state:not(:empty)").first).to_be_visible(
        timeout=SECONDS
    )
    assert not alerts
    assert not tab.faults
    assert tab.locator("#answer script, #answer img, #drawings script").count() == 0


def test_two_tabs_are_one_job(context, page):
    one = begun(context, page.address)
    other = opened(context, page.address)
    expect(other.locator("#text-0-text")).to_have_value("Tides")
    other.fill("#text-0-text", "Tide Tables")
    expect(one.locator("#text-0-text")).to_have_value("Tide Tables", timeout=SECONDS)


@pytest.mark.parametrize("others", [{}, {"author": "J. Penwarne", "volume": "2", "date": "1889"}])
def test_two_hundred_quick_changes_end_with_the_last(tab, page, others):
    tab.fill("#field-width", "20")
    tab.fill("#field-height", "210")
    for role, words in others.items():
        tab.select_option("#add-text", role)
        tab.keyboard.type(words)
    tab.get_by_label("Title", exact=True).focus()
    for at in range(200):
        tab.keyboard.type("The Harbour Light "[at % 18])
    answered(tab)
    expect(tab.locator("body:not(.stale)")).to_be_visible()
    typed = tab.get_by_label("Title", exact=True).input_value()
    assert len(typed) == 200
    wanted = page.ask("ask/answer", {"job": job_of(tab)})["answer"]
    expect(tab.locator("#answer .say")).to_contain_text(wanted, timeout=2 * SECONDS)


def test_the_server_is_killed_and_nothing_is_lost(context, tmp_path):
    with served(tmp_path) as first:
        port = int(first.host.rpartition(":")[2])
        tab = begun(context, first.address)
        first.process.kill()
        first.process.wait()
        tab.fill("#text-0-text", "Tide Tables of the North")
        expect(tab.locator("#notice")).to_contain_text("not served", timeout=SECONDS)
    with served(tmp_path, port=port) as again:
        assert again.address == first.address
        expect(tab.locator("#notice")).to_be_hidden(timeout=SECONDS)
        answered(tab)
        tab.reload()
        tab.wait_for_selector("body:not(.starting)")
        expect(tab.locator("#text-0-text")).to_have_value("Tide Tables of the North")
        answered(tab)


def test_a_tab_that_is_turned_away_keeps_its_words_and_gives_the_file(context, tmp_path):
    with served(tmp_path) as first:
        port = int(first.host.rpartition(":")[2])
        tab = begun(context, first.address)
    with served(tmp_path, "--new-address", port=port):
        tab.fill("#text-0-text", "Tide Tables")
        expect(tab.locator("#notice")).to_contain_text("Nothing is lost", timeout=SECONDS)
        assert 'title = "Tide Tables"' in job_of(tab)


def test_the_checklist_is_ticked_and_keeps_its_ticks(context, page):
    tab = begun(context, page.address)
    tab.click("#make-checklist")
    spelling = tab.get_by_label("Spelling, figures and accents")
    assert not spelling.is_checked(timeout=SECONDS)
    spelling.check()
    no_violation(tab)
    with tab.expect_download(timeout=2 * SECONDS) as found:
        tab.click("#give-checklist")
    assert "- [ ] Spelling" in Path(found.value.path()).read_text(encoding="utf-8")
    tab.reload()
    answered(tab)
    tab.click("#make-checklist")
    assert tab.get_by_label("Spelling, figures and accents").is_checked(timeout=SECONDS)


def test_an_own_font_is_opened_and_saved_beside_the_job(context, page, tmp_path):
    tab = begun(context, page.address)
    own = next((ROOT / "fonts_open/cinzel").glob("*.ttf"))
    tab.set_input_files("#own-font", str(own))
    tab.click("#why > summary")
    expect(tab.locator("#why")).to_contain_text("Cinzel", timeout=SECONDS)
    files = []
    tab.on("download", lambda one: files.append(one))  # noqa: PLW0108 - the driver marks it
    tab.click("#save")
    for _ in range(100):
        if len(files) == 2:
            break
        tab.wait_for_timeout(100)
    for one in files:
        one.save_as(tmp_path / one.suggested_filename)
    assert (tmp_path / own.name).read_bytes() == own.read_bytes()
    (job,) = tmp_path.glob("*.toml")
    other = opened(context, page.address)
    other.click("#fresh")
    other.set_input_files("#open", str(job))
    expect(other.locator("#notice")).to_contain_text(own.name, timeout=SECONDS)
    expect(other.locator("#field-font-fault")).to_contain_text("open it here", timeout=SECONDS)
    expect(other.locator("#notice")).to_contain_text(own.name)
    other.set_input_files("#open", str(tmp_path / own.name))
    expect(other.locator("#notice")).to_be_hidden(timeout=SECONDS)
    answered(other)
    other.click("#why > summary")
    expect(other.locator("#why")).to_contain_text("Cinzel", timeout=SECONDS)


def test_a_job_file_given_to_the_command_is_shown(context, tmp_path):
    with served(tmp_path, str(ROOT / "shared/jobs/label-with-author.toml")) as page:
        tab = opened(context, page.address)
        answered(tab, "the author")
        saved = job_of(tab)
        assert 'text = "Ebenezer Quillfeather"' in saved


def test_what_a_job_names_in_another_folder_comes_with_it(context, tmp_path):
    with served(tmp_path, str(ROOT / "shared/jobs/hand-letters.toml")) as page:
        tab = opened(context, page.address)
        answered(tab)
        expect(tab.locator("#notice")).to_be_hidden()


def test_a_table_opens_as_a_list_of_books(tab, tmp_path):
    table = tmp_path / "trolley.csv"
    table.write_text(
        "title,author,width,height,set\nTide Tables,,20mm,210mm,\n"
        "Annals 1,,30,230,A\nAnnals 2,,34,230,A\nBad,,x y,210mm,\n",
        encoding="utf-8",
    )
    tab.set_input_files("#open", str(table))
    tab.get_by_text("line 3: A").click()
    answered(tab, "set")
    saved = job_of(tab)
    assert saved.count("[[volume]]") == 2
    assert "height = 230" in saved or 'height = "230"' in saved
