// Kept designs: listed, opened, kept as the next revision. A revision that somebody else kept meanwhile is
// never written over unseen, and what is on the board is never lost.
"use strict";

const designs = (() => {
  const { one, say, make } = page;
  const dialog = document.getElementById("kept");
  const holder = document.getElementById("kept-list");

  const time = (said) => String(said).replace("T", " ").slice(0, 16);
  const action = (text, act) => make("button", { type: "button", onclick: act }, text);

  async function call(path, options = {}) {
    const answer = await drawing.call(path, options);
    const body = await answer.json().catch(() => ({}));
    return { ok: answer.ok, status: answer.status, tag: answer.headers.get("ETag"), body };
  }

  const send = (path, method, file, headers = {}) =>
    call(path, { method, body: JSON.stringify(file), headers: { "Content-Type": "application/json", ...headers } });

  async function show(...said) {
    if (!dialog.open) dialog.showModal();
    const { ok, body } = await call("/v1/designs").catch(() => ({ ok: false, body: { detail: say("noServer") } }));
    const rows = ok ? body.designs.map(row) : [make("p", { className: "fault" }, body.detail ?? body.title)];
    holder.replaceChildren(
      ...said,
      building.file ? make("p", {}, action(keepText(), keep)) : "",
      rows.length ? make("ul", { className: "designs" }, ...rows) : make("p", {}, say("keptNone")),
    );
  }

  function keepText() {
    const { design, file } = building;
    return design ? say("keepNext", { name: file.name, number: design.revision + 1 }) : say("keep", { name: file.name });
  }

  function row(design) {
    const item = make("li", {},
      make("strong", {}, design.name), " ",
      make("span", {}, say("revision", { number: design.revision, time: time(design.changed) })), " ",
      action(say("openIt"), () => open(design.id)), " ",
      design.revision > 1 ? action(say("earlier"), () => earlier(design, item)) : "");
    return item;
  }

  async function open(id) {
    const { ok, tag, body } = await call(`/v1/designs/${id}`);
    if (!ok) return show(make("p", { className: "fault", role: "alert" }, body.detail));
    drawing.look.wall = "front";
    building.open(body.building, { key: `design-${id}`, design: { id, tag, revision: body.revision } });
    return dialog.close();
  }

  async function earlier(design, item) {
    const { ok, body } = await call(`/v1/designs/${design.id}/revisions`);
    if (!ok) return;
    const rows = body.revisions.map((revision) => make("li", { value: revision.revision },
      `${revision.name}, ${time(revision.made)} `,
      action(say("takeBack"), () => takeBack(design, revision.revision))));
    one("ol", item)?.remove();
    item.append(make("ol", { reversed: true }, ...rows));
    // By what it changed a revision is known again; of the oldest of a page the one before it is not there.
    const kept = await Promise.all(body.revisions.map(({ revision }) => call(`/v1/designs/${design.id}/revisions/${revision}`)));
    rows.forEach((row, index) => {
      const [after, before] = [kept[index], kept[index + 1]];
      if (after.ok && before?.ok) row.append(make("small", { className: "changed" }, changes.told(before.body.building, after.body.building)));
      else if (after.ok && body.revisions[index].revision === 1) row.append(make("small", { className: "changed" }, say("firstKept")));
    });
  }

  // An earlier revision comes onto the board as a change that can be taken back; keeping it makes a new one.
  async function takeBack(design, number) {
    const { ok, body } = await call(`/v1/designs/${design.id}/revisions/${number}`);
    if (!ok) return;
    if (building.design?.id !== design.id) await open(design.id);
    building.become(body.building, "whole");
    dialog.close();
  }

  async function keep() {
    const { design, file } = building;
    const answer = design
      ? await send(`/v1/designs/${design.id}`, "PUT", file, { "If-Match": design.tag })
      : await send("/v1/designs", "POST", file);
    if (answer.status === 412) return conflict();
    if (design && (answer.status === 404 || answer.status === 410)) return keepNew();
    return settled(answer);
  }

  async function keepNew() {
    settled(await send("/v1/designs", "POST", building.file));
  }

  function settled({ ok, tag, body }) {
    if (!ok) return show(make("p", { className: "fault", role: "alert" }, say("notKept", { why: body.detail ?? body.title })));
    building.design = { id: body.id, tag, revision: body.revision };
    return show(make("p", { role: "status" }, say("keptAs", { number: body.revision })));
  }

  async function conflict() {
    const { id } = building.design;
    const { ok, tag, body } = await call(`/v1/designs/${id}`);
    if (!ok) return keepNew();
    const over = async () => settled(await send(`/v1/designs/${id}`, "PUT", building.file, { "If-Match": tag }));
    const theirs = () => {
      building.design = { id, tag, revision: body.revision };
      building.become(body.building, "whole");
      dialog.close();
    };
    return show(make("div", { className: "conflict", role: "alert" },
      make("p", {}, say("movedOn", { number: body.revision })),
      make("p", {}, action(say("keepOver"), over), " ", action(say("keepNew"), keepNew), " ", action(say("seeTheirs"), theirs))));
  }

  page.actions.kept = () => show();

  return { show };
})();
