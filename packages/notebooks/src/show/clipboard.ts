/** What a browser says no to, in words for a person. */
const forbidden =
  "This browser lets a page copy only when the page comes over https or from this computer. Save the file instead.";

/**
 * Puts a picture on the clipboard. It takes the promise: browsers allow copying only while the click is fresh.
 *
 * @throws Error with a sentence for the person
 */
export async function copyPicture(document: Document, png: Promise<Blob>): Promise<void> {
  const window = document.defaultView;
  const clipboard = window?.navigator.clipboard;
  if (!window || clipboard?.write === undefined || window.ClipboardItem === undefined) throw new Error(forbidden);
  await refusedAs(clipboard.write([new window.ClipboardItem({ "image/png": png })]));
}

/** Puts a text on the clipboard; throws as `copyPicture` does. */
export async function copyText(document: Document, text: string): Promise<void> {
  const clipboard = document.defaultView?.navigator.clipboard;
  if (clipboard?.writeText === undefined) throw new Error(forbidden);
  await refusedAs(clipboard.writeText(text));
}

async function refusedAs(writing: Promise<void>): Promise<void> {
  try {
    await writing;
  } catch (error) {
    const why = error instanceof Error && error.message !== "" ? ` (${error.message})` : "";
    throw new Error(`The browser refused to copy${why}. Save the file instead.`);
  }
}
