// The wiring: buttons to what they do, and the first look. A page that a server keeps in step loads the scripts
// that change the building once it is shown.
"use strict";

(() => {
  const { all, on, data } = page;

  for (const part of all(".live-only")) if (part.id !== "unfinished") part.hidden = false;
  for (const button of all("[data-do]")) {
    if (data.scripts && !(button.dataset.do in page.actions)) button.disabled = true;
  }
  on("click", "[data-do]", (button) => page.actions[button.dataset.do]?.());

  // Without a server all walls are there: one at a time is shown, by the address's fragment.
  function follow() {
    const walls = all("#walls > :is(.wall, .whole)");
    const id = decodeURIComponent(location.hash.slice(1));
    const chosen = walls.find((wall) => decodeURIComponent(wall.id) === id);
    if (!chosen && id !== "walls" && id !== "") return;
    const shown = chosen ?? walls[0];
    for (const wall of walls) wall.hidden = id !== "walls" && wall !== shown;
    for (const link of all(".plan a")) {
      if (id !== "walls" && link.dataset.wall === shown?.id) link.setAttribute("aria-current", "true");
      else link.removeAttribute("aria-current");
    }
    zoom.ready();
    if (!chosen) return;
    chosen.focus({ preventScroll: true });
    chosen.scrollIntoView({ block: "nearest" });
  }

  if (!data.scripts) {
    addEventListener("hashchange", follow);
    follow();
  }
  document.dispatchEvent(new Event("drawn"));
  // In order, one after the other, as the page would have loaded them itself.
  for (const name of data.scripts ?? []) {
    const script = document.createElement("script");
    script.src = name;
    script.async = false;
    document.head.append(script);
  }
})();
