import { test } from "vitest";
import { HELD_WRONG, heldWrongIsNamed } from "./claims.ts";

/** The other one, and more captures of each, stand in test/deep. */
test.each(HELD_WRONG.slice(0, 1))(
  "a value that is held and wrong is named where the capture knows better: %j",
  (change, named) => heldWrongIsNamed(change, named, 11),
  120_000,
);
