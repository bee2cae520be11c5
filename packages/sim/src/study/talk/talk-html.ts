import { svgFile } from "../../report/figure/svg-file.ts";
import { CAUTIONS } from "../../verdict/cautions.ts";
import { coloursOf, element, escaped, inEither, list, offlinePolicy, wholePage } from "./html.ts";
import { slideFigure } from "./show.ts";
import { cautionSlide, slideName, type TalkPart } from "./slides.ts";
import { TALK_SCRIPT, TALK_SCRIPT_HASH } from "./talk-script.ts";
import type { Slide } from "./types.ts";

/** How a talk is drawn. */
export interface TalkOptions {
  /** The browser's document, or one of jsdom's. */
  readonly document: Document;
  /** Default light. */
  readonly scheme?: "light" | "dark";
  /** Of the page; left out: the first slide's headline. */
  readonly title?: string;
  /** Drawn already, one for each slide, with ids that no other has; left out: drawn here. */
  readonly pictures?: readonly TalkPicture[];
  /** Called after each slide with how many are drawn. */
  readonly progress?: (done: number, total: number) => void;
}

/** One slide as a picture file. */
export interface TalkPicture {
  /** Without an ending: `02-the-crowbar-fires`. */
  readonly name: string;
  /** Text of an SVG file of 1920 × 1080 pixels. */
  readonly svg: string;
  /** The same slide for a screen that is held in one hand; left out: there is none. */
  readonly phone?: string;
}

/**
 * Every slide of a talk as the text of an SVG file of 1920 × 1080 pixels, its type 24 pixels and more: for slides of one's own. The cautions
 * are the last of them.
 *
 * @param parts the talk's scenarios, run with their waveforms
 * @param slides as `proposeTalk` gave them, or as a person wrote them anew
 * @throws RangeError without slides, or as `slideFigure` does
 * @example const files = talkPictures(parts, slides, { document })
 */
export function talkPictures(
  parts: readonly TalkPart[],
  slides: readonly Slide[],
  options: TalkOptions,
): readonly TalkPicture[] {
  checkSlides(slides);
  const all = [...slides, cautionSlide()];
  return all.map((slide, i) => {
    options.progress?.(i + 1, all.length);
    return { name: slideName(slide, i), svg: svgFile(drawn(parts, slide, i, "slide", options)) };
  });
}

/**
 * One slide of a talk's file, for a wall and for a hand.
 *
 * @param index its place, counted from 0
 * @throws RangeError as `slideFigure` does
 * @example talkHtml(parts, slides, { document, pictures: slides.map((slide, i) => talkPicture(parts, slide, i, { document })) })
 */
export function talkPicture(
  parts: readonly TalkPart[],
  slide: Slide,
  index: number,
  options: Pick<TalkOptions, "document" | "scheme">,
): TalkPicture {
  const [svg, phone] = (["slide", "phone"] as const).map((size) => svgFile(drawn(parts, slide, index, size, options)));
  return { name: slideName(slide, index), svg, phone };
}

function checkSlides(slides: readonly Slide[]): void {
  if (slides.length === 0) throw new RangeError("a talk has at least one slide; received none");
}

/** With ids that no other drawing of the talk has. */
function drawn(
  parts: readonly TalkPart[],
  slide: Slide,
  index: number,
  size: "slide" | "phone",
  { document, scheme = "light" }: Pick<TalkOptions, "document" | "scheme">,
): SVGSVGElement {
  return slideFigure(parts, slide, { document, size, scheme, id: `${size}-${index + 1}` });
}

/**
 * A talk as one HTML file that steps through offline: keys, buttons, a slide's number in the address; without a script, and on paper, all
 * slides stand one below the other. Its policy names its one script by hash and lets it fetch nothing. The cautions are its last slide.
 *
 * @param parts the talk's scenarios, run with their waveforms
 * @param slides as `proposeTalk` gave them, or as a person wrote them anew
 * @throws RangeError without slides, or as `slideFigure` does
 * @example writeFileSync("talk.html", talkHtml(parts, proposeTalk(parts), { document: new JSDOM("").window.document }))
 */
export function talkHtml(parts: readonly TalkPart[], slides: readonly Slide[], options: TalkOptions): string {
  checkSlides(slides);
  const pictures =
    options.pictures ??
    slides.map((slide, i) => {
      options.progress?.(i + 1, slides.length);
      return talkPicture(parts, slide, i, options);
    });
  if (pictures.length !== slides.length)
    throw new RangeError(
      `a talk has a picture for each slide; received ${slides.length} slides and ${pictures.length} pictures`,
    );
  const { scheme = "light", title = slides[0].headline } = options;
  const sections = slides.map(({ headline }, i) => {
    // The picture's own name space is the page's: an XML declaration has no place here, and svgFile writes none.
    const { svg, phone } = pictures[i];
    const picture = phone === undefined ? svg.trim() : inEither(svg, phone);
    return `<section class="slide" aria-label="${escaped(headline)}">${picture}</section>`;
  });
  const { headline, sentence } = cautionSlide();
  const cautions = `<section class="slide words" aria-label="${headline}"><div>${element("h2", headline)}${list("ul", CAUTIONS)}${element("p", sentence)}</div></section>`;
  const body = [
    `<main>${[...sections, cautions].join("\n")}</main>`,
    '<nav aria-label="Slides"><button type="button">Back</button><output aria-live="polite"></output><button type="button">On</button></nav>',
    `<script>${TALK_SCRIPT}</script>`,
  ];
  const style = `${coloursOf(scheme)}\n${TALK_STYLE}`;
  return wholePage({ title, style, body: body.join("\n"), policy: offlinePolicy(TALK_SCRIPT_HASH), kind: "talk" });
}

/** A telephone, upright or sideways: what is drawn for a wall has no letters to read there. */
const IN_A_HAND = "@media screen and (max-width:620px),screen and (max-height:500px)";

const TALK_STYLE = `.narrow{display:none}
*{box-sizing:border-box}
html,body{margin:0;background:var(--ground);color:var(--ink);font-family:"DejaVu Sans","Segoe UI",system-ui,sans-serif}
nav{display:none}
.slide{margin:0 auto;max-width:1400px;border-bottom:1px solid var(--grid)}
.slide svg{display:block;width:100%;height:auto}
.words>div{padding:4vw}
.words li{margin:.5em 0}
.stepping body{height:100vh;display:flex;flex-direction:column;overflow:hidden}
.stepping main{flex:1;min-height:0;position:relative}
.stepping .slide{position:absolute;inset:0;max-width:none;border:0;display:flex;justify-content:center;align-items:center}
.stepping .slide[hidden]{display:none}
.stepping .slide :is(.wide,svg){width:100%;height:100%}
.stepping .words{font-size:clamp(16px,2.1vw,30px);line-height:1.35;overflow:auto}
${IN_A_HAND}{.wide{display:none}.narrow{display:block;max-width:30rem;margin:auto}.stepping .slide:has(.narrow){display:block;overflow:auto}.stepping .narrow svg{height:auto}.stepping .slide[hidden]{display:none}}
.stepping nav{display:flex;gap:14px;justify-content:flex-end;align-items:center;padding:4px 14px 8px;color:var(--muted);font-size:15px}
button{font:inherit;padding:4px 14px;border:1.5px solid var(--axis);border-radius:5px;background:var(--ground);color:var(--ink)}
button:disabled{opacity:.45}
button:focus-visible{outline:3px solid var(--active-edge);outline-offset:2px}
@page{size:A4 landscape;margin:8mm}
@media print{nav{display:none!important}.stepping body{display:block;height:auto;overflow:visible}.stepping main{position:static}
.stepping .slide,.stepping .slide[hidden]{position:static;display:block;break-after:page}.stepping .slide:last-child{break-after:auto}
.stepping .slide :is(.wide,svg){height:auto}*{-webkit-print-color-adjust:exact;print-color-adjust:exact}}`;
