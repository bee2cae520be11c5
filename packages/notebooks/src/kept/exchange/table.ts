import { type Problem, problem } from "../problem.ts";

/** Lines that are looked at; what an instrument says of itself before its numbers is shorter. */
const HEAD = 120;
/** So many rows of numbers are no accident. */
const ROWS = 5;

/** What a table of numbers is refused with where a scenario is asked for, or null where the text is none. */
export function tableProblem(text: string, where: string): Problem | null {
  const rows = text
    .slice(0, 64 * HEAD)
    .split(/\r?\n/, HEAD)
    .filter(isRow);
  if (rows.length < ROWS) return null;
  return problem("wrong-kind", where, "This is a table of numbers, such as an instrument records: no scenario.", {
    received: rows[0].trim().slice(0, 60),
    allowed: "a scenario",
    hint: `What an instrument recorded is judged by the command: npm run -s railfault -- capture ${/^[\w.-]+$/.test(where) ? where : "FILE"}`,
  });
}

/** At least two numbers and nothing else, apart by commas, semicolons, tabs or blanks. */
function isRow(line: string): boolean {
  const cells = line
    .trim()
    .split(/\s*[;\t]\s*|\s*,\s*|\s+/)
    .filter((cell) => cell !== "");
  return cells.length > 1 && cells.every((cell) => /^"?[-+]?[\d.]+(?:e[-+]?\d+)?"?$/i.test(cell));
}
