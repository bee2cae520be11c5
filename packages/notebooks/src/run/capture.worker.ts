import type { FromCaptures, ToCaptures } from "./capture-protocol.ts";
import { Captures } from "./captures.ts";

/** The types of a page and those of a worker exclude each other; this much of a worker is used. */
interface Thread {
  postMessage(message: FromCaptures): void;
  onmessage: ((event: MessageEvent<ToCaptures>) => void) | null;
}

listen(self as unknown as Thread);

function listen(thread: Thread): void {
  // A timer would wait for at least 4 ms each time; a message to oneself stands in line behind those of the page.
  const bell = new MessageChannel();
  const tasks: (() => void)[] = [];
  bell.port1.onmessage = () => tasks.shift()?.();
  const captures = new Captures({
    post: (message) => thread.postMessage(message),
    now: () => performance.now(),
    later: (task) => {
      tasks.push(task);
      bell.port2.postMessage(null);
    },
  });
  thread.onmessage = ({ data }) => captures.take(data);
}
