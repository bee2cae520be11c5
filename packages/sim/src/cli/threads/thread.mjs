// A thread starts without what reads TypeScript in the main one.
import { Tinypool } from "tinypool";
import { load } from "../../../bin/load.mjs";

const { module, setup } = Tinypool.workerData;
const { begin } = await load(new URL(module));
/** What every task of this thread is handed to. */
export default begin(setup);

// The pool never hears of a thread that ends itself: it would wait for it for ever.
process.exit = (code) => {
  throw new Error(`a thread wanted to end itself with ${code}`);
};
