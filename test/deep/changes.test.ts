import { describeChanges } from "../support/changes.ts";

describeChanges({ every: 1, everyOfLong: 1, rounds: 100 });
