// Bench mode: one thing to do at a time, in large type. First the cuts, a group at a time, then the walls with
// their marks, then their cladding from the frame outwards, a course, a board or a sheet at a time, and their
// lining. What is ticked off is remembered, and so is what was last at the bench: nothing here needs the server
// once it was open.
"use strict";

const bench = (() => {
  const { one, all, say, make, memory, data } = page;
  const shown = document.getElementById("bench");
  const holder = document.getElementById("bench-step");
  let walls = [];
  let inside = [];
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
      field("turned") ? make("p", {}, field("turned")) : null,
      make("p", { className: "bench-more" }, [field("role"), say("together", { gangs: field("gangs") }), fromLength(row)].filter(Boolean).join(", ")),
    ] };
  }

  function fromLength(row) {
    const lengths = card.stockOf(null, row);
    return lengths ? say("fromLength", { lengths }) : "";
  }

  // A drawing fits the screen, and is brought nearer as on the board.
  const board = (wall, className, ...drawn) =>
    make("div", { "data-side": wall.dataset.side }, make("div", { className, tabIndex: 0, role: "group", "aria-label": wall.dataset.name }, ...drawn));

  function putting(wall) {
    const facts = textOf(".facts", wall);
    return { stage: 1, id: `wall ${wall.dataset.name} ${facts}`, draw: () => [
      make("h2", {}, wall.dataset.name),
      make("p", {}, facts),
      board(wall, "board", ...all(".board > *", wall).map(copied)),
      ...all(".plates", wall).map(copied),
    ] };
  }

  // Where pieces lie, among what is up by then. Without the server there is no drawing from inside.
  function where(wall, stage, upTo, isBehind, marks) {
    const seen = stage === 2 ? wall : inside.find((other) => other.dataset.name === wall.dataset.name);
    if (!seen) return null;
    const drawn = copied(one(".elevation", seen));
    // The rod is that of the cladding.
    if (stage === 3) for (const course of all(".course", drawn)) course.remove();
    for (const tier of all("[data-tier]", drawn)) if (Number(tier.dataset.tier) > upTo) tier.remove();
    for (const piece of all(".near .piece", drawn).filter((each) => marks.includes(each.dataset.mark))) {
      piece.classList.add("at");
      piece.parentNode.append(piece);
    }
    return board(seen, `board shows ${isBehind ? "shows-behind" : "shows-all"}`, drawn);
  }

  const cellsOf = (row) => all("td", row).filter((cell) => cell.textContent);
  const told = (cell, className) => make("p", { className }, make("small", {}, cell.dataset.label), cell.textContent);
  const marksIn = (text) => text.split(/,? +/);

  // The steps of a table: each of its rows, or all of it at once.
  function boarding(wall, stage, table, index, tables) {
    const upTo = index === tables.length - 1 ? Infinity : index + 1;
    const is = (name) => table.classList.contains(name);
    const name = textOf("caption", table);
    const step = (id, title, marks, ...rest) => ({ stage, id: `${table.className} ${wall.dataset.name} ${id}`, draw: () => [
      make("h2", {}, title), name ? make("p", {}, name) : null, ...rest, where(wall, stage, upTo, is("behind"), marks),
    ] });
    const rows = all("tbody tr", table);
    if (is("together")) {
      const whole = step(name, wall.dataset.name, rows.map((row) => textOf("th", row)));
      return [{ ...whole, draw: () => [...whole.draw(), copied(table)] }];
    }
    return rows.map((row) => {
      const head = textOf("th", row);
      const [first, ...others] = cellsOf(row);
      const title = is("tier") ? say("pieceOf", { wall: wall.dataset.name, mark: head })
        : say(stage === 2 ? "courseOf" : "liningOf", { wall: wall.dataset.name, number: head });
      const marks = is("tier") ? [head] : marksIn(others[others.length - 1].textContent);
      return step(row.textContent, title, marks, told(first, "bench-figure"), ...others.map((cell) => told(cell, "bench-marks")));
    });
  }

  // What covers a slope is laid once its deck is on, by its plan.
  const covering = (plan) => ({ stage: 2, id: `covering ${plan.textContent}`, draw: () => [make("h2", {}, plan.dataset.title), copied(plan)] });

  const FACES = { 2: ".courses, .tier.outside", 3: ".lining-courses, .tier.inside" };

  function gather() {
    const boarded = [2, 3].flatMap((stage) => walls.flatMap((wall) => [
      ...all(FACES[stage], wall).flatMap((...table) => boarding(wall, stage, ...table)),
      ...(stage === 2 ? all(".covering-plan", wall).map(covering) : []),
    ]));
    steps = [...rows.map(cutting), ...walls.map(putting), ...boarded];
  }

  const parsed = (html) => new DOMParser().parseFromString(html, "text/html");

  // All walls, also those that the board does not show: asked for once, on the way in.
  async function fetchWalls() {
    walls = all("#walls > .wall");
    rows = all("#cutting-list tbody tr");
    if (typeof drawing === "undefined") return;
    key = building.key;
    const answer = await drawing.askForParts({ wall: null }).catch(() => null);
    if (answer && !drawing.hasParts(answer)) return;
    let fresh = null;
    if (answer) {
      const html = await answer.text();
      const isLined = all(FACES[3], parsed(html)).length > 0;
      const other = isLined ? await drawing.askForParts({ wall: null, side: "inside", lists: false }).catch(() => null) : null;
      fresh = { key, html, inside: other && drawing.hasParts(other) ? await other.text() : "" };
      memory.write("bench", fresh);
    }
    const last = fresh ?? memory.read("bench");
    if (!last) return;
    key = last.key;
    const whole = parsed(last.html);
    walls = all(".wall", whole);
    inside = all(".wall", parsed(last.inside ?? ""));
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

  // Drawing all walls takes a while, and the button tells of it.
  async function fetchFrom(button) {
    const name = button.textContent;
    button.ariaBusy = "true";
    button.textContent = say("benchOpens");
    try {
      await fetchWalls();
    } finally {
      button.ariaBusy = null;
      button.textContent = name;
    }
  }

  async function open() {
    const button = one("[data-do=bench]");
    if (button.ariaBusy === "true") return;
    await fetchFrom(button);
    gather();
    done = new Set(memory.read(`done:${key}`) ?? []);
    const next = steps.findIndex((step) => !done.has(step.id));
    document.body.classList.add("at-bench");
    shown.hidden = false;
    go(next < 0 ? 0 : next);
    document.getElementById("bench-stage").focus({ preventScroll: true });
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
    for (const each of all("div.board", holder)) zoom.whole(each);
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
