import { palette } from "../../report/figure/palette.ts";
import { keepUnits } from "../../report/figure/text.ts";

/** Text for the inside of an element or an attribute: whatever it says stays text. */
export function escaped(text: string): string {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;")
    .replaceAll("'", "&#39;");
}

/** `<tag>text</tag>`, the text escaped. */
export const element = (tag: string, text: string, attributes = ""): string =>
  `<${tag}${attributes === "" ? "" : ` ${attributes}`}>${escaped(keepUnits(text))}</${tag}>`;

/** A list of sentences. */
export const list = (tag: "ul" | "ol", items: readonly string[], name = ""): string =>
  `<${tag}${name === "" ? "" : ` class="${name}"`}>${items.map((item) => element("li", item)).join("")}</${tag}>`;

/** A table; its first row is the head where there is one, the first cell of each other row names it. */
export function htmlTable(rows: readonly (readonly string[])[], head: readonly string[] | null): string {
  const top =
    head === null ? "" : `<thead><tr>${head.map((cell) => element("th", cell, 'scope="col"')).join("")}</tr></thead>`;
  const body = rows.map(
    ([first = "", ...cells]) =>
      `<tr>${element("th", first, 'scope="row"')}${cells.map((cell) => element("td", cell)).join("")}</tr>`,
  );
  return `<table>${top}<tbody>${body.join("")}</tbody></table>`;
}

/** A screen that is held in one hand, upright. */
const ONE_HAND = "@media screen and (max-width:620px)";

/** A picture drawn for a wide place and for a narrow one; which is seen is the page's to say. */
export const inEither = (wide: string, narrow: string): string =>
  `<div class="wide">${wide.trim()}</div><div class="narrow">${narrow.trim()}</div>`;

const EITHER_STYLE = `.narrow{display:none}
${ONE_HAND}{.narrow{display:block}.wide{display:none}}`;

/** What an offline page tells the browser it may do: its own style, the script of that hash if any, nothing fetched from anywhere. */
export function offlinePolicy(scriptHash: string | null): string {
  return [
    "default-src 'none'",
    ...(scriptHash === null ? [] : [`script-src '${scriptHash}'`]),
    "style-src 'unsafe-inline'",
    "img-src data:",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
}

interface WholePage {
  readonly title: string;
  readonly style: string;
  readonly body: string;
  readonly policy: string;
  /** Name of the class at the root. */
  readonly kind: string;
}

/** A whole page in one file. */
export function wholePage({ title, style, body, policy, kind }: WholePage): string {
  return `<!doctype html>
<html lang="en" class="${kind}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title>
<style>${style}</style>
</head>
<body>
${body}
</body>
</html>
`;
}

const variables = (scheme: "light" | "dark"): string => {
  const { ground, ink, muted, grid, axis, exceedanceInk, tones } = palette(scheme);
  return [
    `--ground:${ground};--ink:${ink};--muted:${muted};--grid:${grid};--axis:${axis};--warn:${exceedanceInk}`,
    ...Object.entries(tones).map(([name, { fill, edge }]) => `--${name}:${fill};--${name}-edge:${edge}`),
    `color-scheme:${scheme}`,
  ].join(";");
};

/** Colours of the house in both schemes; paper is light. */
export const COLOURS = `:root{${variables("light")}}
@media screen and (prefers-color-scheme:dark){:root{${variables("dark")}}}`;

/** Colours of one scheme, whatever the browser prefers. */
export const coloursOf = (scheme: "light" | "dark"): string => `:root{${variables(scheme)}}`;

/** A sheet for one side of A4, its colours aside. */
export const SHEET_STYLE = `@page{size:A4;margin:7mm 11mm}
*{box-sizing:border-box}
body{margin:0 auto;max-width:186mm;padding:8mm 5mm;background:var(--ground);color:var(--ink);font:12px/1.36 "DejaVu Sans","Segoe UI",system-ui,sans-serif}
h1{font-size:20px;line-height:1.2;margin:0 0 2px}
h2{font-size:13px;margin:11px 0 3px}
p,ul,ol,table{margin:3px 0}
.kicker{color:var(--muted);margin:0 0 2px;letter-spacing:.02em}
.lead{font-size:14px;margin:2px 0 6px}
ul,ol{padding-left:20px}
li{margin:1.5px 0}
.further{padding-left:20px}
table{border-collapse:collapse;width:100%}
th,td{text-align:left;vertical-align:top;padding:3px 8px 3px 0;border-bottom:1px solid var(--grid);font-weight:normal;font-variant-numeric:tabular-nums}
thead th{color:var(--muted);border-bottom:1.5px solid var(--axis)}
tbody th{font-weight:bold}
.cautions{border:1.5px solid var(--warn);border-left-width:7px;border-radius:4px;padding:5px 10px 6px;margin:6px 0}
.cautions h2{margin:0 0 2px;color:var(--warn)}
.cautions ul{padding-left:16px;font-size:11px;columns:2;column-gap:22px}
.cautions.warned ul{columns:1}
.cautions li{break-inside:avoid}
.pair{display:grid;grid-template-columns:1fr 1fr;gap:0 22px}
.states{width:auto}
.states th{padding-right:26px}
.limits td{white-space:nowrap}
.limits :is(th,td){padding:2px 8px 2px 0}
.tag{display:inline-block;padding:0 7px;border:1.2px solid;border-radius:4px;font-weight:bold}
.tag.idle{background:var(--idle);border-color:var(--idle-edge)}
.tag.active{background:var(--active);border-color:var(--active-edge)}
.tag.alarm{background:var(--alarm);border-color:var(--alarm-edge)}
.tag.off{background:var(--off);border-color:var(--off-edge)}
.small{color:var(--muted);font-size:10.5px}
figure{margin:4px 0}
figure svg{display:block;width:100%;height:auto}
.write{height:22px}
.bench .pen{width:32mm;min-width:32mm;padding:3px 0 0 4px;border-left:1px solid var(--axis)}
.bench tbody tr{height:7mm}
.bench tbody th{width:31mm}
.readings tbody :is(th,td){white-space:nowrap}
.readings tbody th{width:auto}
${EITHER_STYLE}
@media (max-width:620px){.bench .pen{display:none}.readings tbody :is(th,td){white-space:normal}.pair{grid-template-columns:1fr}.cautions ul{columns:1}body{padding:14px;font-size:13px}tbody th,td{overflow-wrap:anywhere;padding-right:6px}}
@media print{:root{--ground:#fff}figure .ground{fill:#fff}body{padding:0;max-width:none;font-size:11px;line-height:1.27}.lead{font-size:12.5px;line-height:1.25;margin:1px 0 4px}h2{margin-top:7px;break-after:avoid}.bench-card{font-size:10.5px;line-height:1.22}.bench-card h1{font-size:17px}.bench-card .lead{font-size:12px;margin:0 0 3px}.bench-card h2{margin-top:5px}.bench-card .small{font-size:10px}.bench-card li{margin:.5px 0}.bench-card .cautions{margin:4px 0;padding:3px 10px 4px}.bench-card .cautions ul{font-size:10.5px}.warned:has(li+li)~figure{width:84%;margin:2px auto}tr,li,figure{break-inside:avoid}*{-webkit-print-color-adjust:exact;print-color-adjust:exact}}`;
