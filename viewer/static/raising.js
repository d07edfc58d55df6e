// Raising: the order of work, a figure a step, gone through by swiping or the arrow keys. What is ticked off is
// remembered, and so is the order that was found last, as long as the building stays as it was. The order itself
// is asked for by the button alone, never while something is typed.
"use strict";

const raising = (() => {
  const { one, all, on, say, memory, data } = page;
  const place = document.getElementById("raising");
  const said = document.getElementById("raising-said");
  const isServed = () => typeof building !== "undefined";
  const key = () => `raised:${isServed() ? building.key : data.key}`;
  const figures = () => all("#raising .raising-step");
  let drawnOf = null;

  function tell(text) {
    said.textContent = text;
  }

  function count() {
    const ticks = all("#raising [data-tick]");
    if (ticks.length) tell(say("doneOf", { done: ticks.filter((tick) => tick.checked).length, count: ticks.length }));
  }

  // The ticks as they are remembered, and the first step that is left in sight.
  function ready() {
    const done = new Set(memory.read(key()) ?? []);
    for (const tick of all("#raising [data-tick]")) {
      tick.checked = done.has(tick.dataset.tick);
      tick.closest(".raising-step").classList.toggle("done", tick.checked);
    }
    count();
    const next = figures().findIndex((figure) => one("[data-tick]", figure)?.checked === false);
    if (next > 0) show(next, "instant");
  }

  on("change", "#raising [data-tick]", (tick) => {
    tick.closest(".raising-step").classList.toggle("done", tick.checked);
    memory.write(key(), all("#raising [data-tick]:checked").map((each) => each.dataset.tick));
    count();
  });

  // The row alone scrolls: the page stays where it is.
  function show(index, behavior = "smooth") {
    const [row, shown] = [one(".raising-figures"), figures()[index]];
    if (!row || !shown) return;
    row.dataset.at = String(index);
    row.scrollTo({ left: shown.offsetLeft - row.offsetLeft, behavior });
  }

  function shownNow() {
    const row = one(".raising-figures");
    const far = figures().map((figure) => Math.abs(figure.offsetLeft - row.offsetLeft - row.scrollLeft));
    return far.indexOf(Math.min(...far));
  }

  const isStill = matchMedia("(prefers-reduced-motion: reduce)");
  on("keydown", ".raising-figures", (row, event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const last = figures().length - 1;
    const at = row.dataset.at === undefined ? shownNow() : Number(row.dataset.at);
    const to = { ArrowLeft: at - 1, ArrowRight: at + 1, Home: 0, End: last }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    const index = Math.min(Math.max(to, 0), last);
    show(index, isStill.matches ? "instant" : "smooth");
    tell(figures()[index].getAttribute("aria-label"));
  });
  // A finger or a mouse takes the row somewhere else.
  for (const type of ["pointerdown", "wheel"]) on(type, ".raising-figures", (row) => { delete row.dataset.at; }, { passive: true });

  const parsed = (html) => new DOMParser().parseFromString(html, "text/html").getElementById("raising-steps");

  function put(html, of) {
    document.getElementById("raising-steps").replaceWith(document.adoptNode(parsed(html)));
    drawnOf = of;
    delete place.dataset.stale;
    ready();
  }

  async function find() {
    const button = one("[data-do=raising]");
    if (button.ariaBusy === "true" || !building.file) return;
    button.ariaBusy = "true";
    tell(say("raisingUnderWay"));
    const of = JSON.stringify(building.file);
    try {
      const answer = await drawing.call("/v1/orders-of-work", {
        method: "POST", headers: { "Content-Type": "application/json", Accept: "text/html" }, body: of,
      });
      if (!answer.ok) return tell(say("raisingNot", { why: await why(answer) }));
      const html = await answer.text();
      put(html, of);
      memory.write("raising", { of, html });
      if (figures().length === 0) tell(one("#raising-steps p")?.textContent ?? "");
      else if (all("#raising [data-tick]").length === 0) tell(say("raisingNone"));
    } catch {
      tell(say("raisingNot", { why: say("noServer") }));
    } finally {
      button.ariaBusy = null;
    }
  }

  async function why(answer) {
    const problem = await answer.json().catch(() => ({ detail: answer.statusText }));
    return problem.errors?.map((error) => error.detail).join("; ") || problem.detail || problem.title;
  }

  // What was found is not of the building any more once that is changed.
  function follow() {
    if (drawnOf === null) return;
    if (JSON.stringify(building.file) === drawnOf) delete place.dataset.stale;
    else place.dataset.stale = say("raisingStale");
  }

  // What was found before is shown again, if the building is as it was then.
  function recall() {
    const last = memory.read("raising");
    if (last && building.file && last.of === JSON.stringify(building.file)) put(last.html, last.of);
  }

  if (place) {
    page.actions.raising = find;
    document.addEventListener("building", () => (drawnOf === null ? recall() : follow()));
    ready();
  }

  return { recall };
})();
