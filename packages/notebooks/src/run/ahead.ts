// Runs before the page's own module, as soon as it is there.
import { startAhead } from "./thread.ts";

startAhead();
