export type { LineChange } from "./change.ts";
export { AS_IT_STANDS, nameOf, writtenVariants } from "./check.ts";
export { PART_NOT_THERE } from "./lacking.ts";
export { bareLine, identity, isSchemeWord, type VariantOptions, variantLines } from "./lines.ts";
export { SCHEME_ABOUT } from "./schemes.ts";
export { flowText, variantText } from "./text.ts";
export type { VariantLine, VariantLines } from "./types.ts";
