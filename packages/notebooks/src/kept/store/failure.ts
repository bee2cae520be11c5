import { type Problem, problem } from "../problem.ts";
import { NotOpened } from "./database.ts";

const FILE = "Save as a file what must not be lost.";

/** Why the storage did not do what it was asked for, in words for the page. */
export function storageProblem(error: unknown): Problem {
  if (error instanceof NotOpened) return error.problem;
  const name = error instanceof Error || error instanceof DOMException ? error.name : "";
  const told = (code: string, message: string, hint: string): Problem => problem(code, "storage", message, { hint });
  switch (name) {
    case "QuotaExceededError":
      return told("storage-full", "The browser has no room left to keep this.", `Delete kept lines. ${FILE}`);
    case "SecurityError":
    case "InvalidStateError":
    case "NotAllowedError":
      return told("storage-blocked", "The browser does not let these pages keep anything.", FILE);
    case "VersionError":
      return told("storage-newer", "A newer version of these pages keeps its lines here.", "Load the page again.");
    case "AbortError":
    case "ConnectionGone":
      return told("storage-interrupted", "The browser broke off before this was kept.", "Try again.");
    default:
      return problem("storage-failed", "storage", "The browser's storage failed.", {
        received: error instanceof Error ? `${error.name}: ${error.message}` : String(error),
        hint: FILE,
      });
  }
}

/** The browser has no storage at all. */
export function storageMissing(): Problem {
  return problem("storage-missing", "storage", "This browser keeps nothing for these pages.", { hint: FILE });
}
