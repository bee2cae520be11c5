import { parentPort } from "node:worker_threads";
import { register } from "tsx/esm/api";

// A thread of Node's that looks like one of a browser, so that the worker itself runs in it.
register();
globalThis.self = {
  postMessage: (message, transfer) => parentPort.postMessage(message, transfer),
  set onmessage(listener) {
    parentPort.on("message", (data) => listener({ data }));
  },
};
// Node delivers up to a thousand messages of one channel before it looks at another; a browser takes them in their order.
globalThis.MessageChannel = class {
  port1 = { onmessage: null };
  port2 = { postMessage: (data) => setImmediate(() => this.port1.onmessage?.({ data })) };
};
await import("../../../packages/notebooks/src/run/run.worker.ts");
