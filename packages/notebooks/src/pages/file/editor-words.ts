import { EditorState, type Extension, RangeSetBuilder, StateField, type Text } from "@codemirror/state";
import { Decoration, type DecorationSet, EditorView } from "@codemirror/view";
import { CST, Lexer } from "yaml";

/** What a piece of a file's text is to the eye; values keep the ink of the page. */
export type WordKind = "key" | "comment" | "sign" | "mark";

/** A piece of a text by its offsets, its end not included. */
export interface Word {
  readonly from: number;
  readonly to: number;
  readonly kind: WordKind;
}

/** Signs of the reader that stand for nothing in the text. */
const SILENT: readonly string[] = [CST.DOCUMENT, CST.FLOW_END, CST.SCALAR];

const KINDS: Readonly<Record<string, WordKind>> = {
  comment: "comment",
  "map-value-ind": "sign",
  "seq-item-ind": "sign",
  "explicit-key-ind": "sign",
  "flow-map-start": "sign",
  "flow-map-end": "sign",
  "flow-seq-start": "sign",
  "flow-seq-end": "sign",
  comma: "sign",
  "block-scalar-header": "sign",
  anchor: "mark",
  alias: "mark",
  tag: "mark",
  "directive-line": "mark",
  "doc-start": "mark",
  "doc-end": "mark",
};

/**
 * The pieces of a scenario file that are told apart by colour, in their order, as the reader of such files sees them; a broken text gives those
 * that can be told.
 *
 * @example wordsOf("fuse: 20 A # main") // the key, its colon and the comment
 */
export function wordsOf(text: string): Word[] {
  const found: Word[] = [];
  let at = 0;
  let isScalar = false;
  // What a colon would make a key of.
  let last: { readonly from: number; readonly to: number } | null = null;
  for (const token of new Lexer().lex(text)) {
    if (SILENT.includes(token)) {
      isScalar = token === CST.SCALAR;
      continue;
    }
    const [from, to] = [at, at + token.length];
    at = to;
    const type = isScalar ? "scalar" : CST.tokenType(token);
    isScalar = false;
    if (type === "space") continue;
    if (type === "map-value-ind" && last !== null) found.push({ ...last, kind: "key" });
    last = type === "scalar" || type?.endsWith("quoted-scalar") ? { from, to } : null;
    const kind = type === null ? undefined : KINDS[type];
    if (kind !== undefined && to > from) found.push({ from, to, kind });
  }
  return found;
}

const looks: Readonly<Record<WordKind, Decoration>> = {
  key: Decoration.mark({ class: "file-key" }),
  comment: Decoration.mark({ class: "file-comment" }),
  sign: Decoration.mark({ class: "file-sign" }),
  mark: Decoration.mark({ class: "file-mark" }),
};

/** Colours the words of a scenario file, and lets the usual keys make comments of lines. */
export function fileWords(): Extension {
  const coloured = StateField.define<DecorationSet>({
    create: ({ doc }) => colour(doc),
    update: (old, { docChanged, state }) => (docChanged ? colour(state.doc) : old),
    provide: (field) => EditorView.decorations.from(field),
  });
  return [coloured, EditorState.languageData.of(() => [{ commentTokens: { line: "#" } }])];
}

function colour(doc: Text): DecorationSet {
  const set = new RangeSetBuilder<Decoration>();
  for (const { from, to, kind } of wordsOf(doc.toString())) set.add(from, to, looks[kind]);
  return set.finish();
}
