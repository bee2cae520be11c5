import { furtherPageTrials } from "../browser/support/further-page-trials.ts";
import { everySecondPage } from "../browser/support/page-trials.ts";

furtherPageTrials(everySecondPage(1));
