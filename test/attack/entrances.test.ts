import { afterAll, beforeAll, expect, test } from "vitest";
import { workshop } from "../cli/launch.ts";
import { commandLine } from "./support/arguments-entrance.ts";
import { captureFile, captureWords } from "./support/capture-entrance.ts";
import { attack, type Entrance } from "./support/entrance.ts";
import { addressState, importedFile, keptRecord, typedValue } from "./support/page-entrances.ts";
import { scenarioChange, scenarioText } from "./support/scenario-entrance.ts";
import { writtenValue } from "./support/value-entrance.ts";

// Everything that a stranger can hand in. `npm run test:deep` sends a hundred times as much.

const COUNT = Number(process.env.COUNT ?? 2000);
const shop = workshop();
const stood = process.cwd();
beforeAll(() => process.chdir(shop.folder));
afterAll(() => {
  process.chdir(stood);
  shop.close();
});

const entrances: readonly Entrance[] = [
  scenarioText,
  scenarioChange,
  captureFile,
  captureWords,
  writtenValue,
  addressState,
  importedFile,
  keptRecord,
  typedValue,
  commandLine(shop),
];

test.each(entrances.map((entrance) => [entrance.name, entrance] as const))(
  "%s",
  async (_, entrance) => {
    const { inputs, taken, defects } = await attack(entrance, 1, COUNT);
    expect(defects).toEqual([]);
    expect(inputs).toBe(COUNT);
    expect(taken).toBeGreaterThan(0);
  },
  600_000,
);
