// A form for one more thing, and a wire list pasted from a spreadsheet; both write the short form into the text.

import { fill, find, make, choose } from "./build.js";

/** Ask what to add, and write it. */
export async function add({ ask, texts, write }) {
  const kinds = await ask("kinds");
  const kind = make("select", { id: "add-kind" }, ...kinds.kinds.map((one) => make("option", { value: one.kind }, one.title)));
  const fields = make("div", { class: "fields" });
  const refused = make("p", { class: "note", role: "alert" });
  const fillIn = () => {
    const chosen = kinds.kinds.find((one) => one.kind === kind.value);
    fill(fields, ...chosen.fields.flatMap((field) => {
      const id = `add-${field.word}`;
      const list = field.choices.length ? make("datalist", { id: `${id}-list` }, ...field.choices.map((value) => make("option", { value }))) : null;
      const input = field.long
        ? make("textarea", { id, rows: "8", cols: "60", "aria-describedby": `${id}-help` })
        : make("input", { id, list: list ? `${id}-list` : null, autocomplete: "off", value: field.value, "aria-describedby": `${id}-help` });
      return [make("label", { for: id }, field.title), input, list, make("small", { id: `${id}-help` }, field.help)];
    }));
  };
  kind.addEventListener("change", fillIn);
  fillIn();
  for (;;) {
    const chosen = await choose("Add", [make("label", { for: "add-kind" }, "What"), kind, fields, refused], [["add", "Write it into the text"], ["", "Cancel"]]);
    if (chosen !== "add") return;
    const given = {};
    for (const input of fields.querySelectorAll("input, textarea")) given[input.id.slice(4)] = input.value;
    const answer = await ask("add", { texts: texts(), kind: kind.value, fields: given }).catch((bad) => ({ refused: bad.message }));
    if (!answer.refused) {
      write(answer);
      find("editor").querySelector(".cm-content").focus();
      return;
    }
    refused.textContent = answer.refused;
  }
}
