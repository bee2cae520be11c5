export { type FormatOptions, formatQuantity } from "./format.ts";
export { editDistance, nearest } from "./nearest.ts";
export { allowedText, type ParsedQuantity, parseQuantity, type QuantityProblem } from "./parse.ts";
export { type Dimension, dimensions, exampleOf, spellingsOf } from "./table.ts";
