import { describe, test } from "vitest";
import { raisedChannel } from "../study/fit/raised-channel.ts";

describe("a channel that shows 0.5 V too much or too little", () => {
  test.each([
    [0, 0.5, 1],
    [1, 0.5, 1],
    [0, 0.5, 2],
    [1, 0.5, 2],
    [0, -0.5, 3],
    [1, -0.5, 3],
  ])("channel %i by %f V, seed %i: values near the truth, or a misfit", raisedChannel);
});
