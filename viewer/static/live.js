// The wiring of a page that a server keeps in step: undo and redo, and what this browser remembers.
"use strict";

(() => {
  const { all, one, say, make, data } = page;

  Object.assign(page.actions, { undo: building.undo, redo: building.redo });
  for (const button of all("[data-do]")) button.disabled = false;

  function enable() {
    one("[data-do=undo]").disabled = !building.canUndo;
    one("[data-do=redo]").disabled = !building.canRedo;
    for (const name of ["save", "sheets", "bench"]) one(`[data-do=${name}]`).disabled = !building.file;
  }

  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || page.isTyping(event.target)) return;
    const key = event.key.toLowerCase();
    if (key === "z" && !event.shiftKey) building.undo();
    else if (key === "y" || (key === "z" && event.shiftKey)) building.redo();
    else return;
    event.preventDefault();
  });
  document.addEventListener("building", enable);

  // What was done here before is shown again, and the file as it came stays one step away.
  function bringBack() {
    const back = make("button", { type: "button", onclick: () => {
      building.become(data.building, "whole");
      drawing.tell();
    } }, say("fromFile"));
    const said = make("p", { className: "brought" }, say("bringBack"), " ", back);
    document.addEventListener("drawn", () => drawing.tell(said), { once: true });
  }

  entries.start();
  drag.ready();
  if (!building.file) files.unfinished();
  else if (building.recall()) bringBack();
  raising.recall();
  site.build();
  enable();
  document.body.dataset.live = "true";
})();
