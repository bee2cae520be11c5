import type { Scenario } from "../../scenario/types.ts";
import type { Assembly } from "../assemble.ts";
import type { Run } from "../result.ts";
import { watchLead, watchLoad, watchSource } from "./branches.ts";
import { watchCrowbar } from "./crowbar.ts";
import { type FuseReadings, watchFuse } from "./fuse.ts";
import type { Kit } from "./kit.ts";
import { watchClamp, watchSwitch } from "./protectors.ts";
import { watchRipple } from "./ripple.ts";

type Found = Pick<
  Run,
  | "loads"
  | "sources"
  | "fuses"
  | "leads"
  | "crowbar"
  | "ownCrowbars"
  | "clamp"
  | "loadClamps"
  | "seriesSwitch"
  | "ripple"
>;

export interface Findings {
  /** What was found up to the present instant; the line must be observed there. */
  collect(): Found;
}

/** Sets every watch that the judgement of a run needs. */
export function watchAll(scenario: Scenario, kit: Kit): Findings {
  const { assembly } = kit;
  const fuses = fuseReadings(scenario, assembly);
  const ripple = watchRipple(scenario, kit);
  const loads = scenario.loads.map((load, k) => watchLoad(kit, load, k));
  const sources = scenario.sources.map((source, k) => watchSource(kit, source, k));
  const leads = [...scenario.sources, ...scenario.loads].map(({ name, lead }) => watchLead(kit, name, lead));
  const fuseWatches = fuses.map((fuse) => watchFuse(kit, fuse, ripple));
  const crowbar =
    scenario.crowbar && assembly.crowbar
      ? watchCrowbar(
          kit,
          {
            subject: { part: "crowbar", owner: "" },
            reading: "crowbar",
            ratings: scenario.crowbar.ratings,
            device: assembly.crowbar,
          },
          fuses,
        )
      : null;
  const own = scenario.sources.flatMap((source, k) => {
    const device = assembly.sources[k].ownCrowbar;
    if (source.kind !== "supply" || !source.ownCrowbar || !device) return [];
    const subject = { part: "own crowbar", owner: source.name } as const;
    const reading = `${source.name} own crowbar`;
    return [
      {
        source: source.name,
        watch: watchCrowbar(kit, { subject, reading, ratings: source.ownCrowbar.ratings, device }, fuses),
      },
    ];
  });
  const clamp = assembly.clamp ? watchClamp(kit, "clamp", "", "clamp") : null;
  const loadClamps = assembly.loads
    .filter((branch) => branch.clamp)
    .map(({ name }) => ({ load: name, watch: watchClamp(kit, "load clamp", name, `${name} clamp`) }));
  const seriesSwitch = assembly.seriesSwitch ? watchSwitch(kit, scenario.seriesSwitch?.ratings.current ?? null) : null;
  return {
    collect: () => ({
      loads: loads.map((collect) => collect()),
      sources: sources.map((collect) => collect()),
      leads: leads.map((collect) => collect()),
      fuses: fuseWatches.map((collect) => collect()),
      crowbar: crowbar?.() ?? null,
      ownCrowbars: own.map(({ source, watch }) => ({ source, findings: watch() })),
      clamp: clamp?.() ?? null,
      loadClamps: loadClamps.map(({ load, watch }) => ({ load, findings: watch() })),
      seriesSwitch: seriesSwitch?.() ?? null,
      ripple: ripple(),
    }),
  };
}

/** Where the readings of every fuse of a line are found, in the order of its findings. */
export function fuseReadings(scenario: Scenario, assembly: Assembly): FuseReadings[] {
  const { mainFuse } = assembly;
  const main: FuseReadings[] =
    mainFuse && scenario.mainFuse
      ? [
          {
            subject: { part: "main fuse", owner: "" },
            label: scenario.mainFuse.label,
            current: "main fuse",
            flow: "main fuse",
            own: "main fuse",
            element: mainFuse.element,
            state: () => mainFuse.state,
          },
        ]
      : [];
  const leads = [...assembly.sources, ...assembly.loads];
  const inLine = [...scenario.sources, ...scenario.loads].flatMap(({ name, lead }, k): FuseReadings[] => {
    const device = leads[k].lead;
    if (!lead.fuse || !device.element) return [];
    return [
      {
        subject: { part: "in-line fuse", owner: name },
        label: lead.fuse.label,
        current: name,
        flow: `${name} lead`,
        own: `${name} fuse`,
        element: device.element,
        state: () => device.fuseState,
      },
    ];
  });
  return [...main, ...inLine];
}
