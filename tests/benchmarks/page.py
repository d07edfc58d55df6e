"""The page in Chromium: what the first view weighs and takes, a redraw, and panning over many pieces."""

from __future__ import annotations

import gzip
import json
import shutil
import statistics
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.request import urlopen

from playwright.sync_api import Browser, Page, expect, sync_playwright

from soleplate.viewer.page.page import EDITING, FIRST, READING
from tests.benchmarks.buildings import FOUR_WALLS
from tests.browser.conftest import ARGUMENTS
from tests.buildings import building
from tests.serving import serving

CHANGES = 20


def main() -> None:
    with serving(FOUR_WALLS) as server:
        weigh(server.address)
        with chromium() as browser:
            first_view(browser, server.address)
            redraw(browser, server.address)
    large = building(
        outline={"walls": [{"name": "long", "length": 40_000}]},
        roof={"form": "level", "height": 2400},
        defaults={
            "studs": {"rule": "equal-bays", "largest_bay": 150},
            "noggins": {"rule": "staggered", "rows": 3},
        },
    )
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder, "large.json")
        file.write_text(json.dumps(large))
        with serving(file) as server, chromium() as browser:
            pan(browser, server.address)


@contextmanager
def chromium() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=ARGUMENTS)
        yield browser
        browser.close()


def weigh(address: str) -> None:
    def size(names: tuple[str, ...]) -> tuple[int, int]:
        bodies = [urlopen(f"{address}{name}").read() for name in names]
        return sum(map(len, bodies)), sum(len(gzip.compress(body)) for body in bodies)

    first = ("", "static/soleplate.css", "static/favicon.svg", *(f"static/{name}" for name in FIRST))
    for what, names in (
        ("first view", first),
        ("scripts that follow", tuple(f"static/{name}" for name in (*READING[len(FIRST) :], *EDITING))),
        ("schema for the entries", ("v1/schema",)),
    ):
        raw, coded = size(names)
        print(f"{what}: {raw / 1000:.1f} kB, {coded / 1000:.1f} kB compressed")


def first_view(browser: Browser, address: str) -> None:
    drawn: list[float] = []
    for _ in range(5):
        context = browser.new_context(viewport={"width": 1280, "height": 900})
        page = context.new_page()
        page.goto(address)
        page.wait_for_load_state("load")
        drawn.append(
            page.evaluate("performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? NaN")
        )
        context.close()
    print(
        f"first view drawn: {statistics.median(drawn):.0f} ms after it was asked for (median of {len(drawn)})"
    )


def opened(browser: Browser, address: str) -> Page:
    page = browser.new_page(viewport={"width": 1280, "height": 900})
    page.goto(address)
    expect(page.locator("#entries .panel").first).to_be_visible(timeout=60_000)
    return page


def redraw(browser: Browser, address: str) -> None:
    """From the change of an entry until the frame with the new drawing is on its way to the screen."""
    page = opened(browser, address)
    page.evaluate(
        """() => {
            window.times = [];
            let start = null;
            document.addEventListener("building", () => { start = performance.now(); });
            document.addEventListener("drawn", () => {
                const began = start;
                start = null;
                const told = () => window.times.push(performance.now() - began);
                if (began !== null) requestAnimationFrame(() => setTimeout(told));
            });
        }"""
    )
    entry = page.locator("[id='entry/outline/length']")
    for step in range(CHANGES):
        length = 4510 + 10 * step
        entry.fill(f"{length}")
        entry.press("Enter")
        expect(page.locator(".wall-head .facts")).to_contain_text(f"{length} mm")
        expect(page.locator("#lists[aria-busy]")).to_have_count(0)
    times = sorted(page.evaluate("window.times"))
    print(
        f"redraw of four walls: {statistics.median(times):.0f} ms median,"
        f" {times[int(0.9 * len(times))]:.0f} ms at the ninth tenth, of {len(times)}"
    )
    page.close()


def pan(browser: Browser, address: str) -> None:
    """Frames a second while the board is scrolled from end to end, near enough to read the marks."""
    page = opened(browser, address)
    pieces = page.locator(".elevation .piece").count()
    page.locator("[data-do=nearer]").click()
    frames: list[float] = page.evaluate(
        """() => new Promise((done) => {
            const board = document.querySelector(".board");
            const frames = [];
            let last = null;
            const step = (now) => {
                if (last !== null) frames.push(now - last);
                last = now;
                board.scrollLeft += 24;
                if (frames.length < 240) requestAnimationFrame(step);
                else done(frames);
            };
            requestAnimationFrame(step);
        })"""
    )
    frames.sort()
    print(
        f"panning over {pieces} pieces: {1000 / statistics.mean(frames):.0f} frames a second,"
        f" slowest frame in a hundred {frames[int(0.99 * len(frames))]:.0f} ms"
    )
    page.close()


if __name__ == "__main__":
    main()
