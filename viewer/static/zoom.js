// Nearer and further: the drawing grows within its board, which scrolls; the tape below it stretches along
// the wall in the same measure and keeps its height, so both stay in step however the board is moved.
"use strict";

const zoom = (() => {
  const { all, one, on } = page;
  const NEAREST = 12;
  const STEP = 1.25;
  let seen = { wall: null, near: 1, left: 0, top: 0 };

  const boxOf = (drawing) => {
    const held = drawing.dataset.view ?? (drawing.dataset.view = drawing.getAttribute("viewBox"));
    return held.split(" ").map(Number);
  };
  const naturalWidth = (drawing) => Number(drawing.getAttribute("width"));
  const lookOf = (board) => {
    const wall = board.closest(".wall");
    return `${wall.id} ${wall.dataset.side}`;
  };

  // Pixels for a millimetre when the drawing just fits the board, and when its lettering can just be read.
  function scales(board) {
    const drawing = one(".elevation", board);
    const [, , width, height] = boxOf(drawing);
    const strip = one(".tape-strip", board);
    const tall = height + (strip ? boxOf(strip)[3] : 0);
    const style = getComputedStyle(board);
    const room = parseFloat(style.maxHeight) || Infinity;
    const fits = Math.min(board.clientWidth / width, (room - 2) / tall);
    const legible = naturalWidth(drawing) / width;
    return { width, whole: Math.max(fits, legible), least: Math.min(1, fits / Math.max(fits, legible)) };
  }

  function apply(board, near) {
    const { width, whole, least } = scales(board);
    const now = Math.min(Math.max(near, least), NEAREST);
    const drawing = one(".elevation", board);
    const strip = one(".tape-strip", board);
    drawing.style.width = `${width * whole * now}px`;
    board.dataset.near = now.toFixed(4);
    if (!strip) return now;
    const [left, top, , height] = boxOf(strip);
    const stretch = Math.max(now, 1);
    strip.style.width = `${width * whole * now}px`;
    strip.style.height = `${height * whole * Math.min(now, 1)}px`;
    strip.setAttribute("viewBox", `${left * stretch} ${top} ${width * stretch} ${height}`);
    for (const group of all(".scaled", strip)) group.setAttribute("transform", `scale(${stretch} 1)`);
    for (const mark of all(".mark", strip)) {
      mark.setAttribute("transform", `translate(${(stretch - 1) * Number(mark.dataset.x)} 0)`);
    }
    return now;
  }

  // The place under (x, y), in pixels from the board's corner, stays there.
  function to(board, near, x = board.clientWidth / 2, y = board.clientHeight / 2) {
    const drawing = one(".elevation", board);
    const before = drawing.getBoundingClientRect();
    const along = (board.scrollLeft + x) / before.width;
    const down = (board.scrollTop + y) / before.height;
    const now = apply(board, near);
    const after = drawing.getBoundingClientRect();
    board.scrollLeft = along * after.width - x;
    board.scrollTop = down * after.height - y;
    remember(board, now);
  }

  const nearOf = (board) => Number(board.dataset.near ?? 1);
  const by = (board, factor, x, y) => to(board, nearOf(board) * factor, x, y);

  function remember(board, near = nearOf(board)) {
    seen = { wall: lookOf(board), near, left: board.scrollLeft, top: board.scrollTop };
  }

  // A drawing made afresh is shown as the one before it was.
  function ready() {
    for (const board of boards()) {
      board.classList.add("fitted");
      const isSame = lookOf(board) === seen.wall;
      apply(board, isSame ? seen.near : 1);
      if (isSame) {
        board.scrollLeft = seen.left;
        board.scrollTop = seen.top;
      }
      board.addEventListener("scroll", () => remember(board), { passive: true });
    }
  }

  const boards = () => all(".wall:not([hidden]) .board").filter((board) => one(".elevation", board));
  const current = () => document.activeElement?.closest?.(".board") ?? boards()[0];

  on("wheel", ".board.fitted", (board, event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    const corner = board.getBoundingClientRect();
    by(board, Math.exp(-event.deltaY / 300), event.clientX - corner.left, event.clientY - corner.top);
  }, { passive: false });

  // Two fingers
  let pinch = null;
  const between = (touches) => {
    const [a, b] = touches;
    return { apart: Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY), x: (a.clientX + b.clientX) / 2, y: (a.clientY + b.clientY) / 2 };
  };
  on("touchstart", ".board.fitted", (board, event) => {
    if (event.touches.length !== 2) return;
    // Else the browser pans with them, and keeps their moves to itself.
    event.preventDefault();
    pinch = { board, near: nearOf(board), apart: between(event.touches).apart };
  }, { passive: false });
  on("touchmove", ".board.fitted", (board, event) => {
    if (!pinch || event.touches.length !== 2) return;
    event.preventDefault();
    const { apart, x, y } = between(event.touches);
    const corner = pinch.board.getBoundingClientRect();
    to(pinch.board, pinch.near * apart / pinch.apart, x - corner.left, y - corner.top);
  }, { passive: false });
  document.addEventListener("touchend", () => { pinch = null; });

  // A mouse drags the paper.
  let drag = null;
  on("pointerdown", ".board.fitted", (board, event) => {
    if (event.pointerType !== "mouse" || event.button !== 0 || event.target.closest(".hole, .flag")) return;
    drag = { board, x: event.clientX, y: event.clientY, left: board.scrollLeft, top: board.scrollTop, moved: false };
  });
  document.addEventListener("pointermove", (event) => {
    if (!drag) return;
    const [dx, dy] = [event.clientX - drag.x, event.clientY - drag.y];
    drag.moved ||= Math.hypot(dx, dy) > 4;
    if (!drag.moved) return;
    drag.board.scrollLeft = drag.left - dx;
    drag.board.scrollTop = drag.top - dy;
  });
  document.addEventListener("pointerup", () => {
    if (drag?.moved) addEventListener("click", (event) => event.stopPropagation(), { capture: true, once: true });
    setTimeout(() => { drag = null; });
  });

  on("keydown", ".board.fitted", (board, event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "+" || event.key === "=") by(board, STEP);
    else if (event.key === "-") by(board, 1 / STEP);
    else if (event.key === "0") to(board, 1);
    else return;
    event.preventDefault();
  });

  Object.assign(page.actions, {
    nearer: () => by(current(), STEP),
    further: () => by(current(), 1 / STEP),
    fit: () => to(current(), 1),
  });

  document.addEventListener("drawn", ready);
  addEventListener("resize", () => boards().forEach((board) => apply(board, nearOf(board))));

  return { ready };
})();
