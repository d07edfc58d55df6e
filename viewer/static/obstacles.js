// Obstacles as rectangles on the plan: where each stands in the world, and how one that was drawn is told. What
// lies outside a wall is told from that wall, so that it keeps its distance; all else by its corners. Lengths are mm.
"use strict";

const obstacles = (() => {
  const { all } = page;
  const { mm, fromMm } = lengths;
  // As the building file has them where nothing is said.
  const USUAL = { thick: 300, past: 1000, top: 1800 };

  const list = () => building.get(["site", "obstacles"]) ?? [];

  // The walls as the plan has them: the outer face runs from their first corner to the second.
  function walls() {
    return all("#way .plan a[data-wall]").filter((link) => link.querySelector(".timber")).map((link) => {
      const corners = link.querySelector(".timber").getAttribute("points").trim().split(/\s+/)
        .map((pair) => pair.split(",").map(Number)).map(([x, y]) => [x, -y]);
      const [[x0, y0], [x1, y1]] = corners;
      const length = Math.hypot(x1 - x0, y1 - y0);
      const name = decodeURIComponent(link.dataset.wall.replace(/^wall-/, ""));
      return { name, corners, length, origin: [x0, y0], run: [(x1 - x0) / length, (y1 - y0) / length] };
    });
  }

  const world = ({ origin: [x, y], run: [u, v] }, [s, t]) => [x + s * u - t * v, y + s * v + t * u];
  const local = ({ origin: [x, y], run: [u, v] }, [px, py]) => [(px - x) * u + (py - y) * v, (py - y) * u - (px - x) * v];

  // The corners of an obstacle; none of one that is not whole yet.
  function corners(one) {
    if (one.polygon) return one.polygon.map((corner) => corner.map((each) => mm(each) ?? 0));
    const wall = walls().find(({ name }) => name === one.beside);
    const clear = mm(one.clear);
    if (!wall || clear === null) return [];
    const [from, to] = one.along?.map((each) => mm(each) ?? 0) ?? [-USUAL.past, wall.length + USUAL.past];
    const far = -clear - (mm(one.thick) ?? USUAL.thick);
    return [[to, -clear], [from, -clear], [from, far], [to, far]].map((corner) => world(wall, corner));
  }

  const isRectangle = (points) => points.length === 4 && points.every(([x, y], index) => {
    const [[px, py], [qx, qy]] = [points[(index + 3) % 4], points[(index + 1) % 4]];
    return Math.abs((x - px) * (qx - x) + (y - py) * (qy - y)) < 1;
  });

  const span = (values) => [Math.min(...values), Math.max(...values)];

  // How a rectangle with these corners is told; what else was said of it stays.
  function told(one, points) {
    const { beside, clear, thick, along, polygon, ...rest } = one;
    const found = walls().map((wall) => {
      const inside = points.map((point) => local(wall, point));
      const [[from, to], [far, near]] = [span(inside.map(([s]) => s)), span(inside.map(([, t]) => t))];
      return { name: wall.name, from, to, far, near, isBeside: near <= 0 && to > 0 && from < wall.length, isSquare: Math.abs((to - from) * (near - far) - size(points)) < 1 };
    }).filter((each) => each.isBeside && each.isSquare).sort((a, b) => b.near - a.near)[0];
    if (!found) return { ...rest, polygon: points.map((point) => point.map(fromMm)) };
    const { name, from, to, far, near } = found;
    return { ...rest, beside: name, clear: fromMm(-near), thick: fromMm(near - far), along: [fromMm(from), fromMm(to)] };
  }

  const size = (points) => Math.abs(points.reduce((sum, [x, y], index) => {
    const [px, py] = points[(index + 1) % points.length];
    return sum + x * py - px * y;
  }, 0)) / 2;

  function called() {
    const taken = new Set(list().map(({ name }) => name));
    let number = 1;
    while (taken.has(page.say("obstacle", { number }))) number += 1;
    return page.say("obstacle", { number });
  }

  // A new one of a square metre, outside the first wall and clear of those that are there.
  function another() {
    const wall = walls()[0];
    const far = Math.min(-600, ...list().flatMap((one) => corners(one).map((corner) => local(wall, corner)[1])).filter((t) => t < 0).map((t) => t - 300));
    const points = [[0, far], [1000, far], [1000, far - 1000], [0, far - 1000]].map((corner) => world(wall, corner));
    return told({ name: called(), top: fromMm(USUAL.top) }, points);
  }

  return { list, walls, corners, isRectangle, told, called, another, USUAL };
})();
