// Sheets and lists of the building on the board, made by the server and saved as files.
"use strict";

const sheets = (() => {
  const { on, say } = page;
  const dialog = document.getElementById("sheets");
  const said = document.getElementById("sheets-said");

  async function make(name) {
    said.textContent = say("making");
    const answer = await drawing.call(`/v1/exports/${encodeURIComponent(name)}`, {
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

  on("click", "[data-export] button", (button) => make(button.closest("[data-export]").dataset.export));
  page.actions.sheets = () => {
    said.textContent = "";
    dialog.showModal();
  };

  return { make };
})();
