// The text: an editor with completion, help and marks, all from the program behind the page.

import * as E from "./editor.js";
import { ask, nonce } from "./talk.js";

const marks = { discrepancy: "error", advisory: "warning", undetermined: "info", accepted: "info" };
const fromOutside = E.Annotation.define();

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
  const answer = await ask("offers", { text: context.state.doc.toString(), offset: context.pos }).catch(() => null);
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

/** The editor in `place`; `hooks` are `changed(text)`, `moved(line)`, `save()` and `hover(path, element)`. */
export function editor(place, hooks) {
  const help = E.hoverTooltip(async (view, pos) => {
    const answer = await ask("help", { text: view.state.doc.toString(), offset: pos }).catch(() => null);
    if (!answer) return null;
    const dom = document.createElement("div");
    dom.className = "help";
    if (!hooks.hover(answer, dom)) return null;
    return { pos, create: () => ({ dom }) };
  }, { hoverTime: 350 });
  const state = (text) => E.EditorState.create({
    doc: text,
    extensions: [
      E.EditorView.cspNonce.of(nonce),
      E.lineNumbers(), E.foldGutter(), E.lintGutter(), E.highlightSpecialChars(), E.history(), E.drawSelection(),
      E.indentOnInput(), E.bracketMatching(), E.highlightActiveLine(), E.highlightActiveLineGutter(), E.highlightSelectionMatches(),
      E.search({ top: true }), E.yaml(), E.syntaxHighlighting(colours), E.indentUnit.of("  "),
      E.autocompletion({ override: [offered], activateOnTypingDelay: 60 }), help, shown,
      E.EditorView.contentAttributes.of({ "aria-label": "Text of the installation", spellcheck: "false" }),
      E.keymap.of([
        { key: "Mod-s", run: () => (hooks.save(), true), preventDefault: true },
        { key: "Alt-ArrowUp", run: step(1, false), shift: step(1, true) },
        { key: "Alt-ArrowDown", run: step(-1, false), shift: step(-1, true) },
        ...E.completionKeymap, ...E.lintKeymap, ...E.searchKeymap, ...E.historyKeymap, ...E.foldKeymap, ...E.defaultKeymap,
      ]),
      E.EditorView.updateListener.of((update) => {
        if (update.docChanged) hooks.changed(update.state.doc.toString());
        if (update.docChanged || update.selectionSet) {
          if (!update.transactions.some((one) => one.annotation(fromOutside) === "silent")) hooks.moved(update.state.doc.lineAt(update.state.selection.main.head).number);
        }
      }),
    ],
  });
  const view = new E.EditorView({ state: state(""), parent: place });
  const offset = (line, column) => {
    const found = view.state.doc.line(Math.min(Math.max(1, line), view.state.doc.lines));
    return Math.min(found.from + Math.max(0, column - 1), found.to);
  };
  return {
    view,
    text: () => view.state.doc.toString(),
    /** A text from the file: the history starts anew. */
    open: (text) => view.setState(state(text)),
    /** Another text as one change that can be undone, only where it differs. */
    become(text) {
      const old = view.state.doc.toString();
      let start = 0;
      const least = Math.min(old.length, text.length);
      while (start < least && old[start] === text[start]) start += 1;
      let end = 0;
      while (end < least - start && old[old.length - 1 - end] === text[text.length - 1 - end]) end += 1;
      if (start === old.length && start === text.length) return;
      view.dispatch({
        changes: { from: start, to: old.length - end, insert: text.slice(start, text.length - end) },
        annotations: E.isolateHistory.of("full"),
      });
    },
    undo: () => E.undo(view),
    redo: () => E.redo(view),
    mark(problems, verdicts, file) {
      const at = (one, severity) => {
        const from = offset(one.line, one.column);
        const end = view.state.doc.lineAt(from).to;
        const length = Math.max(1, (one.text || "").split("\n")[0].length || (/^[^\s:{}[\],]+/.exec(view.state.sliceDoc(from, end)) || [" "])[0].length);
        return { from, to: Math.min(from + length, end), severity, message: one.message };
      };
      const found = [
        ...problems.filter((one) => one.file === file).map((one) => at(one, "error")),
        ...verdicts.filter((one) => one.file === file).map((one) => at(one, marks[one.outcome])),
      ];
      view.dispatch(E.setDiagnostics(view.state, found.sort((a, b) => a.from - b.from)));
    },
    /** Show a line; `focus` moves the cursor there as well. */
    show(line, focus, column = 1) {
      const at = offset(line, column);
      view.dispatch({
        effects: [showing.of(view.state.doc.lineAt(at).from), E.EditorView.scrollIntoView(at, { y: "center" })],
        ...(focus ? { selection: { anchor: at } } : {}),
        annotations: fromOutside.of("silent"),
      });
      if (focus) view.focus();
    },
  };
}
