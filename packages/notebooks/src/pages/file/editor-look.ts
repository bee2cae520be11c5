import { EditorView } from "@codemirror/view";

/** The look of the text field. */
export const editorLook = EditorView.theme({
  "&": {
    color: "var(--ink)",
    backgroundColor: "var(--sheet)",
    border: "1px solid var(--edge)",
    borderRadius: "var(--round)",
    fontSize: "0.875rem",
  },
  "&.cm-focused, &:focus-within": { outline: "3px solid var(--accent)", outlineOffset: "2px" },
  ".cm-scroller": { fontFamily: "var(--code)", lineHeight: "1.6", overflow: "auto" },
  ".cm-content": { caretColor: "var(--ink)", padding: "0.5rem 0" },
  ".cm-line": { padding: "0 0.75rem 0 0.5rem" },
  // Keys, signs and comments of a scenario in the page's own inks.
  ".file-key": { color: "var(--accent)" },
  ".file-comment": { color: "var(--muted)", fontStyle: "italic" },
  ".file-sign": { color: "var(--muted)" },
  ".file-mark": { color: "var(--warm-edge)" },
  ".cm-gutters": {
    backgroundColor: "var(--shade)",
    color: "var(--muted)",
    borderInlineEnd: "1px solid var(--hair)",
  },
  ".cm-activeLine": { backgroundColor: "transparent" },
  "&.cm-focused .cm-activeLine": { backgroundColor: "color-mix(in srgb, var(--active) 35%, transparent)" },
  ".cm-activeLineGutter": { backgroundColor: "transparent" },
  "&.cm-focused .cm-activeLineGutter": { backgroundColor: "var(--active)", color: "var(--ink)" },
  ".cm-lintRange": { backgroundImage: "none", paddingBottom: "0" },
  ".cm-lintRange-error": {
    backgroundColor: "color-mix(in srgb, var(--alarm) 70%, transparent)",
    textDecoration: "underline wavy var(--alarm-edge)",
    textDecorationSkipInk: "none",
    textUnderlineOffset: "3px",
  },
  ".cm-lintRange-warning": {
    backgroundColor: "color-mix(in srgb, var(--warm) 70%, transparent)",
    textDecoration: "underline dashed var(--warm-edge)",
    textUnderlineOffset: "3px",
  },
  ".cm-lintPoint::after": { borderBottomColor: "var(--alarm-edge)" },
  ".cm-tooltip": {
    backgroundColor: "var(--sheet)",
    color: "var(--ink)",
    border: "1px solid var(--edge)",
    borderRadius: "var(--round)",
    maxWidth: "26rem",
  },
  ".cm-tooltip ul": { margin: "0", padding: "0" },
  ".cm-diagnostic": {
    margin: "0",
    padding: "0.375rem 0.75rem",
    font: "var(--small) / 1.4 var(--plain)",
    borderInlineStart: "4px solid var(--alarm-edge)",
  },
  ".cm-diagnostic-warning": { borderInlineStart: "4px solid var(--warm-edge)" },
});
