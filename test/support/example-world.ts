// What the examples of the library's comments speak of, made through its public entries alone. Also compiled against the packed library, whose types it
// then holds to what they promise.
import { readFileSync } from "node:fs";
import {
  type Answered,
  type BenchCard,
  benchCard,
  type Capture,
  type CompareRow,
  collect,
  compareSchemes,
  fitScenario,
  type Judged,
  judgeCapture,
  type MatchAnswer,
  matchParts,
  ownThread,
  parseScenario,
  type ReferenceDevice,
  readCapture,
  readTripSettings,
  resetSheet,
  runScenario,
  summarise,
  THRESHOLDS,
  tripStudy,
  type Varied,
  type WhatIf,
  whatIf,
} from "@railfault/sim";
import { faultFigure, figureData, proposeTalk, type TalkPart } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";

/** The files that lie beside the running examples. */
const FILES = {
  line: "hut.yaml",
  scattered: "scattered.yaml",
  hiccup: "hiccup.yaml",
  schemes: "schemes.yaml",
  capture: "bench.csv",
  lineCapture: "line.csv",
} as const;

const text = (file: string): string => readFileSync(file, "utf8");
const line = (): string => text(FILES.line);

function once<T>(make: () => T): () => T {
  let made: { value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

function must<T extends { readonly kind: string }, Kind extends T["kind"]>(
  answer: T,
  kind: Kind,
): Extract<T, { kind: Kind }> {
  if (answer.kind !== kind) throw new Error(`expected ${kind}: ${JSON.stringify(answer).slice(0, 500)}`);
  return answer as Extract<T, { kind: Kind }>;
}

const result = once((): Answered => must(runScenario(line(), FILES.line), "answered"));
const verdict = once((): Judged => must(result().verdict, "verdict"));
async function captureIn(file: string): Promise<Capture> {
  const read = await readCapture([text(file)], { file });
  if (read.capture === null) throw new Error(JSON.stringify(read.issues));
  return read.capture;
}
const capture = once(() => captureIn(FILES.capture));
const page = once(() => new JSDOM("<main></main>").window.document);
const compared = once(() => must(compareSchemes(line(), FILES.line, { schemes: ["nothing", "relay"] }), "compared"));
const matched = once((): MatchAnswer => must(matchParts(line(), FILES.line), "answered") as MatchAnswer);
const study = (y: string | null) =>
  once(async (): Promise<WhatIf> => {
    const options = { x: "crowbar.trip voltage: 14…17 V", y, most: 300, points: 5 };
    return must(await whatIf(line(), FILES.line, options, ownThread), "answered").study;
  });
const plane = study("ambient: 0…40 °C");
const sweep = study(null);
const trip = once(() => {
  const { settings } = readTripSettings({ resistors: "0.1 %" });
  if (settings === null) throw new Error("the usual settings");
  return must(tripStudy(line(), FILES.line, settings), "answered").study;
});
const collected = once(async () => {
  const options = { samples: 20, seed: 1, corners: 1, part: { index: 1, of: 1 } };
  return must(await collect(text(FILES.scattered), FILES.scattered, options, ownThread), "collected").collected;
});
const fitted = once(async () => {
  const options = { free: ["crowbar.trip voltage=14.2..16 V"], channels: [] };
  return must(await fitScenario(text(FILES.hiccup), FILES.hiccup, await capture(), options), "fitted");
});
const talk = (): readonly TalkPart[] => [{ file: FILES.line, answered: result() }];
const data = () => figureData(result().run, verdict());

/** What names mean in every example that does not make them itself. */
export const common = {
  text: line,
  result,
  answered: result,
  run: () => result().run,
  trace: () => result().run.trace,
  scenario: () => result().scenario,
  parsed: () => parseScenario(line(), FILES.line),
  verdict,
  warnings: () => verdict().warnings,
  origins: () => result().parsed.origins,
  origin: () => ({ file: FILES.line, version: "0.1.0", options: { method: null, tolerance: null, until: null } }),
  document: page,
  container: () => page().createElement("div"),
  somethingElse: () => async (): Promise<void> => {},
  varied: (): readonly Varied[] => [
    {
      path: ["crowbar", "trip voltage"],
      label: "trip voltage",
      dimension: "voltage",
      unit: "V",
      nominal: 15,
      low: 14,
      high: 16,
    },
    { path: ["ambient"], label: "ambient", dimension: "temperature", unit: "°C", nominal: 20, low: 0, high: 40 },
  ],
  time: () => result().run.trace.time,
  load_V: () => result().run.trace.columns[0]!.values,
  capture,
  limits: () => ({ low: 11.7, high: 15.9 }),
  judgement: async () => judgeCapture(await capture(), { low: 11.7, high: 15.9 }),
  stream: () => [new TextEncoder().encode(text(FILES.capture))],
  captured: async () => {
    const { time, channels } = await captureIn(FILES.lineCapture);
    return { time, values: channels[0]!.values };
  },
  column: () => result().run.trace.columns.find(({ name }) => name === "relay_radio_V")!,
  found: compared,
  comparison: compared,
  rows: (): readonly CompareRow[] => compared().rows,
  row: () => compared().rows[0]!,
  answer: matched,
  summary: async () => summarise(await collected()),
  collected,
  card: (): BenchCard => must(benchCard(line(), FILES.line), "card").card,
  sheet: () => resetSheet(result()),
  svg: () => "<svg/>",
  device: (): ReferenceDevice => {
    const found = THRESHOLDS.find(({ kind }) => kind === "reference");
    if (found?.kind !== "reference") throw new Error("there is a reference among the thresholds");
    return found;
  },
  data,
  options: () => ({ document: page(), width: 720 }),
  pointerX: () => 300,
  several: () => [data(), data()],
  figure: () => faultFigure(data(), { document: page() }),
  slides: () => proposeTalk(talk()),
  study: plane,
};

/** What they mean in the examples of one export. */
export const special = {
  slideFigure: { parts: talk },
  proposeTalk: { parts: talk },
  talkHtml: { parts: talk },
  talkPicture: { parts: talk },
  talkPictures: { parts: talk },
  tripCsv: { study: trip },
  tripFigure: { study: trip },
  sweepFigure: { study: sweep },
  fitFigure: { found: fitted },
  variantText: { text: () => text(FILES.schemes) },
  reproduce: { text: () => text(FILES.scattered) },
  ownThread: { text: () => text(FILES.scattered) },
  readCapture: { text: () => text(FILES.capture) },
  fitScenario: { text: () => text(FILES.hiccup) },
  layCapture: { text: () => text(FILES.hiccup) },
};
