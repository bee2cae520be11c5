/** What the page "How sure am I" is made of. */
export { planeBench } from "./plane-bench.ts";
export { sureBench } from "./sure-bench.ts";
