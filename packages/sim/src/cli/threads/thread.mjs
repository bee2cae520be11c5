// A thread starts without what reads TypeScript in the main one.
import { Tinypool } from "tinypool";
import { register } from "tsx/esm/api";

register({ tsconfig: false });
const { module, setup } = Tinypool.workerData;
const { begin } = await import(module);
/** What every task of this thread is handed to. */
export default begin(setup);
