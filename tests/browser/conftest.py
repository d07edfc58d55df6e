"""A real browser, and a real server on loopback showing the honey house."""

from __future__ import annotations

import importlib.resources
import os
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field

import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright

from tests.buildings import BARE_HONEY_HOUSE
from tests.serving import serving

PATIENCE = 30_000
"""ms that a condition is waited for before a test fails; on a busy machine a first answer takes seconds."""

expect.set_options(timeout=PATIENCE)

CHROMIUM = shutil.which("chromium")

ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-dev-shm-usage",
]


AXE = """async () => {
    const found = await axe.run({ resultTypes: ["violations"] });
    const faults = found.violations.map(
        (fault) => [fault.id, fault.nodes.map((node) => node.html.slice(0, 200))]
    );
    return [found.passes.length, faults];
}"""
"""How many rules of axe-core a page keeps, and each that it breaks with the elements that do.

What passes is counted alone: the page about the API has thousands of elements, and all of them told take
longer than the looking does.
"""


@dataclass
class Watched:
    """A page, and what it asked for and complained of."""

    page: Page
    requests: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    def open(self, address: str) -> Page:
        self.page.on("request", lambda request: self.requests.append(request.url))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on(
            "console",
            lambda said: self.complaints.append(said.text) if said.type in ("error", "warning") else None,
        )
        self.page.on("dialog", lambda dialog: (self.complaints.append(dialog.message), dialog.dismiss()))
        answer = self.page.goto(address)
        if address.startswith("http"):
            assert answer is not None
            assert answer.ok
        # All scripts have run by now; where a building is shown, its entries come with the schema.
        expect(self.page.locator("#desk.live:not([hidden]) #entries:not([hidden]):empty")).to_have_count(0)
        return self.page

    def violations(self) -> list[tuple[str, list[str]]]:
        """What axe-core finds at fault on the page as it is."""
        axe = importlib.resources.files("axe_playwright_python") / "axe.min.js"
        self.page.evaluate(axe.read_text(encoding="utf-8"))
        passes, violations = self.page.evaluate(AXE)
        assert passes
        return [(rule, nodes) for rule, nodes in violations]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    if CHROMIUM is None:
        if os.environ.get("CI"):
            pytest.fail("chromium is not installed, and in CI it must be")
        pytest.skip("chromium is not installed: the browser tests need it")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture
def watched(browser: Browser) -> Iterator[Watched]:
    context = browser.new_context()
    context.set_default_timeout(PATIENCE)
    yield Watched(context.new_page())
    context.close()


@pytest.fixture(scope="session")
def honey_house_address() -> Iterator[str]:
    with serving(BARE_HONEY_HOUSE) as server:
        yield server.address
