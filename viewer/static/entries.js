// The entries: forms made from the published schema, so that whatever rules are installed can be picked and
// typed, each with its help. A change goes to the building; a fault comes back to its entry.
"use strict";

const entries = (() => {
  const { one, all, on, say, told, make } = page;
  const holder = document.getElementById("entries");
  const opened = new Set(["wall", "building"]);
  let schema = null;

  // What a part of the schema says, references followed; `null` among its kinds makes it optional.
  function resolved(part) {
    let found = part;
    while (found.$ref) {
      const { $ref, ...own } = found;
      found = { ...schema.$defs[$ref.split("/").pop()], ...own };
    }
    const kinds = found.anyOf?.filter((kind) => kind.type !== "null");
    if (kinds && kinds.length < found.anyOf.length) {
      const { anyOf, ...own } = found;
      const rest = kinds.length === 1 ? resolved(kinds[0]) : { anyOf: kinds };
      return { ...rest, ...own, isOptional: true };
    }
    return found;
  }

  const isLength = (part) => Boolean(part.anyOf?.some((kind) => kind.pattern) && part.anyOf.some((kind) => kind.type === "number"));
  const isWhole = (part) => part.type === "object" || part.type === "array" || Boolean(part.oneOf);
  const words = (name) => told(String(name).replaceAll(/[_-]/g, " ").replaceAll(/([a-z])([A-Z])/g, (pair, a, b) => `${a} ${b.toLowerCase()}`));
  const pointer = (path) => path.map((step) => `/${String(step).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
  const idOf = (path) => `entry${pointer(path)}`;

  // A value to begin with: an example of a rule, or the members that must be given.
  function begun(part) {
    const found = resolved(part);
    if (found.const !== undefined) return found.const;
    if (found.examples?.length) return found.examples[0];
    if (found.enum) return found.enum[0];
    if (found.oneOf) return begun(found.oneOf[0]);
    if (isLength(found)) return Math.min(Math.max(inUnit(1000), inUnit(found["x-least-mm"] ?? 0)), inUnit(found["x-most-mm"] ?? 1e5));
    if (found.prefixItems) return building.get(["frame", "section"]) ?? found.prefixItems.map(begun);
    if (found.type === "array") return found.minItems ? [begun(found.items)] : [];
    if (found.type === "object") {
      const made = Object.fromEntries((found.required ?? []).map((name) => [name, begun(found.properties[name])]));
      // A length on sale is what a stock timber is for, an edge what an opening's place is.
      if (found.properties?.lengths) made.lengths = [{ length: inUnit(4800) }];
      if (found.properties?.centre) made.left = 0;
      return made;
    }
    if (found.type === "integer" || found.type === "number") return found.minimum ?? 1;
    if (found.type === "boolean") return false;
    return "new";
  }

  // mm in the building file's own unit, to what a tape can set.
  function inUnit(mm) {
    return building.get(["units"]) === "in" ? Math.round(mm / 25.4 * 16) / 16 : Math.round(mm * 1000) / 1000;
  }

  const numeral = /^-?\d+(\.\d+)?$/;
  const read = (text) => {
    const plain = text.trim();
    if (plain === "") return undefined;
    return numeral.test(plain) ? Number(plain) : plain;
  };

  function labelled(path, name, help, entry) {
    const id = idOf(path);
    entry.id = id;
    entry.dataset.pointer = pointer(path);
    entry.dataset.label = words(name);
    const helpId = `${id}-help`;
    if (help) entry.setAttribute("aria-describedby", helpId);
    return make("p", { className: "entry" },
      make("label", { for: id }, words(name)), entry,
      help ? make("small", { id: helpId, className: "help" }, help) : null);
  }

  function typed(path, part, name, value) {
    const isList = part.type === "array";
    const shown = isList ? (value ?? []).join(", ") : value ?? "";
    const usual = part.default === null || part.default === undefined || isWhole(part) ? "" : String(part.default);
    const entry = make("input", { type: "text", value: String(shown), autocomplete: "off", placeholder: usual });
    if (isLength(part) || part.type === "number" || part.type === "integer") entry.inputMode = "text";
    entry.dataset.steps = isLength(part) ? String(inUnit(10)) : part.type === "integer" || part.type === "number" ? "1" : "";
    entry.take = (text) => {
      if (part.type === "string") return text.trim() === "" && part.isOptional ? undefined : text;
      if (isList) return text.trim() === "" ? undefined : text.split(",").map(read).filter((each) => each !== undefined);
      return read(text);
    };
    return labelled(path, name, part.description, entry);
  }

  function chosen(path, name, help, options, value, none, act) {
    const entry = make("select", {},
      none === null ? null : make("option", { value: "" }, none),
      ...options.map((option) => make("option", { value: option, selected: option === value }, words(option))));
    entry.pick = act;
    return labelled(path, name, help, entry);
  }

  function ticked(path, part, name, value) {
    const entry = make("input", { type: "checkbox", checked: value ?? part.default ?? false });
    entry.tick = true;
    return labelled(path, name, part.description, entry);
  }

  // One of several kinds: told apart by a member such as `rule`, or by the members that they have.
  function oneOf(path, part, name, value) {
    const kinds = part.oneOf.map(resolved);
    const by = part.discriminator?.propertyName;
    const nameOf = (kind) => (by ? kind.properties[by].const : kind.title);
    const now = kinds.find((kind) => value && (by
      ? value[by] === kind.properties[by].const
      : (kind.required ?? []).every((member) => member in value)));
    const none = part.isOptional ? say("choose") : null;
    const pick = (text) => {
      const kind = kinds.find((each) => nameOf(each) === text);
      return kind ? begun(kind) : undefined;
    };
    const select = chosen(path, name, now?.description?.split("\n")[0] ?? part.description, kinds.map(nameOf), now && nameOf(now), none, pick);
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
    const hole = all(".hole").find((each) => each.dataset.opening === opening?.name);
    if (!hole) return building.get([...path, from]) ?? 0;
    const [left, right, length] = ["left", "right", "along"].map((name) => Number(hole.dataset[name]));
    return inUnit({ left, right: length - right, centre: (left + right) / 2 }[to] ?? left);
  }

  function list(path, part, name, value) {
    const items = resolved(part.items);
    const shown = (value ?? []).map((item, index) => group(
      `${pointer(path)}/${index}`,
      item?.name ?? say("of", { name: words(name), number: index + 1 }),
      [field([...path, index], items, index, item, true), make("button", { type: "button", className: "take-out", "data-out": pointer([...path, index]) }, say("remove"))],
    ));
    const adders = items.title === "Opening"
      ? ["door", "window", "gap"].map((kind) => adder(path, say(`add${kind[0].toUpperCase()}${kind.slice(1)}`), () => opening(kind, value ?? [])))
      : [adder(path, `${say("add")}: ${words(name)}`, () => begun(items))];
    return make("div", { className: "list" }, make("h3", {}, words(name)), ...shown, make("p", { className: "adders" }, ...adders));
  }

  function adder(path, text, start) {
    const made = make("button", { type: "button", "data-add": pointer(path) }, text);
    made.start = start;
    return made;
  }

  // A new opening of a usual size in the widest stretch of the wall that has none.
  function opening(kind, others) {
    const board = one(".wall .elevation");
    const length = Number(board?.dataset.along ?? 2400);
    const holes = all(".hole").map((hole) => [Number(hole.dataset.left), Number(hole.dataset.right)]).sort((a, b) => a[0] - b[0]);
    let [from, to] = [0, holes[0]?.[0] ?? length];
    holes.forEach(([, right], index) => {
      const next = holes[index + 1]?.[0] ?? length;
      if (next - right > to - from) [from, to] = [right, next];
    });
    const tall = Number(board?.dataset.tall ?? 2100);
    const width = Math.max(Math.min(kind === "window" ? 600 : 800, Math.floor((to - from) / 2)), 100);
    const height = kind === "window" ? Math.min(600, Math.floor(tall / 3)) : Math.min(1900, Math.floor(tall - 250));
    let number = 1;
    while (others.some((other) => other.name === `${kind} ${number}`)) number += 1;
    return {
      name: `${kind} ${number}`, kind, width: inUnit(width), height: inUnit(height),
      at: { left: inUnit(Math.round((from + to - width) / 2)) },
      ...(kind === "window" ? { sill: inUnit(Math.min(900, Math.floor(tall / 2.4))) } : {}),
    };
  }

  function field(path, part, name, value, isBare = false) {
    const found = resolved(part);
    if (found.const !== undefined) return null;
    if (found.oneOf) return oneOf(path, found, name, value);
    if (found.enum) return chosen(path, name, found.description, found.enum, value ?? found.default, found.isOptional ? say("choose") : null, (text) => text || undefined);
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
    const help = part.description;
    const made = part.prefixItems.map((item, index) => {
      const entry = typed([...path, index], resolved(item), say("of", { name: words(name), number: index + 1 }), value?.[index]);
      one("input", entry).together = path;
      return entry;
    });
    return make("div", { className: "pair", role: "group", "aria-label": words(name) }, ...made, help ? make("small", { className: "help" }, help) : null);
  }

  // What is given or usual stands in the open; what is seldom needed under `More`.
  function members(path, part, value, without = []) {
    const plain = [];
    const seldom = [];
    for (const [name, member] of Object.entries(part.properties ?? {})) {
      if (without.includes(name)) continue;
      const found = resolved(member);
      const isSeldom = value?.[name] === undefined && !(part.required ?? []).includes(name)
        && (found.type === "object" || (found.type === "array" && found.items && isWhole(resolved(found.items)) && found.title !== "Openings"));
      if (found.type === "null") continue; // No rule of that family is installed.
      (isSeldom ? seldom : plain).push(field([...path, name], member, name, value?.[name]));
    }
    return make("div", { className: "members" }, ...plain, seldom.length ? group(`${pointer(path)}#more`, say("more"), seldom) : null);
  }

  function group(key, title, inside, isOpen = false) {
    const made = make("details", { open: opened.has(key) || (isOpen && !opened.has(`-${key}`)) }, make("summary", {}, title), ...inside);
    made.dataset.key = key;
    return made;
  }

  function panel(key, title, inside, help) {
    const made = group(key, title, [help ? make("p", { className: "help" }, help) : null, inside]);
    made.classList.add("panel");
    return made;
  }

  const AT_ONCE = ["name", "units", "outline", "roof", "frame"];
  const BY_WALL = ["walls", "measured"];

  function build() {
    if (!schema || !building.file || holder.hidden) return;
    const focused = document.activeElement?.id;
    const { properties } = schema;
    const file = building.file;
    const shown = drawing.look.wall;
    const byWall = (name) => resolved(properties[name].additionalProperties);
    const made = [];
    if (shown !== null) {
      const block = byWall("walls");
      made.push(panel("wall", say("thisWall", { wall: shown }), wallMembers(["walls", shown], block, file.walls?.[shown])));
    }
    const whole = { properties: Object.fromEntries(AT_ONCE.map((name) => [name, properties[name]])), required: AT_ONCE };
    made.push(panel("building", say("wholeBuilding"), members([], whole, file)));
    for (const name of Object.keys(properties)) {
      if ([...AT_ONCE, ...BY_WALL, "format"].includes(name)) continue;
      const part = resolved(properties[name]);
      made.push(panel(name, { defaults: say("rules"), stock: say("timber"), site: say("site") }[name] ?? words(name),
        field([name], properties[name], name, file[name], true), part.description));
    }
    if (shown !== null) {
      made.push(panel("measured", say("measured", { wall: shown }),
        field(["measured", shown], byWall("measured"), shown, file.measured?.[shown], true), say("measuredHelp")));
    }
    holder.replaceChildren(...made);
    if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
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
    if (isLast && ["measured", "walls"].includes(parent[0])) building.set(parent, undefined, why);
    else building.set(path, value, why);
  }

  function take(entry) {
    const path = pathOf(entry.dataset.pointer);
    if (entry.pick) return put(path, entry.pick(entry.value), "whole");
    if (entry.tick) return put(path, entry.checked, "entry");
    if (entry.together) {
      const both = all("input", entry.closest(".pair")).map((each) => read(each.value));
      if (both.some((each) => each === undefined)) return undefined;
      return put(entry.together, both, "entry");
    }
    return put(path, entry.take(entry.value), "entry");
  }

  on("change", "#entries [data-pointer]", take);
  on("keydown", "#entries input[data-steps]", (entry, event) => {
    const up = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    const value = read(entry.value);
    if (!up || !entry.dataset.steps || typeof value !== "number" || event.ctrlKey || event.altKey) return;
    event.preventDefault();
    const step = Number(entry.dataset.steps) / (event.shiftKey && entry.dataset.steps !== "1" ? 10 : 1);
    entry.value = String(Math.round((value + up * step) * 1e4) / 1e4);
    take(entry);
  });
  on("click", "#entries [data-out]", (button) => put(pathOf(button.dataset.out), undefined, "whole"));
  on("click", "#entries [data-add]", (button) => {
    const path = pathOf(button.dataset.add);
    const held = building.get(path) ?? [];
    opened.add(`${pointer(path)}/${held.length}`);
    building.set(path, [...held, button.start()], "whole");
    document.getElementById(idOf([...path, held.length, "name"]))?.focus();
  });
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

  // Say each fault at its entry, or at the nearest one around it; gives back those entries.
  function showFaults(faults) {
    for (const said of all(".fault", holder)) said.remove();
    for (const entry of all("[aria-invalid]", holder)) entry.removeAttribute("aria-invalid");
    return faults.map((fault) => {
      const entry = nearest(fault.pointer);
      if (!entry) return null;
      entry.setAttribute("aria-invalid", "true");
      entry.closest(".entry").append(make("small", { className: "fault", role: "alert" }, fault.detail));
      return entry;
    });
  }

  function nearest(place) {
    const known = all("[data-pointer]", holder);
    const inside = known.filter((entry) => place === entry.dataset.pointer || place.startsWith(`${entry.dataset.pointer}/`));
    const around = known.filter((entry) => place !== "" && entry.dataset.pointer.startsWith(`${place}/`));
    return inside.sort((a, b) => b.dataset.pointer.length - a.dataset.pointer.length)[0] ?? around[0] ?? null;
  }

  function show(entry) {
    for (let around = entry.closest("details"); around; around = around.parentElement.closest("details")) around.open = true;
    entry.focus();
  }

  async function start() {
    const answer = await fetch("/v1/schema").catch(() => null);
    if (!answer?.ok) return;
    schema = JSON.parse(await answer.text(), (name, value) => (name === "description" ? told(value) : value));
    build();
  }

  return { start, build, showFaults, show, inUnit };
})();
