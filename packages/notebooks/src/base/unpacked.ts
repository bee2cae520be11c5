/** What the build packed: base64 of gzip. */
export function unpacked(base64: string): Promise<Blob> {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).blob();
}
