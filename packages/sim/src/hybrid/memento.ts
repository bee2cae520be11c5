/**
 * Notes every number, word and switch below an object, typed arrays left out; the function returned writes back those that have changed.
 * @param roots where to begin
 * @param outside objects that are not entered
 */
export function remember(roots: readonly object[], outside: readonly object[]): () => void {
  const seen = new Set<object>(outside);
  const notes: (readonly [owner: Record<string, unknown>, key: string, value: unknown])[] = [];
  const left = [...roots];
  for (let owner = left.pop(); owner !== undefined; owner = left.pop()) {
    if (seen.has(owner) || ArrayBuffer.isView(owner)) continue;
    seen.add(owner);
    for (const [key, value] of Object.entries(owner)) {
      if (typeof value === "object" && value !== null) left.push(value);
      else if (typeof value !== "function") notes.push([owner as Record<string, unknown>, key, value]);
    }
  }
  return () => {
    for (const [owner, key, value] of notes) if (!Object.is(owner[key], value)) owner[key] = value;
  };
}
