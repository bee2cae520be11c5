/**
 * Length of a text in bytes of UTF-8, without building them: no encoder is asked of the surroundings.
 *
 * @example utf8Length("µF") // 3
 */
export function utf8Length(text: string): number {
  let bytes = 0;
  for (const character of text) {
    const code = character.codePointAt(0) ?? 0;
    bytes += code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
  }
  return bytes;
}
