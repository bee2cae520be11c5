import { everySecondPage, pageTrials } from "./support/page-trials.ts";

pageTrials(everySecondPage(1));
