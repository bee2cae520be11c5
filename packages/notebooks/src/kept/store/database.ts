import { type IDBPDatabase, type IDBPTransaction, wrap } from "idb";
import { type Problem, problem } from "../problem.ts";
import type { Timers } from "../timers.ts";
import { ConnectionGone, type Place, TABLES, type TableName, type Tables } from "./tables.ts";

/** What each version of the database adds to the one before; a step once published is never changed. */
export type UpgradeStep = (database: IDBDatabase, transaction: IDBTransaction) => void;

export const UPGRADES: readonly UpgradeStep[] = [
  (database) => {
    database.createObjectStore("lines", { keyPath: "name" });
    database.createObjectStore("drafts", { keyPath: ["page", "tab"] });
    database.createObjectStore("counters", { keyPath: "name" });
  },
];

/** A browser that has not opened its database by then is not going to. */
const PATIENCE_MS = 3000;

/** The database did not open, in words for the page. */
export class NotOpened extends Error {
  override readonly name = "NotOpened";
  constructor(readonly problem: Problem) {
    super(problem.message);
  }
}

/**
 * Opens the browser's database and brings it to the newest version.
 *
 * @throws NotOpened when it does not answer within 3 s; whatever the browser throws when it refuses
 */
export function openDatabase(
  factory: IDBFactory,
  name: string,
  timers: Timers,
  upgrades: readonly UpgradeStep[] = UPGRADES,
): Promise<Place> {
  const request = factory.open(name, upgrades.length);
  return new Promise((resolve, reject) => {
    let blocked = false;
    let waiting = true;
    const timer = timers.set(() => {
      waiting = false;
      reject(new NotOpened(blocked ? heldByAnotherTab() : noAnswer()));
    }, PATIENCE_MS);
    const answered = (): boolean => {
      timers.clear(timer);
      return waiting;
    };
    request.onblocked = () => {
      blocked = true;
    };
    request.onupgradeneeded = ({ oldVersion }) => {
      const { result, transaction } = request;
      if (transaction !== null) for (const step of upgrades.slice(oldVersion)) step(result, transaction);
    };
    request.onerror = () => {
      if (answered()) reject(request.error ?? new Error("The database did not open."));
    };
    request.onsuccess = () => {
      if (answered()) resolve(placeOf(request.result));
      else request.result.close();
    };
  });
}

function heldByAnotherTab(): Problem {
  return problem("storage-busy", "storage", "Another tab holds an older version of what is kept.", {
    hint: "Close the other tabs with these pages and load this one again.",
  });
}

function noAnswer(): Problem {
  return problem("storage-silent", "storage", "The browser's storage does not answer.", {
    hint: "Load the page again; save as a file what must not be lost.",
  });
}

function placeOf(raw: IDBDatabase): Place {
  const database: IDBPDatabase = wrap(raw);
  const close = (): void => raw.close();
  // A newer page in another tab wants to change the database: it may.
  raw.onversionchange = close;
  return {
    close,
    run: async (mode, action) => {
      const transaction = begin(database, mode);
      const { done } = transaction;
      // Looked at below; until then its failure is nobody's.
      done.catch(() => {});
      try {
        const result = await action(tablesOf(transaction));
        await done;
        return result;
      } catch (error) {
        // What ended the transaction says more than the step that came too late for it.
        const cause = transaction.error ?? (isTooLate(error) ? new DOMException("Ended early", "AbortError") : error);
        abort(transaction);
        throw cause;
      }
    },
  };
}

function begin(database: IDBPDatabase, mode: "readonly" | "readwrite"): Transaction {
  try {
    return database.transaction([...TABLES], mode, { durability: "strict" });
  } catch (error) {
    // What a closed connection answers, whoever closed it.
    if (error instanceof Error && error.name === "InvalidStateError") throw new ConnectionGone();
    throw error;
  }
}

function isTooLate(error: unknown): boolean {
  const name = error instanceof Error ? error.name : "";
  return name === "InvalidStateError" || name === "TransactionInactiveError";
}

type Transaction = IDBPTransaction<unknown, TableName[], "readonly" | "readwrite">;

function abort(transaction: Transaction): void {
  try {
    transaction.abort();
  } catch {
    // It was aborted already, by what is being told.
  }
}

function tablesOf(transaction: Transaction): Tables {
  const store = (table: TableName) => transaction.objectStore(table);
  return {
    get: (table, key) => store(table).get(key as IDBValidKey),
    all: (table) => store(table).getAll(),
    put: async (table, record) => void (await store(table).put?.(record)),
    remove: async (table, key) => store(table).delete?.(key as IDBValidKey),
  };
}
