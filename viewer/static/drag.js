// An opening is drawn along its wall, by the pointer or with the arrow keys.
"use strict";

const drag = (() => {
  const { all, one, on } = page;
  const STEP = 10;
  let held = null;

  const pathOf = (hole) => {
    const wall = hole.closest(".wall").dataset.name;
    const index = building.get(["walls", wall, "openings"])?.findIndex((each) => each.name === hole.dataset.opening) ?? -1;
    return index < 0 ? null : ["walls", wall, "openings", index, "at"];
  };

  // Where an opening is once its left edge is at `left` mm, told as it was told before.
  function place(path, sizes, left) {
    const kind = ["left", "right", "centre"].find((each) => building.get([...path, each]) !== undefined) ?? "left";
    const mm = { left, right: sizes.along - left - sizes.width, centre: left + sizes.width / 2 }[kind];
    return { [kind]: lengths.fromMm(mm) };
  }

  function sizesOf(hole) {
    const [left, right, along] = ["left", "right", "along"].map((name) => Number(hole.dataset[name]));
    return { left, along, width: right - left };
  }

  const within = (sizes, left) => Math.min(Math.max(Math.round(left), 0), Math.max(sizes.along - sizes.width, 0));

  on("pointerdown", ".live .hole", (hole, event) => {
    const path = pathOf(hole);
    if (!path || event.button !== 0) return;
    event.preventDefault();
    hole.focus({ preventScroll: true });
    const drawing = hole.closest(".elevation");
    const [, , width] = drawing.getAttribute("viewBox").split(" ").map(Number);
    const turned = hole.closest(".wall").dataset.side === "inside" ? -1 : 1;
    held = { path, sizes: sizesOf(hole), from: event.clientX, scale: turned * width / drawing.getBoundingClientRect().width, moved: false, pointer: event.pointerId };
  });

  document.addEventListener("pointermove", (event) => {
    if (!held || event.pointerId !== held.pointer) return;
    const mm = (event.clientX - held.from) * held.scale;
    if (!held.moved && Math.abs(event.clientX - held.from) < 3) return;
    held.moved = true;
    building.preview(held.path, place(held.path, held.sizes, within(held.sizes, held.sizes.left + mm)));
  });

  function release(event) {
    if (!held || event.pointerId !== held.pointer) return;
    const { moved } = held;
    held = null;
    if (!moved) return;
    if (drawing.isBusy) document.addEventListener("at-rest", () => building.settle(drawing.isGood), { once: true });
    else building.settle(drawing.isGood);
  }
  document.addEventListener("pointerup", release);
  document.addEventListener("pointercancel", release);

  on("keydown", ".live .hole", (hole, event) => {
    const along = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    const path = pathOf(hole);
    if (!along || !path || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    const sizes = sizesOf(hole);
    const turned = hole.closest(".wall").dataset.side === "inside" ? -1 : 1;
    const left = within(sizes, sizes.left + along * turned * (event.shiftKey ? 1 : STEP));
    building.set(path, place(path, sizes, left), "settled");
  });

  let last = null;
  on("focusin", ".hole", (hole) => { last = hole.dataset.opening; });
  on("focusout", ".hole", (hole, event) => { if (event.relatedTarget) last = null; });

  function ready() {
    for (const hole of all(".live .hole")) {
      const { left, along, width } = sizesOf(hole);
      const said = { tabindex: 0, role: "slider", "aria-label": one("title", hole).textContent, "aria-valuemin": 0, "aria-valuemax": Math.round(along - width), "aria-valuenow": Math.round(left), "aria-valuetext": `${lengths.shownMm(left)}${lengths.unit() === "mm" ? " mm" : ""}` };
      for (const [name, value] of Object.entries(said)) hole.setAttribute(name, String(value));
      if (hole.dataset.opening === last && document.activeElement === document.body) hole.focus({ preventScroll: true });
    }
  }

  document.addEventListener("drawn", ready);
  return { ready };
})();
