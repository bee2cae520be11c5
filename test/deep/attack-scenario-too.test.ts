import { HALVES, manyInputs } from "../attack/support/many-inputs.ts";
import { scenarioText } from "../attack/support/scenario-entrance.ts";

manyInputs(scenarioText, HALVES[1]);
