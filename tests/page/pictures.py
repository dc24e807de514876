"""Makes the pictures of the page that the README shows: ``python -m tests.page.pictures``.

A label for a book of the reading-room library, from its measures to its checklist, in the browser.
"""

from __future__ import annotations

import io
import tempfile
from pathlib import Path

from PIL import Image
from playwright.sync_api import Page as Tab
from playwright.sync_api import sync_playwright

from tests.browser import CHROMIUM
from tests.page.conftest import OPTIONS
from tests.page.served import ROOT, served
from tests.page.walking import SECONDS, answered, opened

PICTURES = ROOT / "shared" / "pictures"
WINDOW = {"width": 1400, "height": 900}
MOST_WIDE = 1000  # px
COLOURS = 200
MARGIN = 8
HIGHEST = 640
_PARTS = {
    "book": ("#book",),
    "words": ("#words",),
    "lettering": ("#lettering",),
    "answer": ("#back", ".right"),
    "make": ("#make",),
}


def letter(tab: Tab) -> None:
    """The job that is shown."""
    for name, value in (("width", "34"), ("height", "222"), ("market", "GB")):
        tab.fill(f"#field-{name}", value)
    tab.select_option("#field-back", "rounded")
    tab.fill("#field-arc", "40")
    tab.fill("#field-bands", "5")
    tab.fill("#text-0-text", "The Tide Tables")
    for role, words in (("author", "E. Quillfeather"), ("date", "1889")):
        tab.select_option("#add-text", role)
        tab.keyboard.type(words)
    tab.fill("#field-customer", "Wrackness Reading Room")
    tab.select_option("#field-method", "paper-label")
    answered(tab)
    tab.click("#whole")
    tab.click("#look")
    tab.wait_for_selector(".remedies, .improve p.soft:not(:text('Each change'))", timeout=SECONDS)
    tab.wait_for_selector(".sample svg", timeout=SECONDS)
    tab.click("#make-checklist")
    tab.wait_for_selector("#give-checklist", timeout=SECONDS)
    tab.wait_for_load_state("networkidle")
    tab.evaluate("document.activeElement.blur(); scrollTo({top: 0, behavior: 'instant'})")


def take(tab: Tab, name: str, *parts: str) -> None:
    """A picture of some parts of the page, as wide as they are, in few colours."""
    boxes = [tab.locator(part).bounding_box() for part in parts]
    left, top = min(one["x"] for one in boxes), min(one["y"] for one in boxes)
    right = max(one["x"] + one["width"] for one in boxes)
    bottom = min(max(one["y"] + one["height"] for one in boxes), top + HIGHEST)
    clip = {
        "x": max(0, left - MARGIN), "y": top - MARGIN,
        "width": right - left + 2 * MARGIN, "height": bottom - top + 2 * MARGIN,
    }  # fmt: skip
    whole = Image.open(io.BytesIO(tab.screenshot(full_page=True, clip=clip))).convert("RGB")
    whole.thumbnail((MOST_WIDE, MOST_WIDE), Image.Resampling.LANCZOS)
    whole.quantize(COLOURS, Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE).save(
        PICTURES / f"{name}.png", optimize=True
    )


def main() -> None:
    """Make all of them."""
    PICTURES.mkdir(exist_ok=True)
    with (
        tempfile.TemporaryDirectory() as folder,
        served(Path(folder)) as page,
        sync_playwright() as driver,
    ):
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=OPTIONS)
        tab = opened(browser.new_context(viewport=WINDOW), page.address)
        letter(tab)
        for name, parts in _PARTS.items():
            take(tab, name, *parts)
        browser.close()


if __name__ == "__main__":
    main()
