import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { root } from "../ground/files.ts";
import { parseDocument, readDocument, readDocuments, spansOf } from "./markdown.ts";
import { brokenLinks, missingFiles, unknownCommands } from "./mentions.ts";

const documents = readDocuments();
const { scripts } = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as { scripts: Record<string, string> };
const machinePath = /(?<![\w.])\/(?:home|root|Users|tmp|var|usr|opt|mnt|work\w*)\/|[A-Z]:\\/;

test("the documents are found", () => {
  const paths = documents.map(({ path }) => path);
  for (const path of ["README.md", "DEVELOPERS.md", "CHANGELOG.md", "packages/sim/docs/physics.md"])
    expect(paths).toContain(path);
});

describe.each(documents.map((document) => [document.path, document] as const))("%s", (_, document) => {
  test("has no link that leads nowhere", () => {
    expect(brokenLinks(document)).toEqual([]);
  });

  test("names only commands and options that exist", () => {
    expect(unknownCommands(document, Object.keys(scripts))).toEqual([]);
  });

  test("names only files that exist", () => {
    expect(missingFiles(document)).toEqual([]);
  });

  test("holds no path of a machine", () => {
    expect(machinePath.exec(document.text)?.[0] ?? null).toBeNull();
  });
});

describe("the checks themselves", () => {
  const document = (text: string) => parseDocument("README.md", text);

  test("see a dead link, a missing heading and leave good ones alone", () => {
    const text = "[a](nowhere.md) [b](DEVELOPERS.md) [c](#here) [d](#there) [e](https://example.org/x)\n\n# Here";
    expect(brokenLinks(document(text))).toEqual(["nowhere.md", "#there: no such heading"]);
  });

  test("see commands and options that do not exist", () => {
    const text =
      "`npm run nonsense` `railfault jump x.yaml` `railfault run x.yaml --loud`\n```sh\nnpm start # fine\n```\n";
    expect(unknownCommands(document(text), ["start", "railfault"])).toEqual([
      "npm run nonsense",
      "railfault jump x.yaml: there is no command jump",
      "railfault run x.yaml --loud: run has no option --loud",
    ]);
  });

  test("see files that do not exist", () => {
    expect(missingFiles(document("`hybrid/loop.ts` `hybrid/gone.ts` `packages/none/` `a/b`"))).toEqual([
      "hybrid/gone.ts",
      "packages/none/",
    ]);
  });
});

test("the map of the code names every folder and every file of the loop", () => {
  const guide = readDocument("DEVELOPERS.md");
  const spans = spansOf(guide).join(" ");
  const source = join(root, "packages/sim/src");
  const folders = readdirSync(source, { withFileTypes: true }).filter((entry) => entry.isDirectory());
  for (const { name } of folders) expect(spans).toContain(`${name}/`);
  for (const folder of ["hybrid", "ode", "devices"])
    for (const file of readdirSync(join(source, folder))) expect(guide.text, folder).toContain(file);
});
