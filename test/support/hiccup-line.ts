import { parseScenario } from "../../packages/sim/src/scenario/index.ts";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";

export interface HiccupOptions {
  readonly endTime?: number;
  readonly offTime?: string;
  readonly fault?: string;
  readonly fuse?: string;
  readonly crowbar?: string | null;
  /** Further lines of the supply, of the sources, of the file and of the load, each with its own indentation. */
  readonly supply?: readonly string[];
  readonly sources?: readonly string[];
  readonly line?: readonly string[];
  readonly load?: readonly string[];
}

/** The invented hut's hiccup supply with lost feedback on a line that trips again and again. */
export function hiccupLine(options: HiccupOptions = {}): Scenario {
  const { endTime = 40, offTime = "100 ms", fault = "lost feedback", fuse = "blade fuse 30 A" } = options;
  const { crowbar = "{part: SCR 55 A, trip voltage: 15.0 V, sense filter: fast}" } = options;
  const text = [
    "title: hiccup",
    "fault at: 20 ms",
    `run for: ${endTime} s`,
    "sources:",
    "  - name: station supply",
    "    part: switch-mode supply 30 A, hiccup",
    `    limit: {off time: ${offTime}}`,
    `    fault: ${fault}`,
    "    lead: {length: 1.5 m, area: 6 mm2, fuse holders: 1}",
    ...(options.supply ?? []),
    ...(options.sources ?? []),
    `main fuse: ${fuse}`,
    ...(crowbar === null ? [] : [`crowbar: ${crowbar}`]),
    ...(options.line ?? []),
    "loads:",
    "  - name: relay radio",
    "    part: 100 W radio",
    "    limits: {withstand: parts rated 16 V}",
    "    lead: {length: 1 m, gauge: 12 AWG, spacing: 3.5 mm}",
    ...(options.load ?? []),
    "",
  ].join("\n");
  const { scenario, issues } = parseScenario(text, "hiccup.yaml");
  if (scenario === null) throw new Error(issues.map(({ message }) => message).join("\n"));
  return scenario;
}
