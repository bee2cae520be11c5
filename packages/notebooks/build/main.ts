// `npm run build`: the notebooks as a static site, into packages/notebooks/dist or the folder that is named.
import { relative, resolve } from "node:path";
import { siteFolder } from "./paths.ts";
import { buildSite } from "./site.ts";
import { kilobytes, limits } from "./sizes.ts";

const target = process.argv[2] === undefined ? siteFolder : resolve(process.argv[2]);
const begin = performance.now();
try {
  const { site, pages, single } = await buildSite(target);
  for (const { name, compressed } of pages)
    console.log(`${name.padEnd(28)} ${kilobytes(compressed).padStart(8)}  with all that it loads, compressed`);
  for (const { name, bytes } of single)
    console.log(`${name.padEnd(28)} ${kilobytes(bytes).padStart(8)}  opens from a disk`);
  const seconds = ((performance.now() - begin) / 1000).toFixed(1);
  console.log(
    `\nSite: ${kilobytes(site)} of ${kilobytes(limits.site)} allowed, in ${seconds} s: ${relative(process.cwd(), target)}`,
  );
} catch (error) {
  console.error(`The notebooks cannot be built.\n${(error as Error).message}`);
  process.exitCode = 1;
}
