// Sheets and lists of the building on the board, made by the server and saved as files.
"use strict";

const sheets = (() => {
  const { all, on, say, memory } = page;
  const dialog = document.getElementById("sheets");
  const said = document.getElementById("sheets-said");

  const entries = () => all("[name]", dialog);
  const place = () => `sheets:${building.key}`;

  // What was entered for a building stands there again, whenever its sheets are asked for.
  function recall() {
    const kept = memory.read(place()) ?? {};
    for (const entry of entries()) entry.value = kept[entry.name] ?? "";
  }

  function keep() {
    const entered = entries().filter((entry) => entry.value !== "").map((entry) => [entry.name, entry.value]);
    if (entered.length) memory.write(place(), Object.fromEntries(entered));
    else memory.drop(place());
  }

  // What the dialog says of paper and title block, for what is made on paper.
  function asked(row) {
    const entries = row.hasAttribute("data-paper") ? [...new FormData(dialog.querySelector("form"))] : [];
    const query = new URLSearchParams(entries.filter(([, value]) => value.trim()));
    return query.size ? `?${query}` : "";
  }

  async function make(name, query = "") {
    said.textContent = say("making");
    const answer = await drawing.call(`/v1/exports/${encodeURIComponent(name)}${query}`, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify(building.file),
    }).catch(() => null);
    if (!answer?.ok) {
      const problem = await answer?.json().catch(() => null);
      said.textContent = problem?.detail ?? say("noServer");
      return;
    }
    const called = /filename="([^"]+)"/.exec(answer.headers.get("Content-Disposition") ?? "")?.[1] ?? name;
    files.download(await answer.blob(), called);
    said.textContent = say("savedAs", { name: called });
  }

  on("click", "[data-export] button", (button) => {
    const row = button.closest("[data-export]");
    make(row.dataset.export, asked(row));
  });
  on("input", "#sheets [name]", keep);
  page.actions.sheets = () => {
    recall();
    said.textContent = "";
    dialog.showModal();
  };

  return { make };
})();
