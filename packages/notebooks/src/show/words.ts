/** Units as they stand behind numbers in sentences. */
const unit = /(\d) (?=(?:[pnµmkM]?(?:V|A|s|Ω|F|H|W|J|K|A²s|Wh|Ah)|min|h|°C|%|A\/µs|times)(?![\p{L}\d]))/gu;

/** The same text, with each number kept on one line with its unit. */
export function unbroken(text: string): string {
  return text.replace(unit, "$1\u00a0");
}
