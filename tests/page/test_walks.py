"""Days at the bench, walked through in a browser from the first measure to the file."""

from __future__ import annotations

import io
import json
from importlib.resources import files
from pathlib import Path

import pytest
from PIL import Image, ImageOps
from playwright.sync_api import Page as Tab
from playwright.sync_api import expect, sync_playwright

from tests.browser import CHROMIUM, browser_marks
from tests.page.served import ROOT, served

pytestmark = browser_marks

AXE = files("axe_core_python").joinpath("axe.min.js").read_text(encoding="utf-8")
PX_PER_MM = 20.0
WITHIN_MM = 0.1
OPTIONS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-dev-shm-usage",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--disable-extensions", "--no-first-run",
]  # fmt: skip
SECONDS = 60_000.0  # as the driver counts


@pytest.fixture(scope="module")
def browser():
    with sync_playwright() as driver:
        found = driver.chromium.launch(executable_path=CHROMIUM, args=OPTIONS)
        yield found
        found.close()


@pytest.fixture
def context(browser):
    found = browser.new_context(viewport={"width": 1440, "height": 900})
    found.set_default_timeout(SECONDS)
    yield found
    found.close()


@pytest.fixture
def tab(context, page):
    return opened(context, page.address)


def opened(context, address: str) -> Tab:
    found = context.new_page()
    found.faults = []
    found.on("pageerror", lambda fault: found.faults.append(str(fault)))
    found.goto(address)
    found.wait_for_selector("body:not(.starting)")
    return found


def begun(context, address: str) -> Tab:
    """A book of 20 mm, its title Tides, answered."""
    found = opened(context, address)
    found.fill("#field-width", "20")
    found.fill("#text-0-text", "Tides")
    answered(found)
    return found


def answered(tab: Tab, text: str = "") -> str:
    """The sentence, once it stands and nothing newer is awaited."""
    expect(tab.locator("#answer .verdict")).to_be_visible(timeout=SECONDS)
    if text:
        expect(tab.locator("#answer .say")).to_contain_text(text, timeout=SECONDS)
    assert not tab.faults
    return tab.inner_text("#answer .say")


def made(tab: Tab, what: str) -> Path:
    is_made = lambda one: not one.suggested_filename.endswith(".toml")  # noqa: E731
    with tab.expect_download(is_made, timeout=2 * SECONDS) as found:
        tab.click(f"#make-{what}")
    return found.value.path()


def job_of(tab: Tab) -> str:
    """The job file that the page saves."""
    is_job = lambda one: one.suggested_filename != "hand-letters.toml"  # noqa: E731
    with tab.expect_download(is_job) as found:
        tab.click("#save")
    return Path(found.value.path()).read_text(encoding="utf-8")


def no_violation(tab: Tab) -> None:
    """axe-core finds nothing in the state that is shown."""
    tab.evaluate(AXE)
    found = tab.evaluate(
        "async () => (await axe.run(document, {resultTypes: ['violations']})).violations"
    )
    told = [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found]
    assert not told


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


def test_the_screen_measures_what_the_report_says(context, page):
    """The ink on the screen, in dark pixels, at a scale that was set."""
    scale = json.dumps({"px": PX_PER_MM, "by": "ruler", "ratio": 1})
    context.add_init_script(f"localStorage.setItem('spinefit px per mm', {scale!r})")
    tab = opened(context, page.address)
    tab.fill("#field-width", "40")
    tab.fill("#field-height", "60")
    tab.fill("#text-0-text", "Tide / Tables")
    answered(tab)
    tab.wait_for_load_state("networkidle")  # what comes later moves nothing any more
    assert "true size" in tab.inner_text("#true-size-state")
    found = json.loads(made(tab, "json").read_text(encoding="utf-8"))
    layout = found["layouts"][found["recommended"]]
    across = layout["orientation"] == "transverse"
    wanted = (layout["ink_width_mm"], layout["ink_height_mm"])[:: 1 if across else -1]
    box = tab.evaluate(
        """() => {
          const place = document.querySelector("#drawings");
          place.style.maxHeight = "none";
          const svg = place.querySelector("svg");
          svg.querySelector(".lettering").scrollIntoView({block: "center", inline: "center"});
          const ink = svg.querySelector(".lettering").getBoundingClientRect();
          for (const one of svg.querySelectorAll("path, polyline, text")) {
            if (!one.closest(".lettering")) one.setAttribute("visibility", "hidden");
          }
          const [x, y] = [ink.x - 8 + scrollX, ink.y - 8 + scrollY];
          return {x, y, width: ink.width + 16, height: ink.height + 16};
        }"""
    )
    picture = Image.open(io.BytesIO(tab.screenshot(full_page=True, clip=box)))
    ink = ImageOps.invert(picture.convert("L")).point(lambda level: 255 if level > 127 else 0)
    left, top, right, bottom = ink.getbbox()
    seen = ((right - left) / PX_PER_MM, (bottom - top) / PX_PER_MM)
    assert seen == pytest.approx(wanted, abs=WITHIN_MM)


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
    go_to("make-checklist")
    tab.keyboard.press("Enter")
    expect(tab.locator("#give-checklist")).to_be_visible(timeout=SECONDS)
    go_to("give-checklist")
    with tab.expect_download(timeout=SECONDS) as found:
        tab.keyboard.press("Enter")
    assert "Tide" in Path(found.value.path()).read_text(encoding="utf-8")


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


def test_a_fault_stands_beside_its_field_and_goes(tab):
    tab.fill("#field-width", "9 furlongs")
    tab.fill("#text-0-text", "Tides")
    expect(tab.locator("#field-width-fault")).to_contain_text("furlongs", timeout=SECONDS)
    no_violation(tab)
    tab.fill("#field-width", "9 mm")
    expect(tab.locator("#field-width-fault")).to_be_hidden(timeout=SECONDS)


def test_two_tabs_are_one_job(context, page):
    one = begun(context, page.address)
    other = opened(context, page.address)
    expect(other.locator("#text-0-text")).to_have_value("Tides")
    other.fill("#text-0-text", "Tide Tables")
    expect(one.locator("#text-0-text")).to_have_value("Tide Tables", timeout=SECONDS)


def test_two_hundred_quick_changes_end_with_the_last(tab, page):
    tab.fill("#field-width", "20")
    tab.fill("#field-height", "210")
    tab.focus("#text-0-text")
    for at in range(200):
        tab.keyboard.type("The Harbour Light "[at % 18])
    answered(tab)
    expect(tab.locator("body:not(.stale)")).to_be_visible()
    typed = tab.input_value("#text-0-text")
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


def test_true_size_is_set_by_a_card_and_kept(context, page):
    tab = begun(context, page.address)
    assert "not set" in tab.inner_text("#true-size-state")
    tab.click("#true-size-state")
    no_violation(tab)
    tab.fill("#true-size", "5")
    assert tab.locator(".measure-box").bounding_box()["width"] == pytest.approx(85.6 * 5, abs=1)
    tab.click("#keep-size")
    tab.reload()
    answered(tab)
    assert "set by a card" in tab.inner_text("#true-size-state")
    width = "svg => svg.getBoundingClientRect().width / parseFloat(svg.getAttribute('width'))"
    assert tab.locator("#drawings svg").evaluate(width) == pytest.approx(5, rel=1e-3)
    tab.click("#whole")
    assert "not at true size" in tab.inner_text("#true-size-state")
    assert tab.locator("#drawings").evaluate("one => one.scrollHeight <= one.clientHeight")
    tab.emulate_media(media="print")
    printed = tab.locator("#drawings svg").evaluate(width)
    assert printed == pytest.approx(96 / 25.4, rel=1e-3)


def test_volumes_are_put_in_order_and_set_apart(tab):
    tab.fill("#field-width", "30")
    tab.fill("#field-height", "230")
    tab.fill("#text-0-text", "Annals")
    tab.click(".book.add")
    tab.fill("#field-width", "9")
    answered(tab, "apart")
    tab.get_by_role("button", name="Move it to the left").click()
    assert job_of(tab).index("Vol. 2") < job_of(tab).index("Vol. 1")
    tab.select_option("#apart", "false")
    answered(tab, "for every volume")
    assert "apart = false" in job_of(tab)
    tab.check("#field-width-all")
    assert job_of(tab).count("width") == 1
    tab.uncheck("#field-width-all")
    assert job_of(tab).count("width") == 2
    no_violation(tab)


def test_every_dialog_and_all_that_opens_is_sound(context, page):
    tab = begun(context, page.address)
    expect(tab.locator("#settings .way").first).to_be_visible(timeout=SECONDS)
    for one in tab.locator("details").all():
        one.evaluate("one => { one.open = true; }")
    no_violation(tab)
    tab.click("#kept")
    no_violation(tab)
    tab.keyboard.press("Escape")
    tab.click("#fresh")
    no_violation(tab)


def test_the_page_speaks_of_its_own_fields(tab):
    """What a report says of options is said of the fields that stand here."""
    tab.fill("#field-width", "9")
    tab.fill("#text-0-text", "Tide Tables")
    answered(tab)
    tab.click("#why > summary")
    seen = tab.inner_text("#answer")
    assert "give it with “Free at each joint”" in seen
    assert "--" not in seen


def test_the_answer_is_told_once_to_who_listens(tab):
    tab.evaluate(
        """() => {
          window.told = [];
          const place = document.querySelector("#spoken");
          new MutationObserver(() => window.told.push(place.textContent))
            .observe(place, {childList: true});
        }"""
    )
    tab.fill("#field-width", "20")
    tab.locator("#text-0-text").press_sequentially("Tide Tables", delay=60)
    expect(tab.locator("#spoken")).to_contain_text("fits: It fits", timeout=SECONDS)
    assert len(tab.evaluate("window.told")) <= 2


@pytest.mark.parametrize("scheme", ["dark", "light"])
def test_it_is_worked_by_touch(browser, page, scheme):
    context = browser.new_context(
        viewport={"width": 390, "height": 800}, has_touch=True, is_mobile=True, color_scheme=scheme
    )
    tab = opened(context, page.address)
    tab.locator("#field-width").tap()
    tab.keyboard.type("20")
    tab.locator("#text-0-text").tap()
    tab.keyboard.type("Tide Tables")
    answered(tab)
    tab.locator("#break-0-1").tap()
    assert tab.input_value("#text-0-text") == "Tide / Tables"
    small = tab.evaluate(
        """() => [...document.querySelectorAll("button, select, summary")]
          .filter((one) => one.checkVisibility())
          .map((one) => [one.id || one.textContent, one.getBoundingClientRect()])
          .filter(([, box]) => box.width < 24 || box.height < 24).map(([name]) => name)"""
    )
    assert small == []
    no_violation(tab)
    context.close()


@pytest.mark.parametrize("width", [320, 700, 1000, 1920])
def test_nothing_is_wider_than_the_window(browser, page, width):
    context = browser.new_context(viewport={"width": width, "height": 800}, color_scheme="dark")
    tab = opened(context, page.address)
    tab.fill("#field-width", "20")
    tab.fill("#text-0-text", "The Harbour Light")
    answered(tab)
    assert tab.evaluate("document.documentElement.scrollWidth <= innerWidth")
    no_violation(tab)
    context.close()


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
