/** A printed verdict without the one number that the last bits of a machine's arithmetic decide: the energy left unexplained. */
export function roughly(text: string): string {
  return text.replace(/\d\S*(?= of the energy turned over is unaccounted for)/, "little");
}

/** A figure's marks may lie this far, in pixels, from where they lay. */
const NEAR = 1;

/**
 * Where two figures differ in what they say or how they are built: elements, attributes, words exactly, places to a pixel. The points of
 * curves are left out: their number depends on the integrator's steps.
 */
export function figureDifferences(one: string, other: string): string[] {
  const [a, b] = [partsOf(one), partsOf(other)];
  if (a.length !== b.length) return [`${a.length} parts against ${b.length}`];
  return a.flatMap((part, k) =>
    alike(part, b[k]!) ? [] : [`${part.tag}${part.words} against ${b[k]?.tag}${b[k]?.words}`],
  );
}

interface Part {
  readonly tag: string;
  readonly words: string;
}

function partsOf(svg: string): Part[] {
  return svg.split(/(?=<)/).map((text) => {
    const end = text.indexOf(">") + 1;
    return { tag: text.slice(0, end).replace(/ (?:d|points)="[^"]*"/g, ""), words: text.slice(end) };
  });
}

function alike(a: Part, b: Part): boolean {
  const number = /-?\d+(?:\.\d+)?/g;
  if (a.words !== b.words || a.tag.replace(number, "#") !== b.tag.replace(number, "#")) return false;
  const [mine, others] = [a.tag.match(number) ?? [], b.tag.match(number) ?? []];
  return mine.every((text, k) => Math.abs(Number(text) - Number(others[k])) <= NEAR);
}

/** Pieces of an excerpt, parted by lines that are only `…`, that do not stand in the whole text in their order. */
export function piecesMissing(excerpt: string, whole: string): string[] {
  let from = 0;
  return excerpt
    .split(/^…\n/m)
    .filter((piece) => piece.trim() !== "")
    .filter((piece) => {
      const at = whole.indexOf(piece, from);
      if (at < 0) return true;
      from = at + piece.length;
      return false;
    });
}
