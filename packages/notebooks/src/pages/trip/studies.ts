import { type TripAnswer, TripMemory, type TripSettings, tripSteps } from "@railfault/sim";
import { createRunner, type Runner } from "../../run/runner.ts";

/** How a study stands. */
export interface StudyNow {
  /** The newest; it stays while the next is worked out. */
  readonly answer: TripAnswer | null;
  /** What is still to come. */
  readonly busy: "band" | "changes" | null;
  /** Why it could not be carried out, through no fault of the line. */
  readonly failure: string | null;
}

export interface Question {
  readonly text: string;
  readonly file: string;
  readonly settings: TripSettings;
}

type Tell = (now: StudyNow) => void;

interface Active {
  readonly id: number;
  readonly since: number;
  phase: "band" | "changes";
  next: { readonly question: Question; readonly tell: Tell } | null;
}

/** A band that has been worked on for less than this is let finish before the next question, so that a picture comes while a slider moves, ms. */
const PATIENCE = 600;

/**
 * Works out where the trip point belongs, its simulations in another thread: first the band, then, where there is none, what opens one. Each slot
 * answers the newest question only.
 *
 * @example const studies = new Studies(); studies.ask("line", { text, file: "hut.yaml", settings }, show);
 */
export class Studies {
  private readonly memory = new TripMemory();
  private readonly slots = new Map<string, Active>();
  private readonly answers = new Map<string, TripAnswer>();
  private last = 0;

  constructor(
    private readonly runner: Runner = createRunner(),
    private readonly clock: () => number = () => performance.now(),
  ) {}

  ask(slot: string, question: Question, tell: Tell): void {
    const active = this.slots.get(slot);
    if (active !== undefined && active.phase === "band" && this.clock() - active.since < PATIENCE) {
      active.next = { question, tell };
      return;
    }
    this.begin(slot, question, tell);
  }

  leave(): void {
    this.slots.clear();
    this.runner.dispose();
  }

  private begin(slot: string, question: Question, tell: Tell): void {
    this.runner.cancel(slot);
    this.last += 1;
    const active: Active = { id: this.last, since: this.clock(), phase: "band", next: null };
    this.slots.set(slot, active);
    const show = (busy: StudyNow["busy"], failure: string | null = null): void =>
      tell({ answer: this.answers.get(slot) ?? null, busy, failure });
    const end = (): void => {
      this.slots.delete(slot);
      if (active.next !== null) this.begin(slot, active.next.question, active.next.tell);
    };
    const failed = (message: string): void => {
      show(null, message);
      end();
    };
    show("band");
    this.drive(slot, active, question, false, failed, (band) => {
      this.answers.set(slot, band);
      const isDone = band.kind === "refused" || band.study.exists;
      if (isDone || active.next !== null) {
        show(null);
        end();
        return;
      }
      show("changes");
      active.phase = "changes";
      this.drive(slot, active, question, true, failed, (whole) => {
        this.answers.set(slot, whole);
        show(null);
        end();
      });
    });
  }

  private drive(
    slot: string,
    active: Active,
    { text, file, settings }: Question,
    changes: boolean,
    failed: (message: string) => void,
    done: (answer: TripAnswer) => void,
  ): void {
    const steps = tripSteps(text, file, settings, { memory: this.memory, changes });
    const take = (step: ReturnType<typeof steps.next>): void => {
      if (this.slots.get(slot)?.id !== active.id) return;
      if (step.done === true) {
        done(step.value);
        return;
      }
      const { text: wanted, file: name } = step.value;
      this.runner.run(
        slot,
        { text: wanted, file: name, secondRun: false, record: { most: 60_000 } },
        {
          answer: (answer) => take(steps.next(answer)),
          refused: (issues) => take(steps.next({ kind: "refused", issues })),
          failed,
        },
      );
    };
    take(steps.next());
  }
}
