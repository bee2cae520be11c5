import type { Progress } from "../study/pool/deal.ts";
import { duration } from "../verdict/words.ts";
import type { Terminal } from "./terminal.ts";

/** Whoever waits for more than two seconds at a terminal is told how far it is and what is left. */
export function progressOf(terminal: Terminal): (progress: Progress) => void {
  return ({ done, total, elapsed, left }) => {
    if (elapsed < 2) return;
    const rest = left === null ? "" : `, about ${duration(Math.max(1, Math.round(left)))} left`;
    terminal.progress(`${done} of ${total} runs${rest}; Ctrl-C ends it`);
  };
}
