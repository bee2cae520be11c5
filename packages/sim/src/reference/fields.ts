/** A reference file that cannot be read: where, and what is missing or wrong. */
export class BadCase extends Error {
  override readonly name = "BadCase";
}

/** The fields of an object at a place that errors can name. */
export class Fields {
  [key: string]: unknown;
  readonly at!: string;

  constructor(at: string, values: object) {
    for (const [key, value] of Object.entries(values)) this[key] = value;
    Object.defineProperty(this, "at", { value: at, enumerable: false });
  }

  unknown(key: string, received: string, allowed: string): never {
    throw new BadCase(`${this.at}.${key} is "${received}"; allowed: ${allowed}`);
  }
}

export function fields(value: unknown, at: string): Fields {
  if (typeof value !== "object" || value === null || Array.isArray(value)) throw new BadCase(`${at} must be an object`);
  return new Fields(at, value);
}

export function number(from: Fields, key: string): number {
  const value = from[key];
  if (typeof value !== "number" || !Number.isFinite(value))
    throw new BadCase(`${from.at}.${key} must be a number, not ${show(value)}`);
  return value;
}

/** A number, or null where the key is absent. */
export function optional(from: Fields, key: string): number | null {
  return from[key] === undefined || from[key] === null ? null : number(from, key);
}

export function text(from: Fields, key: string): string {
  const value = from[key];
  if (typeof value !== "string") throw new BadCase(`${from.at}.${key} must be a text, not ${show(value)}`);
  return value;
}

export function truth(from: Fields, key: string): boolean {
  const value = from[key];
  if (value === undefined) return false;
  if (typeof value !== "boolean") throw new BadCase(`${from.at}.${key} must be true or false, not ${show(value)}`);
  return value;
}

export function list(from: Fields, key: string): readonly unknown[] {
  const value = from[key];
  if (!Array.isArray(value)) throw new BadCase(`${from.at}.${key} must be a list, not ${show(value)}`);
  return value;
}

function show(value: unknown): string {
  return value === undefined ? "missing" : JSON.stringify(value).slice(0, 60);
}
