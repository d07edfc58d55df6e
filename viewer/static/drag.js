// An opening is drawn along its wall, by the pointer or with the arrow keys. Where it cannot stand it stays at the
// nearest place where it can, and the page says why.
"use strict";

const drag = (() => {
  const { all, one, on, say, make } = page;
  const STEP = 10;
  // mm that the nearest good place is sought to.
  const NEAR = 1;
  // ms that a finger rests on an opening before it takes it along, and px that a resting one may stray.
  const HOLD = 500;
  const STRAY = 8;
  let held = null;
  let resting = null;

  // The member of the building file that says where an opening is along its drawing: a floor and a slope say theirs.
  const pathOf = (hole) => {
    const { name, openings, along = "at" } = hole.closest(".wall").dataset;
    const holder = openings?.split("/") ?? ["walls", name, "openings"];
    const index = building.get(holder)?.findIndex((each) => each.name === hole.dataset.opening) ?? -1;
    return index < 0 ? null : [...holder, index, along];
  };

  // Where an opening is once its left edge is at `left` mm, told as it was told before.
  function place(path, sizes, left) {
    if (path.at(-1) !== "at") return lengths.fromMm(left);
    const kind = ["left", "right", "centre"].find((each) => building.get([...path, each]) !== undefined) ?? "left";
    const mm = { left, right: sizes.along - left - sizes.width, centre: left + sizes.width / 2 }[kind];
    return { [kind]: lengths.fromMm(mm) };
  }

  function sizesOf(hole) {
    const [left, right, along] = ["left", "right", "along"].map((name) => Number(hole.dataset[name]));
    return { left, along, width: right - left };
  }

  const within = (sizes, left) => Math.min(Math.max(Math.round(left), 0), Math.max(sizes.along - sizes.width, 0));
  const turn = (hole) => (hole.closest(".wall").dataset.side === "inside" ? -1 : 1);

  // Openings of several walls may have one name.
  const keyOf = (hole) => JSON.stringify([hole.closest(".wall").dataset.name, hole.dataset.opening]);

  // An opening as it is drawn by now.
  const drawn = (key) => all(".live .hole").find((each) => keyOf(each) === key);

  function take(key, event) {
    const hole = drawn(key);
    const path = hole && pathOf(hole);
    if (!path) return;
    hole.focus({ preventScroll: true });
    const elevation = hole.closest(".elevation");
    const [, , width] = elevation.getAttribute("viewBox").split(" ").map(Number);
    const sizes = sizesOf(hole);
    const scale = turn(hole) * width / elevation.getBoundingClientRect().width;
    held = { key, path, sizes, good: sizes.left, wanted: sizes.left, from: event.clientX, scale, moved: false, pointer: event.pointerId };
    mark();
  }

  const mark = () => all(".live .hole").forEach((hole) => hole.classList.toggle("held", keyOf(hole) === held?.key));

  on("pointerdown", ".live .hole", (hole, event) => {
    if (event.button !== 0) return;
    if (event.pointerType === "touch") return rest(hole, event);
    event.preventDefault();
    take(keyOf(hole), event);
  });

  // A finger may mean to pan: only one that rests on an opening takes it along, and then the board stays.
  function rest(hole, event) {
    letGo();
    if (!event.isPrimary) return;
    // What is drawn meanwhile takes the place of what was touched.
    const key = keyOf(hole);
    const hearing = new AbortController();
    const stay = (move) => { if (held && move.cancelable) move.preventDefault(); };
    event.target.addEventListener("touchmove", stay, { passive: false, signal: hearing.signal });
    resting = { x: event.clientX, y: event.clientY, pointer: event.pointerId, hearing, timer: setTimeout(() => {
      take(key, event);
      navigator.vibrate?.(20);
    }, HOLD) };
  }

  function letGo() {
    clearTimeout(resting?.timer);
    resting?.hearing.abort();
    resting = null;
  }

  document.addEventListener("contextmenu", (event) => { if (resting) event.preventDefault(); });
  document.addEventListener("touchstart", (event) => { if (event.touches.length > 1 && !held) letGo(); }, { passive: true });

  document.addEventListener("pointermove", (event) => {
    if (resting && !held && Math.hypot(event.clientX - resting.x, event.clientY - resting.y) > STRAY) letGo();
    if (!held || event.pointerId !== held.pointer) return;
    if (!held.moved && Math.abs(event.clientX - held.from) < 3) return;
    held.moved = true;
    // What was drawn of the places before is known to be good.
    if (drawing.isGood && !drawing.isBusy) held.good = held.wanted;
    held.wanted = within(held.sizes, held.sizes.left + (event.clientX - held.from) * held.scale);
    building.preview(held.path, place(held.path, held.sizes, held.wanted));
  });

  async function release(event) {
    letGo();
    if (!held || event.pointerId !== held.pointer) return;
    const done = held;
    held = null;
    mark();
    if (done.moved) await settle(done);
  }
  document.addEventListener("pointerup", release);
  document.addEventListener("pointercancel", release);

  // Take a place over that is drawn; else the nearest one to it that can be, sought between it and a good one.
  async function settle({ path, sizes, good, wanted }) {
    await drawing.rest();
    if (drawing.isGood) return building.settle();
    const why = drawing.why;
    let [near, far] = [good, wanted];
    while (Math.abs(far - near) > NEAR) {
      const middle = Math.round((near + far) / 2);
      if (await drawing.tries(building.written(path, place(path, sizes, middle)))) near = middle;
      else far = middle;
    }
    building.preview(path, place(path, sizes, near));
    building.settle();
    await drawing.rest();
    return drawing.note(say("nearest", { why }));
  }

  // What is pressed while a step settles adds up to the next one, which begins where that came to rest.
  let owed = null;
  let isStepping = false;
  on("keydown", ".live .hole", async (hole, event) => {
    const along = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (!along || !pathOf(hole) || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    const key = keyOf(hole);
    const by = along * turn(hole) * (event.shiftKey ? 1 : STEP);
    owed = { key, by: owed?.key === key ? owed.by + by : by };
    if (isStepping) return;
    isStepping = true;
    try {
      while (owed) await step();
    } finally {
      isStepping = false;
    }
  });

  async function step() {
    await drawing.rest();
    const { key, by } = owed;
    owed = null;
    const hole = drawn(key);
    const path = hole && pathOf(hole);
    if (!path) return;
    const sizes = sizesOf(hole);
    const wanted = within(sizes, sizes.left + by);
    building.preview(path, place(path, sizes, wanted));
    await settle({ path, sizes, good: sizes.left, wanted });
  }

  let last = null;
  on("focusin", ".hole", (hole) => { last = keyOf(hole); });
  on("focusout", ".hole", (hole, event) => { if (event.relatedTarget) last = null; });

  function ready() {
    for (const hole of all(".live .hole").filter(pathOf)) {
      const { left, along, width } = sizesOf(hole);
      const said = { tabindex: 0, role: "slider", "aria-label": one("title", hole).textContent, "aria-valuemin": 0, "aria-valuemax": Math.round(along - width), "aria-valuenow": Math.round(left), "aria-valuetext": `${lengths.shownMm(left)}${lengths.unit() === "mm" ? " mm" : ""}` };
      for (const [name, value] of Object.entries(said)) hole.setAttribute(name, String(value));
      if (keyOf(hole) === last && document.activeElement === document.body) hole.focus({ preventScroll: true });
    }
    for (const keys of all(".live .keys")) {
      if (one(".hole[role=slider]", keys.closest(".wall")) && !one(".drawn-along", keys)) keys.append(" ", make("span", { className: "drawn-along" }, say("drawnAlong")));
    }
    mark();
  }

  document.addEventListener("drawn", ready);
  return { ready };
})();
