import { shorten, textWidth } from "./text.ts";
import type { TimeAxis } from "./time-axis.ts";
import type { StateSpan, Tone } from "./types.ts";

/** A stretch of one state, CSS pixels; `dense` where several are too narrow to be told apart. */
export interface Block {
  readonly left: number;
  readonly right: number;
  readonly tone: Tone;
  readonly tags: readonly string[];
  /** How many spans it stands for. */
  readonly count: number;
  readonly dense: boolean;
  /** The same state goes on across a gap of the axis and is written there. */
  readonly silent: boolean;
}

export interface PlacedTag {
  readonly x: number;
  readonly text: string;
}

const typeSize = 12;
const padding = 6;
const tightPadding = 2;
const narrowest = 3;

/** What of a row is drawn: spans cut to the axis, neighbours too narrow to see joined into one dense block. */
export function blocksOf(axis: TimeAxis, spans: readonly StateSpan[]): Block[] {
  const pieces = spans.flatMap((span) => piecesOf(axis, span));
  const blocks: Block[] = [];
  for (const piece of pieces) {
    const previous = blocks[blocks.length - 1];
    const tooNarrow = piece.right - piece.left < narrowest;
    const previousJoins = previous && (previous.dense || previous.right - previous.left < narrowest);
    if (previous && tooNarrow && previousJoins) blocks[blocks.length - 1] = joined(previous, piece);
    else blocks.push(piece);
  }
  return blocks;
}

function piecesOf(axis: TimeAxis, span: StateSpan): Block[] {
  const pieces = axis.segments
    .map((segment) => ({ from: Math.max(span.from, segment.from), to: Math.min(span.to, segment.to) }))
    .filter((piece) => piece.to > piece.from)
    .map((piece) => ({ left: axis.position(piece.from), right: axis.position(piece.to) }));
  const widest = Math.max(...pieces.map((piece) => piece.right - piece.left));
  return pieces.map((piece) => ({
    ...piece,
    tone: span.tone,
    tags: [span.tag],
    count: 1,
    dense: false,
    silent: piece.right - piece.left < widest,
  }));
}

const severity: readonly Tone[] = ["idle", "off", "active", "alarm"];

function joined(a: Block, b: Block): Block {
  return {
    left: a.left,
    right: b.right,
    tone: severity.indexOf(b.tone) > severity.indexOf(a.tone) ? b.tone : a.tone,
    tags: [...new Set([...a.tags, ...b.tags])],
    count: a.count + b.count,
    dense: true,
    silent: a.silent && b.silent,
  };
}

/** States in turn and how often; empty where none comes back. */
function rounds(blocks: readonly Block[]): string {
  const tags = [...new Set(blocks.flatMap((block) => block.tags))];
  const counts = tags.map((tag) => countOf(blocks, tag)).filter((count) => count > 1);
  // Of two states in turn the rarer one counts the rounds.
  return counts.length > 1 ? `${tags.join(" / ")} ×${Math.min(...counts)}` : "";
}

function countOf(blocks: readonly Block[], tag: string): number {
  const own = blocks.filter((block) => block.tags.includes(tag));
  return own.reduce((sum, block) => sum + Math.round(block.count / block.tags.length), 0);
}

/** Writes each state inside its own block where there is room: a word that reached over others would name them too. */
export function placeTags(blocks: readonly Block[]): PlacedTag[] {
  return blocks
    .filter(({ silent, tags: [tag, ...others], left, right }) => {
      return !silent && others.length === 0 && textWidth(tag, typeSize) + 2 * tightPadding <= right - left;
    })
    .map(({ tags: [tag], left, right }) => {
      const spare = right - left - textWidth(tag, typeSize);
      return { x: left + Math.min(padding, spare / 2), text: tag };
    });
}

/** In a small figure, which has no room for words beside its bars, states that take turns and of which none lasts share one tag. */
export function placeLastingTags(blocks: readonly Block[]): PlacedTag[] {
  const lasting = placeTags(blocks);
  const seen = blocks.filter(({ silent }) => !silent);
  if (lasting.length > 0 || seen.length === 0) return lasting;
  const [left, right] = [seen[0].left, seen[seen.length - 1].right];
  const text = shorten(rounds(seen), typeSize, right - left - tightPadding);
  return text === "" ? [] : [{ x: (left + right - textWidth(text, typeSize)) / 2, text }];
}
