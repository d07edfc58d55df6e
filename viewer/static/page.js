// What all other scripts stand on: the page's data and texts, its parts, and what the browser remembers.
"use strict";

const page = (() => {
  const data = JSON.parse(document.getElementById("data").textContent);

  const one = (selector, within = document) => within.querySelector(selector);
  const all = (selector, within = document) => Array.from(within.querySelectorAll(selector));

  // A text of the page's language, its braces filled in.
  const say = (name, values = {}) =>
    (data.texts[name] ?? name).replace(/\{(\w+)\}/g, (whole, key) => values[key] ?? whole);

  // What a piece is, in the page's language where it has a name for it.
  const role = (name) => data.roles[name] ?? name;

  // What the published schema says, in the page's language where it has words for it.
  const told = (text) => data.schema?.[text] ?? text;

  // An element; `set` are properties, `data-` and `aria-` ones and those in `named` are attributes.
  function make(tag, set = {}, ...children) {
    const made = document.createElement(tag);
    for (const [name, value] of Object.entries(set)) {
      if (value === undefined || value === null) continue;
      if (name.includes("-") || name === "for" || name === "list") made.setAttribute(name, value);
      else made[name] = value;
    }
    made.append(...children.filter((child) => child !== null && child !== undefined));
    return made;
  }

  // Parts are drawn afresh as a whole; whoever minds the drawing listens for `drawn`, since nothing that hung
  // on the old elements is left.
  function replaceParts(html, ids) {
    const fresh = new DOMParser().parseFromString(html, "text/html");
    for (const part of Array.from(fresh.body.children)) {
      if (!ids || ids.includes(part.id)) takeOver(part);
    }
    document.dispatchEvent(new Event("drawn"));
  }

  // A press and its release make a click only on the same element: a part whose link or button is pressed is
  // replaced once it is released.
  let pressed = null;
  let isDown = false;
  const waiting = new Map();
  const later = new Map();

  function takeOver(part) {
    const old = document.getElementById(part.id);
    if (pressed && old?.contains(pressed)) return waiting.set(part.id, part);
    waiting.delete(part.id);
    if (!old || old.isEqualNode(part)) return old;
    const focused = old.contains(document.activeElement) ? document.activeElement.getAttribute("href") : null;
    old.replaceWith(document.adoptNode(part));
    // Whoever goes on by keyboard goes on from the same link.
    if (focused) one(`a[href="${CSS.escape(focused)}"]`, part)?.focus({ preventScroll: true });
    return part;
  }

  // What moves parts of the page waits until nothing is pressed, lest the press end on something else; of one
  // name only the last is done.
  function atRest(name, act) {
    if (isDown) later.set(name, act);
    else act();
  }

  function release() {
    pressed = null;
    isDown = false;
    const acts = [...later.values()];
    later.clear();
    for (const act of acts) act();
    if (waiting.size === 0) return;
    for (const part of [...waiting.values()]) takeOver(part);
    document.dispatchEvent(new Event("drawn"));
  }

  document.addEventListener("pointerdown", (event) => {
    pressed = event.target.closest("a, button");
    isDown = true;
  }, true);
  // The click comes after the release, and is heard before what waits for it.
  for (const end of ["pointerup", "pointercancel"]) document.addEventListener(end, () => setTimeout(release), true);

  // One listener for all elements that a selector finds, whenever they come.
  function on(type, selector, act, options) {
    document.addEventListener(type, (event) => {
      const found = event.target instanceof Element ? event.target.closest(selector) : null;
      if (found) act(found, event);
    }, options);
  }

  // The browser may refuse to remember: then the page forgets, and works.
  const memory = {
    read(name) {
      try {
        return JSON.parse(localStorage.getItem(`soleplate:${name}`));
      } catch {
        return null;
      }
    },
    write(name, value) {
      try {
        localStorage.setItem(`soleplate:${name}`, JSON.stringify(value));
      } catch {
        return;
      }
    },
    drop(name) {
      try {
        localStorage.removeItem(`soleplate:${name}`);
      } catch {
        return;
      }
    },
    names(start) {
      try {
        const whole = `soleplate:${start}`;
        return Object.keys(localStorage).filter((name) => name.startsWith(whole)).map((name) => name.slice(10)).sort();
      } catch {
        return [];
      }
    },
  };

  const isTyping = (target) => target instanceof Element && target.matches("input:not([type=checkbox], [type=radio]), textarea, select");

  // What the buttons do, by the name that each bears.
  const actions = {};

  return { data, actions, one, all, say, role, told, make, replaceParts, takeOver, atRest, on, memory, isTyping };
})();
