import { expect, test } from "vitest";
import { decodeAddress, encodeAddress } from "../../../packages/notebooks/src/kept/address.ts";
import { problemText } from "../../../packages/notebooks/src/kept/problem.ts";
import { pick, randomState, rules, seeded } from "./random-states.ts";

test("10 000 hostile addresses never throw and end in time", () => {
  const random = seeded(77);
  const pieces = [
    ..."& = % + . ~ # v=1 &line=04-foldback &own=a &text= &set. &without= &view. __proto__ constructor %00".split(" "),
    ..."%ED%A0%80 NaN -1 1e9 %F0%9F%98%80 sources.0.lead zoom 99999 AAAA _-_- [0] 漢 <img/onerror=x>".split(" "),
    "\ud800",
    "\u202e",
    "\0",
    "\ufeff",
    "x".repeat(500),
  ];
  const sound = Array.from({ length: 40 }, () => encodeAddress(randomState(random)));
  const hashes = sound.flatMap((one) => (one.kind === "address" ? [one.hash] : []));
  let [broken, whole] = [0, 0];
  for (let round = 0; round < 10_000; round += 1) {
    let hash = random() < 0.5 ? pick(random, hashes) : "#v=1&line=04-foldback";
    for (let cuts = 1 + Math.floor(random() * 6); cuts > 0; cuts -= 1) {
      const at = Math.floor(random() * hash.length);
      hash = hash.slice(0, at) + pick(random, pieces) + hash.slice(at + Math.floor(random() * 4));
    }
    const { state, problems } = decodeAddress(hash, rules);
    for (const one of problems) expect(problemText(one)).not.toMatch(/[\p{Cc}\p{Cs}\u202a-\u202e\u2066-\u2069\ufeff]/u);
    if (problems.length > 0) broken += 1;
    else whole += 1;
    // What comes out can always be written again.
    if (encodeAddress(state).kind === "unfit") throw new Error(hash);
  }
  expect(broken).toBeGreaterThan(5000);
  expect(whole).toBeGreaterThan(20);
});
