import { describe, expect, it } from "vitest";
import { checkOf, unreadable } from "../../../packages/sim/src/study/weakest/check.ts";

describe("a rule", () => {
  const rule = { rule: "surge", subject: "SCR", dimension: "current", sentence: "" } as const;

  it("is kept at its limit, broken without a known one, and says by how much", () => {
    expect(checkOf({ ...rule, found: 10, allowed: 10, bound: "at most" })).toMatchObject({ kept: true, shortBy: 1 });
    expect(checkOf({ ...rule, found: 15, allowed: 10, bound: "at most" })).toMatchObject({ kept: false, shortBy: 1.5 });
    expect(checkOf({ ...rule, found: 5, allowed: 10, bound: "at least" })).toMatchObject({ kept: false, shortBy: 2 });
    expect(checkOf({ ...rule, found: 5, allowed: null, bound: "at most" })).toMatchObject({
      kept: false,
      shortBy: Number.POSITIVE_INFINITY,
    });
    // Of temperatures the rises above ambient are compared: 60 K where 40 K are allowed.
    expect(checkOf({ ...rule, found: 80, allowed: 60, bound: "at most", base: 20 }).shortBy).toBe(1.5);
  });

  it("of a part with which the file cannot be read: what is wrong, where, and what is allowed", () => {
    const issue = {
      severity: "error",
      code: "x",
      path: "main fuse",
      message: "It is too large.",
      received: "1",
      allowed: "less",
      hint: null,
      position: null,
    } as const;
    expect(unreadable("fuse A", "fuse", { issues: [issue] }).sentence).toBe(
      "With fuse A the file cannot be used (main fuse): It is too large. Allowed: less.",
    );
    expect(unreadable("fuse A", "fuse", { issues: [{ ...issue, path: "", allowed: null }] }).sentence).toBe(
      "With fuse A the file cannot be used: It is too large.",
    );
  });
});
