// `npm run build`: the notebooks as a static site with guides and reference beside them, into packages/notebooks/dist or the folder that is named;
// with `--notebooks-only` without guides and reference.
import { relative, resolve } from "node:path";
import { siteFolder } from "./paths.ts";
import { buildReference } from "./reference.ts";
import { buildSite } from "./site.ts";
import { kilobytes, limits, measure, tooLarge } from "./sizes.ts";

const words = process.argv.slice(2).filter((word) => word !== "--notebooks-only");
const alone = words.length < process.argv.length - 2;
const target = words[0] === undefined ? siteFolder : resolve(words[0]);
const begin = performance.now();
try {
  await buildSite(target);
  const reference = alone ? null : await buildReference(target);
  // Once more: the pages name the reference now.
  const sizes = measure(target);
  const problems = tooLarge(sizes);
  if (problems.length > 0) throw new Error(problems.join("\n"));
  const { site, pages, single } = sizes;
  for (const { name, compressed } of pages)
    console.log(`${name.padEnd(28)} ${kilobytes(compressed).padStart(8)}  with all that it loads, compressed`);
  for (const { name, bytes } of single)
    console.log(`${name.padEnd(28)} ${kilobytes(bytes).padStart(8)}  opens from a disk`);
  const seconds = ((performance.now() - begin) / 1000).toFixed(1);
  console.log(
    `\nNotebooks together: ${kilobytes(site)} of ${kilobytes(limits.site)} allowed, in ${seconds} s: ${relative(process.cwd(), target)}`,
  );
  if (reference !== null)
    console.log(`Guides and reference: ${reference.pages} pages, ${kilobytes(reference.bytes)}, not counted above`);
} catch (error) {
  console.error(`The site cannot be built.\n${(error as Error).message}`);
  process.exitCode = 1;
}
