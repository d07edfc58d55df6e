// The building file in hand: what was changed, how to take it back, and where it is kept meanwhile.
"use strict";

const building = (() => {
  const { data, memory } = page;
  const MOST = 60;
  let key = data.key;
  let steps = data.building ? [JSON.stringify(data.building)] : [];
  let at = 0;
  let now = data.building ?? null;
  let design = null;

  const copy = (value) => JSON.parse(JSON.stringify(value));

  // The value at a path of members and indices; undefined where there is none.
  const get = (path, from = now) => path.reduce((value, step) => value?.[step], from);

  function written(path, value) {
    const next = copy(now);
    let holder = next;
    path.slice(0, -1).forEach((step, index) => {
      if (holder[step] === undefined || holder[step] === null) holder[step] = typeof path[index + 1] === "number" ? [] : {};
      holder = holder[step];
    });
    const last = path[path.length - 1];
    if (value !== undefined) holder[last] = value;
    else if (Array.isArray(holder)) holder.splice(last, 1);
    else delete holder[last];
    return next;
  }

  function changed(why) {
    document.dispatchEvent(new CustomEvent("building", { detail: why }));
  }

  function keep() {
    memory.write(`work:${key}`, { name: now.name, steps: steps.slice(-MOST), at: at - Math.max(0, steps.length - MOST), design });
  }

  // Take a change over: one step that can be taken back.
  function become(next, why) {
    const text = JSON.stringify(next);
    now = next;
    if (text !== steps[at]) {
      steps = [...steps.slice(0, at + 1), text];
      at = steps.length - 1;
      keep();
    }
    changed(why);
  }

  const set = (path, value, why) => become(written(path, value), why);

  // Show a change without taking it over, while something is being dragged.
  function preview(path, value) {
    now = written(path, value);
    changed("preview");
  }

  const settle = () => become(now, "settled");

  function move(by) {
    if (at + by < 0 || at + by >= steps.length) return;
    at += by;
    now = JSON.parse(steps[at]);
    keep();
    changed("whole");
  }

  // Another building: from a file, a kept design, or what this browser remembers.
  function open(next, options = {}) {
    key = options.key ?? key;
    design = options.design ?? null;
    steps = options.steps ?? [JSON.stringify(next)];
    at = options.at ?? steps.length - 1;
    now = JSON.parse(steps[at]);
    keep();
    changed("whole");
  }

  // What this browser remembers of the building that the page came with; true if that is something else.
  function recall() {
    const kept = memory.read(`work:${key}`);
    if (!now || !kept?.steps?.length || kept.steps.length < 2 || kept.steps[kept.at] === steps[0]) return false;
    open(null, { steps: kept.steps, at: kept.at, design: kept.design });
    return true;
  }

  return {
    get, set, become, preview, settle, open, recall, written,
    undo: () => move(-1),
    redo: () => move(1),
    get canUndo() { return at > 0; },
    get canRedo() { return at < steps.length - 1; },
    get file() { return now; },
    get key() { return key; },
    get design() { return design; },
    set design(value) { design = value; keep(); },
  };
})();
