import type { Cited, Mark, PartClass, PartField, PartKind } from "./types.ts";

type Citing = (value: PartField, source: string) => Cited;

const marked =
  (mark: Mark): Citing =>
  (value, source) => ({ value, source, mark });

/** From a publication that the source names. */
export const published = marked("published");
/** Published, but seen only as somebody else's copy. */
export const transcribed = marked("transcribed");
/** Derived from the figures that the source names. */
export const computed = marked("computed");
/** Usual in the trade; no source. */
export const commonPractice = marked("common practice");
/** From memory; to be checked against a data sheet. */
export const fromMemory = marked("from memory");
/** Chosen by us; the source says why. */
export const assumed = marked("assumed");

/** A class of parts, frozen down to its values. */
export function partClass(
  kind: PartKind,
  name: string,
  about: string,
  values: Readonly<Record<string, Cited>>,
): PartClass {
  for (const cited of Object.values(values)) {
    Object.freeze(cited.value);
    Object.freeze(cited);
  }
  return Object.freeze({ kind, name, about, values: Object.freeze({ ...values }) });
}
