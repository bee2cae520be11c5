import { captureFile } from "../attack/support/capture-entrance.ts";
import { HALVES, manyInputs } from "../attack/support/many-inputs.ts";

manyInputs(captureFile, HALVES[1]);
