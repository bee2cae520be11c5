/** A chain of nodes as the physics page states it, solved by nested bisection: slow, and sharing nothing with the line's own solver. */
export interface Path {
  readonly state: "closed" | "clearing" | "open";
  readonly direction: 1 | -1;
  readonly resistance: number;
  readonly arcVoltage: number;
}
export interface HubNode {
  readonly capacitorVoltage: number;
  readonly resistance: number;
  /** Everything that flows in whatever the voltage is, A. */
  readonly inflow: number;
}
export interface Hub {
  /** One to three nodes, joined by one path less. */
  readonly nodes: readonly HubNode[];
  readonly paths: readonly Path[];
  /** Node at which the protectors hang, and what they draw at a voltage. */
  readonly guarded: number;
  readonly draw: (voltage: number) => number;
}

/** Current from a to b with v across: closed v/R, clearing max0(v − V_arc)/R one way only, open nothing. */
function through({ state, direction, resistance, arcVoltage }: Path, v: number): number {
  if (state === "open") return 0;
  if (state === "closed") return v / resistance;
  return (direction * Math.max(0, direction * v - arcVoltage)) / resistance;
}

/** Root of a falling function. */
function fallingRoot(f: (v: number) => number): number {
  let [low, high] = [-1e4, 1e4];
  for (let i = 0; i < 200; i++) {
    const middle = 0.5 * (low + high);
    if (middle === low || middle === high) break;
    if (f(middle) > 0) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}

/** Node voltages of the chain. */
export function hubVoltages({ nodes, paths, guarded, draw }: Hub): number[] {
  const surplus = (k: number, v: number) => nodes[k].inflow - (v - nodes[k].capacitorVoltage) / nodes[k].resistance;
  const ends = nodes.map((_, k) => k).filter((k) => k !== guarded);
  const endVoltage = (k: number, v: number) =>
    k < guarded
      ? fallingRoot((own) => surplus(k, own) - through(paths[k], own - v))
      : fallingRoot((own) => surplus(k, own) + through(paths[k - 1], v - own));
  const middle = fallingRoot((v) => {
    let sum = surplus(guarded, v) - draw(v);
    for (const k of ends) {
      const own = endVoltage(k, v);
      sum += k < guarded ? through(paths[k], own - v) : -through(paths[k - 1], v - own);
    }
    return sum;
  });
  return nodes.map((_, k) => (k === guarded ? middle : endVoltage(k, middle)));
}
