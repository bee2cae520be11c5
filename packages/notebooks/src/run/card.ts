import type { BenchCard, TalkRefused } from "@railfault/sim";
import type { FromBench } from "./protocol.ts";
import { newThread } from "./thread.ts";

/**
 * Makes a bench test card in a thread of its own: its runs would keep a page from answering.
 *
 * @throws Error where the thread broke down
 * @example const found = await askCard(text, "hut.yaml"); if (found.kind === "card") show(found.card);
 */
export function askCard(
  text: string,
  file: string,
): Promise<{ readonly kind: "card"; readonly card: BenchCard } | TalkRefused> {
  const worker = newThread();
  return new Promise<FromBench>((resolve, reject) => {
    worker.addEventListener("message", ({ data }: MessageEvent<FromBench>) => resolve(data));
    for (const kind of ["error", "messageerror"] as const)
      worker.addEventListener(kind, (event) => {
        event.preventDefault();
        reject(new Error((event as Partial<ErrorEvent>).message ?? "the worker broke down"));
      });
    worker.postMessage({ kind: "bench card", text, file });
  })
    .then((answer) => {
      if (answer.kind === "bench card") return answer.found;
      throw new Error(answer.message);
    })
    .finally(() => worker.terminate());
}
