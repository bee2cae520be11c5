/** What a file calls its form. */
export const formName = (form: number): string => `railfault-scenario ${form}`;

/** One step from a form to the next. */
export interface FormChange {
  /** The form that it starts from. */
  readonly from: number;
  /** What changed, for the changelog and the documentation. */
  readonly why: string;
  /** Gives the text of the next form; lines that need no change stay as they are. The line with the form is not its business. */
  readonly change: (text: string) => string;
}

/** Every step so far: the first form is still the present one. */
export const FORM_CHANGES: readonly FormChange[] = [];

/** The form that this program reads and writes. It goes up when a file of the form before would be refused or mean something else. */
export const SCENARIO_FORM = FORM_CHANGES.length + 1;

const FORM_LINE = /^(format[ \t]*:[ \t]*["']?railfault-scenario )(\d{1,6})(?=["']?[ \t]*(?:#.*)?\r?$)/m;

/**
 * A scenario text in the present form. A text without a form is of form 1, the first; one of the present form, or of a later one (which
 * reading refuses), comes back as it is.
 *
 * @param text of a scenario file
 * @param changes steps between forms, from 1 on
 * @returns the text, its form told where anything was changed
 */
export function inPresentForm(text: string, changes: readonly FormChange[] = FORM_CHANGES): string {
  const present = changes.length + 1;
  const written = FORM_LINE.exec(text);
  const form = written === null ? 1 : Number(written[2]);
  if (form < 1 || form >= present) return text;
  const steps = changes.filter(({ from }) => from >= form).sort((a, b) => a.from - b.from);
  const changed = steps.reduce((now, { change }) => change(now), text);
  return FORM_LINE.test(changed)
    ? changed.replace(FORM_LINE, (_, head: string) => `${head}${present}`)
    : `format: ${formName(present)}\n${changed}`;
}

/** The number of a form by its name; null where this names none. */
export function formOf(name: string): number | null {
  const found = /^railfault-scenario (\d{1,6})$/.exec(name);
  return found === null ? null : Number(found[1]);
}
