import * as z from "zod/mini";

/** What is told about a place of the schema beside its type: for messages, forms and the JSON Schema. */
export type About = Readonly<Record<string, unknown>> & { readonly description?: string | undefined };

/** Tells about a schema; gives the schema itself. */
export function described<Type extends z.core.$ZodType>(schema: Type, about: About): Type {
  z.globalRegistry.add(schema, about);
  return schema;
}

/** What was told about a schema. */
export function aboutOf(schema: z.core.$ZodType): About {
  return z.globalRegistry.get(schema) ?? {};
}

/** A map of known keys, each of which may be left out: whether a value is missing depends on the part classes, so `resolveScenario` says it. */
export function map<Keys extends z.core.$ZodLooseShape>(keys: Keys, about: About = {}) {
  return described(z.partial(z.strictObject(keys)), about);
}

/** A list of at least `least` and at most `most` entries. */
export function list<Entry extends z.core.$ZodType>(
  entry: Entry,
  [least, most]: readonly [number, number],
  about: About = {},
) {
  const limits = least === 0 ? [z.maxLength(most)] : [z.minLength(least), z.maxLength(most)];
  return described(z.array(entry).check(...limits), about);
}
