import { HALVES, manyInputs } from "../attack/support/many-inputs.ts";
import { scenarioChange } from "../attack/support/scenario-entrance.ts";

manyInputs(scenarioChange, HALVES[1]);
