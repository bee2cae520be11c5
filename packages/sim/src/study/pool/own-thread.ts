import { Cancelled, type CrewMaker } from "./deal.ts";
import { Evaluator } from "./evaluate.ts";

/**
 * A crew of this very thread, where there is no other.
 *
 * @example await collect(text, "hut.yaml", { ...USUAL_OPTIONS, samples: 20 }, ownThread)
 */
export const ownThread: CrewMaker = (setup) => {
  const evaluator = new Evaluator(setup);
  return {
    size: 1,
    run: async (batch, signal) => {
      if (signal?.aborted) throw new Cancelled();
      return evaluator.run(batch);
    },
    close: async () => {},
  };
};
