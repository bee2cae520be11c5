/** What is kept, by kind. */
export type TableName = "lines" | "drafts" | "counters";
export const TABLES: readonly TableName[] = ["lines", "drafts", "counters"];

export type TableKey = string | readonly [page: string, tab: string];

/** Tables as an action sees them; what comes out may be anything, for others wrote it. */
export interface Tables {
  get(table: TableName, key: TableKey): Promise<unknown>;
  all(table: TableName): Promise<unknown[]>;
  put(table: TableName, record: object): Promise<void>;
  remove(table: TableName, key: TableKey): Promise<void>;
}

/** A place to keep things: an action is done as a whole or not at all. */
export interface Place {
  /** @throws what the place throws; nothing of the action is kept then */
  run<T>(mode: "readonly" | "readwrite", action: (tables: Tables) => Promise<T>): Promise<T>;
  close(): void;
}

/** The connection is gone; nothing of the action was begun. */
export class ConnectionGone extends Error {
  override readonly name = "ConnectionGone";
}
