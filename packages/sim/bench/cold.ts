// The very first run in this process: nothing is compiled yet. Prints what it took as JSON.
import { allCases, scenarioOf } from "./cases.ts";
import { runOnce } from "./measure.ts";

const entry = allCases().find(({ id }) => id === process.argv[2]);
if (entry === undefined) throw new Error(`there is no case ${process.argv[2]}`);
const scenario = scenarioOf(entry);
const before = process.memoryUsage.rss();
const used = process.cpuUsage();
runOnce(scenario);
const { user, system } = process.cpuUsage(used);
const peak = process.resourceUsage().maxRSS * 1024;
const megabytes = (bytes: number) => bytes / 2 ** 20;
const answer = {
  coldMs: (user + system) / 1000,
  peakMegabytes: megabytes(peak),
  addedMegabytes: megabytes(Math.max(0, peak - before)),
};
console.log(JSON.stringify(answer));
