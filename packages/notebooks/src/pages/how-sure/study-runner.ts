import { Cancelled, type CrewMaker, type DealOptions, type Progress } from "@railfault/sim";
import { button, el, setText } from "../../controls/index.ts";
import { type PageCrew, pageCrew } from "../../run/crew.ts";

/** One study at a time, with its buttons, how far it is, and what went wrong. */
export interface StudyRunner {
  readonly element: HTMLElement;
  /** Begins a study; one that is on its way makes room. */
  start(study: (crew: CrewMaker, hooks: DealOptions) => Promise<void>): Promise<void>;
  cancel(): void;
}

export interface StudyRunnerOptions {
  readonly label: string;
  /** Of the bar, for screen readers. */
  readonly name: string;
  readonly press: () => void;
  /** Told when a study begins and ends. */
  readonly busy: (running: boolean) => void;
}

/** A moment is not told: a bar that flickers tells nobody anything, ms. */
const PATIENCE = 300;

/**
 * A button that begins a study in the workers, and one that ends it at once.
 *
 * @example const runner = studyRunner({ label: "Draw samples", name: "Samples", press: begin, busy });
 */
export function studyRunner({ label, name, press, busy }: StudyRunnerOptions): StudyRunner {
  const begin = button(document, { label, kind: "main", press });
  const bar = el(document, "progress", { max: 1, value: 0, "aria-label": name });
  const words = el(document, "span", { class: "progress-words" });
  const end = button(document, { label: "Cancel", name: `Cancel: ${name}`, press: () => cancel() });
  const progress = el(document, "div", { class: "progress", "data-idle": true }, bar, words, end);
  const said = el(document, "p", { class: "aside", role: "status" });
  const element = el(document, "div", { class: "study-runner" }, begin, progress, said);
  let present: { readonly controller: AbortController; crew: PageCrew | null } | null = null;

  const cancel = (): void => {
    present?.controller.abort();
    present?.crew?.dismiss();
  };
  const told = ({ done, total, left }: Progress): void => {
    bar.value = done / total;
    const rest = left === null || left < 1 ? "" : `, about ${Math.ceil(left)} s left`;
    setText(words, `${done} of ${total} runs${rest}`);
  };
  return {
    element,
    cancel,
    async start(study) {
      cancel();
      const own: { readonly controller: AbortController; crew: PageCrew | null } = {
        controller: new AbortController(),
        crew: null,
      };
      present = own;
      busy(true);
      setText(said, "");
      const timer = setTimeout(() => progress.removeAttribute("data-idle"), PATIENCE);
      const hire = pageCrew((crew) => {
        own.crew = crew;
      });
      try {
        await study(hire, { signal: own.controller.signal, progress: (at) => present === own && told(at) });
      } catch (error) {
        if (present === own)
          setText(said, error instanceof Cancelled ? "Cancelled." : `It broke off: ${(error as Error).message}`);
      } finally {
        clearTimeout(timer);
        if (present === own) {
          present = null;
          progress.setAttribute("data-idle", "");
          busy(false);
        }
      }
    },
  };
}
