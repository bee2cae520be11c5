import type { Issue } from "../issue/issue.ts";

/** What stands between the cells of a row. */
export type Delimiter = "," | ";" | "\t";

/** How a file of samples is to be read: recognised, shown, corrected by a person and handed back. Plain data; lines and columns count from 1. */
export interface CaptureLayout {
  /** Between the cells of a row. */
  readonly delimiter: Delimiter;
  /** Decimal mark of its numbers. */
  readonly decimal: "." | ",";
  /** Lines above the table that name something. */
  readonly preamble: readonly PreambleLine[];
  /** The line with the columns' names; null: there is none. */
  readonly headerLine: number | null;
  /** The line with the columns' units; null: there is none. */
  readonly unitsLine: number | null;
  /** The first line of numbers. */
  readonly firstLine: number;
  /** How many columns a line of numbers has. */
  readonly columns: number;
  /** The column that holds the time; null: samples are `interval` apart. */
  readonly time: TimeColumn | null;
  /** Between two samples where no column holds the time, s. */
  readonly interval: number | null;
  /** The columns that are read; all others are not. */
  readonly channels: readonly ChannelLayout[];
}

/** A line above the table, as an instrument wrote it. */
export interface PreambleLine {
  readonly line: number;
  /** What it names: `Sample Interval`. */
  readonly key: string;
  readonly value: string;
}

/** Where a capture's times stand. */
export interface TimeColumn {
  readonly column: number;
  /** As the header line calls it. */
  readonly name: string;
  /** As written: `s`, `ms`, `µs` … ; `d` for days of a spreadsheet; `clock` for times of day and dates, `day first` or `month first` for dates that begin so. */
  readonly unit: string;
  /** A column with the dates of its times of day; null: there is none. */
  readonly date: number | null;
  /** What the file's clock says at the first sample, from which times count; null: times are those of the file. */
  readonly from: string | null;
}

/** A column of a capture. What it measured = ±(number × unit − offset) × attenuation × amperesPerVolt. */
export interface ChannelLayout {
  readonly column: number;
  /** As the header line calls it, or as a person does. */
  readonly name: string;
  /** Of the numbers in the file, as written: `V`, `mV`, `A` …; the empty text where none is known. */
  readonly unit: string;
  /** By how much the numbers have still to be multiplied: 10 for a 10× probe that the instrument did not know of, else 1. */
  readonly attenuation: number;
  /** What the column shows for nothing, in V or A of the file. */
  readonly offset: number;
  /** The channel shows the negative of what it measured. */
  readonly inverted: boolean;
  /** Of a shunt or a clamp, A/V; null: the column is what its unit says. */
  readonly amperesPerVolt: number | null;
  /** How much later than the time column this channel shows what happened, s; taken off its times. */
  readonly deskew: number;
}

/** What a person corrects of a recognised layout. */
export interface LayoutCorrections {
  readonly delimiter?: Delimiter;
  readonly decimal?: "." | ",";
  /** Column of the time, by number or by name; null: there is none. */
  readonly time?: number | string | null;
  /** As `unit` of a `TimeColumn`. */
  readonly timeUnit?: string;
  /** Between two samples where no column holds the time, s. */
  readonly interval?: number;
  /** Those named here are read, all others are not. */
  readonly channels?: readonly (Partial<ChannelLayout> & { readonly column: number })[];
}

/** Samples in SI units, in order of time. */
export interface Capture {
  /** Its name, for messages. */
  readonly file: string;
  /** How it was read. */
  readonly layout: CaptureLayout;
  /** s, never falling. */
  readonly time: Float64Array;
  /** One for each channel of the layout, in its order. */
  readonly channels: readonly CapturedChannel[];
  /** Usual time between two samples, s. */
  readonly interval: number;
  /** Times are written in steps so large that a sample may have been taken anywhere within one, s; 0 where they are as good as exact. */
  readonly timeGrain: number;
}

/** Rows in which an instrument was out of its range. */
export interface OutOfRange {
  /** The first row, counted from 0. */
  readonly first: number;
  /** The row after the last. */
  readonly end: number;
  /** Above its range, below it, or one of them (0). */
  readonly side: 1 | -1 | 0;
}

/** One channel of a capture, in its unit. */
export interface CapturedChannel {
  /** How its column was read. */
  readonly layout: ChannelLayout;
  readonly name: string;
  /** Of its values: what the layout's unit, shunt or clamp make of them. */
  readonly unit: "V" | "A";
  /** As many as times; NaN where nothing was recorded. */
  readonly values: Float64Array;
  /** Cells that were empty. */
  readonly gaps: number;
  /** Cells that say that the instrument was out of its range. */
  readonly outOfRange: number;
  /** Where it was out of its range, in order. */
  readonly outside: readonly OutOfRange[];
  /** What the last written digit of the values is worth, V or A; no step is finer. */
  readonly digit: number;
}

/** What came of reading a file. Where it is refused or was stopped, what was understood so far stands beside the reasons. */
export interface CaptureResult {
  /** `stopped`: it was told to stop before the end of the file. */
  readonly status: "read" | "refused" | "stopped";
  /** How it was, or would be, read; null: not recognised. */
  readonly layout: CaptureLayout | null;
  /** The samples; null unless it was read. */
  readonly capture: Capture | null;
  /** What was understood, and why, a sentence each. */
  readonly understood: readonly string[];
  /** Errors for which it was refused; warnings. */
  readonly issues: readonly Issue[];
}
