/** A name inside a sentence: proper names and numbered ones stand alone, others get their article. */
export function the(name: string): string {
  const numbered = /\d$/.test(name) && !/ (of|at) /.test(name);
  return /^[A-Z]/.test(name) || numbered || /^the /i.test(name) ? name : `the ${name}`;
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** `a`, `a and b`, `a, b and c`. */
export function listed(words: readonly string[], last = "and"): string {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} ${last} ${words.at(-1)}`;
}

/** Two values with as many digits, 3 to 6, as keep them apart. */
export function apart(
  a: number,
  b: number,
  show: (value: number, digits: number) => string,
): readonly [string, string] {
  for (let digits = 3; ; digits++) {
    const pair = [show(a, digits), show(b, digits)] as const;
    if (pair[0] !== pair[1] || digits === 6 || a === b) return pair;
  }
}
