// Pictures of the built pages. All of them, for people to look at, into out/screenshots:
//
//   npx tsx packages/notebooks/scripts/screenshots.ts [page …]
//
// The few that the README shows, into packages/notebooks/docs/screenshots:
//
//   npx tsx packages/notebooks/scripts/screenshots.ts --readme
import { mkdirSync, writeFileSync } from "node:fs";
import { join, relative } from "node:path";
import { settled } from "../../../test/browser/support/settled.ts";
import { startBrowser } from "../../../test/support/browser.ts";
import { builtSite } from "../../../test/support/built-site.ts";
import { readNotebooks } from "../build/notebook.ts";
import { checkout, packageFolder, pagesFolder } from "../build/paths.ts";
import { serveDist } from "../build/serve-dist.ts";
import { kilobytes } from "../build/sizes.ts";

interface Shot {
  readonly file: string;
  /** Page, with what follows it in the address. */
  readonly address: string;
  readonly width: number;
  /** Of the part that is shown, CSS pixels; left out: the whole page. */
  readonly height?: number;
  readonly scheme: "light" | "dark";
}

const widths = [390, 1024, 1600];
const schemes = ["light", "dark"] as const;

/** A README is loaded over whatever line its reader has. */
const LARGEST_README_PICTURE = 150_000;

const readme: readonly Shot[] = [
  { file: "start", address: "index.html", width: 1280, height: 900, scheme: "light" },
  { file: "regulator-fails", address: "regulator-fails.html", width: 1280, height: 1000, scheme: "light" },
  { file: "hiccup", address: "hiccup.html", width: 1280, height: 1100, scheme: "light" },
  { file: "battery-dark", address: "battery.html", width: 1280, height: 1000, scheme: "dark" },
  { file: "file", address: "file.html", width: 1280, height: 900, scheme: "light" },
  { file: "telephone", address: "regulator-fails.html", width: 390, height: 844, scheme: "light" },
];

function everyPage(names: readonly string[]): Shot[] {
  return names.flatMap((name) =>
    widths.flatMap((width) =>
      schemes.map((scheme) => ({ file: `${name}-${width}-${scheme}`, address: `${name}.html`, width, scheme })),
    ),
  );
}

type Browser = Awaited<ReturnType<typeof startBrowser>>;

async function take(browser: Browser, url: string, shot: Shot, compact: boolean): Promise<Buffer> {
  const { width, height, scheme, address } = shot;
  const context = await browser.newContext({ viewport: { width, height: height ?? 900 }, colorScheme: scheme });
  try {
    // The loader of this script wraps named functions, also those that are handed to the page.
    await context.addInitScript("globalThis.__name = (each) => each");
    const page = await context.newPage();
    await page.goto(url + address);
    await settled(page);
    if (!compact) return await page.screenshot({ fullPage: height === undefined });
    const session = await context.newCDPSession(page);
    for (let quality = 90; ; quality -= 10) {
      const { data } = await session.send("Page.captureScreenshot", { format: "webp", quality });
      const picture = Buffer.from(data, "base64");
      if (picture.length <= LARGEST_README_PICTURE || quality <= 30) return picture;
    }
  } finally {
    await context.close();
  }
}

const asked = process.argv.slice(2);
const compact = asked.includes("--readme");
const known = readNotebooks(pagesFolder).map(({ name }) => name);
const strange = asked.filter((name) => name !== "--readme" && !known.includes(name));
if (strange.length > 0) {
  console.error(`There is no page ${strange.join(", ")}. Pages: ${known.join(", ")}.`);
  process.exit(2);
}
const shots = compact
  ? readme.filter(({ address }) => known.includes(address.replace(".html", "")))
  : everyPage(asked.length > 0 ? asked : known);
const folder = compact ? join(packageFolder, "docs/screenshots") : join(checkout, "out/screenshots");
mkdirSync(folder, { recursive: true });
const site = await serveDist({ folder: await builtSite() });
const browser = await startBrowser();
try {
  for (const shot of shots) {
    const picture = await take(browser, site.url, shot, compact);
    const file = join(folder, `${shot.file}.${compact ? "webp" : "png"}`);
    writeFileSync(file, picture);
    console.log(`${relative(process.cwd(), file)}  ${kilobytes(picture.length)}`);
    if (compact && picture.length > LARGEST_README_PICTURE) process.exitCode = 1;
  }
} finally {
  await browser.close();
  await site.close();
}
