import { strToU8, zipSync } from "fflate";

/** A file for an archive. */
export interface ZipEntry {
  /** With its ending; folders by slashes. */
  readonly name: string;
  /** A text is written as UTF-8. */
  readonly content: string | Uint8Array;
}

/** The same bytes for the same content: an archive has no clock. The first day that the format knows. */
const WRITTEN = new Date(1980, 0, 1);

/**
 * Files as one ZIP archive.
 *
 * @param entries names are used once each
 * @throws RangeError for a name that stands twice, or leaves the archive's own folder
 * @example zipFiles([{ name: "01-line.svg", content: svg }])
 */
export function zipFiles(entries: readonly ZipEntry[]): Uint8Array {
  const names = entries.map(({ name }) => name);
  const wrong = names.filter((name, i) => names.indexOf(name) !== i || /^\/|(?:^|\/)\.\.(?:\/|$)|\\/.test(name));
  if (wrong.length > 0)
    throw new RangeError(
      `an archive cannot hold ${wrong.map((name) => `"${name}"`).join(", ")}: named twice, or outside its folder`,
    );
  return zipSync(
    Object.fromEntries(
      entries.map(({ name, content }) => {
        const bytes = typeof content === "string" ? strToU8(content) : content;
        // Pictures of pixels are packed already.
        return [name, [bytes, { level: name.endsWith(".png") ? 0 : 6, mtime: WRITTEN }]];
      }),
    ),
  );
}
