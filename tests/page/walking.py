"""What a walk through the page needs: steps that every day at the bench has."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from playwright.sync_api import Page as Tab
from playwright.sync_api import expect

__all__ = ["SECONDS", "answered", "begun", "job_of", "made", "no_violation", "opened"]

AXE = files("axe_core_python").joinpath("axe.min.js").read_text(encoding="utf-8")
SECONDS = 60_000.0
"""How long an answer is waited for, as the driver counts."""


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
