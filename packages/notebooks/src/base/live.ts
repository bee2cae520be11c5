// Values that change while the page is open. What a cell names this way, other cells see as its present value.

/** A value that changes; another cell that uses its name gets the present `T`. */
export type Live<T> = AsyncGenerator<T, void, void>;

/** What other cells see of what a cell defines: the present value of what changes, the result of what takes time. */
export type Resolved<T> =
  T extends AsyncGenerator<infer Y, unknown, unknown>
    ? Y
    : T extends Generator<infer Y, unknown, unknown>
      ? Y
      : Awaited<T>;

/** An element with a value, such as a control; it tells a change with the event "input". */
export type Valued<T> = Element & { readonly value: T };

/**
 * A changing value from a source that tells its changes.
 * `start` gets a function to tell a new value with, and gives one that ends the telling.
 *
 * @example
 * const now = Generators.observe((tell) => { const t = setInterval(() => tell(Date.now()), 1000); return () => clearInterval(t); });
 */
export function observe<T>(start: (tell: (value: T) => void) => (() => void) | undefined): Live<T> {
  let pending: ((value: T) => void) | null = null;
  const fresh: T[] = [];
  const end = start((value) => {
    fresh.splice(0, 1, value);
    if (pending) {
      const deliver = pending;
      pending = null;
      fresh.length = 0;
      deliver(value);
    }
  });
  const next = async (): Promise<IteratorResult<T, void>> => {
    const [value] =
      fresh.length > 0
        ? fresh.splice(0)
        : [
            await new Promise<T>((resolve) => {
              pending = resolve;
            }),
          ];
    return { done: false, value: value as T };
  };
  const done = async (): Promise<IteratorResult<T, void>> => {
    end?.();
    return { done: true, value: undefined };
  };
  const generator = {
    next,
    return: done,
    throw: done,
    [Symbol.asyncIterator]: () => generator,
    [Symbol.asyncDispose]: async () => void (await done()),
  };
  return generator as Live<T>;
}

/** The changing value of an element, told with the event "input". */
export function input<T>(element: Valued<T>): Live<T> {
  return observe<T>((tell) => {
    const changed = () => tell(element.value);
    element.addEventListener("input", changed);
    changed();
    return () => element.removeEventListener("input", changed);
  });
}

/** A value that its own cell may change through `.value`; other cells see each new value. */
export type Changeable<T> = Live<T> & { value: T };

/**
 * A value that code may change.
 *
 * @example
 * const clicks = Mutable(0);
 * const count = () => { clicks.value += 1; };
 */
export function Mutable<T>(initial: T): Changeable<T> {
  let value = initial;
  let tell: (value: T) => void = () => {};
  const live = observe<T>((telling) => {
    tell = telling;
    telling(value);
    return undefined;
  });
  return Object.defineProperty(live, "value", {
    get: () => value,
    set: (changed: T) => {
      value = changed;
      tell(changed);
    },
  }) as Changeable<T>;
}

/** The notebook library's own kind of changeable cell, which our format has not. */
export function Mutator(): never {
  throw new Error("A cell cannot be declared changeable; use Mutable(…).");
}
