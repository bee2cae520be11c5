import { CaptureReader, judgeCapture } from "@railfault/sim";
import { expect, test } from "vitest";

const SAMPLES = 10_000_000;
const PERIOD = 10_000;

/** A triangle between 10 and 18 V, ten thousand samples a round, and a saw; in pieces of some hundred kilobytes, never whole. */
function* pieces(): Generator<string> {
  yield "time (s),line (V),lead (A)\n";
  for (let from = 0; from < SAMPLES; from += PERIOD) {
    let text = "";
    for (let k = from; k < from + PERIOD; k++) {
      const share = (k - from) / PERIOD;
      text += `${(k * 1e-6).toFixed(6)},${(10 + 16 * Math.min(share, 1 - share)).toFixed(3)},${k % 11}\n`;
    }
    yield text;
  }
}

test("ten million samples of two channels are read and judged, in little more memory than their numbers take", () => {
  const reader = new CaptureReader({ file: "long.csv", size: 23 * SAMPLES });
  let most = 0;
  for (const piece of pieces()) {
    reader.push(piece);
    most = Math.max(most, process.memoryUsage().arrayBuffers);
  }
  const { capture, status } = reader.end();
  expect(status).toBe("read");
  expect(capture?.time.length).toBe(SAMPLES);
  const { channels } = judgeCapture(capture!, { low: null, high: 16 });
  const [line] = channels;
  expect(line?.highest.value).toBe(18);
  // A quarter of each round lies above 16 V.
  expect(line?.beyond[0]?.total.value).toBeCloseTo(2.5, 3);
  expect(line?.beyond[0]?.times).toBe(SAMPLES / PERIOD);
  expect(Math.max(most, process.memoryUsage().arrayBuffers)).toBeLessThan(1.5 * 8 * 3 * SAMPLES);
});
