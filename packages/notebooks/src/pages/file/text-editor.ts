import {
  deleteLine,
  history,
  historyKeymap,
  indentLess,
  indentMore,
  moveLineDown,
  moveLineUp,
  standardKeymap,
  toggleComment,
} from "@codemirror/commands";
import { indentUnit } from "@codemirror/language";
import { type Diagnostic, nextDiagnostic, previousDiagnostic, setDiagnostics } from "@codemirror/lint";
import { Compartment, EditorState, type Text, Transaction } from "@codemirror/state";
import {
  EditorView,
  highlightActiveLine,
  highlightActiveLineGutter,
  type KeyBinding,
  keymap,
  lineNumbers,
} from "@codemirror/view";
import type { Issue } from "@railfault/sim";
import { editorLook } from "./editor-look.ts";
import { fileWords } from "./editor-words.ts";

export interface TextEditorOptions {
  readonly text: string;
  readonly label: string;
  /** Id of what tells the keys. */
  readonly describedBy: string;
  /** Somebody wrote; asked often. */
  readonly written: (text: string) => void;
  /** The cursor stands somewhere else, or the text around it changed. */
  readonly moved: (text: string, offset: number) => void;
  /** The field was left: what waits for a pause in typing need wait no longer. */
  readonly left: () => void;
}

/** A field for the text of a scenario. */
export interface TextEditor {
  readonly element: HTMLElement;
  readonly text: string;
  /** Puts another text there that was not typed: what was typed before cannot be undone from within any more. */
  put(text: string): void;
  /** Underlines the places of problems. */
  mark(issues: readonly Issue[]): void;
  /** Puts the cursor at a line and column, both counted from 1, and the focus into the text. */
  jump(line: number, column: number, length: number): void;
  /** Puts the cursor, without the focus, behind the comments that a file begins with; a long opening is scrolled past. */
  begin(): void;
  leave(): void;
}

/** Where so many lines of the file itself are seen below its opening comments, these are shown, too. */
const LINES_BELOW = 6;

/** What one move may ask of the drawing: more underlines than this tell nobody anything. */
const MOST_MARKS = 100;

/** What a file of lines asks for beyond moving, selecting and deleting. */
const ownKeys: readonly KeyBinding[] = [
  { key: "Mod-]", run: indentMore },
  { key: "Mod-[", run: indentLess },
  { key: "Mod-/", run: toggleComment },
  { key: "Alt-ArrowUp", run: moveLineUp },
  { key: "Alt-ArrowDown", run: moveLineDown },
  { key: "Shift-Mod-k", run: deleteLine },
  { key: "F8", run: nextDiagnostic, shift: previousDiagnostic },
];

/**
 * An editor for scenario files: line numbers, colours, its own undo, problems underlined. Tab leaves it.
 *
 * @example place.append(textEditor({ text, label: "The file", describedBy: "keys", written, moved, left }).element)
 */
export function textEditor(options: TextEditorOptions): TextEditor {
  const { written, moved, left } = options;
  const undo = new Compartment();
  const view = new EditorView({
    state: EditorState.create({
      doc: options.text,
      extensions: [
        lineNumbers(),
        highlightActiveLine(),
        highlightActiveLineGutter(),
        undo.of(history()),
        fileWords(),
        indentUnit.of("  "),
        EditorView.lineWrapping,
        editorLook,
        keymap.of([...ownKeys, ...standardKeymap, ...historyKeymap]),
        EditorView.contentAttributes.of({
          "aria-label": options.label,
          "aria-describedby": options.describedBy,
          tabindex: "0",
          spellcheck: "false",
          autocapitalize: "off",
          autocorrect: "off",
        }),
        EditorView.updateListener.of(({ docChanged, selectionSet, state, transactions }) => {
          const typed = transactions.some((each) => each.docChanged && each.annotation(Transaction.remote) !== true);
          if (docChanged && typed) written(state.doc.toString());
          if (docChanged || selectionSet) moved(state.doc.toString(), state.selection.main.head);
        }),
        EditorView.domEventHandlers({
          blur: left,
          // Who comes by keyboard sees where; a click would land elsewhere if the page moved under it.
          keyup: ({ key }, { dom }) => {
            if (key === "Tab") dom.scrollIntoView({ block: "nearest" });
          },
        }),
      ],
    }),
  });

  return {
    element: view.dom,
    get text() {
      return view.state.doc.toString();
    },
    put(text) {
      const old = view.state.doc.toString();
      if (text === old) return;
      view.dispatch({ effects: undo.reconfigure([]) });
      view.dispatch({ changes: difference(old, text), annotations: Transaction.remote.of(true) });
      view.dispatch({ effects: undo.reconfigure(history()) });
    },
    mark(issues) {
      const { doc } = view.state;
      const found = issues.slice(0, MOST_MARKS).flatMap((issue): Diagnostic[] => {
        if (issue.position === null) return [];
        const { from, to } = rangeAt(doc, issue.position);
        return [{ from, to, severity: issue.severity, message: issue.message }];
      });
      view.dispatch(setDiagnostics(view.state, found));
    },
    jump(line, column, length) {
      const { from, to } = rangeAt(view.state.doc, { line, column, length });
      view.dispatch({
        selection: { anchor: from, head: to },
        effects: EditorView.scrollIntoView(from, { y: "center" }),
      });
      view.focus();
    },
    begin() {
      const from = /^(?:[ \t]*(?:#.*)?\r?\n)*/.exec(view.state.doc.toString())?.[0].length ?? 0;
      view.dispatch({ selection: { anchor: from } });
      // The editor's own way of scrolling would move the page, too.
      view.requestMeasure({
        read: () => {
          const { top } = view.lineBlockAt(Math.min(from, view.state.doc.length));
          return top < view.scrollDOM.clientHeight - LINES_BELOW * view.defaultLineHeight ? 0 : top;
        },
        write: (top) => {
          view.scrollDOM.scrollTop = top;
        },
      });
      moved(view.state.doc.toString(), from);
    },
    leave: () => view.destroy(),
  };
}

interface Place {
  readonly line: number;
  readonly column: number;
  readonly length: number;
}

/** A place of a text that may have been changed since. */
function rangeAt(doc: Text, { line, column, length }: Place): { from: number; to: number } {
  const row = doc.line(Math.min(Math.max(1, line), doc.lines));
  const from = Math.min(row.from + Math.max(0, column - 1), row.to);
  return { from, to: Math.min(from + Math.max(1, length), row.to) };
}

/** The one stretch in which two texts differ; the cursor stays where it is outside of it. */
function difference(old: string, text: string): { from: number; to: number; insert: string } {
  const most = Math.min(old.length, text.length);
  let start = 0;
  while (start < most && old[start] === text[start]) start += 1;
  let end = 0;
  while (end < most - start && old[old.length - 1 - end] === text[text.length - 1 - end]) end += 1;
  return { from: start, to: old.length - end, insert: text.slice(start, text.length - end) };
}
