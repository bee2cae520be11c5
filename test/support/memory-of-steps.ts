// Run with --expose-gc and a young generation large enough that nothing is collected meanwhile. Prints as JSON how many bytes a step leaves
// behind, and how many of them stay after a collection.
import { Simulation } from "../../packages/sim/src/model/run.ts";
import { hiccupLine } from "./hiccup-line.ts";

const collect = globalThis.gc;
if (collect === undefined) throw new Error("needs --expose-gc");

const STEPS = 10_000;
const begun = () => new Simulation(hiccupLine({ endTime: 3600 }), { record: false, leaps: false });

/** What is compiled first and what is not yet would be counted too. */
const warm = begun();
warm.advance(2 * STEPS);
warm.stop();

// A line of its own makes the engine compile once more what it took for settled.
const simulation = begun();
simulation.advance(STEPS);
collect();
const before = process.memoryUsage().heapUsed;
simulation.advance(STEPS);
const after = process.memoryUsage().heapUsed;
collect();
const kept = process.memoryUsage().heapUsed;
process.stdout.write(JSON.stringify({ made: (after - before) / STEPS, kept: (kept - before) / STEPS }));
