/** What this library uses of unitmath 0.8.8, which ships no types. */
declare module "unitmath" {
  interface Unit {
    /** The number in the units it was written in; null for a bare unit. */
    getValue(): number | null;
    /** The number in SI base units. */
    getNormalizedValue(): number;
    getUnits(): Unit;
    to(unit: Unit | string): Unit;
    toSI(): Unit;
    /** Whether both have the same dimension. */
    equalQuantity(other: Unit | string): boolean;
    hasQuantity(quantity: string): boolean;
    toString(): string;
  }

  interface Definition {
    readonly value?: string | readonly [number, string];
    readonly quantity?: string;
    readonly prefixes?: string;
    readonly commonPrefixes?: readonly string[];
    readonly aliases?: readonly string[];
  }

  interface UnitMath {
    (value: number, unit: string): Unit;
    /** Throws `Error` on a text that is no quantity. */
    (text: string): Unit;
    exists(unit: string): boolean;
    config(options: { readonly definitions?: { readonly units?: Readonly<Record<string, Definition>> } }): UnitMath;
  }

  const unitMath: UnitMath;
  export default unitMath;
}
