import { describe } from "vitest";
import { DAILY, pairTrials } from "../support/properties/trials.ts";

describe("of lines of every device, option and topology", () => {
  pairTrials(DAILY);
});
