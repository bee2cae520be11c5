/** Units as they stand behind numbers in sentences. */
const unit =
  /(\d) (?=(?:[pnµmkM]?(?:V|A|s|Ω|F|H|W|J|K|A²s|Wh|Ah)|mm²?|m|Hz|kHz|AWG|V\/m?s|V\/h|K\/W|min|h|days?|°C|%|A\/µs|times)(?![\p{L}\d]))/gu;

/** What a value may be off by stays with its sign. */
const plusMinus = /± (?=\d)/g;

/** The same text, with each number kept on one line with its unit. */
export const unitsKept = (text: string): string => text.replace(unit, "$1\u00a0").replace(plusMinus, "±\u00a0");
