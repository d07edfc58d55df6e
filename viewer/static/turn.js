// The building as a whole, turned by dragging and by keys. The planes that part its pieces tell for any direction
// which is further: each is painted after those behind it, so that nothing has to be asked of a server.
"use strict";

const turn = (() => {
  const { all, one, on } = page;
  const SVG = document.getElementById("patterns").namespaceURI;
  // Degrees a pixel, and a key.
  const DRAG = 0.4;
  const STEPS = [10, 2];
  const EDGE_ON = 1e-6;
  // ms without a turn, after which what is seen is told.
  const REST = 200;
  const off = new Set();
  let look = null;
  let shown = null;

  const node = (name, set, ...children) => {
    const made = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(set)) made.setAttribute(key, value);
    made.append(...children);
    return made;
  };

  // All bodies with their elements, and the tree whose leaves they are.
  function built(packed) {
    const bodies = [];
    const facet = ([normal, colour, isCut, points, lines]) => {
      const isWhole = lines === 2 ** points.length - 1;
      const path = node("path", { fill: packed.colours[colour], ...(isCut ? { class: "cut" } : {}), ...(isWhole ? {} : { stroke: packed.colours[colour], class: "seam" }) });
      return { normal, points, lines, path };
    };
    function body(owner, facets) {
      const piece = packed.pieces[owner];
      const edges = new Map();
      for (const each of facets) {
        each.points.forEach((point, place) => {
          if (!(each.lines & (1 << place))) return;
          const next = each.points[(place + 1) % each.points.length];
          const key = point < next ? `${point} ${next}` : `${next} ${point}`;
          edges.set(key, { from: point, to: next, normals: [...(edges.get(key)?.normals ?? []), each.normal] });
        });
      }
      const lines = node("path", { class: "lines" });
      const title = node("title", {});
      title.textContent = piece.title;
      const group = node("g", { class: `${piece.mark ? "piece" : "slab"} ${piece.tone}` }, title, ...facets.map((each) => each.path), lines);
      for (const name of ["mark", "role", "cut", "part", "place", "layer"]) if (piece[name] !== null) group.dataset[name] = piece[name];
      const made = { facets, edges: [...edges.values()], lines, group };
      bodies.push(made);
      return made;
    }
    function room(space) {
      if (!Array.isArray(space)) return { bodies: space.bodies.map(([owner, ...facets]) => body(owner, facets.map(facet))) };
      const [normal, behind, before, faces = []] = space;
      return { normal, behind: room(behind), before: room(before), on: faces.map(([owner, each]) => body(owner, [facet(each)])) };
    }
    const tree = room(packed.space);
    return { ...packed, tree, bodies, ...middle(packed.points) };
  }

  function middle(points) {
    const least = [Infinity, Infinity, Infinity];
    const most = [-Infinity, -Infinity, -Infinity];
    points.forEach((value, index) => {
      least[index % 3] = Math.min(least[index % 3], value);
      most[index % 3] = Math.max(most[index % 3], value);
    });
    return { centre: least.map((value, axis) => (value + most[axis]) / 2), radius: Math.hypot(...least.map((value, axis) => most[axis] - value)) / 2 };
  }

  // The bodies from far to near, and by which sides of the planes that is so.
  function ordered(space, faces) {
    const found = [];
    const signs = [];
    (function walk(part) {
      if (part.bodies) return found.push(...part.bodies);
      const isBefore = faces[part.normal] > 0;
      signs.push(isBefore ? "1" : "0");
      walk(isBefore ? part.behind : part.before);
      found.push(...part.on);
      return walk(isBefore ? part.before : part.behind);
    })(space.tree);
    return [found, signs.join("")];
  }

  function paint() {
    const { points, normals, centre, svg } = shown;
    const [a, e] = [look.azimuth, look.elevation].map((degrees) => (degrees * Math.PI) / 180);
    const right = [Math.cos(a), Math.sin(a), 0];
    const up = [-Math.sin(e) * Math.sin(a), Math.sin(e) * Math.cos(a), Math.cos(e)];
    const towards = [Math.cos(e) * Math.sin(a), -Math.cos(e) * Math.cos(a), Math.sin(e)];
    const dot = (one, other) => one[0] * other[0] + one[1] * other[1] + one[2] * other[2];
    const places = [];
    for (let index = 0; index < points.length; index += 3) {
      const from = [points[index] - centre[0], points[index + 1] - centre[1], points[index + 2] - centre[2]];
      places.push(`${Math.round(dot(from, right))} ${Math.round(-dot(from, up))}`);
    }
    const faces = normals.map((normal) => dot(normal, towards));
    const [bodies, signs] = ordered(shown, faces);
    if (signs !== shown.signs) svg.append(...bodies.map((body) => body.group));
    shown.signs = signs;
    for (const { facets, edges, lines } of bodies) {
      for (const each of facets) {
        const isSeen = faces[each.normal] > EDGE_ON;
        if (isSeen) each.path.setAttribute("d", `M${each.points.map((point) => places[point]).join("L")}Z`);
        else if (each.isSeen) each.path.removeAttribute("d");
        each.isSeen = isSeen;
      }
      let drawn = "";
      for (const { from, to, normals: beside } of edges) {
        if (faces[beside[0]] > EDGE_ON || faces[beside[1]] > EDGE_ON) drawn += `M${places[from]}L${places[to]}`;
      }
      lines.setAttribute("d", drawn);
    }
  }

  function where() {
    const { places, above, below, straightAbove, straightBelow, turned } = shown.words;
    const eighth = ((Math.round(look.azimuth / 45) % 8) + 8) % 8;
    let place = places[eighth];
    if (Math.abs(look.elevation) > 67.5) place = look.elevation > 0 ? straightAbove : straightBelow;
    else if (Math.abs(look.elevation) > 10) place = (look.elevation > 0 ? above : below).replace("{place}", place);
    return turned.replace("{place}", place);
  }

  let frame = 0;
  let rest = 0;
  function to(azimuth, elevation) {
    look = { azimuth: ((azimuth % 360) + 360) % 360, elevation: Math.max(-90, Math.min(90, elevation)) };
    frame ||= requestAnimationFrame(() => {
      frame = 0;
      if (shown) paint();
    });
    clearTimeout(rest);
    rest = setTimeout(tell, REST);
  }

  function tell() {
    if (!shown) return;
    one("#whole .seen").textContent = where();
    pieces.ready();
  }

  function switched() {
    for (const box of all("input[name=picture-layer]")) {
      box.checked = !off.has(box.value);
    }
    for (const { group } of shown.bodies) group.classList.toggle("off", off.has(group.dataset.layer));
  }

  function ready() {
    const holder = one("#whole .turn");
    if (!holder) shown = null;
    if (!holder || (shown && shown.svg.parentElement === holder)) return;
    shown = built(JSON.parse(document.getElementById("space").textContent));
    look ??= { ...shown.look };
    const { radius } = shown;
    shown.svg = node("svg", { class: "picture", viewBox: [-radius, -radius, 2 * radius, 2 * radius].join(" "), "stroke-width": radius / 500 });
    holder.replaceChildren(shown.svg);
    one("#whole .turntable").hidden = false;
    for (const fixed of all("#whole .four-sides")) fixed.hidden = true;
    switched();
    paint();
    tell();
  }

  let from = null;
  let hasMoved = false;
  on("pointerdown", "#whole .turn", (holder, event) => {
    if (event.button !== 0) return;
    from = { x: event.clientX, y: event.clientY, ...look, holder };
    hasMoved = false;
  });
  document.addEventListener("pointermove", (event) => {
    if (!from) return;
    const [dx, dy] = [event.clientX - from.x, event.clientY - from.y];
    // A press that hardly moves is a touch of a piece.
    if (!hasMoved && Math.hypot(dx, dy) < 5) return;
    if (!hasMoved) from.holder.setPointerCapture?.(event.pointerId);
    hasMoved = true;
    to(from.azimuth - DRAG * dx, from.elevation + DRAG * dy);
  });
  for (const end of ["pointerup", "pointercancel"]) document.addEventListener(end, () => { from = null; });
  document.addEventListener("click", (event) => {
    if (hasMoved && event.target.closest?.("#whole .turn")) event.stopPropagation();
    hasMoved = false;
  }, true);

  const TURNS = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
  on("keydown", "#whole .turn", (holder, event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    if (event.target !== holder) {
      if (event.key === "Escape") holder.focus();
      return;
    }
    const step = STEPS[event.shiftKey ? 1 : 0];
    const [across, over] = TURNS[event.key] ?? [0, 0];
    if (event.key === "Enter") one(".piece[tabindex='0']", holder)?.focus();
    else if (event.key in TURNS) to(look.azimuth + step * across, look.elevation + step * over);
    else return;
    event.preventDefault();
  });
  on("click", "[data-turn]", (button) => to(...button.dataset.turn.split(" ").map(Number)));
  on("change", "input[name=picture-layer]", (box) => {
    off[box.checked ? "delete" : "add"](box.value);
    switched();
    pieces.ready();
  });
  document.addEventListener("drawn", ready);
  ready();

  return { to };
})();
