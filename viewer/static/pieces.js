// Pieces of the drawings: alike ones light up together; one stop of the Tab key for each drawing, and arrow
// keys within it. Layers are switched on and off.
"use strict";

const pieces = (() => {
  const { all, one, on } = page;

  // Pieces in the drawings of walls, and in the picture of the whole.
  const PIECE = ":is(.wall, .turn) .piece";
  const DRAWING = ":is(.wall .elevation, .turn .picture)";

  const alike = (cut) => all(`${PIECE}[data-cut="${cut}"]`);
  const rowOf = (cut) => document.getElementById(`cut-${cut}`);

  function light(piece, isLit) {
    piece.classList.toggle("at", isLit);
    for (const other of alike(piece.dataset.cut)) other.classList.toggle("alike", isLit);
    rowOf(piece.dataset.cut)?.classList.toggle("alike", isLit);
  }

  function middle(box) {
    return [box.x + box.width / 2, box.y + box.height / 2];
  }

  const gap = (start, size, otherStart, otherSize) =>
    Math.max(0, otherStart - start - size, start - otherStart - otherSize);

  // The nearest piece in a direction; one that lies level with this one, even in part, comes first.
  function towards(piece, others, [dx, dy]) {
    const here = piece.getBBox();
    const [x, y] = middle(here);
    let best = null;
    let least = Infinity;
    for (const other of others) {
      const there = other.getBBox();
      const [ox, oy] = middle(there);
      const along = (ox - x) * dx + (oy - y) * dy;
      const across = dx !== 0
        ? gap(here.y, here.height, there.y, there.height)
        : gap(here.x, here.width, there.x, there.width);
      const aside = Math.abs((ox - x) * dy) + Math.abs((oy - y) * dx);
      const cost = along + 2 * across + 0.2 * aside;
      if (other !== piece && along > 1 && across < 2 * along && cost < least) {
        best = other;
        least = cost;
      }
    }
    return best;
  }

  const DIRECTIONS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

  // Of a drawing, those that are to be seen: boards hide the frame once they are shown, and not before.
  const shown = (drawing) => all(".piece", drawing).filter((piece) => piece.getClientRects().length > 0);
  const groupOf = (piece) => shown(piece.closest(DRAWING));

  function goTo(piece) {
    for (const other of groupOf(piece)) other.setAttribute("tabindex", other === piece ? "0" : "-1");
    piece.focus({ preventScroll: true });
    piece.scrollIntoView({ block: "nearest", inline: "nearest" });
    document.dispatchEvent(new CustomEvent("piece", { detail: piece }));
  }

  function leftmost(group) {
    return group.reduce((best, piece) => {
      const [a, b] = [piece.getBBox(), best.getBBox()];
      return a.x < b.x || (a.x === b.x && a.y > b.y) ? piece : best;
    });
  }

  // Where one begins: the piece furthest left, the lowest of those, that none drawn over it hides.
  function first(group) {
    const boxes = group.map((piece) => piece.getBBox());
    const order = boxes.map((box, index) => index).sort((a, b) => boxes[a].x - boxes[b].x || boxes[b].y + boxes[b].height - boxes[a].y - boxes[a].height);
    const isSeen = (index) => {
      const [x, y] = middle(boxes[index]);
      return !boxes.some((over, other) => other > index && x > over.x && x < over.x + over.width && y > over.y && y < over.y + over.height);
    };
    return group[order.find(isSeen) ?? 0];
  }

  // After each drawing: what a script makes of the pieces, and the focus where it was.
  let last = null;

  function ready() {
    for (const drawing of all(DRAWING)) {
      const group = shown(drawing);
      if (group.length === 0) continue;
      const stop = group.find((piece) => piece.dataset.mark === last) ?? first(group);
      for (const piece of all(".piece", drawing)) {
        piece.setAttribute("tabindex", piece === stop ? "0" : "-1");
        piece.setAttribute("role", "button");
        piece.setAttribute("aria-controls", "cut-card");
        piece.setAttribute("aria-label", one("title", piece).textContent);
      }
      if (last && stop.dataset.mark === last && document.activeElement === document.body) stop.focus({ preventScroll: true });
    }
    for (const box of all("input[data-added]")) {
      switchLayer(box);
      box.parentElement.hidden = !one(`.wall .layer.${CSS.escape(box.value)} > *`);
    }
  }

  // The style sheet switches the layers that it knows, and shows their boxes where they have a use.
  function switchLayer(box) {
    for (const part of all(`.layer.${CSS.escape(box.value)}`)) part.classList.toggle("off", !box.checked);
  }

  on("pointerover", PIECE, (piece) => light(piece, true));
  on("pointerout", PIECE, (piece) => light(piece, piece === document.activeElement));
  on("focusin", PIECE, (piece) => {
    last = piece.dataset.mark;
    light(piece, true);
  });
  on("focusout", PIECE, (piece, event) => {
    light(piece, false);
    if (event.relatedTarget) last = null;
  });
  on("click", PIECE, (piece) => {
    goTo(piece);
    card.open(piece);
  });
  on("keydown", PIECE, (piece, event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const group = groupOf(piece);
    let next = null;
    if (event.key in DIRECTIONS) next = towards(piece, group, DIRECTIONS[event.key]);
    else if (event.key === "Home") next = leftmost(group);
    else if (event.key === "End") next = group[group.length - 1];
    else if (event.key === "Enter" || event.key === " ") card.open(piece);
    else return;
    event.preventDefault();
    if (next) goTo(next);
  });
  // From the board itself one goes to where one was, or begins.
  on("keydown", ".board", (board, event) => {
    if (event.target !== board || event.altKey || event.ctrlKey || event.metaKey) return;
    const stop = one(".elevation .piece[tabindex='0']", board);
    if (!stop || !(event.key in DIRECTIONS || ["Home", "End", "Enter"].includes(event.key))) return;
    event.preventDefault();
    goTo(stop);
    if (event.key === "Enter") card.open(stop);
  });
  on("pointerover", ".cutting tr[data-cut]", (row) => alike(row.dataset.cut).forEach((piece) => piece.classList.add("alike")));
  on("pointerout", ".cutting tr[data-cut]", (row) => alike(row.dataset.cut).forEach((piece) => piece.classList.remove("alike")));
  on("change", "input[name=layer]", ready);
  on("click", ".flag", (flag, event) => {
    const told = document.getElementById(decodeURIComponent(flag.getAttribute("href").slice(1)))
      ?? document.getElementById(flag.getAttribute("href").slice(1));
    if (!told) return;
    event.preventDefault();
    told.focus();
    told.scrollIntoView({ block: "center" });
  });
  document.addEventListener("drawn", ready);

  return { ready, rowOf };
})();
