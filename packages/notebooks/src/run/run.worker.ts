import { Comparisons } from "./comparisons.ts";
import { Jobs } from "./jobs.ts";
import type {
  FromBench,
  FromComparer,
  FromCrew,
  FromWorker,
  ToBench,
  ToComparer,
  ToCrew,
  ToWorker,
} from "./protocol.ts";
import { Studies } from "./studies.ts";

/** The types of a page and those of a worker exclude each other; this much of a worker is used. */
interface Thread {
  postMessage(message: FromWorker | FromCrew | FromComparer | FromBench, transfer: Transferable[]): void;
  onmessage: ((event: MessageEvent<ToWorker | ToCrew | ToComparer | ToBench>) => void) | null;
}

listen(self as unknown as Thread);

function listen(thread: Thread): void {
  // A timer would wait for at least 4 ms each time; a message to oneself stands in line behind those of the page.
  const bell = new MessageChannel();
  const tasks: (() => void)[] = [];
  bell.port1.onmessage = () => tasks.shift()?.();
  const now = () => performance.now();
  const later = (task: () => void): void => {
    tasks.push(task);
    bell.port2.postMessage(null);
  };
  const jobs = new Jobs({ post: (message, transfer) => thread.postMessage(message, transfer), now, later });
  const comparisons = new Comparisons({ post: (message) => thread.postMessage(message, []), now, later });
  const studies = new Studies((message) => thread.postMessage(message, []));
  thread.onmessage = ({ data }) => {
    if (data.kind === "setup" || data.kind === "batch") studies.take(data);
    else if (data.kind === "compare" || data.kind === "end comparison") comparisons.take(data);
    else if (data.kind === "bench card")
      void import("./bench-cards.ts").then(({ benchAnswer }) => thread.postMessage(benchAnswer(data), []));
    else jobs.take(data);
  };
}
