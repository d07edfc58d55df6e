// Nearer and further: the drawing grows within its board, which scrolls; the tape below it stretches along
// the wall in the same measure and keeps its height, so both stay in step however the board is moved.
"use strict";

const zoom = (() => {
  const { all, one, on } = page;
  const NEAREST = 12;
  const STEP = 1.25;
  const WHOLE = 0;
  // The share of legible lettering with which the whole is still shown at first, rather than nearly the whole.
  const NEARLY_LEGIBLE = 0.9;
  // Of a board in px, and what is lost by rounding.
  const EDGES = 4;
  let seen = { wall: null, near: 1, left: 0, top: 0 };

  const boxOf = (drawing) => {
    const held = drawing.dataset.view ?? (drawing.dataset.view = drawing.getAttribute("viewBox"));
    return held.split(" ").map(Number);
  };
  const naturalWidth = (drawing) => Number(drawing.getAttribute("width"));
  const lookOf = (board) => {
    const wall = board.closest("[data-side]");
    return `${wall.id} ${wall.dataset.side}`;
  };

  // Pixels for a millimetre at first, when the whole fits the board or else, were its lettering clearly too small
  // for that, when it can just be read; and the share of that at which the whole fits.
  function scales(board) {
    const drawing = one(".elevation", board);
    const [, , width, height] = boxOf(drawing);
    const strip = one(".tape-strip", board);
    const tall = height + (strip ? boxOf(strip)[3] : 0);
    const style = getComputedStyle(board);
    const room = parseFloat(style.maxHeight) || Infinity;
    const fits = Math.min(board.clientWidth / width, (room - EDGES) / tall);
    const legible = naturalWidth(drawing) / width;
    const first = fits < NEARLY_LEGIBLE * legible ? legible : fits;
    return { width, first, least: fits / first };
  }

  function apply(board, near) {
    const { width, first, least } = scales(board);
    const now = Math.min(Math.max(near, least), NEAREST);
    board.classList.toggle("whole-shown", near <= least);
    const drawing = one(".elevation", board);
    const strip = one(".tape-strip", board);
    drawing.style.width = `${width * first * now}px`;
    board.dataset.near = now.toFixed(4);
    if (!strip) return;
    const [left, top, , height] = boxOf(strip);
    const stretch = Math.max(now, 1);
    strip.style.width = `${width * first * now}px`;
    strip.style.height = `${height * first * Math.min(now, 1)}px`;
    strip.setAttribute("viewBox", `${left * stretch} ${top} ${width * stretch} ${height}`);
    for (const group of all(".scaled", strip)) group.setAttribute("transform", `scale(${stretch} 1)`);
    for (const mark of all(".mark", strip)) {
      mark.setAttribute("transform", `translate(${(stretch - 1) * Number(mark.dataset.x)} 0)`);
    }
  }

  // What is under (x, y), in pixels from the board's corner, as shares of the drawing's width and height.
  function placeAt(board, x, y) {
    const { width, height } = one(".elevation", board).getBoundingClientRect();
    return { along: (board.scrollLeft + x) / width, down: (board.scrollTop + y) / height };
  }

  // The drawing as near as asked for, a place of it under (x, y): the one that is there unless told.
  function to(board, near, x = board.clientWidth / 2, y = board.clientHeight / 2, place = placeAt(board, x, y)) {
    apply(board, near);
    const { width, height } = one(".elevation", board).getBoundingClientRect();
    board.scrollLeft = place.along * width - x;
    board.scrollTop = place.down * height - y;
    remember(board);
  }

  const nearOf = (board) => Number(board.dataset.near ?? 1);
  // The whole stays whole, however much room there is for it later.
  const heldOf = (board) => (board.classList.contains("whole-shown") ? WHOLE : nearOf(board));
  const by = (board, factor, x, y) => to(board, nearOf(board) * factor, x, y);

  function remember(board) {
    seen = { wall: lookOf(board), near: heldOf(board), left: board.scrollLeft, top: board.scrollTop };
  }

  // A drawing made afresh is shown as the one before it was.
  function ready() {
    for (const board of boards()) {
      hold(board);
      const isSame = lookOf(board) === seen.wall;
      apply(board, isSame ? seen.near : 1);
      if (isSame) {
        board.scrollLeft = seen.left;
        board.scrollTop = seen.top;
      }
    }
  }

  function hold(board) {
    board.classList.add("fitted");
    board.addEventListener("scroll", () => { if (board.isConnected) remember(board); }, { passive: true });
  }

  // A board of its own, elsewhere than among the walls.
  function whole(board) {
    hold(board);
    apply(board, WHOLE);
  }

  const boards = () => all(".wall:not([hidden]) .board, #bench-step div.board").filter((board) => one(".elevation", board));
  // A board that was drawn afresh under a hand is the same board.
  const asDrawn = (board) => (board.isConnected ? board : boards().find((other) => lookOf(other) === lookOf(board)));
  const current = () => document.activeElement?.closest?.(".board") ?? boards()[0];

  on("wheel", ".board.fitted", (board, event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    const corner = board.getBoundingClientRect();
    by(board, Math.exp(-event.deltaY / 300), event.clientX - corner.left, event.clientY - corner.top);
  }, { passive: false });

  // Two fingers hold the place that was between them, and are followed on what they touched: it still hears
  // of them where the drawing was made afresh meanwhile and nothing reaches the document.
  let pinch = null;
  const between = (touches, board) => {
    const [a, b] = touches;
    const corner = board.getBoundingClientRect();
    return {
      apart: Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY),
      x: (a.clientX + b.clientX) / 2 - corner.left,
      y: (a.clientY + b.clientY) / 2 - corner.top,
    };
  };
  const followed = (event) => {
    const board = asDrawn(pinch.board);
    if (event.touches.length !== 2 || !board) return;
    // One finger may have begun to pan before the other came; that cannot be stopped, only made up for.
    if (event.cancelable) event.preventDefault();
    const { apart, x, y } = between(event.touches, board);
    to(board, pinch.near * apart / pinch.apart, x, y, pinch.place);
  };
  const lifted = () => {
    pinch?.hearing.abort();
    pinch = null;
  };
  on("touchstart", ".board.fitted", (board, event) => {
    if (event.touches.length !== 2) return;
    // Else the browser pans with them, and keeps their moves to itself.
    if (event.cancelable) event.preventDefault();
    lifted();
    const hearing = new AbortController();
    const { apart, x, y } = between(event.touches, board);
    pinch = { board, near: nearOf(board), apart, place: placeAt(board, x, y), hearing };
    for (const { target } of event.touches) {
      target.addEventListener("touchmove", followed, { passive: false, signal: hearing.signal });
      for (const end of ["touchend", "touchcancel"]) target.addEventListener(end, lifted, { signal: hearing.signal });
    }
  }, { passive: false });

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
    const board = asDrawn(drag.board);
    if (!board) return;
    board.scrollLeft = drag.left - dx;
    board.scrollTop = drag.top - dy;
  });
  document.addEventListener("pointerup", () => {
    if (drag?.moved) addEventListener("click", (event) => event.stopPropagation(), { capture: true, once: true });
    setTimeout(() => { drag = null; });
  });

  on("keydown", ".board.fitted", (board, event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "+" || event.key === "=") by(board, STEP);
    else if (event.key === "-") by(board, 1 / STEP);
    else if (event.key === "0") to(board, WHOLE);
    else return;
    event.preventDefault();
  });

  Object.assign(page.actions, {
    nearer: () => by(current(), STEP),
    further: () => by(current(), 1 / STEP),
    fit: () => to(current(), WHOLE),
  });

  document.addEventListener("drawn", ready);
  addEventListener("resize", () => boards().forEach((board) => apply(board, heldOf(board))));

  return { ready, whole };
})();
