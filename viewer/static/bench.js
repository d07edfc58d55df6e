// Bench mode: one thing to do at a time, in large type. First the cuts, a group at a time, then the walls with
// their marks, then the courses of their cladding, and of their lining. What is ticked off is remembered, and so
// is what was last at the bench: nothing here needs the server once it was open.
"use strict";

const bench = (() => {
  const { one, all, say, make, memory, data } = page;
  const shown = document.getElementById("bench");
  const holder = document.getElementById("bench-step");
  let walls = [];
  let rows = [];
  let steps = [];
  let at = 0;
  let done = new Set();

  let key = data.key;

  const textOf = (selector, within) => one(selector, within)?.textContent ?? "";
  const stages = say("stages").split(",");

  // A copy without ids, since what it is copied from stays in the document.
  function copied(element) {
    const copy = element.cloneNode(true);
    for (const each of [copy, ...all("[id]", copy)]) each.removeAttribute("id");
    for (const each of all("[tabindex]", copy)) each.removeAttribute("tabindex");
    for (const each of all("[role=button], [role=slider]", copy)) {
      for (const name of ["role", "aria-controls", "aria-valuenow", "aria-valuemin", "aria-valuemax", "aria-valuetext"]) each.removeAttribute(name);
    }
    for (const each of all(".flag", copy)) each.remove();
    return copy;
  }

  function cutting(row) {
    const field = (name) => textOf(`[data-field="${name}"]`, row);
    const id = ["cut", "section", "timber", "length", "trim", "ends", "marks"].map((name) => field(name) || name).join(" ");
    return { stage: 0, id, draw: () => [
      make("p", { className: "bench-size" }, `${field("section")}, ${field("timber")}`),
      make("p", { className: "bench-figure" }, field("length"), make("span", {}, say("times", { count: field("count") }))),
      field("trim") ? make("p", {}, field("trim")) : null,
      make("p", { className: "drawn" }, ...Array.from(one("[data-drawn=ends]", row)?.childNodes ?? [], (node) => node.cloneNode(true))),
      make("p", { className: "bench-ends" }, field("ends")),
      field("short") ? make("p", {}, `${one(".short", row).dataset.label}: ${field("short")}`) : null,
      make("p", { className: "bench-marks" }, field("marks")),
      make("p", { className: "bench-more" }, [field("role"), say("together", { gangs: field("gangs") }), fromLength(row)].filter(Boolean).join(", ")),
    ] };
  }

  function fromLength(row) {
    const lengths = card.stockOf(null, row);
    return lengths ? say("fromLength", { lengths }) : "";
  }

  function putting(wall) {
    const facts = textOf(".facts", wall);
    return { stage: 1, id: `wall ${wall.dataset.name} ${facts}`, draw: () => [
      make("h2", {}, wall.dataset.name),
      make("p", {}, facts),
      copied(one(".board", wall)),
      ...all(".plates", wall).map(copied),
    ] };
  }

  const covering = (stage, kind, heading) => (wall, row) => {
    const cells = all("td", row).filter((cell) => cell.textContent);
    return { stage, id: `${kind} ${wall.dataset.name} ${row.textContent}`, draw: () => [
      make("h2", {}, say(heading, { wall: wall.dataset.name, number: textOf("th", row) })),
      ...cells.map((cell, index) => make("p", { className: index === 0 ? "bench-figure" : "bench-marks" },
        make("small", {}, cell.dataset.label), cell.textContent)),
    ] };
  };
  const cladding = covering(2, "course", "courseOf");
  const lining = covering(3, "lining", "liningOf");

  function gather() {
    const rowsOf = (kind, step) => walls.flatMap((wall) => all(`.${kind} tbody tr`, wall).map((row) => step(wall, row)));
    steps = [...rows.map(cutting), ...walls.map(putting), ...rowsOf("courses", cladding), ...rowsOf("lining-courses", lining)];
  }

  // All walls, also those that the board does not show: asked for once, on the way in.
  async function fetchWalls() {
    walls = all("#walls > .wall");
    rows = all("#cutting-list tbody tr");
    if (typeof drawing === "undefined") return;
    key = building.key;
    const answer = await drawing.askForParts({ wall: null }).catch(() => null);
    if (answer && !drawing.hasParts(answer)) return;
    if (answer) memory.write("bench", { key, html: await answer.text() });
    const last = memory.read("bench");
    if (!last) return;
    key = last.key;
    const whole = new DOMParser().parseFromString(last.html, "text/html");
    walls = all(".wall", whole);
    // The board's own list has the saw plan beside it, unless it still follows the drawing.
    if (!answer || one("#lists").ariaBusy === "true") page.takeOver(whole.getElementById("lists"));
    rows = all("#cutting-list tbody tr");
  }

  // What the page is made of is kept too, where the browser lets it, so that it can be loaded again out there.
  async function keepPage() {
    const workers = navigator.serviceWorker;
    if (!workers || !data.scripts) return;
    try {
      workers.addEventListener("message", () => { shown.dataset.kept = ""; });
      await workers.register("/static/offline.js", { scope: "/" });
      const { active } = await workers.ready;
      active.postMessage([location.href, ...performance.getEntriesByType("resource").map((entry) => entry.name)]);
    } catch {
      return;
    }
  }

  async function open() {
    await fetchWalls();
    gather();
    done = new Set(memory.read(`done:${key}`) ?? []);
    const next = steps.findIndex((step) => !done.has(step.id));
    document.body.classList.add("at-bench");
    shown.hidden = false;
    go(next < 0 ? 0 : next);
    await keepPage();
  }

  function close() {
    document.body.classList.remove("at-bench");
    shown.hidden = true;
    one("[data-do=bench]").focus();
  }

  function go(to) {
    at = Math.min(Math.max(to, 0), steps.length - 1);
    const step = steps[at];
    if (!step) return;
    const same = steps.filter((each) => each.stage === step.stage);
    const isDone = done.has(step.id);
    holder.replaceChildren(...step.draw().filter(Boolean));
    holder.dataset.stage = String(step.stage);
    shown.classList.toggle("ticked", isDone);
    const ticked = steps.filter((each) => done.has(each.id)).length;
    document.getElementById("bench-stage").textContent =
      say("stepOf", { stage: stages[step.stage], number: same.indexOf(step) + 1, count: same.length });
    const progress = document.getElementById("bench-progress");
    progress.max = steps.length;
    progress.value = ticked;
    progress.textContent = say("doneOf", { done: ticked, count: steps.length });
    const tick = one("[data-do=done]");
    tick.textContent = ticked === steps.length && isDone ? say("allDone") : say(isDone ? "undone" : step.stage === 0 ? "cut" : "made");
    tick.setAttribute("aria-pressed", String(isDone));
    one("[data-do=before]").disabled = at === 0;
    one("[data-do=after]").disabled = at === steps.length - 1;
    scrollTo(0, 0);
    for (const board of all(".board", holder)) board.classList.remove("fitted");
  }

  function tick() {
    const { id } = steps[at];
    const isDone = !done.has(id);
    done[isDone ? "add" : "delete"](id);
    memory.write(`done:${key}`, [...done]);
    const next = steps.findIndex((step, index) => index > at && !done.has(step.id));
    go(isDone && next >= 0 ? next : at);
  }

  document.addEventListener("keydown", (event) => {
    if (shown.hidden || event.altKey || event.ctrlKey || event.metaKey || event.target.closest?.(".board")) return;
    if (event.key === "ArrowLeft") go(at - 1);
    else if (event.key === "ArrowRight") go(at + 1);
    else if (event.key === "Escape") close();
  });

  Object.assign(page.actions, { bench: open, board: close, done: tick, before: () => go(at - 1), after: () => go(at + 1) });

  return { open };
})();
