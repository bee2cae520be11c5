const files = import.meta.glob<string>("../../../sim/scenarios/*.yaml", {
  query: "?raw",
  import: "default",
  eager: true,
});

/** The scenario files that come with the pages, byte for byte, by their names. The build packs them: see `build/packed.ts`. */
export const shippedTexts: Readonly<Record<string, string>> = Object.fromEntries(
  Object.entries(files).map(([path, text]) => [path.slice(path.lastIndexOf("/") + 1, -".yaml".length), text]),
);
