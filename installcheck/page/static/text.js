// The text: an editor with completion, help and marks, all from the program behind the page.

import * as E from "./editor.js";
import { ask, nonce } from "./talk.js";

const marks = { discrepancy: "error", advisory: "warning", undetermined: "info", accepted: "info" };
const fromOutside = E.Annotation.define();
const tops = new Map();

/** A whole document as a string, made once for each. */
const strings = new WeakMap();
function whole(doc) {
  let found = strings.get(doc);
  if (found === undefined) strings.set(doc, found = doc.toString());
  return found;
}

const colours = E.HighlightStyle.define([
  { tag: E.tags.propertyName, class: "k-word" },
  { tag: [E.tags.string, E.tags.content], class: "k-value" },
  { tag: E.tags.comment, class: "k-comment" },
  { tag: [E.tags.punctuation, E.tags.separator, E.tags.brace, E.tags.squareBracket], class: "k-sign" },
]);

const showing = E.StateEffect.define();
const shown = E.StateField.define({
  create: () => E.Decoration.none,
  update(held, change) {
    held = held.map(change.changes);
    for (const effect of change.effects) {
      if (effect.is(showing)) held = effect.value == null ? E.Decoration.none : E.Decoration.set([E.Decoration.line({ class: "shown-line" }).range(effect.value)]);
    }
    return held;
  },
  provide: (field) => E.EditorView.decorations.from(field),
});

async function offered(context) {
  const typed = context.matchBefore(/[^\s{}[\],#]+/);
  if (!typed && !context.explicit) return null;
  const answer = await ask("offers", { text: whole(context.state.doc), offset: context.pos }).catch(() => null);
  if (!answer || !answer.offers.length) return null;
  return {
    from: answer.from,
    options: answer.offers.map((one) => ({
      label: one.word,
      detail: one.help.slice(0, 60),
      type: one.kind,
      apply: one.kind === "word" ? one.word + ": " : /[:#{}[\],&*!|>'"%@`]|^\s|\s$|^[-?]/.test(one.word) ? JSON.stringify(one.word) : one.word,
    })),
    validFor: /^[^\n{}[\],#:]*$/,
  };
}

/** Steps a number in the text at the cursor: the last digit written, ten times it with Shift. */
function step(sign, tenfold) {
  return (view) => {
    const at = view.state.selection.main.head;
    const line = view.state.doc.lineAt(at);
    for (const found of line.text.matchAll(/\d+(?:\.\d+)?/g)) {
      const start = line.from + found.index;
      const end = start + found[0].length;
      if (at < start || at > end) continue;
      const digits = (found[0].split(".")[1] || "").length;
      const next = Math.max(0, Number(found[0]) + sign * (tenfold ? 10 : 1) * 10 ** -digits);
      const told = next.toFixed(digits);
      view.dispatch({ changes: { from: start, to: end, insert: told }, selection: { anchor: start + told.length }, userEvent: "input.step" });
      return true;
    }
    return false;
  };
}

/** A new line indented as the one before, two further after a word that holds others, and within the dash of a list. */
function newline(view) {
  view.dispatch(view.state.update(view.state.changeByRange((range) => {
    const line = view.state.doc.lineAt(range.from);
    const before = line.text.slice(0, range.from - line.from);
    const deep = /^ *(?:- )*/.exec(before)[0].length + (/[:{[]\s*$/.test(before.replace(/(^|\s)#.*/, "")) ? 2 : 0);
    return { changes: { from: range.from, to: range.to, insert: "\n" + " ".repeat(deep) }, range: E.EditorSelection.cursor(range.from + 1 + deep) };
  }), { scrollIntoView: true, userEvent: "input" }));
  return true;
}

/**
 * The editor in `place`, which holds several files and shows one of them; each keeps its own history.
 * `hooks` are `changed(file)`, `moved(line)`, `save()`, `hover(answer, element)` and `file()`, the name of the file shown.
 */
export function editor(place, hooks) {
  const help = E.hoverTooltip(async (view, pos) => {
    const answer = await ask("help", { text: whole(view.state.doc), offset: pos }).catch(() => null);
    if (!answer) return null;
    const dom = document.createElement("div");
    dom.className = "help";
    if (!hooks.hover(answer, dom)) return null;
    return { pos, create: () => ({ dom }) };
  }, { hoverTime: 350 });
  const begun = (text) => E.EditorState.create({
    doc: text,
    extensions: [
      E.EditorView.cspNonce.of(nonce),
      matchMedia("(max-width: 760px)").matches ? E.EditorView.lineWrapping : [],
      E.lineNumbers(), E.foldGutter(), E.lintGutter(), E.highlightSpecialChars(), E.history(), E.drawSelection(),
      E.bracketMatching(), E.highlightActiveLine(), E.highlightActiveLineGutter(), E.highlightSelectionMatches(),
      E.search({ top: true }), E.yaml(), E.syntaxHighlighting(colours), E.indentUnit.of("  "),
      E.autocompletion({ override: [offered], activateOnTypingDelay: 60, selectOnOpen: false }), help, shown,
      E.EditorView.contentAttributes.of({ "aria-label": "Text of the installation", spellcheck: "false" }),
      E.keymap.of([
        { key: "Mod-s", run: () => (hooks.save(), true), preventDefault: true },
        { key: "Alt-ArrowUp", run: step(1, false), shift: step(1, true) },
        { key: "Alt-ArrowDown", run: step(-1, false), shift: step(-1, true) },
        ...E.completionKeymap, { key: "Enter", run: newline }, ...E.lintKeymap, ...E.searchKeymap, ...E.historyKeymap, ...E.foldKeymap, ...E.defaultKeymap,
      ]),
      E.EditorView.updateListener.of((update) => {
        if (update.docChanged) hooks.changed(current);
        if (update.docChanged || update.selectionSet) {
          if (!update.transactions.some((one) => one.annotation(fromOutside) === "silent")) hooks.moved(update.state.doc.lineAt(update.state.selection.main.head).number);
        }
      }),
    ],
  });
  const view = new E.EditorView({ state: begun(""), parent: place });
  const resting = new Map();
  let current = "";
  const stateOf = (file) => (file === current ? view.state : resting.get(file));
  const change = (file, spec) => {
    if (file === current) return view.dispatch(spec);
    const made = resting.get(file).update(spec);
    resting.set(file, made.state);
    if (made.docChanged) hooks.changed(file);
  };
  const offset = (doc, line, column) => {
    const found = doc.line(Math.min(Math.max(1, line), doc.lines));
    return Math.min(found.from + Math.max(0, column - 1), found.to);
  };
  return {
    view,
    current: () => current,
    doc: (file) => stateOf(file).doc,
    text: (file) => whole(stateOf(file).doc),
    change,
    /** A file with a text from the disk: its history starts anew. */
    open(file, text) {
      if (file === current) view.setState(begun(text));
      else resting.set(file, begun(text));
    },
    /** The file is gone from the document. */
    close: (file) => resting.delete(file),
    /** The file has another name now. */
    rename(file, name) {
      if (file === current) current = name;
      else { resting.set(name, resting.get(file)); resting.delete(file); }
    },
    /** Show another file; where each was scrolled to stays. */
    turn(file) {
      if (file === current || !resting.has(file)) return;
      if (current) resting.set(current, view.state);
      const top = view.scrollDOM.scrollTop;
      tops.set(current, top);
      current = file;
      view.setState(resting.get(file));
      resting.delete(file);
      view.contentDOM.setAttribute("aria-label", `Text of ${file}`);
      requestAnimationFrame(() => { view.scrollDOM.scrollTop = tops.get(file) || 0; });
    },
    /** Another text as one change that can be undone, only where it differs. */
    become(file, text) {
      const old = whole(stateOf(file).doc);
      let start = 0;
      const least = Math.min(old.length, text.length);
      while (start < least && old[start] === text[start]) start += 1;
      let end = 0;
      while (end < least - start && old[old.length - 1 - end] === text[text.length - 1 - end]) end += 1;
      if (start === old.length && start === text.length) return;
      change(file, {
        changes: { from: start, to: old.length - end, insert: text.slice(start, text.length - end) },
        annotations: E.isolateHistory.of("full"),
      });
    },
    undo: (file) => E.undo({ state: stateOf(file), dispatch: (made) => (file === current ? view.dispatch(made) : (resting.set(file, made.state), hooks.changed(file))) }),
    redo: (file) => E.redo({ state: stateOf(file), dispatch: (made) => (file === current ? view.dispatch(made) : (resting.set(file, made.state), hooks.changed(file))) }),
    /** Mark what is found in the file that is shown. */
    mark(problems, verdicts) {
      const at = (one, severity) => {
        const from = offset(view.state.doc, one.line, one.column);
        const end = view.state.doc.lineAt(from).to;
        const length = Math.max(1, (one.text || "").split("\n")[0].length || (/^[^\s:{}[\],]+/.exec(view.state.sliceDoc(from, end)) || [" "])[0].length);
        return { from, to: Math.min(from + length, end), severity, message: one.message };
      };
      const found = [
        ...problems.filter((one) => one.file === current).map((one) => at(one, "error")),
        ...verdicts.filter((one) => one.file === current).map((one) => at(one, marks[one.outcome])),
      ];
      view.dispatch(E.setDiagnostics(view.state, found.sort((a, b) => a.from - b.from)));
    },
    /** Show a line of the file that is shown; `focus` moves the cursor there as well. */
    show(line, focus, column = 1) {
      const at = offset(view.state.doc, line, column);
      view.dispatch({
        effects: [showing.of(view.state.doc.lineAt(at).from), E.EditorView.scrollIntoView(at, { y: "center" })],
        ...(focus ? { selection: { anchor: at } } : {}),
        annotations: fromOutside.of("silent"),
      });
      if (focus) view.focus();
    },
  };
}
