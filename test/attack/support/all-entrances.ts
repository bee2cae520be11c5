import type { workshop } from "../../cli/launch.ts";
import { commandLine } from "./arguments-entrance.ts";
import { captureFile, captureWords } from "./capture-entrance.ts";
import type { Entrance } from "./entrance.ts";
import { addressState, importedFile, keptRecord, typedValue } from "./page-entrances.ts";
import { scenarioChange, scenarioText } from "./scenario-entrance.ts";
import { writtenValue } from "./value-entrance.ts";

/** Every way in for what strangers write. */
export const allEntrances = (shop: ReturnType<typeof workshop>): readonly Entrance[] => [
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
