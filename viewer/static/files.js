// Plain building files: opened from the disk and saved to it; and what this browser holds unfinished.
"use strict";

const files = (() => {
  const { one, on, say, make, memory } = page;
  const chooser = document.getElementById("file");
  // Of a building not seen yet: where no wall is called so, the first is shown.
  const ANY = "front";

  const fresh = () => `file-${crypto.getRandomValues(new Uint32Array(2)).join("-")}`;

  async function openFile(file) {
    let value;
    try {
      value = JSON.parse(await file.text());
    } catch {
      drawing.reveal();
      drawing.tell(make("p", { className: "not-drawn" }, say("notJson")));
      return;
    }
    drawing.look.wall = ANY;
    building.open(value, { key: fresh() });
  }

  function save() {
    const text = `${JSON.stringify(building.file, null, 2)}\n`;
    const name = String(building.file.name ?? "building").toLowerCase().replace(/[^a-z0-9]+/g, "_").replace(/^_+|_+$/g, "");
    download(new Blob([text], { type: "application/json" }), `${name || "building"}.json`);
  }

  function download(content, name) {
    const address = URL.createObjectURL(content);
    make("a", { href: address, download: name }).click();
    setTimeout(() => URL.revokeObjectURL(address), 10000);
  }

  // Begin anew: the start with its questions, and what was begun before.
  function begin() {
    one("#desk").hidden = true;
    one("#start").hidden = false;
    unfinished();
    one("#start").focus();
  }

  function unfinished() {
    const holder = one("#unfinished");
    const names = memory.names("work:");
    holder.hidden = names.length === 0;
    holder.replaceChildren(make("h3", {}, say("unfinished")), make("ul", {}, ...names.map(item)));
  }

  function item(name) {
    const work = memory.read(name);
    const open = make("button", { type: "button", onclick: () => take(name, work) }, String(work?.name ?? name));
    const forget = make("button", { type: "button", className: "take-out", onclick: () => {
      memory.drop(name);
      memory.drop(name.replace("work:", "sheets:"));
      unfinished();
    } }, say("forget"));
    return make("li", {}, open, " ", forget);
  }

  function take(name, work) {
    drawing.look.wall = ANY;
    building.open(null, { key: name.slice("work:".length), steps: work.steps, at: work.at, design: work.design });
  }

  chooser.addEventListener("change", () => {
    if (chooser.files.length) openFile(chooser.files[0]);
    chooser.value = "";
  });
  on("dragover", "body", (body, event) => {
    if (event.dataTransfer?.types.includes("Files")) event.preventDefault();
  });
  on("drop", "body", (body, event) => {
    if (!event.dataTransfer?.files.length) return;
    event.preventDefault();
    openFile(event.dataTransfer.files[0]);
  });

  Object.assign(page.actions, { open: () => chooser.click(), save, new: begin });

  return { unfinished, download };
})();
