import type { EventKind, FuseFindings, Run, Subject } from "../model/result.ts";
import { SOURCE_STATES } from "../model/source-state.ts";
import type { Source } from "../scenario/types.ts";
import { traceColumn } from "./conduction.ts";
import type { StateRow, StateSpan, Tone } from "./state-types.ts";

type State = readonly [tag: string, tone: Tone];

interface Change {
  readonly time: number;
  readonly state: State;
}

/** Below it a clamp counts as blocking, A. */
const CLAMP_IDLE = 1e-3;

/** What every device of the line did, span by span, in the order in which current passes them. */
export function stateRows(run: Run): StateRow[] {
  const { scenario } = run;
  const named = (label: string, part: Subject["part"], owner: string, initial: State, states: Changes): StateRow =>
    row(run, label, initial, changesOf(run, part, owner, states));
  return [
    ...scenario.sources.flatMap((source) => sourceRow(run, source)),
    ...scenario.sources.flatMap((source) =>
      source.kind === "supply" && source.ownCrowbar
        ? [named(`${source.name} own SCR`, "own crowbar", source.name, BLOCKING, SCR)]
        : [],
    ),
    ...contactRows(run),
    ...run.fuses.map((fuse) => fuseRow(run, fuse)),
    ...(scenario.crowbar ? [named("SCR", "crowbar", "", BLOCKING, SCR)] : []),
    ...(scenario.clamp ? [clampRow(run, "clamp", "clamp", "")] : []),
    ...(scenario.seriesSwitch ? [named("series switch", "series switch", "", CLOSED, SWITCH)] : []),
    ...scenario.loads.flatMap(({ name, clamp }) => (clamp ? [clampRow(run, `${name} clamp`, "load clamp", name)] : [])),
    ...scenario.loads.flatMap(({ name, dropOut }) =>
      dropOut ? [named(name, "load", name, ["on", "idle"], LOAD)] : [],
    ),
  ];
}

type Changes = Partial<Record<EventKind, State>>;

const BLOCKING: State = ["blocking", "idle"];
const CLOSED: State = ["closed", "idle"];
const SCR: Changes = {
  fires: ["conducting", "active"],
  "stops conducting": BLOCKING,
  "fails short": ["failed short", "alarm"],
};
const SWITCH: Changes = {
  "starts to open": ["opening", "active"],
  clears: ["clearing", "alarm"],
  open: ["open", "off"],
  recloses: CLOSED,
};
const CONTACT: Changes = {
  "contact opens": ["arcing", "alarm"],
  "contact arc ends": ["open", "off"],
  "contact closes": CLOSED,
};
const LOAD: Changes = { "drops out": ["asleep", "off"], "comes back": ["on", "idle"] };

function changesOf(run: Run, part: Subject["part"], owner: string, states: Changes): Change[] {
  return run.events.flatMap(({ time, kind, subject }) => {
    const state = subject.part === part && subject.owner === owner ? states[kind] : undefined;
    return state === undefined ? [] : [{ time, state }];
  });
}

/** Spans from one change to the next; a state that lasted for no time is left out, one that repeats goes on. */
function row(run: Run, label: string, initial: State, changes: readonly Change[]): StateRow {
  const { time } = run.trace;
  const end = time[time.length - 1];
  const spans: StateSpan[] = [];
  let [from, state] = [time[0], initial];
  for (const change of [...changes, { time: end, state: ["", "idle"] as State }]) {
    if (change.state[0] === state[0]) continue;
    const previous = spans[spans.length - 1];
    if (previous?.tag === state[0] && previous.to === from) spans[spans.length - 1] = { ...previous, to: change.time };
    else if (change.time > from) spans.push({ from, to: change.time, tag: state[0], tone: state[1] });
    [from, state] = [change.time, change.state];
  }
  return { label, spans };
}

const TONES = {
  off: "off",
  running: "idle",
  limiting: "active",
  "latched off": "off",
  "not switched on": "off",
} as const;

function sourceRow(run: Run, source: Source): StateRow[] {
  const { faultTime } = run.scenario;
  if (source.kind === "battery") return [];
  if (source.kind === "panel") {
    const struck: Change[] =
      source.fault.kind === "none" ? [] : [{ time: faultTime, state: ["controller shorted", "alarm"] }];
    return [row(run, source.name, ["controller blocks", "idle"], struck)];
  }
  const faulty = FAULTS[source.fault.kind];
  const codes = traceColumn(run, source.name, "state");
  if (codes === null) return [];
  const stateAt = (index: number, struck: boolean): State => {
    const state = SOURCE_STATES[codes[index]];
    return struck && state === "running" ? faulty : [state, TONES[state]];
  };
  const { time } = run.trace;
  const changes: Change[] = [];
  let last = codes[0];
  for (let i = 1; i < codes.length; i++) {
    const struck = time[i] > faultTime || (time[i] === faultTime && time[i - 1] === faultTime);
    const strikes = struck && !(time[i - 1] > faultTime);
    if (codes[i] === last && !strikes) continue;
    changes.push({ time: Math.max(time[i - 1], strikes ? faultTime : time[0]), state: stateAt(i, struck) });
    last = codes[i];
  }
  return [row(run, source.name, stateAt(0, time[0] > faultTime), changes)];
}

const FAULTS: Readonly<Record<(Source & { kind: "supply" })["fault"]["kind"], State>> = {
  none: ["running", "idle"],
  "voltage turned up": ["turned up", "alarm"],
  "lost feedback": ["feedback lost", "alarm"],
  "shorted pass transistor": ["transistor shorted", "alarm"],
};

function contactRows(run: Run): StateRow[] {
  const { sources, loads } = run.scenario;
  const rows = (part: "source" | "load", { name, lead }: (typeof sources)[number] | (typeof loads)[number]) =>
    lead.contact === null
      ? []
      : [
          row(
            run,
            `${name} contact`,
            lead.contact.initially === "open" ? ["open", "off"] : CLOSED,
            changesOf(run, part, name, CONTACT),
          ),
        ];
  return [...sources.flatMap((each) => rows("source", each)), ...loads.flatMap((each) => rows("load", each))];
}

function fuseRow(run: Run, { subject, overloadTime, meltTime, openTime }: FuseFindings): StateRow {
  const at = (time: number | null, state: State): Change[] => (time === null ? [] : [{ time, state }]);
  const label = subject.part === "main fuse" ? "main fuse" : `${subject.owner} fuse`;
  return row(
    run,
    label,
    ["intact", "idle"],
    [
      ...at(meltTime === null ? null : overloadTime, ["heating", "active"]),
      ...at(meltTime, ["clearing", "alarm"]),
      ...at(openTime, ["open", "off"]),
    ],
  );
}

function clampRow(run: Run, label: string, part: "clamp" | "load clamp", owner: string): StateRow {
  const current = traceColumn(run, label, "A");
  const { time } = run.trace;
  const failed = run.events.find(
    ({ kind, subject }) => kind === "fails short" && subject.part === part && subject.owner === owner,
  );
  const changes: Change[] = [];
  let conducting = false;
  current?.forEach((value, i) => {
    const conducts = value > CLAMP_IDLE;
    if (conducts === conducting || (failed && time[i] >= failed.time)) return;
    conducting = conducts;
    changes.push({
      time: time[Math.max(0, i - (conducts ? 1 : 0))],
      state: conducts ? ["conducting", "active"] : BLOCKING,
    });
  });
  if (failed) changes.push({ time: failed.time, state: ["failed short", "alarm"] });
  return row(run, label, BLOCKING, changes);
}
