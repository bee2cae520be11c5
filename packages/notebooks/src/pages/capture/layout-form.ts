import {
  type CaptureLayout,
  type ChannelLayout,
  type Issue,
  type LayoutCorrections,
  readCorrections,
} from "@railfault/sim";
import { button, choice, el, setText, textField, toggle } from "../../controls/index.ts";
import { issuesView } from "../../show/index.ts";
import { channelFields, readChannelField } from "./written.ts";

const UNITS = ["V", "mV", "µV", "kV", "A", "mA", "µA", "kA"] as const;
const TIME_UNITS = ["s", "ms", "µs", "ns", "min", "h", "d", "clock", "day first", "month first"] as const;
const ATTENUATIONS = ["1", "10", "100"] as const;
const DELIMITERS = { ",": "comma", ";": "semicolon", "\t": "tab" } as const;

/** Columns of which a form is made; more are told, not shown. */
const MOST_COLUMNS = 16;

interface Column {
  readonly column: number;
  readonly element: HTMLElement;
  readonly isTime: () => boolean;
  readonly timeUnit: () => string;
  /** Null where the column is none. */
  readonly channel: () => {
    readonly channel: Partial<ChannelLayout> & { readonly column: number };
    readonly issues: readonly Issue[];
  } | null;
}

/** What is shown of a file in which no table was found. */
const NOTHING: CaptureLayout = {
  delimiter: ",",
  decimal: ".",
  preamble: [],
  headerLine: null,
  unitsLine: null,
  firstLine: 1,
  columns: 0,
  time: null,
  interval: null,
  channels: [],
};

/** What was understood of a file, to confirm or to correct. `leave`: what is in hand is corrected again, not what was refused. */
export function layoutForm({ again, leave }: { again: (corrections: LayoutCorrections) => void; leave: () => void }) {
  const understood = el(document, "ul", { class: "capture-understood" });
  const columns = el(document, "div", { class: "capture-columns" });
  const problems = issuesView(document, { title: "This cannot be read so:", places: false, paths: false });
  const delimiter = choice(document, {
    label: "Between cells",
    as: "menu",
    options: Object.entries(DELIMITERS).map(([value, label]) => ({ value, label })),
    value: ",",
  });
  const decimal = choice(document, {
    label: "Decimal mark",
    options: [
      { value: ".", label: "point" },
      { value: ",", label: "comma" },
    ],
    value: ".",
  });
  const interval = textField(document, {
    label: "Sample interval",
    value: "",
    help: "Only where no column holds the time: 2 µs.",
  });
  let shown: readonly Column[] = [];
  const state = el(document, "p", { class: "aside", role: "status" });
  const about = el(document, "p", { hidden: true });
  const back = button(document, { label: "", press: leave });
  back.hidden = true;
  const apply = button(document, { label: "Read again with these", press: () => read() });
  const read = (): void => {
    const { corrections, issues: wrong } = readCorrections(interval.value === "" ? {} : { interval: interval.value });
    const named = wrong.map((issue) => ({ ...issue, message: `“Sample interval”: ${issue.message}` }));
    const read = shown.flatMap((each) => each.channel() ?? []);
    const issues = [...named, ...read.flatMap((each) => each.issues)];
    problems.show(issues);
    if (issues.length > 0) return;
    const time = shown.find(({ isTime }) => isTime());
    const marks = { delimiter: delimiter.value as CaptureLayout["delimiter"], decimal: decimal.value as "." | "," };
    // With other marks there are other columns.
    const isOther = marks.delimiter !== marksBefore.delimiter || marks.decimal !== marksBefore.decimal;
    if (shown.length === 0) {
      // Only what was said: the rest was never recognised.
      const { delimiter, decimal } = marks;
      again({
        ...corrections,
        ...(delimiter === marksBefore.delimiter ? {} : { delimiter }),
        ...(decimal === marksBefore.decimal ? {} : { decimal }),
      });
      return;
    }
    again(
      isOther
        ? { ...corrections, ...marks }
        : {
            ...corrections,
            ...marks,
            time: time?.column ?? null,
            ...(time === undefined ? {} : { timeUnit: time.timeUnit() }),
            channels: read.map(({ channel }) => channel),
          },
    );
  };
  let marksBefore: Pick<CaptureLayout, "delimiter" | "decimal"> = { delimiter: ",", decimal: "." };
  const body = el(
    document,
    "div",
    { class: "capture-form" },
    el(document, "div", { class: "capture-marks" }, delimiter, decimal, interval),
    columns,
    el(document, "div", { class: "capture-apply" }, apply, state),
    problems.element,
  );
  body.addEventListener("input", () => setText(state, "Changed, not read yet."));
  const correct = el(
    document,
    "details",
    { class: "more" },
    el(document, "summary", {}, "Correct what was understood"),
    body,
  );
  return {
    element: el(document, "div", {}, about, back, understood, correct),
    /** @param refused name of a file that was not read, and of the one in hand, if any */
    show(
      found: CaptureLayout | null,
      sentences: readonly string[],
      refused: string | null = null,
      inHand: string | null = null,
    ): void {
      const layout = found ?? NOTHING;
      setText(about, refused === null ? "" : `“${refused}” was not read: what is corrected here is said of it.`);
      about.hidden = refused === null;
      setText(back, `Leave it: back to “${inHand}”`);
      back.hidden = inHand === null;
      if (refused !== null) correct.open = true;
      understood.replaceChildren(...sentences.map((sentence) => el(document, "li", {}, sentence)));
      marksBefore = layout;
      delimiter.value = layout.delimiter;
      decimal.value = layout.decimal;
      interval.value = layout.time === null && layout.interval !== null ? `${layout.interval * 1e6} us` : "";
      const count = Math.min(layout.columns, MOST_COLUMNS);
      shown = Array.from({ length: count }, (_, k) => columnForm(layout, k + 1));
      columns.replaceChildren(...shown.map(({ element }) => element));
      problems.show([]);
      setText(state, "");
    },
  };
}

function columnForm(layout: CaptureLayout, column: number): Column {
  const { time } = layout;
  const known = layout.channels.find((each) => each.column === column);
  const named = time?.column === column ? time.name : (known?.name ?? `column ${column}`);
  const role = choice(document, {
    label: `Column ${column} is`,
    options: [
      { value: "time", label: "the time" },
      { value: "channel", label: "a channel" },
      { value: "none", label: "left out" },
    ],
    value: time?.column === column ? "time" : known === undefined ? "none" : "channel",
  });
  const offered = <T extends string>(list: readonly T[], own: string) =>
    [...new Set([...list, own])].map((value) => ({
      value: value as string,
      label: value === "" ? "not named" : value,
    }));
  const timeUnit = choice(document, {
    label: "Unit of the time",
    as: "menu",
    options: offered(TIME_UNITS, time?.unit ?? "s"),
    value: time?.column === column ? time.unit : "s",
  });
  const name = textField(document, { label: "Name", value: named });
  const unit = choice(document, {
    label: "Unit",
    as: "menu",
    options: offered(UNITS, known?.unit ?? "V"),
    value: known?.unit ?? "V",
  });
  const factor = String(known?.attenuation ?? 1);
  const attenuation = choice(document, {
    label: "Still to be multiplied by",
    as: "menu",
    options: [...new Set([...ATTENUATIONS, factor])].map((value) => ({ value, label: `${value}×` })),
    value: factor,
    help: "10× for a probe that the instrument did not know of.",
  });
  const inverted = toggle(document, { label: "Inverted", value: known?.inverted ?? false });
  const offset = textField(document, {
    label: channelFields.offset.label,
    value: known !== undefined && known.offset !== 0 ? `${known.offset} V` : "",
    help: "Offset: 12 mV.",
  });
  const clamp = textField(document, {
    label: channelFields.amperesPerVolt.label,
    value: known?.amperesPerVolt == null ? "" : `${known.amperesPerVolt} A/V`,
    help: "shunt 1 mohm, 10 mV/A, 100 A/V. Empty: none.",
  });
  const deskew = textField(document, {
    label: channelFields.deskew.label,
    value: known !== undefined && known.deskew !== 0 ? `${known.deskew * 1e9} ns` : "",
    help: "Deskew: 12 ns.",
  });
  const ofTime = el(document, "div", { class: "capture-fields" }, timeUnit);
  const ofChannel = el(
    document,
    "div",
    { class: "capture-fields" },
    name,
    unit,
    attenuation,
    inverted,
    offset,
    clamp,
    deskew,
  );
  const fold = (): void => {
    ofTime.hidden = role.value !== "time";
    ofChannel.hidden = role.value !== "channel";
  };
  role.addEventListener("input", fold);
  fold();
  return {
    column,
    element: el(
      document,
      "section",
      { class: "capture-column", "aria-label": `Column ${column}` },
      el(document, "h3", {}, `${column}: ${named}`),
      role,
      ofTime,
      ofChannel,
    ),
    isTime: () => role.value === "time",
    timeUnit: () => timeUnit.value,
    channel: () => {
      if (role.value !== "channel") return null;
      const read = [
        readChannelField(column, "offset", offset.value),
        readChannelField(column, "amperesPerVolt", clamp.value),
        readChannelField(column, "deskew", deskew.value),
      ];
      return {
        issues: read.flatMap(({ issues }) => issues),
        channel: {
          // An empty field says that there is none, whatever the file's heading names.
          amperesPerVolt: null,
          ...Object.assign({}, ...read.map(({ said }) => said)),
          column,
          name: name.value.trim() || named,
          unit: unit.value,
          attenuation: Number(attenuation.value),
          inverted: inverted.value,
        },
      };
    },
  };
}
