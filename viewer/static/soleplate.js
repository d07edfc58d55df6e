// What the page adds where a script runs: one wall at a time, layers, and the cut card.
// All texts and figures come from the document.
"use strict";

const all = (selector, within = document) => Array.from(within.querySelectorAll(selector));
const walls = all(".wall");
const card = document.getElementById("cut-card");

for (const part of all(".live-only")) part.hidden = false;

// One wall at a time, chosen by the address's fragment.

function showWall(id) {
  for (const wall of walls) wall.hidden = id !== null && wall.id !== id;
  for (const link of all(".plan a")) {
    if (link.dataset.wall === id) link.setAttribute("aria-current", "true");
    else link.removeAttribute("aria-current");
  }
}

function follow() {
  const id = location.hash.slice(1);
  if (id === "walls") return showWall(null);
  const chosen = walls.find((wall) => wall.id === id);
  if (!chosen) return undefined;
  showWall(id);
  closeCard();
  chosen.focus({ preventScroll: true });
  return chosen.scrollIntoView({ block: "nearest" });
}

// Layers

for (const box of all("input[name=layer]")) {
  const apply = () => {
    for (const part of all(`.layer.${box.value}`)) part.classList.toggle("off", !box.checked);
  };
  box.addEventListener("change", apply);
  apply();
}

// Pieces: one stop of the Tab key for each drawing, arrow keys within it.

const pieces = all(".wall .piece");
const alike = new Map();
for (const piece of pieces) {
  alike.set(piece.dataset.cut, [...(alike.get(piece.dataset.cut) ?? []), piece]);
}

function middle(piece) {
  const box = piece.getBBox();
  return [box.x + box.width / 2, box.y + box.height / 2];
}

// The nearest piece in a direction; one that lies level with this one, even in part, comes first.
function towards(piece, others, [dx, dy]) {
  const here = piece.getBBox();
  const [x, y] = middle(piece);
  let best = null;
  let least = Infinity;
  for (const other of others) {
    const there = other.getBBox();
    const [ox, oy] = middle(other);
    const along = (ox - x) * dx + (oy - y) * dy;
    const across = dx !== 0 ? gap(here.y, here.height, there.y, there.height) : gap(here.x, here.width, there.x, there.width);
    const aside = Math.abs((ox - x) * dy) + Math.abs((oy - y) * dx);
    const cost = along + 2 * across + 0.2 * aside;
    if (other !== piece && along > 1 && across < 2 * along && cost < least) {
      best = other;
      least = cost;
    }
  }
  return best;
}

function gap(start, size, otherStart, otherSize) {
  return Math.max(0, otherStart - start - size, start - otherStart - otherSize);
}

const DIRECTIONS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

function goTo(piece, group) {
  for (const other of group) other.setAttribute("tabindex", other === piece ? "0" : "-1");
  piece.focus();
  piece.scrollIntoView({ block: "nearest", inline: "nearest" });
  if (!card.hidden) fillCard(piece);
}

function light(piece, on) {
  piece.classList.toggle("at", on);
  for (const other of alike.get(piece.dataset.cut)) other.classList.toggle("alike", on);
  document.getElementById(`cut-${piece.dataset.cut}`)?.classList.toggle("alike", on);
}

for (const drawing of all(".wall .elevation")) {
  const group = all(".piece", drawing).sort((one, other) => {
    const [a, b] = [middle(one), middle(other)];
    return a[0] - b[0] || b[1] - a[1];
  });
  group.forEach((piece, index) => {
    piece.setAttribute("tabindex", index === 0 ? "0" : "-1");
    piece.setAttribute("role", "button");
    piece.setAttribute("aria-controls", card.id);
    piece.setAttribute("aria-label", piece.querySelector("title").textContent);
    piece.addEventListener("pointerenter", () => light(piece, true));
    piece.addEventListener("pointerleave", () => light(piece, piece === document.activeElement));
    piece.addEventListener("focus", () => light(piece, true));
    piece.addEventListener("blur", () => light(piece, false));
    piece.addEventListener("click", () => {
      goTo(piece, group);
      openCard(piece);
    });
    piece.addEventListener("keydown", (event) => {
      if (event.altKey || event.ctrlKey || event.metaKey) return;
      let next = null;
      if (event.key in DIRECTIONS) next = towards(piece, group, DIRECTIONS[event.key]);
      else if (event.key === "Home") next = group[0];
      else if (event.key === "End") next = group[group.length - 1];
      else if (event.key === "Enter" || event.key === " ") openCard(piece);
      else return;
      event.preventDefault();
      if (next) goTo(next, group);
    });
  });
}

for (const row of all(".cutting tr[data-cut]")) {
  const mates = alike.get(row.dataset.cut) ?? [];
  row.addEventListener("pointerenter", () => mates.forEach((piece) => piece.classList.add("alike")));
  row.addEventListener("pointerleave", () => mates.forEach((piece) => piece.classList.remove("alike")));
}

// The cut card: filled from the piece and from its row of the cutting list.

let opener = null;

function fillCard(piece) {
  opener = piece;
  const row = document.getElementById(`cut-${piece.dataset.cut}`);
  for (const slot of all("[data-slot]", card)) {
    const name = slot.dataset.slot;
    slot.textContent = piece.dataset[name] ?? row.querySelector(`[data-field="${name}"]`)?.textContent ?? "";
  }
  card.querySelector(".in-row").setAttribute("href", `#${row.id}`);
}

function openCard(piece) {
  fillCard(piece);
  card.hidden = false;
}

function closeCard() {
  card.hidden = true;
}

card.querySelector(".close").addEventListener("click", () => {
  closeCard();
  opener?.focus();
});
document.addEventListener("keydown", (event) => {
  if (event.key !== "Escape" || card.hidden) return;
  closeCard();
  opener?.focus();
});

addEventListener("hashchange", follow);
if (walls.length > 0) showWall(walls[0].id);
follow();
