import { type FuseFit, type FuseFitInput, fitFuse } from "./parts/fuse-fit.ts";
import { calibrateJunction, type FosterStage } from "./parts/junction.ts";
import { TextMemory } from "./text/text-memory.ts";

/** More than a page ever asks for at once; the oldest makes room. */
const MOST = 256;

/**
 * What earlier readings of scenarios worked out: the thermal models of fuses and of SCRs' junctions, which cost more than the rest of a reading
 * together. Whoever reads one file again and again with small changes keeps one and hands it over; the results are the same with and without.
 *
 * @example
 * const memory = new FitMemory();
 * parseScenario(text, "hut.yaml", memory); // and again, after a change elsewhere: about ten times as fast
 */
export class FitMemory {
  private readonly fuses = new Map<string, FuseFit>();
  private readonly junctions = new Map<string, readonly FosterStage[]>();

  /** @param texts of the trees of texts, where whoever changes them keeps one too */
  constructor(readonly texts = new TextMemory()) {}

  /** `fitFuse`, once for each input. */
  fuse(input: FuseFitInput): FuseFit {
    return remembered(this.fuses, input, fitFuse);
  }

  /** `calibrateJunction`, once for each input. */
  junction(rating: Parameters<typeof calibrateJunction>[0]): readonly FosterStage[] {
    return remembered(this.junctions, rating, calibrateJunction);
  }
}

function remembered<In, Out>(memory: Map<string, Out>, input: In, work: (input: In) => Out): Out {
  const key = JSON.stringify(input);
  const known = memory.get(key);
  if (known !== undefined) return known;
  const found = work(input);
  const [oldest] = memory.keys();
  if (memory.size >= MOST && oldest !== undefined) memory.delete(oldest);
  memory.set(key, found);
  return found;
}
