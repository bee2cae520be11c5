import { describe, expect, test } from "vitest";
import { type CrewWorker, type PageCrew, pageCrew } from "../../../packages/notebooks/src/run/crew.ts";
import type { FromCrew, ToCrew } from "../../../packages/notebooks/src/run/protocol.ts";
import { Studies } from "../../../packages/notebooks/src/run/studies.ts";
import { Cancelled, collect, ownThread, USUAL_OPTIONS } from "../../../packages/sim/src/index.ts";
import { collectedData } from "../../../packages/sim/src/study/spread/part-file.ts";
import { SPREADS, scattered } from "../../study/spread/scattered.ts";

/** A worker in this thread: what it is sent it does soon. */
class NearWorker implements CrewWorker {
  isTerminated = false;
  private readonly listeners: ((event: Event) => void)[] = [];
  private readonly breakers: ((event: Event) => void)[] = [];
  private readonly studies = new Studies((data: FromCrew) => {
    if (!this.isTerminated) for (const listener of this.listeners) listener({ data } as unknown as Event);
  });

  constructor(private readonly breaksAt: number | null = null) {}

  postMessage(message: ToCrew): void {
    setTimeout(() => {
      if (this.isTerminated) return;
      const { breaksAt } = this;
      const isBad = message.kind === "batch" && breaksAt !== null && covers(message.batch, breaksAt);
      if (isBad) for (const breaker of this.breakers) breaker({ message: "no memory left" } as unknown as Event);
      else this.studies.take(message);
    });
  }

  terminate(): void {
    this.isTerminated = true;
  }

  addEventListener(kind: string, listener: (event: Event) => void): void {
    (kind === "message" ? this.listeners : this.breakers).push(listener);
  }
}

const covers = ({ first, values }: { first: number; values: Float64Array }, index: number): boolean =>
  index >= first && index < first + values.length / SPREADS.length;

const text = scattered(SPREADS, "1 ms");
const options = { ...USUAL_OPTIONS, samples: 40, corners: 1 };

describe("a crew of web workers", () => {
  test("gives the very numbers of this thread, with as many workers as asked for", async () => {
    const made: NearWorker[] = [];
    const make = () => {
      made.push(new NearWorker());
      return made[made.length - 1];
    };
    const near = await collect(text, "hut.yaml", options, ownThread);
    const far = await collect(text, "hut.yaml", options, pageCrew(undefined, 3, make));
    if (near.kind === "refused" || far.kind === "refused") throw new Error("refused");
    expect(JSON.stringify(collectedData(far.collected))).toBe(JSON.stringify(collectedData(near.collected)));
    expect(made.length).toBeGreaterThan(1);
    expect(made.length).toBeLessThanOrEqual(3);
    expect(made.every(({ isTerminated }) => isTerminated)).toBe(true);
  }, 60_000);

  test("loses one sample with a worker that breaks down, and hires another", async () => {
    const far = await collect(
      text,
      "hut.yaml",
      options,
      pageCrew(undefined, 2, () => new NearWorker(17)),
    );
    if (far.kind === "refused") throw new Error("refused");
    expect(far.collected.samples.broken).toEqual([{ index: 17, kind: "crashed", message: "no memory left" }]);
    expect(far.collected.samples.peak.filter(Number.isNaN)).toHaveLength(1);
  }, 60_000);

  test("is sent away in the middle of its work", async () => {
    const controller = new AbortController();
    let crew: PageCrew | null = null;
    const hired = (one: PageCrew) => {
      crew = one;
    };
    const asked = collect(
      text,
      "hut.yaml",
      { ...options, samples: 100_000 },
      pageCrew(hired, 2, () => new NearWorker()),
      { signal: controller.signal },
    );
    setTimeout(() => {
      controller.abort();
      crew?.dismiss();
    }, 100);
    await expect(asked).rejects.toBeInstanceOf(Cancelled);
  }, 60_000);
});
