// The drawing follows the building: each change is sent to the server, which draws the page's parts afresh.
// One call is on its way at a time, and after it the newest state goes. What cannot be built leaves the last
// good drawing where it is, and is told at the entries at fault.
"use strict";

const drawing = (() => {
  const { data, one, all, on, say, make, replaceParts } = page;
  const look = { wall: data.wall, side: data.side, whole: data.whole };
  // ms without a change, after which the lists follow the drawing, and then the saw plan.
  const PAUSES = [120, 700];
  const status = document.getElementById("status");
  let isWanted = false;
  let isBusy = false;
  let isGood = true;
  let why = "";
  let later = 0;
  let turn = 0;

  // A server that other machines reach asks for its token: it is held as long as the tab is open.
  let token = null;
  try {
    token = sessionStorage.getItem("soleplate:token");
  } catch {
    token = null;
  }

  async function call(path, options = {}) {
    const headers = { ...options.headers, ...(token ? { Authorization: `Bearer ${token}` } : {}) };
    const answer = await fetch(path, { ...options, headers });
    if (answer.status === 401) askForToken();
    return answer;
  }

  const ask = (path, body) =>
    call(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });

  // The page's parts of the building as it is now, or else what is wrong with it, which is no failed call.
  const askForParts = (look) => ask("/v1/boards", { building: building.file, faults: true, ...look });
  const hasParts = (answer) => answer.ok && answer.headers.get("Content-Type").startsWith("text/html");

  function askForToken() {
    const entry = make("input", { type: "password", autocomplete: "off", "aria-label": say("needToken") });
    const use = (event) => {
      event.preventDefault();
      token = entry.value;
      try {
        sessionStorage.setItem("soleplate:token", token);
      } catch {
        return draw();
      }
      return draw();
    };
    const needs = make("form", { onsubmit: use }, say("needToken"), " ", entry, " ", make("button", { type: "submit" }, say("useToken")));
    tell(needs);
  }

  async function draw() {
    isWanted = true;
    turn += 1;
    if (isBusy || !building.file) return;
    isBusy = true;
    while (isWanted) {
      isWanted = false;
      await once();
    }
    isBusy = false;
    document.dispatchEvent(new Event("at-rest"));
    clearTimeout(later);
    if (isGood) later = setTimeout(list, PAUSES[0]);
  }

  async function once() {
    const wanted = look.wall;
    let answer;
    try {
      answer = await askForParts({ wall: wanted, side: look.side, whole: look.whole, lists: false });
    } catch {
      tell(make("p", { className: "not-drawn" }, say("noServer")));
      stale(true);
      isGood = false;
      return;
    }
    if (hasParts(answer)) {
      const html = await answer.text();
      isGood = true;
      faults([]);
      reveal();
      document.getElementById("lists").setAttribute("aria-busy", "true");
      replaceParts(html);
      if (look.wall === wanted) lookAtWhatIsShown();
      return;
    }
    isGood = false;
    if (answer.status === 401) return;
    const problem = await answer.json().catch(() => ({ detail: answer.statusText }));
    faults(problem.errors ?? [{ pointer: "", detail: problem.detail ?? problem.title }], problem.more_errors);
  }

  // The lists come once the builder pauses, and the saw plan, which takes its time, after them.
  async function list() {
    if (await complete(false) && building.get(["stock", "stock"])?.length) {
      later = setTimeout(() => complete(true), PAUSES[1]);
    }
  }

  async function complete(withSawPlan) {
    const mine = turn;
    const answer = await askForParts({ wall: look.wall, side: look.side, whole: look.whole, saw_plan: withSawPlan }).catch(() => null);
    const html = answer && hasParts(answer) ? await answer.text() : null;
    // What was drawn anew meanwhile has its own lists on their way.
    if (html === null || mine !== turn) return false;
    replaceParts(html, ["way", "lists", "patterns"]);
    return true;
  }

  // The server shows the first wall where there is none of that name.
  function lookAtWhatIsShown() {
    const shown = all("#walls > .wall");
    if (look.wall !== null && shown.length === 1 && shown[0].dataset.name !== look.wall) {
      look.wall = shown[0].dataset.name;
      entries.build();
    }
  }

  function tell(...said) {
    status.replaceChildren(...said);
  }

  // Beside what is wrong, if anything is: why the page did something else than was asked for.
  function note(text) {
    one(".noted", status)?.remove();
    status.append(make("p", { className: "noted" }, text));
  }

  // What is wrong, in sight wherever the page is scrolled to, each fault with the way to its entry; `more` are counted.
  function faults(errors, more = 0) {
    const told = errors.map((error) => ({ pointer: error.pointer.replace(/^\/building/, ""), detail: entries.labelled(error.detail) }));
    why = told[0]?.detail ?? "";
    entries.showFaults(told);
    stale(told.length > 0);
    if (told.length === 0) return tell();
    const rest = more ? [make("li", {}, say("moreFaults", { count: more }))] : [];
    return tell(make("p", { className: "not-drawn" }, say("lastGood")), make("ul", {}, ...told.map(item), ...rest));
  }

  function item(fault) {
    const wall = fault.pointer.match(/^\/(?:walls|measured)\/([^/]+)/)?.[1].replaceAll("~1", "/").replaceAll("~0", "~");
    const place = entries.nearest(fault.pointer);
    if (!place && !(wall && wall !== look.wall)) return make("li", {}, fault.detail);
    const name = place ? place.dataset.label : say("thisWall", { wall });
    const go = () => {
      if (!place) choose(wall);
      const there = entries.nearest(fault.pointer);
      if (there) entries.show(there);
    };
    return make("li", {}, make("button", { type: "button", onclick: go }, `${name}: ${fault.detail}`));
  }

  // The drawing is marked as long as it is not of what is typed.
  function stale(isStale) {
    for (const wall of all("#walls > :is(.wall, .whole)")) {
      if (isStale) wall.dataset.stale = say("outOfDate");
      else delete wall.dataset.stale;
    }
  }

  function reveal() {
    one("#start").hidden = true;
    one("#desk").hidden = false;
  }

  function choose(wall, isWhole = false) {
    look.wall = wall;
    look.whole = isWhole;
    draw();
    entries.build();
  }

  on("click", ".live [data-wall]", (link, event) => {
    event.preventDefault();
    const id = link.dataset.wall;
    choose(id === "" ? null : decodeURIComponent(id.replace(/^wall-/, "")));
  });
  on("click", ".live [data-whole]", (link, event) => {
    event.preventDefault();
    choose(null, true);
  });
  on("change", "input[name=side]", (box) => {
    look.side = box.value;
    draw();
  });
  document.addEventListener("building", draw);

  // Whether another building than the one in hand could be drawn; `null` where the server does not say.
  async function tries(file) {
    const answer = await askForParts({ building: file, wall: look.wall, side: look.side, lists: false }).catch(() => null);
    return answer?.ok ? hasParts(answer) : null;
  }

  // Once what is drawn is what is in hand.
  const rest = () => (isBusy ? new Promise((resolve) => { document.addEventListener("at-rest", resolve, { once: true }); }) : Promise.resolve());

  return {
    call, ask, askForParts, hasParts, draw, rest, tries, tell, note, faults, choose, reveal, look,
    get isGood() { return isGood; },
    get why() { return why; },
    get isBusy() { return isBusy; },
  };
})();
