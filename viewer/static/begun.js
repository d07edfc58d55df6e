// What is begun with when something is added, or another kind of it is picked: it draws at once, and keeps
// what can be kept of what was there.
"use strict";

const begun = (() => {
  const { data, all, one } = page;
  const { resolved, isLength } = schema;
  const { mm, exact, fromMm } = lengths;
  const SIDES = ["front", "right", "back", "left"];
  // Degrees and mm: of a roof and walls of which nothing is known.
  const [USUAL_PITCH, USUAL_HEIGHT, USUAL_WIDTH] = [8, 2100, 2400];

  // An example of a rule, or the members that must be given. The schema's own lengths are in mm.
  function of(part) {
    const found = resolved(part);
    if (found.const !== undefined) return found.const;
    if (found.examples?.length) return schema.withLengths(found, found.examples[0], (value) => (typeof value === "number" ? fromMm(value) : value));
    if (found.enum) return found.enum[0];
    if (found.oneOf) return of(found.oneOf[0]);
    if (isLength(found)) return Math.min(Math.max(fromMm(1000), fromMm(found["x-least-mm"] ?? 0)), fromMm(found["x-most-mm"] ?? 1e5));
    if (found.prefixItems) return building.get(["frame", "section"]) ?? found.prefixItems.map(of);
    if (found.type === "array") return Array.from({ length: found.minItems ?? 0 }, () => of(found.items));
    if (found.type === "object") {
      const made = Object.fromEntries((found.required ?? []).map((name) => [name, of(found.properties[name])]));
      // A length on sale is what a stock timber is for, an edge what an opening's place is.
      if (found.properties?.lengths) made.lengths = [{ length: fromMm(4800) }];
      if (found.properties?.centre) made.left = 0;
      return made;
    }
    if (found.type === "integer" || found.type === "number") return found.minimum ?? 1;
    if (found.type === "boolean") return false;
    return "new";
  }

  // Another rule of a family: what both say in words or numbers, such as a material, is kept; sizes are its own.
  function rule(kind, value, by) {
    const made = of(kind);
    for (const [name, member] of Object.entries(kind.properties)) {
      const found = resolved(member);
      const isSaid = ["string", "number"].includes(found.type) && !found.enum && found.const === undefined;
      if (name !== by && isSaid && typeof value?.[name] === found.type) made[name] = value[name];
    }
    return made;
  }

  const along = () => Number(one(".wall .elevation")?.dataset.along ?? 2400);

  // The drawn pieces of these roles, as their corners in mm, whichever side the wall is seen from.
  function drawn(roles) {
    const length = along();
    const isMirrored = one(".wall")?.dataset.side === "inside";
    return all(".wall .piece").filter((piece) => roles.includes(piece.dataset.role)).map((piece) => piece.getAttribute("points").trim()
      .split(/\s+/).map((pair) => pair.split(",").map(Number)).map(([x, y]) => [isMirrored ? length - x : x, y]));
  }

  // The underside of the top plate over a stretch of the wall that is drawn, mm.
  function roomUp(left, right) {
    const under = drawn(data.tops).flatMap((points) =>
      [left, right].map((x) => Math.min(...points.flatMap(([x0, y0], index) => {
        const [x1, y1] = points[(index + 1) % points.length];
        if (x < Math.min(x0, x1) || x > Math.max(x0, x1)) return [];
        return x0 === x1 ? [-y0, -y1] : [-(y0 + (y1 - y0) * (x - x0) / (x1 - x0))];
      }))));
    return Math.min(2100, ...under.filter(Number.isFinite));
  }

  // mm: the usual width of an opening, and the least that is worth beginning with.
  const WIDTHS = { door: [800, 600], window: [600, 300], gap: [800, 300] };

  // Where an opening stands by its entries, mm.
  function entered(opening) {
    const { at, unit, allowance } = opening;
    const width = unit ? (mm(unit.width) ?? 0) + 2 * (mm(allowance?.sides) ?? 0) : mm(opening.width) ?? 0;
    const left = mm(at?.left) ?? (at?.right === undefined ? (mm(at?.centre) ?? 0) - width / 2 : along() - (mm(at.right) ?? 0) - width);
    return [left, left + width];
  }

  // What stands where it is whatever the studs do takes its place beside what is drawn of an opening.
  // The stretches of the wall between its ends, corners and openings with their framing, mm, widest first. What
  // was added since it was last drawn stands where it is entered.
  function stretches(others) {
    const [length, breadth] = [along(), mm(building.get(["frame", "section", 0])) ?? 45];
    const holes = all(".hole").map(({ dataset }) => [Number(dataset.left), Number(dataset.right)]);
    const framing = drawn(data.fixed).map((points) => points.map(([x]) => x)).map((xs) => [Math.min(...xs), Math.max(...xs)]);
    const taken = [...holes, ...framing, ...others.map(entered), [length - breadth, length]].sort((a, b) => a[0] - b[0]);
    const free = [];
    let from = breadth;
    for (const [left, right] of taken) {
      if (left > from) free.push([from, left]);
      from = Math.max(from, right);
    }
    return free.sort((a, b) => (b[1] - b[0]) - (a[1] - a[0]));
  }

  // A new opening in the widest stretch of the wall where it fits with its framing, of a usual width or less;
  // `null` where none does. Whether one fits is what `fits` says, of the opening and of whether it takes more than
  // half of the stretch.
  async function opening(kind, others, fits) {
    const [usual, least] = WIDTHS[kind];
    for (const [from, to] of stretches(others)) {
      const half = Math.min(usual, Math.floor((to - from) / 2));
      for (const width of half > least ? [half, least] : [least]) {
        if (width > to - from) continue;
        const made = sized(kind, others, Math.round((from + to - width) / 2), width);
        if (await fits(made, width > half)) return made;
      }
    }
    return null;
  }

  function sized(kind, others, left, width) {
    const breadth = mm(building.get(["frame", "section", 0])) ?? 45;
    const room = Math.max(Math.floor((roomUp(left, left + width) - breadth) / 10) * 10 - 10, 100);
    const sill = kind === "window" ? Math.min(900, Math.floor(room / 2)) : 0;
    const height = Math.min(kind === "window" ? 600 : 1900, room - sill);
    let number = 1;
    while (others.some((other) => other.name === `${kind} ${number}`)) number += 1;
    return {
      name: `${kind} ${number}`, kind, width: fromMm(width), height: fromMm(height), at: { left: fromMm(left) },
      ...(sill ? { sill: fromMm(sill) } : {}),
    };
  }

  const depthOf = (name) => mm(building.get(["walls", name, "frame", "section", 1]) ?? building.get(["frame", "section", 1])) ?? 0;

  // The plan as a rectangle, mm, with the walls' present names as front, right, back and left.
  function plan() {
    const outline = building.get(["outline"]) ?? {};
    if (outline.corners) {
      const read = outline.corners.map(([x, y]) => [mm(x) ?? 0, mm(y) ?? 0]);
      const names = outline.names ?? read.map((corner, index) => String.fromCharCode(65 + index));
      const sides = read.map((corner, index) => ({ name: names[index], a: corner, b: read[(index + 1) % read.length] }));
      const [xs, ys] = [read.map(([x]) => x), read.map(([, y]) => y)];
      const lying = (axis, at) => sides.filter(({ a, b }) => a[axis] === at && b[axis] === at)
        .sort((one, other) => span(other) - span(one))[0]?.name;
      const span = ({ a, b }) => Math.abs(a[0] - b[0]) + Math.abs(a[1] - b[1]);
      return {
        length: Math.max(...xs) - Math.min(...xs), width: Math.max(...ys) - Math.min(...ys), through: outline.through,
        names: [lying(1, Math.min(...ys)), lying(0, Math.max(...xs)), lying(1, Math.max(...ys)), lying(0, Math.min(...xs))],
      };
    }
    if (outline.walls) {
      const [first, second] = outline.walls;
      return {
        length: mm(first?.length) ?? USUAL_WIDTH,
        width: second ? mm(second.length) + 2 * depthOf(first.name) : USUAL_WIDTH,
        names: outline.walls.map(({ name }) => name),
      };
    }
    return { length: mm(outline.length) ?? USUAL_WIDTH, width: mm(outline.width) ?? USUAL_WIDTH, through: outline.through, names: SIDES };
  }

  // mm that a wall must be high for an opening: up to its head, what lies over it, and the plates.
  function needed(opening) {
    const breadth = mm(building.get(["frame", "section", 0])) ?? 0;
    const { unit, allowance } = opening;
    const height = unit ? (mm(unit.height) ?? 0) + (mm(allowance?.head) ?? 0) + (mm(allowance?.sill) ?? 0) : mm(opening.height) ?? 0;
    const lintel = opening.framing?.lintel;
    // One that is let in takes its room from the opening.
    const over = lintel?.let_in ? 0 : mm(lintel?.section?.[1]) ?? breadth;
    return (mm(opening.sill) ?? 0) + height + over + 2 * breadth;
  }

  const roomFor = (walls) => Math.max(0, ...walls.flatMap((wall) => wall?.openings ?? []).map(needed));
  // Ten mm, or half an inch, at the least.
  const upwards = (length) => {
    const step = lengths.unit() === "in" ? 12.7 : 10;
    return Math.ceil(length / step - 1e-6) * step;
  };

  // A height as it was said, unless the openings need more.
  function high(said, length) {
    const least = upwards(roomFor(Object.values(building.get(["walls"]) ?? {})));
    return length >= least ? said ?? exact(length) : exact(least);
  }

  // What a roof says, whichever two of its measures it gives: the low height in mm, and degrees.
  function measures(roof) {
    if (!roof) return { low: USUAL_HEIGHT, pitch: USUAL_PITCH };
    if (roof.form === "level") return { low: mm(roof.height) ?? USUAL_HEIGHT, said: roof.height, pitch: USUAL_PITCH };
    const { length, width, names } = plan();
    const isAcross = ["front", "back"].includes(roof.high_side) || roof.ridge === "left-right";
    const span = isAcross ? width : length;
    const run = roof.form === "mono-pitch" ? span - depthOf(names[SIDES.indexOf(roof.high_side)]) : span / 2 + Math.abs(mm(roof.ridge_offset) ?? 0);
    const [low, top] = [mm(roof.low_height), mm(roof.high_height ?? roof.ridge_height)];
    const pitch = roof.pitch ?? (low !== null && top > low ? Number((Math.atan((top - low) / run) * 180 / Math.PI).toFixed(3)) : USUAL_PITCH);
    return { low: low ?? (top ?? USUAL_HEIGHT) - run * Math.tan(pitch * Math.PI / 180), said: roof.low_height, pitch };
  }

  // Another roof over the same walls, as low and as steep.
  function roof(form) {
    const before = building.get(["roof"]);
    const { low, said, pitch } = measures(before);
    if (form === "level") return { form, height: high(said, low) };
    const isAcross = before?.ridge ? before.ridge === "left-right" : !["left", "right"].includes(before?.high_side);
    const way = form === "mono-pitch" ? { high_side: isAcross ? "front" : "right" } : { ridge: isAcross ? "left-right" : "front-back" };
    return { form, ...way, low_height: high(said, low), pitch };
  }

  // The whole file with another outline: walls keep what is said of them, by their new names.
  function outlined(outline, names, changes = {}) {
    const renamed = (said) => Object.fromEntries(Object.entries(said ?? {}).filter(([name]) => names.has(name)).map(([name, value]) => [names.get(name), value]));
    const file = { ...building.file, ...changes, outline };
    for (const name of ["walls", "measured"]) {
      if (file[name]) file[name] = renamed(file[name]);
    }
    if (file.site?.room) file.site = { ...file.site, room: renamed(file.site.room) };
    if (changes.roof === null) delete file.roof;
    // A floor lies under a rectangle alone, and so is a roof framed.
    if (outline.length === undefined) {
      delete file.floor;
      if (file.roof?.frame) file.roof = Object.fromEntries(Object.entries(file.roof).filter(([name]) => name !== "frame"));
    }
    return file;
  }

  // The file with its outline as a rectangle, as a closed plan of four corners, or as walls on their own.
  async function outline(kind) {
    const now = plan();
    const names = new Map(now.names.slice(0, 4).map((name, index) => [name, SIDES[index]]));
    const through = now.through ? { through: now.through } : {};
    const [length, width] = [exact(now.length), exact(now.width)];
    const single = building.get(["outline", "walls"]);
    const heights = (single ?? []).flatMap((wall) => (wall.heights ?? []).map(mm));
    const roofed = building.get(["roof"]) ? {} : { roof: { form: "level", height: high(undefined, Math.max(0, ...heights) || USUAL_HEIGHT) } };
    if (kind === "Rectangle") return outlined({ length, width, ...through }, names, roofed);
    if (kind === "ClosedPlan") {
      return outlined({ corners: [[0, 0], [length, 0], [length, width], [0, width]], names: SIDES, ...through }, names, roofed);
    }
    const walls = await drawnWalls();
    return outlined({ walls }, new Map(walls.map(({ name }) => [name, name])), { roof: null });
  }

  // The walls as they are laid out, each on its own; of a building that cannot be, those round a rectangle.
  async function drawnWalls() {
    const answer = drawing.isGood ? await drawing.ask("/v1/layouts", building.file).catch(() => null) : null;
    const laidOut = answer?.ok ? (await answer.json()).walls : SIDES.map((name, index) => (
      { name, length: index % 2 ? plan().width : plan().length, top_line: [[0, USUAL_HEIGHT]] }));
    return laidOut.map(({ name, length, top_line: top }) => {
      const least = upwards(roomFor([building.get(["walls", name])]));
      const [left, right] = [top[0][1], top[top.length - 1][1]];
      const isLevel = Math.abs(left - right) < 0.5;
      const heights = [left, right].map((height) => exact(isLevel ? Math.max(height, Math.min(least, Math.max(...top.map(([, z]) => z)))) : height));
      return { name, length: exact(length), heights, ...(isLevel ? { carries_roof: true } : {}) };
    });
  }

  return { of, rule, opening, roof, outline };
})();
