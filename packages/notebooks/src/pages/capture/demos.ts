/** A capture that comes with the pages: synthesised from a shipped line through an instrument, and said to be so wherever it is shown. */
export interface DemoCapture {
  readonly name: string;
  readonly label: string;
  /** The shipped line that it was made from. */
  readonly line: string;
  readonly file: string;
}

const files = import.meta.glob<string>(
  [
    "../../../../sim/captures/hiccup-supply-synthetic-semicolon.csv",
    "../../../../sim/captures/shorted-pass-transistor-synthetic-tab.txt",
  ],
  { query: "?packed", import: "default" },
);

/** The captures to try; their texts are loaded when they are opened. */
export const demoCaptures: readonly DemoCapture[] = [
  {
    name: "hiccup",
    label: "synthetic: a supply that hiccups",
    line: "02-hiccup-supply",
    file: "hiccup-supply-synthetic-semicolon.csv",
  },
  {
    name: "transistor",
    label: "synthetic: a shorted pass transistor",
    line: "01-shorted-pass-transistor",
    file: "shorted-pass-transistor-synthetic-tab.txt",
  },
];

/** A demo capture as the file that a person would have dropped. */
export async function demoFile({ file }: DemoCapture): Promise<File> {
  const load = Object.entries(files).find(([path]) => path.endsWith(file))?.[1];
  if (load === undefined) throw new RangeError(`there is no capture “${file}”`);
  return new File([await unpacked(await load())], file, { type: "text/plain" });
}

function unpacked(base64: string): Promise<Blob> {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).blob();
}
