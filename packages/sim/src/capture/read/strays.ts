import { visible } from "../../scenario/text/characters.ts";
import type { Problems } from "./problems.ts";

/** Lines within or below a table that are no rows of it: a footer is left out, a head line of a further recording is not. */
export class Strays {
  private first = 0;
  private last = 0;
  private text = "";

  constructor(private readonly problems: Problems) {}

  add(line: number, text: string): void {
    if (this.first === 0) {
      this.first = line;
      this.text = text;
    }
    this.last = line;
  }

  /** A row follows. */
  row(): void {
    if (this.first === 0) return;
    const { first, last, text, problems } = this;
    problems.add(
      {
        code: "rows-after-words",
        message: `${first === last ? `Line ${first} is no row of the table` : `Lines ${first} to ${last} are no rows of the table`}, and rows follow: there seem to be several recordings in this file.`,
        received: text,
        allowed: "one table of rows",
        hint: "keep one recording a file, or take out lines that are no rows",
      },
      problems.at(first, text),
    );
    this.first = 0;
  }

  /** Nothing follows. */
  end(): void {
    if (this.first === 0) return;
    this.problems.add({
      severity: "warning",
      code: "below-table",
      message: `Below the table, from line ${this.first} on, stands what is no row of it, and is left out: "${visible(this.text.slice(0, 60))}".`,
    });
  }
}
