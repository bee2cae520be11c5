export { benchCard } from "./card.ts";
export { type Handout, handout } from "./handout-data.ts";
export { resetSheet } from "./reset.ts";
export { cardHtml, resetHtml } from "./sheets.ts";
export { renderCard, renderReset } from "./text.ts";
export type {
  Basis,
  BenchCard,
  BenchCheck,
  BenchReading,
  ResetSheet,
  Slide,
  SlideShows,
  TalkRefused,
} from "./types.ts";
export { type ZipEntry, zipFiles } from "./zip.ts";
