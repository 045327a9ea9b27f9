// What the page needs of the editor, by name; everything else of the page is plain JavaScript beside it.
export { EditorState, EditorSelection, Compartment, StateEffect, StateField, Annotation } from "@codemirror/state";
export {
  EditorView, keymap, lineNumbers, highlightActiveLine, highlightActiveLineGutter, highlightSpecialChars,
  drawSelection, hoverTooltip, Decoration,
} from "@codemirror/view";
export { defaultKeymap, history, historyKeymap, indentWithTab, isolateHistory, undo, redo } from "@codemirror/commands";
export { indentUnit, indentOnInput, bracketMatching, foldGutter, foldKeymap, syntaxHighlighting, HighlightStyle } from "@codemirror/language";
export { tags } from "@lezer/highlight";
export { yaml } from "@codemirror/lang-yaml";
export { autocompletion, completionKeymap, startCompletion } from "@codemirror/autocomplete";
export { lintGutter, setDiagnostics, lintKeymap } from "@codemirror/lint";
export { search, searchKeymap, highlightSelectionMatches } from "@codemirror/search";
