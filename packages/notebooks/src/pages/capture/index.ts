export { captureBench, captureDrops, captureViews } from "./bench.ts";
