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
await import("../../../packages/notebooks/src/run/run.worker.ts");
