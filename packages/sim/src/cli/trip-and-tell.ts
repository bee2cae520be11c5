import { tripFigure } from "../report/figure/trip-figure.ts";
import type { SizeName } from "../report/figure/types.ts";
import { svgText } from "../report/svg-text.ts";
import { formatIssues } from "../scenario/index.ts";
import { tripData } from "../study/trip/figure-data.ts";
import { readTripSettings, type TripWishes } from "../study/trip/settings.ts";
import { type TripAnswer, tripStudy } from "../study/trip/study.ts";
import { tripCsv } from "../study/trip/table.ts";
import { renderTrip } from "../study/trip/text.ts";
import { drawn } from "./drawn.ts";
import type { Terminal } from "./terminal.ts";
import { version } from "./version.ts";
import { type Target, writeOutput } from "./write-output.ts";

/** What is left to do once everything that can be wrong with the command line has been looked at. */
export interface TripRequest {
  readonly file: string;
  readonly text: string;
  readonly wishes: TripWishes;
  readonly targets: readonly (Target & { readonly kind: "csv" | "svg" | "png" })[];
  readonly figure: { readonly size: SizeName; readonly scheme: "light" | "dark" };
  readonly json: boolean;
}

/** Names the form of the JSON. */
const TRIP_FORMAT = "railfault-trip 1";

/** Studies, prints, writes; gives the exit status. */
export async function tripAndTell(request: TripRequest, terminal: Terminal): Promise<number> {
  const { file, text, wishes, json } = request;
  const { settings, issues } = readTripSettings(wishes);
  const begin = performance.now();
  let runs = 0;
  const answer: TripAnswer =
    settings === null
      ? { kind: "refused", issues }
      : tripStudy(text, file, settings, {
          progress: ({ name }) => {
            runs += 1;
            if (performance.now() - begin > 2000) terminal.progress(`simulation ${runs}: ${name}`);
          },
        });
  const status = answer.kind === "refused" ? 2 : answer.study.fits ? 0 : 1;
  if (json) {
    const head = { format: TRIP_FORMAT, file, version: version(), exitStatus: status };
    const body =
      answer.kind === "refused"
        ? { status: "refused", issues: answer.issues }
        : { status: "answered", study: answer.study };
    terminal.out(`${JSON.stringify({ ...head, ...body }, null, 2)}\n`);
  }
  if (answer.kind === "refused") {
    terminal.sayText(formatIssues(answer.issues));
    return status;
  }
  const { study } = answer;
  if (!json) terminal.out(renderTrip(study, terminal.width));
  let svg: string | null = null;
  for (const target of request.targets) {
    if (target.kind === "csv") writeOutput(target, tripCsv(study));
    else {
      const { size, scheme } = request.figure;
      svg ??= await svgText((document) => tripFigure(tripData(study), { document, size, scheme }));
      writeOutput(target, [await drawn(svg, target.kind, size)]);
    }
    terminal.say(`${target.option}: ${target.path} written`);
  }
  return status;
}
