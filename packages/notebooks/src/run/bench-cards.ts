// Loaded by the one thread in a hundred that makes a card.
import { benchCard } from "@railfault/sim";
import type { FromBench, ToBench } from "./protocol.ts";

/** A bench test card for a scenario text. */
export function benchAnswer({ text, file }: ToBench): FromBench {
  try {
    return { kind: "bench card", found: benchCard(text, file) };
  } catch (error) {
    return { kind: "bench failed", message: error instanceof Error ? error.message : String(error) };
  }
}
