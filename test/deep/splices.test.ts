import { testSplices } from "../support/splices.ts";

testSplices(1);
