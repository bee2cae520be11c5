import { furtherPageTrials } from "./support/further-page-trials.ts";
import { everySecondPage, pageTrials } from "./support/page-trials.ts";

pageTrials(everySecondPage(0));
/** Of the others see test/deep. */
furtherPageTrials(["index.html"]);
