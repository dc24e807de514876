"""What is seen and heard: true size on screen and paper, touch, any width, who listens."""

from __future__ import annotations

import io
import json
import subprocess
from pathlib import Path

import pytest
from PIL import Image, ImageOps
from playwright.sync_api import Page as Tab
from playwright.sync_api import expect

from tests.browser import browser_marks
from tests.page.walking import SECONDS, answered, begun, made, no_violation, opened

pytestmark = browser_marks

PX_PER_MM = 20.0
PRINTED_PX_PER_MM = 10.0
WITHIN_MM = 0.1


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


def test_true_size_is_set_by_a_card_and_kept(context, page):
    tab = begun(context, page.address)
    assert "not set" in tab.inner_text("#true-size-state")
    tab.click("#true-size-state")
    no_violation(tab)
    tab.fill("#true-size", "5")
    assert tab.locator(".measure-box").bounding_box()["width"] == pytest.approx(85.6 * 5, abs=1)
    tab.get_by_role("button", name="A hair wider").click()
    wider = tab.locator(".measure-box").bounding_box()["width"]
    assert 85.6 * 5 < wider < 85.6 * 5 + 1
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


def test_the_ways_to_set_it_stay_while_new_ones_are_awaited(context, page):
    """Whatever is seen between two letters: no way less, and no word of the program's own."""
    tab = begun(context, page.address)
    expect(tab.locator("#settings .way").first).to_be_visible(timeout=SECONDS)
    tab.evaluate("""() => { window.seen = [];
      new MutationObserver(() => window.seen.push(document.querySelector("#settings").innerText))
        .observe(document.querySelector("#answer"), { childList: true, subtree: true }); }""")
    for text in ("Tides of", "Tides of 1848", "Tides of 1848 and", "Tides of 1848 and after"):
        tab.fill("#text-0-text", text)
        answered(tab)
        tab.wait_for_timeout(400)
    seen = tab.evaluate("window.seen")
    assert seen
    assert all("pt" in one and "[object" not in one for one in seen), seen


def test_every_dialog_and_all_that_opens_is_sound(context, page):
    tab = begun(context, page.address)
    expect(tab.locator("#settings .way").first).to_be_visible(timeout=SECONDS)
    for one in tab.locator("details").all():
        one.evaluate("one => { one.open = true; }")
    no_violation(tab)
    tab.click("#kept")
    expect(tab.locator("#dialog")).to_be_visible()  # the jobs that are kept are asked for first
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


def test_the_volume_that_is_worked_on_is_in_view(tab):
    tab.fill("#field-width", "60")
    tab.fill("#field-height", "230")
    tab.fill("#text-0-text", "Annals of the Harbour")
    for width in ("60", "9"):
        tab.click(".book.add")
        tab.fill("#field-width", width)
    answered(tab, "apart")
    for at in (2, 0, 1):
        tab.click(f"#book-{at}")
        tab.wait_for_function(
            """(at) => {
              const box = document.querySelector("#drawings").getBoundingClientRect();
              const own = document.querySelectorAll(".volume")[at].getBoundingClientRect();
              const middle = own.x + own.width / 2;
              return box.left < middle && middle < box.right;
            }""",
            arg=at,
        )


def test_the_lettering_comes_into_view_and_who_scrolls_away_is_left_there(tab):
    tab.set_viewport_size({"width": 1000, "height": 700})
    tab.fill("#field-width", "12")
    tab.fill("#field-height", "400")
    tab.fill("#text-0-text", "Tides")
    answered(tab)
    seen = """() => {
      const box = document.querySelector("#drawings").getBoundingClientRect();
      const ink = document.querySelector("#drawings .lettering").getBoundingClientRect();
      return ink.top > box.top && ink.bottom < box.bottom;
    }"""
    tab.wait_for_function(seen)
    tab.evaluate("document.querySelector('#drawings').scrollTop = 1e4")
    tab.fill("#field-width", "14")
    expect(tab.locator("#drawings")).to_contain_text("back 14", timeout=SECONDS)
    assert not tab.evaluate(seen)
    tab.click("#undo")
    tab.wait_for_function(seen)


@pytest.mark.parametrize("size", [(320, 700), (1000, 700), (1366, 768)])
def test_the_verdict_is_in_view_wherever_one_types(tab, size):
    tab.set_viewport_size(dict(zip(("width", "height"), size, strict=True)))
    tab.fill("#field-width", "20")
    tab.fill("#field-height", "210")
    tab.fill("#text-0-text", "Tides")
    answered(tab)
    places = tab.locator("#at-a-glance, #answer .verdict, #scale-of-sizes .now")
    for field in ("#field-width", "#text-0-text", "#field-tracking"):
        tab.focus(field)
        seen = [one for one in places.all() if one.is_visible()]
        boxes = [one.bounding_box() for one in seen]
        assert any(0 <= one["y"] <= size[1] - one["height"] for one in boxes), field
    no_violation(tab)


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


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_back_is_printed_at_true_size(tab, tmp_path, paper):
    tab.fill("#field-width", "20")
    tab.fill("#field-height", "150")
    tab.fill("#text-0-text", "Tide Tables")
    answered(tab)
    tab.wait_for_load_state("networkidle")
    found = json.loads(made(tab, "json").read_text(encoding="utf-8"))
    layout = found["layouts"][found["recommended"]]
    tab.evaluate(
        """() => {
          for (const one of document.querySelectorAll("#drawings svg *, #answer *, #make *")) {
            if (!one.closest(".lettering")) one.style.visibility = "hidden";
          }
          for (const one of document.querySelectorAll(".lettering")) {
            one.style.visibility = "visible";
          }
        }"""
    )
    (left, top, right, bottom) = printed(tab, tmp_path, paper)[0].getbbox()
    seen = ((right - left) / PRINTED_PX_PER_MM, (bottom - top) / PRINTED_PX_PER_MM)
    assert seen == pytest.approx((layout["ink_height_mm"], layout["ink_width_mm"]), abs=0.2)


def test_what_is_larger_than_the_paper_is_printed_whole_and_says_so(tab, tmp_path):
    tab.fill("#field-width", "40")
    tab.fill("#field-height", "230")
    tab.fill("#text-0-text", "Annals")
    tab.click(".book.add")
    tab.fill("#field-width", "40")
    answered(tab, "set")
    tab.emulate_media(media="print")
    expect(tab.locator("#reduced")).to_be_visible()
    tab.wait_for_function(  # at one moment: a drawing gives way to a newer one
        """() => {
          const page = document.querySelector("#drawings");
          const [inner, outer] = [page.querySelector("svg"), page].map(
            (one) => one?.getBoundingClientRect());
          return inner?.width > 0 && outer.x <= inner.x && inner.right <= outer.right;
        }"""
    )
    tab.emulate_media(media="screen")
    expect(tab.locator("#reduced")).to_be_hidden()


def printed(tab: Tab, folder: Path, paper: str) -> list[Image.Image]:
    """The ink of each page that the browser prints."""
    file = folder / "printed.pdf"
    tab.pdf(path=file, format=paper)
    command = ["pdftoppm", "-r", str(25.4 * PRINTED_PX_PER_MM), "-gray", file, folder / "page"]
    subprocess.run(command, check=True)
    pages = [ImageOps.invert(Image.open(one).convert("L")) for one in sorted(folder.glob("page*"))]
    return [one.point(lambda level: 255 if level > 127 else 0) for one in pages]
