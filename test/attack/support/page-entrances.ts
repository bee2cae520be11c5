import { meantBy } from "../../../packages/notebooks/src/controls/meant.ts";
import { defaultParse } from "../../../packages/notebooks/src/controls/number.ts";
import { decodeAddress, encodeAddress } from "../../../packages/notebooks/src/kept/address.ts";
import { fileOf, safeFileName, uniqueNames } from "../../../packages/notebooks/src/kept/exchange/file-names.ts";
import { importFile } from "../../../packages/notebooks/src/kept/exchange.ts";
import { problemText } from "../../../packages/notebooks/src/kept/problem.ts";
import { stateFrom } from "../../../packages/notebooks/src/kept/state.ts";
import { tidyName } from "../../../packages/notebooks/src/kept/words.ts";
import { applyChanges } from "../../../packages/notebooks/src/line/apply.ts";
import { fileName } from "../../../packages/notebooks/src/show/export.ts";
import { pick, randomState, rules, seeded } from "../../notebooks/kept/random-states.ts";
import type { Entrance } from "./entrance.ts";
import { bytesOf, type Draws, HOSTILE, injured } from "./mutate.ts";
import { lines } from "./scenario-entrance.ts";

const MARKS = [
  ..."& = % + . ~ # v=1 &line=04-foldback &own=a &text= &set. &without= &view. %00 %ED%A0%80 _-_- [0] 99999".split(" "),
  "AAAA",
  "set.sources.0.lead=",
  "view.zoom=",
];
const PIECES = [...HOSTILE, ...MARKS, ...MARKS];

const hashes: readonly string[] = (() => {
  const random = seeded(77);
  const sound = Array.from({ length: 60 }, () => encodeAddress(randomState(random)));
  return ["#v=1&line=04-foldback", ...sound.flatMap((one) => (one.kind === "address" ? [one.hash] : []))];
})();

export const addressState: Entrance = {
  name: "address of a page",
  enter: (draw) => {
    const { state, problems } = decodeAddress(injured(draw, hashes, PIECES), rules);
    if (encodeAddress(state).kind === "unfit") throw new Error("what came out cannot be written again");
    if (state.changes.length > 0 && draw.next() < 0.05) applyChanges(draw.from(lines), state.changes);
    return { taken: problems.length === 0, said: problems.map(problemText).join("\n") };
  },
};

export const importedFile: Entrance = {
  name: "file opened in a page",
  enter: async (draw) => {
    const name = injured(draw, ["hut.yaml", "a.b.YML", "", "../../etc/passwd", "con.yaml", "C:\\x.txt"], PIECES);
    const bytes = bytesOf(
      draw,
      injured(draw, draw.next() < 0.5 ? lines : ["t,U\n0,1\n1,2\n2,3\n3,4\n4,5\n", ""], PIECES),
    );
    const imported = await importFile({ name, size: bytes.length, arrayBuffer: async () => bytes.buffer });
    const saved = [safeFileName(name), ...uniqueNames([safeFileName(name), "line"])];
    for (const each of saved) if (!/^[A-Za-z0-9-]{1,80}$/.test(each)) throw new Error(`a file would be called ${each}`);
    if (!/^[a-z0-9-]{1,80}\.svg$/.test(fileName(name, "svg"))) throw new Error("a picture would be called otherwise");
    fileOf(name);
    if (imported.kind === "refused") return { taken: false, said: problemText(imported.problem) };
    if (tidyName(imported.name).kind !== "name") throw new Error("a name that cannot be kept");
    return { taken: true, said: imported.name };
  },
};

/** Anything that a damaged or meddled-with storage may give back in place of a record. */
function anyValue(draw: Draws, depth = 0): unknown {
  const kind = draw.next();
  if (kind < 0.35) return injured(draw, ["shipped", "own", "04-foldback", "main fuse", "15 A"], PIECES);
  if (kind < 0.5)
    return draw.from<unknown>([
      null,
      undefined,
      true,
      -0,
      Number.POSITIVE_INFINITY,
      Number.NaN,
      0,
      3,
      12_345,
      1n,
      Symbol.iterator,
    ]);
  if (depth > 4) return [];
  if (kind < 0.7) return Array.from({ length: Math.floor(draw.next() * 4) }, () => anyValue(draw, depth + 1));
  const keys = ["line", "changes", "view", "kind", "name", "text", "__proto__", "zoom"];
  return Object.fromEntries(keys.filter(() => draw.next() < 0.6).map((key) => [key, anyValue(draw, depth + 1)]));
}

export const keptRecord: Entrance = {
  name: "record of the storage",
  enter: (draw) => {
    const sound: object = structuredClone(randomState(draw.next));
    const key = pick(draw.next, ["line", "changes", "view"]);
    const record =
      draw.next() < 0.4 ? anyValue(draw) : { ...sound, ...(draw.next() < 0.7 ? { [key]: anyValue(draw, 2) } : {}) };
    const state = stateFrom(record);
    if (state !== null && encodeAddress(state).kind === "unfit")
      throw new Error("what was kept cannot be written again");
    return { taken: state !== null, said: "" };
  },
};

export const typedValue: Entrance = {
  name: "value typed into a page",
  enter: (draw) => {
    const text = injured(draw, ["15 V", "16,5", "1e3", "4.7 mF", "-3", ".5"], PIECES);
    const parse = defaultParse("V");
    let number = Number.NaN;
    try {
      number = parse(text);
    } catch (error) {
      // What a field says of a text that is no number.
      if (!(error instanceof Error) || error.name !== "Error") throw error;
      return { taken: false, said: error.message };
    }
    meantBy(text, "15 V", parse, { min: 12, max: 18 });
    return { taken: Number.isFinite(number), said: "" };
  },
};
