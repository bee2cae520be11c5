import { DEEP, soundTrials } from "../support/properties/trials.ts";

soundTrials(DEEP);
