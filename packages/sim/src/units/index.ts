export { type FormatOptions, formatQuantity } from "./format.ts";
export { groupDigits } from "./grouped.ts";
export { editDistance, namesHolding, nearest } from "./nearest.ts";
export { allowedText, type ParsedQuantity, parseQuantity, type QuantityProblem } from "./parse.ts";
export { type Dimension, dimensions, exampleOf, findSpelling, spellingsOf } from "./table.ts";
export { apart, capital, listed, the } from "./words.ts";
