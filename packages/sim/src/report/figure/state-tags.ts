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

function tagsOf(run: Run): string[] {
  return run.blocks.flatMap((block) => block.tags);
}

function wording(blocks: readonly Block[]): string {
  const tags = [...new Set(blocks.flatMap((block) => block.tags))];
  const counts = tags.map((tag) => countOf(blocks, tag)).filter((count) => count > 1);
  // Of two states in turn the rarer one counts the rounds.
  return counts.length > 1 ? `${tags.join(" / ")} ×${Math.min(...counts)}` : tags.join(" / ");
}

function countOf(blocks: readonly Block[], tag: string): number {
  const own = blocks.filter((block) => block.tags.includes(tag));
  return own.reduce((sum, block) => sum + Math.round(block.count / block.tags.length), 0);
}

/** Neighbouring blocks that share one tag. */
interface Run {
  readonly blocks: readonly Block[];
  readonly left: number;
  readonly right: number;
}

function need(text: string): number {
  return textWidth(text, typeSize) + 2 * tightPadding;
}

function runsOf(blocks: readonly Block[]): Run[] {
  const runs: Run[] = [];
  let previousFits = true;
  for (const block of blocks) {
    if (block.silent) continue;
    const previous = runs[runs.length - 1];
    const fits = need(wording([block])) <= block.right - block.left;
    if (previous && !fits && !previousFits && Math.abs(previous.right - block.left) < 0.5) {
      runs[runs.length - 1] = { ...previous, blocks: [...previous.blocks, block], right: block.right };
    } else runs.push({ blocks: [block], left: block.left, right: block.right });
    previousFits = fits;
  }
  return runs;
}

/**
 * Writes each state inside its block, or beside it with a pointing triangle where it is too narrow. Narrow neighbours
 * share one tag; a state that still has no room takes its neighbours into a common tag, so that none goes unwritten
 * unless the whole row is too short for its words.
 */
export function placeTags(blocks: readonly Block[]): PlacedTag[] {
  let runs = runsOf(blocks);
  let attempt = tryPlacing(runs);
  while (attempt.homeless !== null && runs.length > 1) {
    runs = absorbNeighbours(runs, attempt.homeless);
    attempt = tryPlacing(runs);
  }
  return attempt.placed;
}

/** Where there is no room to write every state, the ones that last are written; where none lasts, all of them share one tag. */
export function placeLastingTags(blocks: readonly Block[]): PlacedTag[] {
  const lasting = blocks.filter((block) => !block.silent && need(wording([block])) <= block.right - block.left);
  if (lasting.length === 0) return placeTags(blocks);
  return lasting.map((block) => {
    const spare = block.right - block.left - textWidth(wording([block]), typeSize);
    return { x: block.left + Math.min(padding, spare / 2), text: wording([block]) };
  });
}

function absorbNeighbours(runs: readonly Run[], index: number): Run[] {
  let first = Math.max(0, index - 1);
  let last = Math.min(runs.length - 1, index + 1);
  const common = new Set(runs.slice(first, last + 1).flatMap(tagsOf));
  // A pattern is told once, however long it goes on.
  const same = (run: Run | undefined) => run !== undefined && tagsOf(run).every((tag) => common.has(tag));
  while (same(runs[first - 1])) first--;
  while (same(runs[last + 1])) last++;
  const group = runs.slice(first, last + 1);
  const joint: Run = {
    blocks: group.flatMap((run) => run.blocks),
    left: group[0].left,
    right: group[group.length - 1].right,
  };
  return [...runs.slice(0, first), joint, ...runs.slice(last + 1)];
}

interface Slot {
  readonly text: string;
  /** Room not yet written on. */
  left: number;
  right: number;
  readonly holdsOwn: boolean;
  /** A tag that speaks of several blocks stands in their middle. */
  readonly centred: boolean;
}

/** `homeless` is the first run for whose words there was no room. */
function tryPlacing(runs: readonly Run[]): { placed: PlacedTag[]; homeless: number | null } {
  const slots: Slot[] = runs.map((run) => {
    const text = wording(run.blocks);
    return {
      text,
      left: run.left,
      right: run.right,
      holdsOwn: need(text) <= run.right - run.left,
      centred: run.blocks.length > 1,
    };
  });
  const placed: PlacedTag[] = [];
  let homeless: number | null = null;
  for (const [i, slot] of slots.entries()) {
    if (slot.holdsOwn) continue;
    const tag = placeBeside(slot.text, slots[i - 1], slots[i + 1]);
    if (tag === null) {
      // With nobody left to share with, a shortened word is better than none.
      const words = runs.length === 1 ? shorten(slot.text, typeSize, slot.right - slot.left - 2) : "";
      if (words !== "") placed.push({ x: slot.left + 1, text: words });
      homeless ??= i;
    } else placed.push(tag);
  }
  for (const slot of slots) if (slot.holdsOwn) placed.push({ x: inside(slot), text: slot.text });
  return { placed: placed.sort((a, b) => a.x - b.x), homeless };
}

function inside(slot: Slot): number {
  const spare = slot.right - slot.left - textWidth(slot.text, typeSize);
  return slot.left + (slot.centred ? spare / 2 : Math.min(padding, spare / 2));
}

function placeBeside(text: string, before: Slot | undefined, after: Slot | undefined): PlacedTag | null {
  const width = textWidth(`◂ ${text}`, typeSize);
  const room = (slot: Slot) => (slot.holdsOwn ? slot.right - slot.left - need(slot.text) - 2 * padding : 0);
  if (after && room(after) >= width) {
    const x = after.left + padding;
    after.left += width + 2 * padding;
    return { x, text: `◂ ${text}` };
  }
  if (before && room(before) >= width) {
    before.right -= width + 2 * padding;
    return { x: before.right + padding, text: `${text} ▸` };
  }
  return null;
}
