import { describe, expect, test } from "vitest";
import { type Cell, type Node, PLANE, type Plane, refine } from "../../../packages/sim/src/study/whatif/plane.ts";

type Picture = (x: number, y: number) => number;

async function drawn(picture: Picture, budget = 1000): Promise<Plane & { asked: number }> {
  let asked = 0;
  const plane = await refine(async (nodes: readonly Node[]) => {
    asked += nodes.length;
    return nodes.map(([i, j]) => picture(i / PLANE, j / PLANE));
  }, budget);
  return { ...plane, asked };
}

/** What a pixel of the full picture shows: the middles of all 64 × 64 squares. */
function shownAt(cells: readonly Cell[], x: number, y: number): number {
  const [i, j] = [x * PLANE, y * PLANE];
  const cell = cells.find((each) => i >= each.i && i < each.i + each.size && j >= each.j && j < each.j + each.size);
  if (cell === undefined) return Number.NaN;
  const right = i >= cell.i + cell.size / 2 ? 1 : 0;
  const upper = j >= cell.j + cell.size / 2 ? 2 : 0;
  return cell.corners[right + upper];
}

const pictures: Readonly<Record<string, Picture>> = {
  "a straight boundary": (x, y) => (x + 0.3 * y > 0.61 ? 1 : 0),
  "a circle": (x, y) => (Math.hypot(x - 0.47, y - 0.53) < 0.31 ? 1 : 0),
  "three kinds that meet": (x, y) => (y > 0.55 ? 2 : x > 0.4 + 0.2 * y ? 1 : 0),
  "a band": (x, y) => (Math.abs(y - 0.3 - 0.4 * x) < 0.08 ? 1 : 0),
  "one kind": () => 4,
};

describe.each(Object.entries(pictures))("%s", (_, picture) => {
  test("looks like 64 × 64 with at most 1000 points", async () => {
    const { cells, asked, isComplete, nodes } = await drawn(picture);
    expect(isComplete).toBe(true);
    expect(asked).toBeLessThanOrEqual(1000);
    expect(nodes).toHaveLength(asked);
    let wrong = 0;
    let far = 0;
    for (let i = 0; i < PLANE; i++) {
      for (let j = 0; j < PLANE; j++) {
        const [x, y] = [(i + 0.5) / PLANE, (j + 0.5) / PLANE];
        const shown = shownAt(cells, x, y);
        if (shown === picture(x, y)) continue;
        wrong += 1;
        // A pixel beside the boundary may show the other side, as a full lattice of 65 × 65 points would.
        const near = [-1, 0, 1].some((a) => [-1, 0, 1].some((b) => picture(x + a / PLANE, y + b / PLANE) === shown));
        if (!near) far += 1;
      }
    }
    expect(far).toBe(0);
    expect(wrong).toBeLessThan(0.03 * PLANE * PLANE);
  });

  test("covers the plane once", async () => {
    const { cells } = await drawn(picture);
    expect(cells.reduce((sum, { size }) => sum + size * size, 0)).toBe(PLANE * PLANE);
    const taken = new Set<string>();
    for (const { i, j, size } of cells)
      for (let a = i; a < i + size; a++) for (let b = j; b < j + size; b++) taken.add(`${a},${b}`);
    expect(taken.size).toBe(PLANE * PLANE);
  });
});

test("no point is asked twice, and the same picture asks for the same ones", async () => {
  const circle = pictures["a circle"];
  const [a, b] = [await drawn(circle), await drawn(circle)];
  expect(new Set(a.nodes.map(({ node }) => node.join())).size).toBe(a.nodes.length);
  expect(a).toEqual(b);
});

test("where the budget ends too soon, the plane is whole all the same and says so", async () => {
  const stripes: Picture = (x) => Math.floor(x * 12) % 2;
  const { asked, isComplete, cells } = await drawn(stripes, 400);
  expect(isComplete).toBe(false);
  expect(asked).toBeLessThanOrEqual(400);
  expect(cells.reduce((sum, { size }) => sum + size * size, 0)).toBe(PLANE * PLANE);
});
