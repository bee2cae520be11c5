import { InvalidInput, type Issue } from "../../issue/issue.ts";
import { type Path, pathText } from "../keys.ts";

/** Why a change of a text was not made. */
export function cannotChange(path: Path, message: string, received: string | null = null): InvalidInput {
  const issue: Issue = {
    severity: "error",
    code: "cannot-change",
    path: pathText(path),
    message,
    received,
    allowed: null,
    hint: null,
    position: null,
  };
  return new InvalidInput([issue]);
}
