// The site on the plan: an obstacle is drawn by dragging a rectangle, moved and resized by dragging or with the
// arrow keys, and taken out with Delete; its two figures stand beside the plan, all else among the entries.
"use strict";

const site = (() => {
  const { one, all, on, say, make } = page;
  const { mm, fromMm, shown, shownMm } = lengths;
  const SVG = one("svg").namespaceURI;
  // mm round the walls that are shown at the least, and that a rectangle has at the least; px of texts.
  const [ROUND, LEAST, TEXT] = [2500, 100, 13];
  const holder = document.getElementById("site-plan");
  let chosen = null;
  let held = null;
  let isArmed = false;
  let view = null;

  const path = (index) => ["site", "obstacles", index];
  const snap = (length) => {
    const step = lengths.unit() === "in" ? 12.7 : 10;
    return Math.round(length / step) * step;
  };

  function draw(tag, set, ...children) {
    const made = document.createElementNS(SVG, tag);
    for (const [name, value] of Object.entries(set)) made.setAttribute(name, String(value));
    made.append(...children);
    return made;
  }

  const pointsOf = (corners) => corners.map(([x, y]) => `${x.toFixed(1)},${(-y).toFixed(1)}`).join(" ");
  const span = (values) => [Math.min(...values), Math.max(...values)];
  const middle = (corners) => [0, 1].map((axis) => span(corners.map((corner) => corner[axis])).reduce((a, b) => a + b) / 2);

  function around(walls) {
    const points = [...walls.flatMap(({ corners }) => corners), ...obstacles.list().flatMap(obstacles.corners)];
    const [[left, right], [front, back]] = [0, 1].map((axis) => span(walls.flatMap(({ corners }) => corners).map((corner) => corner[axis])));
    const within = ([low, high], values) => span([low - ROUND, high + ROUND, ...values.filter((value) => value > low - 3 * ROUND && value < high + 3 * ROUND)]);
    const [xs, ys] = [within([left, right], points.map(([x]) => x)), within([front, back], points.map(([, y]) => y))];
    return { x: xs[0], y: -ys[1], width: xs[1] - xs[0], height: ys[1] - ys[0] };
  }

  function build() {
    if (!holder || !building.file || held) return;
    const walls = obstacles.walls();
    holder.hidden = walls.length === 0 || Boolean(building.get(["outline", "walls"]));
    if (holder.hidden) return;
    const focused = document.activeElement?.dataset?.site;
    view = around(walls);
    const size = TEXT * Math.max(view.width / Math.min(holder.clientWidth || 340, 640), view.height / 416);
    const plan = draw("svg", { class: "site", viewBox: [view.x, view.y, view.width, view.height].map(Math.round).join(" "), role: "group", "aria-label": say("sitePlan") },
      ...walls.flatMap((wall) => [draw("polygon", { class: "site-wall", points: pointsOf(wall.corners) }), wallName(wall, size)]),
      ...obstacles.list().flatMap((obstacle, index) => shape(obstacle, index, obstacles.corners(obstacle), size)),
    );
    one(".site-board", holder).replaceChildren(plan);
    figures();
    arm(isArmed);
    if (focused) one(`[data-site="${CSS.escape(focused)}"]`, holder)?.focus({ preventScroll: true });
  }

  function shape(obstacle, index, corners, size) {
    if (corners.length < 3) return [];
    const isChosen = index === chosen;
    const name = say("obstacleSaid", { name: obstacle.name, clear: obstacle.clear === undefined ? "" : say("clearSaid", { clear: shown(obstacle.clear) }), top: shown(obstacle.top ?? fromMm(obstacles.USUAL.top)) });
    const body = draw("g", { class: isChosen ? "obstacle chosen" : "obstacle", tabindex: 0, role: "button", "aria-pressed": isChosen, "aria-label": name, "data-site": index },
      draw("polygon", { points: pointsOf(corners) }), obstacleName(obstacle.name, corners, size));
    if (!isChosen || !obstacles.isRectangle(corners)) return [body];
    const handle = ([hx, hy], number) => draw("rect", {
      class: "handle", x: hx - size * 0.45, y: -hy - size * 0.45, width: size * 0.9, height: size * 0.9, "data-site": `${index}-${number}`, "data-corner": number,
      ...(number === 3 ? { tabindex: 0, role: "button", "aria-label": say("corner", { name: obstacle.name }) } : {}),
    });
    return [body, ...corners.map(handle)];
  }

  function label(text, x, y, size, turned = false) {
    const made = draw("text", { x, y: -y + size * 0.35, "font-size": size, "text-anchor": "middle", ...(turned ? { transform: `rotate(-90 ${x} ${-y})` } : {}) });
    made.textContent = text;
    return made;
  }

  // Within an obstacle, along it where it is narrow; of a small one beyond it, away from the building.
  function obstacleName(name, corners, size) {
    const [x, y] = middle(corners);
    const [wide, deep] = [0, 1].map((axis) => span(corners.map((corner) => corner[axis]))).map(([low, high]) => high - low);
    const long = name.length * size * 0.6;
    if (long <= wide) return label(name, x, y, size);
    if (long <= deep) return label(name, x, y, size, true);
    const isBehind = y > middle(obstacles.walls().flatMap((wall) => wall.corners))[1];
    const room = [view.x + long / 2, view.x + view.width - long / 2];
    return label(name, Math.min(Math.max(x, room[0]), room[1]), y + (isBehind ? 1 : -1) * (deep / 2 + size * 0.7), size);
  }

  // Inside the wall, so that it is in nothing's way.
  function wallName({ name, corners, length, run: [u, v] }, size) {
    const [x, y] = middle(corners);
    return label(name.length * size * 0.6 > length ? "" : name, x - v * size * 1.1, y + u * size * 1.1, size, Math.abs(v) > Math.abs(u));
  }

  // The two figures of the chosen one: how far it is from its wall, or none where it is told by corners; and its top.
  function figures() {
    const place = one(".site-figures", holder);
    const obstacle = chosen === null ? null : obstacles.list()[chosen];
    if (!obstacle) {
      chosen = null;
      return place.replaceChildren(make("p", {}, say("siteHelp")));
    }
    const figure = (name, value) => {
      const entry = make("input", { type: "text", value: value === undefined ? "" : shown(value), autocomplete: "off", "data-figure": name });
      return make("label", {}, entries.words(name), " ", entry);
    };
    return place.replaceChildren(
      make("strong", {}, obstacle.name), " ",
      ...(obstacle.beside === undefined ? [] : [figure("clear", obstacle.clear), " "]),
      figure("top", obstacle.top ?? fromMm(obstacles.USUAL.top)), " ",
      make("button", { type: "button", className: "take-out", "data-take-out": "" }, say("remove")));
  }

  on("click", "#site-plan .obstacle", (body) => { if (!isArmed) choose(Number(body.dataset.site)); });
  on("change", "[data-figure]", (entry) => {
    const text = entry.value.trim();
    building.set([...path(chosen), entry.dataset.figure], /^-?\d+(\.\d+)?$/.test(text) ? Number(text) : text || undefined, "whole");
  });
  on("click", "[data-take-out]", () => takeOut(chosen));

  function takeOut(index) {
    if (index === null) return;
    chosen = null;
    building.set(path(index), undefined, "whole");
  }

  function choose(index) {
    if (chosen === index) return;
    chosen = index;
    build();
  }

  function arm(isOn) {
    isArmed = isOn;
    one("[data-do=draw-obstacle]", holder)?.setAttribute("aria-pressed", String(isOn));
    one("svg", holder)?.classList.toggle("armed", isOn);
  }

  // A place of the pointer in the world.
  function at(event) {
    const { left, top, width, height } = one("svg", holder).getBoundingClientRect();
    const scale = Math.max(view.width / width, view.height / height);
    const [x, y] = [event.clientX - left - width / 2, event.clientY - top - height / 2];
    return [view.x + view.width / 2 + x * scale, -(view.y + view.height / 2 + y * scale)];
  }

  on("pointerdown", "#site-plan svg", (plan, event) => {
    if (event.button !== 0 || !event.isPrimary) return;
    const target = event.target.closest("[data-site]");
    // A finger may mean to pan: it moves only what was chosen by touching it before, and draws only when asked to.
    const isTaken = target?.dataset.corner !== undefined || Number(target?.dataset.site) === chosen;
    if (event.pointerType === "touch" && !isArmed && (!target || !isTaken)) return;
    event.preventDefault();
    const from = at(event);
    if (!target || isArmed) held = { kind: "new", from, corners: [] };
    else if (target.dataset.corner) held = { kind: "corner", number: Number(target.dataset.corner), from, index: chosen, before: obstacles.corners(obstacles.list()[chosen]) };
    else {
      const index = Number(target.dataset.site);
      choose(index);
      held = { kind: "move", from, index, before: obstacles.corners(obstacles.list()[index]) };
    }
    held.pointer = event.pointerId;
    held.corners = held.before ?? [];
    one(`#site-plan [data-site="${held.index}"]`)?.focus({ preventScroll: true });
  });

  const moved = (corners, dx, dy) => corners.map(([x, y]) => [x + dx, y + dy]);

  // A rectangle's corner drawn somewhere else, the opposite one staying.
  function stretched(corners, number, dx, dy) {
    const [there, to] = [corners[(number + 2) % 4], [corners[number][0] + dx, corners[number][1] + dy]];
    const sides = [1, 3].map((step) => corners[(number + step) % 4].map((value, axis) => value - there[axis]));
    const lengthOf = ([x, y]) => Math.hypot(x, y);
    const [a, b] = sides.map((side) => {
      const unit = side.map((value) => value / lengthOf(side));
      const along = Math.max(LEAST, (to[0] - there[0]) * unit[0] + (to[1] - there[1]) * unit[1]);
      return unit.map((value) => value * along);
    });
    const next = [...corners];
    next[(number + 1) % 4] = [there[0] + a[0], there[1] + a[1]];
    next[(number + 3) % 4] = [there[0] + b[0], there[1] + b[1]];
    next[number] = [there[0] + a[0] + b[0], there[1] + a[1] + b[1]];
    return next;
  }

  document.addEventListener("pointermove", (event) => {
    if (!held || event.pointerId !== held.pointer) return;
    const to = at(event);
    const [dx, dy] = [snap(to[0] - held.from[0]), snap(to[1] - held.from[1])];
    if (held.kind === "new") {
      const [[x0, y0], [x1, y1]] = [held.from.map(snap), to.map(snap)];
      held.corners = [[x0, y0], [x1, y0], [x1, y1], [x0, y1]];
    } else held.corners = held.kind === "move" ? moved(held.before, dx, dy) : stretched(held.before, held.number, dx, dy);
    follow();
  });

  // While something is drawn it alone moves; the building changes once it is let go.
  function follow() {
    const plan = one("svg", holder);
    const drawn = held.kind === "new" ? one(".drawn-now", plan) ?? plan.appendChild(draw("polygon", { class: "drawn-now" })) : one(`.obstacle[data-site="${held.index}"] polygon`, plan);
    drawn.setAttribute("points", pointsOf(held.corners));
    for (const handle of all(".handle", plan)) handle.remove();
  }

  function release(event) {
    if (!held || event.pointerId !== held.pointer) return;
    const done = held;
    held = null;
    const [wide, deep] = [0, 1].map((axis) => done.corners.length ? span(done.corners.map((corner) => corner[axis])) : [0, 0]).map(([low, high]) => high - low);
    const isCancelled = event.type === "pointercancel";
    if (done.kind === "new") {
      if (isCancelled || wide < LEAST || deep < LEAST) {
        chosen = isCancelled ? chosen : null;
        return build();
      }
      return add(obstacles.told({ name: obstacles.called(), top: fromMm(obstacles.USUAL.top) }, done.corners));
    }
    if (isCancelled || done.corners === done.before) return build();
    return put(done.index, done.corners);
  }
  document.addEventListener("pointerup", release);
  document.addEventListener("pointercancel", release);

  function add(made) {
    chosen = obstacles.list().length;
    arm(false);
    building.set(["site", "obstacles"], [...obstacles.list(), made], "whole");
  }

  const put = (index, corners) => building.set(path(index), obstacles.told(obstacles.list()[index], corners), "whole");

  const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
  on("keydown", "#site-plan [data-site]", (target, event) => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const [index, corner] = target.dataset.site.split("-").map(Number);
    const along = ARROWS[event.key];
    if (along) {
      const step = (lengths.unit() === "in" ? 12.7 : 10) * (event.shiftKey ? 1 : 10);
      const [dx, dy] = along.map((each) => each * step);
      const corners = obstacles.corners(obstacles.list()[index]);
      chosen = index;
      put(index, corner === undefined ? moved(corners, dx, dy) : stretched(corners, corner, dx, dy));
    } else if (event.key === "Delete" || event.key === "Backspace") takeOut(index);
    else if (event.key === "Enter" || event.key === " ") choose(index);
    else return;
    event.preventDefault();
  });

  // By keyboard, or where nothing is pointed at, one is put beside the first wall; a finger draws its own.
  page.actions["draw-obstacle"] = () => arm(!isArmed);
  page.actions["add-obstacle"] = () => add(obstacles.another());

  document.addEventListener("building", (event) => { if (event.detail !== "preview") build(); });
  document.addEventListener("drawn", build);

  return { build };
})();
