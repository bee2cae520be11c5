import { describe, expect, test } from "vitest";
import { interpolations, renderProse } from "../../../packages/notebooks/build/markdown.ts";
import { prose, sample } from "./sample.ts";

const render = (text: string) => {
  const notebook = sample(prose(1, text));
  return renderProse(notebook, notebook.cells[0]!);
};

describe("formulas", () => {
  test("become MathML, in a line and on their own", () => {
    expect(render("so $a^2$ is")).toMatch(/^<p>so <span class="katex"><math .*<msup><mi>a<\/mi><mn>2<\/mn><\/msup>/);
    expect(render("$$\n    \\frac{1}{2}\n    $$")).toMatch(/<math [^>]*display="block"[^>]*>.*<mfrac>/);
  });

  test.each(["from $5 to $10", "\\$a\\$", "`$a$`", "a $ b $ c"])("are none in: %s", (text) => {
    expect(render(text)).not.toContain("<math");
  });

  test("are not read as markdown", () => {
    expect(render("$a_1 * b_2 * c_3$")).not.toContain("<em>");
  });

  test("that cannot be read stop the build, with file and line", () => {
    expect(() => render("$\\frac{1$")).toThrow(/sample\.html:5: a formula cannot be read: /);
  });
});

test("a number stays on one line with its unit, but not in what is copied", () => {
  expect(render("Up to **13.8 V** and 4 mm², `12 V`, 3 Vikings.")).toBe(
    "<p>Up to <strong>13.8\u00a0V</strong> and 4\u00a0mm², <code>12 V</code>, 3 Vikings.</p>\n",
  );
  expect(render("| limit |\n|---|\n| 15 V ± 0.1 V |")).toContain("<td>15\u00a0V ±\u00a00.1\u00a0V</td>");
});

describe("values in prose", () => {
  const place = (n: number) => `<span class="value" data-value="${n}"></span>`;

  test("leave numbered places between the words", () => {
    expect(render("At **${volts} V**, ${amps} A.")).toBe(
      `<p>At <strong>${place(0)}\u00a0V</strong>, ${place(1)}\u00a0A.</p>\n`,
    );
  });

  test("may hold braces, strings and templates", () => {
    const notebook = sample(prose(1, 'x ${f({a: "}"}, `${b}`)} y ${c}'));
    expect(interpolations(notebook, notebook.cells[0]!).map(({ expression }) => expression)).toEqual([
      'f({a: "}"}, `${b}`)',
      "c",
    ]);
  });

  test("alone in a paragraph may be a figure", () => {
    expect(render("${figure}")).toBe('<div class="value" data-value="0"></div>\n');
  });

  test("stand in layouts written as markup", () => {
    expect(render('<div class="bench"><div>${a}</div></div>')).toContain(`<div>${place(0)}</div>`);
  });

  test("can be written without being one", () => {
    expect(render("write `\\${volts}`")).toBe("<p>write <code>${volts}</code></p>\n");
  });

  test.each(['<a href="${x}">a</a>', "[a](${x})", "$a + ${x}$"])("are refused in: %s", (text) => {
    expect(() => render(text)).toThrow(/sample\.html:5: .*between tags only/);
  });

  test("that cannot be read stop the build, with file and line", () => {
    expect(() => render("first\n    ${1 +}")).toThrow(/sample\.html:6: /);
  });
});

test("headings get names of their own to be linked to", () => {
  expect(render("## How long?\n\n    ## How long?")).toMatch(/id="how-long".*id="how-long-more"/s);
});
