"""Click and type about the page without a plan, as an impatient stranger does, and see what breaks.

    python tests/fuzz/clicks.py --walks 20 --steps 60 --seed 1

Every walk begins with a fresh page, takes a random control that can be seen, and uses it. A fault
is an error of a script, a reply of 500 or more, a word on the page that only a program would say,
and a page that no longer answers at the end. Ends with 1 where there was a fault; the walk and
its last steps are told.
"""

from __future__ import annotations

import argparse
import random
import re
import sys
import tempfile
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[2]))

from playwright.sync_api import BrowserContext, ElementHandle
from playwright.sync_api import Error as DriverError
from playwright.sync_api import Page as Tab

from tests.browser import CHROMIUM
from tests.fuzz.job_cases import hostile_title
from tests.page.served import served

__all__ = ["walk"]

_OPTIONS = ("--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage")
_CONTROLS = (
    ":is(button, select, summary, input:not([type=file]), textarea, [role=button], [tabindex='0'])"
    ":visible"
)
_PROGRAM_WORDS = re.compile(
    r"Traceback|internal fault|\bundefined\b|\bNaN\b|\[object |\bNone\b|\bnull\b|&amp;|\{\w+\}|"
    + re.escape(tempfile.gettempdir())
)
_TITLES = ("Tides", "The Harbour Light / and Its Keepers", "Soundings, vol. 3", "Ebb & Flow: #3")
_SOUND = ("9", "20", "34.5", "210", "12,5", "1/2 in", "2 mm", "1", "3")
_WRONG = ("0", "-3", "9mn", "", "1e9", "4 4")
_KEYS = ("Tab", "Enter", "Space", "ArrowDown", "ArrowUp", "Escape", "Control+z", "Control+y")
_ANSWER_MS = 15_000.0


def walk(context: BrowserContext, address: str, chance: random.Random, steps: int) -> list[str]:
    """Take so many random steps on a fresh page.

    Returns:
        the faults, each with the steps before it; nothing where all went well.
    """
    tab = context.new_page()
    tab.set_default_timeout(_ANSWER_MS)
    heard: list[str] = []
    tab.on("pageerror", lambda fault: heard.append(f"script: {fault}"))
    tab.on("console", lambda said: _hear(heard, said))
    tab.on("response", lambda reply: _see(heard, reply))
    tab.on("dialog", lambda asked: asked.accept())
    tab.goto(address)
    tab.wait_for_selector("body:not(.starting)")
    _begin(tab)
    taken: list[str] = []
    for _ in range(steps):
        taken.append(_step(tab, chance))
        tab.wait_for_timeout(chance.choice((0, 30, 250)))
        heard += _words_of_a_program(tab, "; ".join(taken))
        if heard:
            break
    heard += _unanswered(tab)
    tab.close()
    return [f"{fault}\n    after {'; '.join(taken[-8:])}" for fault in heard]


def _hear(heard: list[str], said: Any) -> None:
    if said.type == "error" and "Failed to load resource" not in said.text:
        heard.append(f"console: {said.text}")


def _see(heard: list[str], reply: Any) -> None:
    if reply.status >= 500:
        heard.append(f"{reply.status} from {reply.url.split('/', 4)[-1]}")


def _step(tab: Tab, chance: random.Random) -> str:
    """Use one control; what was done, in words."""
    try:
        if chance.random() < 0.1:
            key = chance.choice(_KEYS)
            tab.keyboard.press(key)
            return f"key {key}"
        controls = tab.query_selector_all(_CONTROLS)
        return _used(chance.choice(controls), chance) if controls else "nothing to use"
    except DriverError as fault:  # it went away, or something lies over it
        return f"missed: {str(fault).splitlines()[0][:60]}"


def _used(control: ElementHandle, chance: random.Random) -> str:
    name = control.evaluate("e => e.id || e.name || e.textContent.trim().slice(0, 30) || e.tagName")
    kind = control.evaluate("e => e.tagName === 'INPUT' ? e.type : e.tagName.toLowerCase()")
    if kind == "select":
        options = control.evaluate("e => [...e.options].map(o => o.value)")
        value = chance.choice(options)
        control.select_option(value, timeout=500)
        return f"{name} = {value!r}"
    if kind in ("text", "search", "number", "textarea"):
        values = _TITLES if name.startswith("text-") and chance.random() < 0.7 else _SOUND
        value = chance.choice(values) if chance.random() < 0.85 else _wrong(chance)
        control.fill(value, timeout=500)
        return f"{name} = {value!r}"
    control.click(timeout=500)
    return f"click {name}"


def _words_of_a_program(tab: Tab, typed: str) -> list[str]:
    """What is shown that no binder should read; what was typed may say anything."""
    try:
        shown = str(tab.evaluate("() => document.body.innerText"))
    except DriverError:  # a page that is being left
        return []
    found = _PROGRAM_WORDS.search(shown)
    if found is None or found[0] in typed:
        return []
    return [f"word: {shown[max(0, found.start() - 60) : found.end() + 40]!r}"]


def _wrong(chance: random.Random) -> str:
    return chance.choice((*_WRONG, hostile_title(chance)))


def _begin(tab: Tab) -> None:
    """A sound book, so that what follows has something to change."""
    tab.fill("#field-width", "20")
    tab.fill("#text-0-text", "Tides")


def _unanswered(tab: Tab) -> list[str]:
    """A fault where a page that was used so no longer answers a fresh and sound book."""
    try:
        if tab.locator("#dialog[open]").count():
            tab.keyboard.press("Escape")
        tab.click("#fresh")
        _begin(tab)
        tab.wait_for_selector("body:not(.stale) #answer .verdict")
    except DriverError as fault:
        return [f"no answer to a fresh book: {str(fault).splitlines()[0]}"]
    return []


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--walks", type=int, default=20)
    parser.add_argument("--steps", type=int, default=60)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    from playwright.sync_api import sync_playwright

    found = 0
    with (
        tempfile.TemporaryDirectory() as folder,
        served(Path(folder)) as page,
        sync_playwright() as driver,
    ):
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=list(_OPTIONS))
        for number in range(asked.walks):
            context = browser.new_context(viewport={"width": 1280, "height": 900})
            faults = walk(
                context, page.address, random.Random(f"{asked.seed} {number}"), asked.steps
            )
            context.close()
            for fault in faults:
                found += 1
                sys.stdout.write(f"walk {number}: {fault}\n")
        browser.close()
    sys.stdout.write(f"{asked.walks} walks of {asked.steps} steps: {found} faults\n")
    sys.exit(1 if found else 0)


if __name__ == "__main__":
    main()
