// The cut card: filled from a piece and from its row of the cutting list, whose texts and drawings it takes.
"use strict";

const card = (() => {
  const { all, one, on } = page;
  const shown = document.getElementById("cut-card");
  let mark = null;

  // Fill the slots of a card from a row of the cutting list, and from a piece where there is one.
  function fill(holder, row, piece = null) {
    for (const slot of all("[data-slot]", holder)) {
      const name = slot.dataset.slot;
      slot.textContent = (name === "role" && piece ? page.role(piece.dataset.role) : piece?.dataset[name]) ?? one(`[data-field="${name}"]`, row)?.textContent ?? "";
    }
    for (const slot of all("[data-slot=stock]", holder)) slot.textContent = stockOf(piece?.dataset.mark, row);
    for (const slot of all("[data-slot=place]", holder)) {
      slot.textContent = piece ? `${piece.dataset.part ?? piece.closest(".wall").dataset.name}, ${piece.dataset.place}` : "";
    }
    const drawn = one("[data-drawn=ends]", row);
    for (const slot of all("[data-drawn]", holder)) {
      slot.replaceChildren(...Array.from(drawn?.childNodes ?? [], (node) => node.cloneNode(true)));
    }
  }

  // The lengths that a piece, or all of a row, is sawn from, as the saw plan says.
  function stockOf(wanted, row) {
    const marks = wanted ? [wanted] : one("[data-field=marks]", row).textContent.split(", ");
    const found = all("[data-sawn]").filter((length) => {
      const sawn = length.dataset.sawn.split(" ");
      return marks.some((each) => sawn.includes(each));
    });
    return Array.from(new Set(found.map((length) => length.dataset.from))).join("; ");
  }

  function fillFrom(piece) {
    mark = piece.dataset.mark;
    const row = pieces.rowOf(piece.dataset.cut);
    // The list follows the drawing: until it does, nothing is said that may be of another piece.
    if (!row || !one("[data-field=marks]", row).textContent.split(", ").includes(mark)) {
      for (const slot of all("[data-slot], [data-drawn]", shown)) slot.textContent = "";
      one("[data-slot=mark]", shown).textContent = mark;
      return;
    }
    fill(shown, row, piece);
    one(".in-row", shown).setAttribute("href", `#${row.id}`);
  }

  function open(piece) {
    fillFrom(piece);
    shown.hidden = false;
    piece.scrollIntoView({ block: "nearest", inline: "nearest" });
  }

  // The same piece as it is drawn now: of several parts in the picture the first that is seen.
  function drawn() {
    const found = all(":is(.wall, .turn) .piece").filter((piece) => piece.dataset.mark === mark);
    return found.find((piece) => piece.getClientRects().length > 0) ?? found[0];
  }

  function close() {
    if (shown.hidden) return;
    shown.hidden = true;
    drawn()?.focus({ preventScroll: true });
  }

  // The card of a piece that is drawn afresh says what holds now; that of one that is gone closes.
  function follow() {
    if (shown.hidden) return;
    const piece = drawn();
    if (piece) fillFrom(piece);
    else shown.hidden = true;
  }

  document.addEventListener("piece", (event) => {
    if (!shown.hidden) fillFrom(event.detail);
  });
  document.addEventListener("drawn", follow);
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && !shown.hidden) close();
  });
  on("click", "#cut-card .in-row", () => close());
  page.actions["close-card"] = close;

  return { open, close, stockOf };
})();
