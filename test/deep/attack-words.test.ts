import { captureWords } from "../attack/support/capture-entrance.ts";
import { LONGER, manyInputs, WHOLE } from "../attack/support/many-inputs.ts";
import { addressState, importedFile, keptRecord, typedValue } from "../attack/support/page-entrances.ts";
import { writtenValue } from "../attack/support/value-entrance.ts";

manyInputs(captureWords, LONGER);
for (const entrance of [writtenValue, addressState, importedFile, keptRecord, typedValue]) manyInputs(entrance, WHOLE);
