// Elements made by name; what comes from a document only ever becomes text.

/** An element with attributes, event handlers ("onclick") and children; texts become text nodes. */
export function make(name, attributes = {}, ...children) {
  const element = document.createElement(name);
  for (const [word, value] of Object.entries(attributes)) {
    if (word.startsWith("on")) element.addEventListener(word.slice(2), value);
    else if (value === true) element.setAttribute(word, "");
    else if (value !== false && value != null) element.setAttribute(word, value);
  }
  element.append(...children.filter((child) => child != null && child !== false));
  return element;
}

export const find = (id) => document.getElementById(id);

/** Put children in place of what an element holds. */
export function fill(element, ...children) {
  element.replaceChildren(...children.filter((child) => child != null && child !== false));
}

/** Make an element hold just these, each told by a key: what has its key already stays as it is. `items` are [key, maker]. */
export function keep(element, items) {
  const there = new Map([...element.children].map((child) => [child.key, child]));
  let at = element.firstElementChild;
  for (const [key, maker] of items) {
    let child = there.get(key);
    if (child) there.delete(key);
    else {
      child = maker();
      child.key = key;
    }
    if (child === at) at = at.nextElementSibling;
    else element.insertBefore(child, at);
  }
  for (const child of [...element.children]) if (there.get(child.key) === child || child.key === undefined) child.remove();
}

/** Ask in a dialog; resolves to the value of the button pressed, "" if it was closed. */
export function choose(title, body, buttons) {
  const dialog = find("dialog");
  find("dialog-title").textContent = title;
  return new Promise((resolve) => {
    const close = (value) => () => {
      dialog.close(value);
    };
    fill(
      find("dialog-body"),
      ...body,
      make("div", { class: "buttons" }, ...buttons.map(([value, words]) => make("button", { type: "button", "data-value": value, onclick: close(value) }, words))),
    );
    dialog.addEventListener("close", () => resolve(dialog.returnValue), { once: true });
    dialog.returnValue = "";
    dialog.showModal();
  });
}

/** A difference, line by line, told apart by its signs. */
export function difference(text) {
  const lines = text.split("\n").map((line) => make("span", { class: line.startsWith("+") ? "plus" : line.startsWith("-") ? "minus" : "" }, line + "\n"));
  return make("pre", { class: "difference", tabindex: "0" }, ...lines);
}
