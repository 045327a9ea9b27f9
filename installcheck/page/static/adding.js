// A form for one more thing, and a wire list pasted from a spreadsheet; both write the short form into the text.

import { fill, find, make, choose } from "./build.js";

/** Parts that have the words written in a field, each with its figures; a press takes one. */
function search(ask, input, section) {
  const hits = make("ul", { class: "hits", "aria-label": "Parts found" });
  const told = make("small", { role: "status" });
  let waiting = 0;
  const look = async () => {
    const answer = await ask("parts", { words: input.value, section }).catch(() => null);
    if (!answer) return;
    const more = answer.more + Math.max(0, answer.parts.length - MOST);
    told.textContent = answer.parts.length ? (more ? `${more} more; write another word of it` : "") : "no part has these words";
    fill(hits, ...answer.parts.slice(0, MOST).map((one) => make("li", {},
      make("button", { type: "button", class: "place", onclick: () => { input.value = one.key; fill(hits); told.textContent = ""; input.focus(); } }, one.key),
      make("span", {}, ` ${one.title}`),
      make("small", {}, one.figures.map(([word, value]) => `${word.replaceAll("_", " ")} ${value.length > 70 ? `${value.slice(0, 67)}...` : value}`).join("; ")))));
  };
  input.addEventListener("input", () => { clearTimeout(waiting); waiting = setTimeout(look, 150); });
  return [told, hits];
}

const MOST = 8;

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
      const searched = field.word === "part";
      const list = !searched && field.choices.length ? make("datalist", { id: `${id}-list` }, ...field.choices.map((value) => make("option", { value }))) : null;
      const input = field.long
        ? make("textarea", { id, rows: "8", cols: "60", "aria-describedby": `${id}-help` })
        : make("input", { id, list: list ? `${id}-list` : null, autocomplete: "off", value: field.value, "aria-describedby": `${id}-help` });
      return [make("label", { for: id }, field.title), input, list, make("small", { id: `${id}-help` }, searched ? "key of a part, or words of it: Pt100, oil pressure, shielded cable" : field.help),
        ...(searched ? search(ask, input, kind.value) : [])];
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
