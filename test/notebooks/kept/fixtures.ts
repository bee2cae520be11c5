import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { openStore, type Store, type StoreOptions } from "../../../packages/notebooks/src/kept/store.ts";
import type { Timers } from "../../../packages/notebooks/src/kept/timers.ts";

/** Timers that run out when the test says so. */
export class HandTimers implements Timers {
  private readonly waiting = new Map<number, { readonly action: () => void; readonly due_ms: number }>();
  private next = 0;
  now_ms = 0;

  get count(): number {
    return this.waiting.size;
  }

  set(action: () => void, delay_ms: number): number {
    this.next += 1;
    this.waiting.set(this.next, { action, due_ms: this.now_ms + delay_ms });
    return this.next;
  }

  clear(timer: unknown): void {
    this.waiting.delete(timer as number);
  }

  pass(time_ms: number): void {
    this.now_ms += time_ms;
    for (const [timer, { action, due_ms }] of this.waiting) {
      if (due_ms > this.now_ms) continue;
      this.waiting.delete(timer);
      action();
    }
  }
}

/** Channels that hear each other but not themselves. */
export function channelBus(): () => NonNullable<StoreOptions["channel"]> {
  const ends: EventTarget[] = [];
  return () => {
    const end = new EventTarget();
    ends.push(end);
    return Object.assign(end, {
      postMessage: (data: unknown) => {
        for (const other of ends) if (other !== end) other.dispatchEvent(new MessageEvent("message", { data }));
      },
    });
  };
}

/** A store on a database of its own, or on the one passed in; its clock counts the calls. */
export async function storeOn(
  factory: IDBFactory | undefined = new IDBFactory(),
  options: Partial<StoreOptions> = {},
): Promise<Store> {
  let time_ms = 1000;
  return openStore({ factory: () => factory, now: () => time_ms++, ...options });
}

/** A factory whose databases are handed to `patch` before anybody uses them. */
export function patched(factory: IDBFactory, patch: (database: IDBDatabase) => void): IDBFactory {
  const open = (name: string, version?: number): IDBOpenDBRequest => {
    const request = factory.open(name, version);
    request.addEventListener("success", () => patch(request.result));
    return request;
  };
  return { open } as unknown as IDBFactory;
}

/** Calls `after` with the transaction whenever a record was put into one. */
export function afterPut(database: IDBDatabase, after: (transaction: IDBTransaction) => void): void {
  const begin = database.transaction.bind(database);
  database.transaction = (...settings) => {
    const transaction = begin(...settings);
    const storeOf = transaction.objectStore.bind(transaction);
    transaction.objectStore = (name) => {
      const store = storeOf(name);
      const put = store.put.bind(store);
      store.put = (value) => {
        const request = put(value);
        request.addEventListener("success", () => after(transaction));
        return request;
      };
      return store;
    };
    return transaction;
  };
}

/** Writes records as they are, past everything that looks at them. */
export function writeRaw(factory: IDBFactory, table: string, records: readonly object[]): Promise<void> {
  return new Promise((resolve, reject) => {
    const request = factory.open("railfault");
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const transaction = request.result.transaction(table, "readwrite");
      for (const record of records) transaction.objectStore(table).put(record);
      transaction.oncomplete = () => {
        request.result.close();
        resolve();
      };
      transaction.onabort = () => reject(transaction.error);
    };
  });
}

export { IDBFactory };
