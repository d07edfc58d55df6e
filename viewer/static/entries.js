// The entries: forms made from the published schema, so that whatever rules are installed can be picked and
// typed, each with its help. A change goes to the building; a fault comes back to its entry.
"use strict";

const entries = (() => {
  const { one, all, on, say, told, make } = page;
  const { resolved, isLength, isWhole } = schema;
  const holder = document.getElementById("entries");
  const opened = new Set(["wall", "building"]);

  const words = (name) => told(String(name).replaceAll(/[_-]/g, " ").replaceAll(/([a-z])([A-Z])/g, (pair, a, b) => `${a} ${b.toLowerCase()}`));
  // What the server says, its names of members as the labels have them.
  const inLabels = (said) => said.replaceAll(/\b[a-z]+(?:_[a-z]+)+\b/g, (name) => words(name));
  const pointer = (path) => path.map((step) => `/${String(step).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
  const idOf = (path) => `entry${pointer(path)}`;

  const numeral = /^-?\d+(\.\d+)?$/;
  const read = (text) => {
    const plain = text.trim();
    if (plain === "") return undefined;
    return numeral.test(plain) ? Number(plain) : plain;
  };

  function labelled(path, name, help, entry, limits = "") {
    const id = idOf(path);
    entry.id = id;
    entry.dataset.pointer = pointer(path);
    entry.dataset.label = words(name);
    return make("p", { className: "entry" }, make("label", { for: id }, words(name)), entry, described(entry, help), limited(entry, limits));
  }

  // The help of an entry is read out with it, and shown on the slip once it is gone to: in its place it would
  // move whatever stands below.
  function described(entry, help) {
    if (!help) return null;
    const id = `${entry.id}-help`;
    entry.setAttribute("aria-describedby", id);
    return make("small", { id, hidden: true }, help);
  }

  // What may be typed, under the entry while one is there, above whatever stands below.
  function limited(entry, limits) {
    if (!limits) return null;
    const id = `${entry.id}-limits`;
    entry.setAttribute("aria-describedby", [entry.getAttribute("aria-describedby"), id].filter(Boolean).join(" "));
    return make("small", { id, className: "limits" }, limits);
  }

  // As the building tells lengths, inches rounded to where the limit holds.
  function limitsSaid({ least, most, isAbove, isBelow }, ofLengths) {
    const tell = (limit, isLeast) => (ofLengths ? lengths.limit(limit, isLeast) : String(limit));
    return [
      ...(least === null ? [] : [say(isAbove ? "moreThan" : "atLeast", { limit: tell(least, true) })]),
      ...(most === null ? [] : [say(isBelow ? "lessThan" : "atMost", { limit: tell(most, false) })]),
    ].join(", ");
  }

  const slip = make("p", { id: "entry-help", className: "help", "aria-hidden": "true" }, say("helpHere"));
  on("focusin", "#entries [data-pointer]", (entry) => {
    const help = document.getElementById(`${entry.id}-help`)?.textContent;
    slip.replaceChildren(...(help ? [make("strong", {}, entry.dataset.label), ` ${help}`] : [say("helpHere")]));
  });

  function typed(path, part, name, value) {
    const isList = part.type === "array";
    const each = isList ? resolved(part.items) : part;
    const ofLengths = isLength(each);
    const limits = schema.limits(each);
    const tell = (item) => (ofLengths ? lengths.shown(item) : String(item ?? ""));
    const shown = (held) => (isList ? (held ?? []).map(tell).join(", ") : tell(held));
    const hasUsual = part.default !== null && part.default !== undefined && !isWhole(part);
    // The schema's own lengths are in mm.
    const usual = hasUsual ? (ofLengths && typeof part.default === "number" ? lengths.shownMm(part.default) : String(part.default)) : "";
    const entry = make("input", { type: "text", value: shown(value), autocomplete: "off", placeholder: usual });
    entry.dataset.steps = isList ? "" : ofLengths ? "length" : schema.stepOf(part);
    entry.limits = limits;
    const taken = (text) => {
      if (part.type === "string") return text.trim() === "" && part.isOptional ? undefined : text;
      if (isList) return text.trim() === "" ? undefined : text.split(",").map(read).filter((each) => each !== undefined);
      return read(text);
    };
    // As it is held in the file, until something else is typed; then as the building tells it.
    let held = { text: entry.value, value };
    entry.take = () => {
      if (entry.value === held.text) return held.value;
      const next = taken(entry.value);
      if (ofLengths) entry.value = shown(next);
      held = { text: entry.value, value: next };
      return next;
    };
    return labelled(path, name, part.description, entry, limitsSaid(limits, ofLengths));
  }

  function chosen(path, name, help, options, value, none, act) {
    const entry = make("select", {},
      none === null ? null : make("option", { value: "" }, none),
      ...options.map((option) => make("option", { value: option, selected: option === value }, words(option))));
    entry.pick = act;
    return labelled(path, name, help, entry);
  }

  function units(path, part, name, value) {
    const made = chosen(path, name, part.description, part.enum, value ?? part.default, null, null);
    one("select", made).whole = (text) => lengths.turned(building.file, text);
    return made;
  }

  function ticked(path, part, name, value) {
    const entry = make("input", { type: "checkbox", checked: value ?? part.default ?? false });
    entry.tick = true;
    return labelled(path, name, part.description, entry);
  }

  // What holds where nothing is picked; what a wall says is null holds as if the building said nothing.
  function unsaid(path, part, value) {
    if (path[0] === "walls" && path.length === 3 && value !== null) return say("asBuilding");
    if (path[0] === "walls" && path[path.length - 1] === "framing") return say("asWall");
    if (part["x-usual"]) return say("usual", { name: words(part["x-usual"]) });
    return part.enum ? say("notSaid") : say("none");
  }

  // One of several kinds: told apart by a member such as `rule`, or by the members that they have.
  function oneOf(path, part, name, value) {
    const kinds = part.oneOf.map(resolved);
    const by = part.discriminator?.propertyName;
    const nameOf = (kind) => (by ? kind.properties[by].const : kind.title);
    const now = schema.kindOf(part, value);
    const none = part.isOptional ? unsaid(path, part, value) : null;
    const pick = (text) => {
      const kind = kinds.find((each) => nameOf(each) === text);
      if (!kind) return undefined;
      return pointer(path) === "/roof" ? begun.roof(text) : begun.rule(kind, value, by);
    };
    const select = chosen(path, name, now?.description?.split("\n")[0] ?? part.description, kinds.map(nameOf), now && nameOf(now), none, pick);
    if (pointer(path) === "/outline") one("select", select).whole = begun.outline;
    return make("div", { className: "kind" }, select, now ? members(path, now, value, [by]) : null);
  }

  // A place along the wall: from which end or about which middle, and how far.
  function place(path, part, name, value) {
    const kinds = Object.keys(part.properties);
    const now = kinds.find((kind) => value?.[kind] !== undefined) ?? kinds[0];
    const options = kinds.map((kind) => make("option", { value: kind, selected: kind === now }, words(kind)));
    const which = make("select", { "aria-label": `${words(name)}: ${part.description}` }, ...options);
    which.id = `${idOf(path)}-which`;
    which.dataset.pointer = pointer(path);
    which.dataset.label = words(name);
    which.pick = (kind) => ({ [kind]: moved(path, now, kind) });
    const entry = typed([...path, now], resolved(part.properties[now]), now, value?.[now]);
    entry.prepend(which);
    entry.classList.add("at");
    one("label", entry).textContent = `${words(name)} (${words(now)})`;
    return entry;
  }

  // The same place told from another end, as it is drawn.
  function moved(path, from, to) {
    const opening = building.get(path.slice(0, -1));
    const [, wall] = path;
    const hole = all(".hole").find((each) => each.closest(".wall").dataset.name === wall && each.dataset.opening === opening?.name);
    if (!hole) return building.get([...path, from]) ?? 0;
    const [left, right, length] = ["left", "right", "along"].map((name) => Number(hole.dataset[name]));
    return lengths.fromMm({ left, right: length - right, centre: (left + right) / 2 }[to] ?? left);
  }

  function list(path, part, name, value) {
    const items = resolved(part.items);
    const title = words((items.title ?? name).replace(/^./, (first) => first.toLowerCase()));
    const called = (item, index) => item?.name ?? item?.section?.map(lengths.shown).join(" × ")
      ?? (item?.length === undefined || Array.isArray(item) ? say("of", { name: title, number: index + 1 }) : lengths.shown(item.length));
    const shown = (value ?? []).map((item, index) => group(
      `${pointer(path)}/${index}`,
      called(item, index),
      [field([...path, index], { description: part.description, ...items }, title, item, true), make("button", { type: "button", className: "take-out", "data-out": pointer([...path, index]) }, say("remove"))],
    ));
    const adders = items.title === "Opening"
      ? ["door", "window", "gap"].map((kind) => adder(path, say(`add${kind[0].toUpperCase()}${kind.slice(1)}`), (held, fits) => begun.opening(kind, held, fits)))
      : [adder(path, `${say("add")}: ${title}`, () => (items.title === "Obstacle" ? obstacles.another() : begun.of(items)))];
    return make("div", { className: "list" }, make("h3", {}, words(name)), ...shown, make("p", { className: "adders" }, ...adders));
  }

  function adder(path, text, start) {
    const made = make("button", { type: "button", "data-add": pointer(path) }, text);
    made.start = start;
    return made;
  }

  function field(path, part, name, value, isBare = false) {
    const found = resolved(part);
    if (found.const !== undefined) return null;
    if (found.oneOf) return oneOf(path, found, name, value);
    // The only rule of its family is picked, or none, like one of several.
    if (found.isOptional && found.properties?.rule?.const !== undefined) {
      return oneOf(path, { ...found, oneOf: [found], discriminator: { propertyName: "rule" } }, name, value);
    }
    if (pointer(path) === "/units") return units(path, found, name, value);
    if (found.enum) return chosen(path, name, found.description, found.enum, value ?? found.default, found.isOptional ? unsaid(path, found) : null, (text) => text || undefined);
    if (isLength(found)) return typed(path, found, name, value);
    if (found.prefixItems) return pair(path, found, name, value);
    if (found.type === "boolean") return ticked(path, found, name, value);
    if (found.type === "array") return isWhole(resolved(found.items)) ? list(path, found, name, value) : typed(path, found, name, value);
    if (found.type === "object" && found.properties?.centre) return place(path, found, name, value);
    if (found.type === "object" && found.properties) {
      const inside = members(path, found, value);
      return isBare ? inside : group(pointer(path), words(name), [found.description ? make("p", { className: "help" }, found.description) : null, inside], value !== undefined);
    }
    if (found.type === "object") return null;
    return typed(path, found, name, value);
  }

  function pair(path, part, name, value) {
    // A description names them, as in [breadth, depth].
    const names = part.description?.match(/\[([^\],]+), ([^\],]+)\]/)?.slice(1) ?? [];
    const made = part.prefixItems.map((item, index) => {
      const member = { description: part.description, ...resolved(item) };
      const called = say("of", { name: words(name), number: names[index] ?? index + 1 });
      const entry = typed([...path, index], member, called, value?.[index]);
      one("input", entry).together = path;
      return entry;
    });
    return make("div", { className: "pair", role: "group", "aria-label": words(name) }, ...made);
  }

  // What is given or usual stands in the open, and every list; what is seldom needed under `More`.
  function members(path, part, value, without = []) {
    const plain = [];
    const seldom = [];
    for (const [name, member] of Object.entries(part.properties ?? {})) {
      if (without.includes(name)) continue;
      const found = resolved(member);
      const isSeldom = value?.[name] === undefined && !(part.required ?? []).includes(name)
        && found.type === "object";
      (isSeldom ? seldom : plain).push(field([...path, name], member, name, value?.[name]));
    }
    return make("div", { className: "members" }, ...plain, seldom.length ? group(`${pointer(path)}#more`, say("more"), seldom) : null);
  }

  function group(key, title, inside, isOpen = false) {
    const made = make("details", { open: opened.has(key) || (isOpen && !opened.has(`-${key}`)) }, make("summary", {}, title), ...inside);
    made.dataset.key = key;
    return made;
  }

  function panel(key, title, inside, help, isOpen = false) {
    const isSaid = !help || help.replace(/\.$/, "") === title;
    const made = group(key, title, [isSaid ? null : make("p", { className: "help" }, help), inside], isOpen);
    made.classList.add("panel");
    return made;
  }

  const AT_ONCE = ["name", "units", "outline", "roof", "frame"];
  const BY_WALL = ["walls", "measured"];
  // What is measured of a slope; all else of a wall.
  const RUNS = ["run", "run_right"];

  function build() {
    if (!schema.whole || !building.file || holder.hidden) return;
    const focused = document.activeElement?.id;
    const { properties } = schema.whole;
    const file = building.file;
    const part = memberShown();
    const shown = part ? null : drawing.look.wall;
    const byWall = (name) => resolved(properties[name].additionalProperties);
    const measuredPanel = (name, isSlope) => {
      const whole = byWall("measured");
      const kept = Object.entries(whole.properties).filter(([member]) => RUNS.includes(member) === isSlope);
      return panel("measured", say("measured", { wall: name }), field(["measured", name],
        { ...whole, properties: Object.fromEntries(kept) }, name, file.measured?.[name], true), say("measuredHelp"));
    };
    const made = part && !AT_ONCE.includes(part) ? [memberPanel(part, true)] : [];
    if (shown !== null) {
      const block = byWall("walls");
      made.push(panel("wall", say("thisWall", { wall: shown }), wallMembers(["walls", shown], block, file.walls?.[shown])));
    }
    const whole = { properties: Object.fromEntries(AT_ONCE.map((name) => [name, properties[name]])), required: AT_ONCE };
    made.push(panel("building", say("wholeBuilding"), members([], whole, file)));
    for (const name of Object.keys(properties)) {
      if (![...AT_ONCE, ...BY_WALL, "format", part].includes(name)) made.push(memberPanel(name));
    }
    if (shown !== null) made.push(measuredPanel(shown, false));
    if (part === "roof") made.push(measuredPanel(drawing.look.wall, true));
    holder.replaceChildren(...made, slip);
    if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
  }

  // The building's member of a part that is no wall, such as its floor; none where a wall is shown, or all are.
  function memberShown() {
    const links = [...document.querySelectorAll("#way a[data-member]")];
    const name = (link) => decodeURIComponent(link.dataset.wall.replace(/^wall-/, ""));
    return links.find((link) => name(link) === drawing.look.wall)?.dataset.member;
  }

  function memberPanel(name, isOpen = false) {
    const member = schema.whole.properties[name];
    const title = { defaults: say("rules"), stock: say("timber"), site: say("site") }[name] ?? words(name);
    return panel(name, title, field([name], member, name, building.file[name], true), resolved(member).description, isOpen);
  }

  // Openings come first; a wall's own rules are seldom.
  function wallMembers(path, block, value) {
    const { openings, ...own } = block.properties;
    const rest = { properties: own };
    const isOwn = Object.keys(own).some((name) => value?.[name] !== undefined);
    return make("div", { className: "members" },
      field([...path, "openings"], openings, "openings", value?.openings),
      group(`${pointer(path)}#own`, say("ownRules"), [members(path, rest, value)], isOwn));
  }

  const pathOf = (text) => text.split("/").slice(1).map((step) => step.replaceAll("~1", "/").replaceAll("~0", "~"))
    .reduce((path, step) => [...path, Array.isArray(building.get(path)) ? Number(step) : step], []);

  function put(path, value, why) {
    const parent = path.slice(0, -1);
    // A wall of which nothing is said any more, or a member that was the last of its kind, leaves nothing behind.
    const isLast = value === undefined && parent.length > 1 && typeof parent[parent.length - 1] === "string"
      && Object.keys(building.get(parent) ?? {}).length <= 1 && !Array.isArray(building.get(parent));
    if (isLast && ["defaults", "measured", "walls"].includes(parent[0])) building.set(parent, undefined, why);
    else building.set(path, value, why);
  }

  function take(entry) {
    const path = pathOf(entry.dataset.pointer);
    if (entry.whole) return become(entry.whole(entry.value));
    if (entry.pick) return put(path, entry.pick(entry.value), "whole");
    if (entry.tick) return put(path, entry.checked, "entry");
    if (entry.together) {
      const both = all("input", entry.closest(".pair")).map((each) => each.take());
      if (both.some((each) => each === undefined)) return undefined;
      return put(entry.together, both, "entry");
    }
    return put(path, entry.take(), "entry");
  }

  // A change that reaches over the file; what it came of may have changed by the time that it is there.
  async function become(next) {
    const from = building.file;
    const file = await next;
    if (building.file === from) building.become(file, "whole");
  }

  on("change", "#entries [data-pointer]", take);
  // Ten mm or half an inch; with Shift one mm or a sixteenth.
  function stepOf(entry, isFine) {
    if (entry.dataset.steps !== "length") return Number(entry.dataset.steps);
    return lengths.unit() === "in" ? (isFine ? 25.4 / 16 : 12.7) : (isFine ? 1 : 10);
  }

  on("keydown", "#entries input[data-steps]", (entry, event) => {
    const up = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    const value = entry.dataset.steps === "length" ? lengths.mm(read(entry.value)) : read(entry.value);
    if (!up || !entry.dataset.steps || typeof value !== "number" || event.ctrlKey || event.altKey) return;
    event.preventDefault();
    const next = Math.round((value + up * stepOf(entry, event.shiftKey)) * 1e4) / 1e4;
    if (schema.isWithin(entry.limits, value) && !schema.isWithin(entry.limits, next)) return;
    entry.value = entry.dataset.steps === "length" ? lengths.shownMm(next) : String(next);
    take(entry);
  });
  on("click", "#entries [data-out]", (button) => put(pathOf(button.dataset.out), undefined, "whole"));
  // What is added is made to fit the wall as it is drawn; one after the other, however fast they are asked for.
  let adding = Promise.resolve();
  on("click", "#entries [data-add]", (button) => {
    const path = pathOf(button.dataset.add);
    const next = () => add(button.start, path);
    adding = adding.then(next, next);
  });

  async function add(start, path) {
    await drawing.rest();
    const from = building.file;
    const held = building.get(path) ?? [];
    // The drawing tells whether it fits; of a building that cannot be drawn, only how much room there is.
    const fits = async (made, isTight) => (drawing.isGood ? await drawing.tries(building.written([...path, held.length], made)) !== false : !isTight);
    const made = await start(held, fits);
    // The wall changed meanwhile: it is looked at afresh.
    if (building.file !== from) return add(start, path);
    if (made === null) return drawing.note(say("noRoom"));
    opened.add(`${pointer(path)}/${held.length}`);
    building.set(path, [...held, made], "whole");
    return document.getElementById(idOf([...path, held.length, "name"]))?.focus();
  }

  function note(key, isOpen) {
    opened[isOpen ? "add" : "delete"](key);
    opened[isOpen ? "delete" : "add"](`-${key}`);
  }

  // At once, since the entries may be made afresh before the browser tells of the toggle.
  on("click", "#entries [data-key] > summary", (summary) => {
    const details = summary.parentElement;
    note(details.dataset.key, !details.open);
  });
  document.addEventListener("toggle", (event) => {
    const key = event.target.dataset?.key;
    if (key !== undefined && holder.contains(event.target)) note(key, event.target.open);
  }, true);
  document.addEventListener("building", (event) => {
    if (event.detail === "whole" || event.detail === "settled") build();
  });

  // Say each fault at its entry, or at the nearest one around it, whose group opens.
  function showFaults(faults) {
    page.atRest("faults", () => still(() => {
      for (const said of all(".fault", holder)) said.remove();
      for (const entry of all("[aria-invalid]", holder)) entry.removeAttribute("aria-invalid");
      const found = faults.map((fault) => [nearest(fault.pointer), fault]).filter(([entry]) => entry);
      for (const [entry, fault] of found) {
        entry.setAttribute("aria-invalid", "true");
        entry.closest(".entry").append(make("small", { className: "fault" }, fault.detail));
        reveal(entry);
      }
      // Who types somewhere else is left where they are: the list of faults leads here.
      const isElsewhere = holder.contains(document.activeElement) && !found.some(([entry]) => entry === document.activeElement);
      if (found.length && !isElsewhere) found[0][0].closest(".entry").scrollIntoView({ block: "nearest" });
    }));
  }

  // What one types in stays where it is on the screen while things come and go above it.
  function still(act) {
    const typing = holder.contains(document.activeElement) ? document.activeElement : null;
    const before = typing?.getBoundingClientRect().top;
    act();
    if (typing?.isConnected) scrollBy(0, typing.getBoundingClientRect().top - before);
  }

  function nearest(place) {
    const known = all("[data-pointer]", holder);
    const inside = known.filter((entry) => place === entry.dataset.pointer || place.startsWith(`${entry.dataset.pointer}/`));
    const around = known.filter((entry) => place !== "" && entry.dataset.pointer.startsWith(`${place}/`));
    return inside.sort((a, b) => b.dataset.pointer.length - a.dataset.pointer.length)[0] ?? around[0] ?? null;
  }

  function reveal(entry) {
    for (let around = entry.closest("details"); around; around = around.parentElement.closest("details")) around.open = true;
  }

  function show(entry) {
    reveal(entry);
    entry.focus();
  }

  async function start() {
    if (await schema.start()) build();
  }

  return { start, build, showFaults, nearest, show, words, labelled: inLabels };
})();
