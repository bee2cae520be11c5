import { DEEP, pairTrials } from "../support/properties/trials.ts";

pairTrials(DEEP);
