import { type Place, TABLES, type TableKey, type TableName, type Tables } from "./tables.ts";

type Contents = ReadonlyMap<TableName, Map<string, object>>;

/** A place that forgets when the page closes. */
export function memoryPlace(): Place {
  let contents: Contents = new Map(TABLES.map((table) => [table, new Map<string, object>()]));
  let last: Promise<unknown> = Promise.resolve();
  return {
    run: (_mode, action) => {
      const begin = async () => {
        const copy: Contents = new Map([...contents].map(([table, records]) => [table, new Map(records)]));
        const result = await action(tablesOf(copy));
        contents = copy;
        return result;
      };
      // One after the other, as a database does it.
      const result = last.then(begin, begin);
      last = result;
      return result;
    },
    close: () => {},
  };
}

function tablesOf(contents: Contents): Tables {
  const records = (table: TableName): Map<string, object> => {
    const found = contents.get(table);
    if (found === undefined) throw new Error(`No table ${table}`);
    return found;
  };
  return {
    get: async (table, key) => structuredClone(records(table).get(JSON.stringify(key))),
    all: async (table) => structuredClone([...records(table).values()]),
    put: async (table, record) =>
      void records(table).set(JSON.stringify(keyOf(table, record)), structuredClone(record)),
    remove: async (table, key) => void records(table).delete(JSON.stringify(key)),
  };
}

function keyOf(table: TableName, record: object): TableKey {
  const { name, page, tab } = record as { name: string; page: string; tab: string };
  return table === "drafts" ? [page, tab] : name;
}
