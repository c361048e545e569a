// Where entries lie: IndexedDB, and where a phone refuses that, memory (the page then says so).
import type { Entry } from "./entry";

export interface Shelf {
  all(): Promise<Entry[]>;
  put(entry: Entry): Promise<void>;
  remove(entry: Entry): Promise<void>;
  readonly keeps: boolean; // survives a reload
}

const kStore = "acts";

function done<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

function complete(transaction: IDBTransaction): Promise<void> {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onerror = transaction.onabort = () => reject(transaction.error);
  });
}

class DatabaseShelf implements Shelf {
  readonly keeps = true;
  constructor(private readonly database: IDBDatabase) {}

  async all(): Promise<Entry[]> {
    const found = await done<Entry[]>(this.database.transaction(kStore).objectStore(kStore).getAll());
    return found.sort((a, b) => a.seq - b.seq);
  }

  async put(entry: Entry): Promise<void> {
    // "strict": the tap is on the phone's disk before it is sent.
    const transaction = this.database.transaction(kStore, "readwrite", { durability: "strict" });
    transaction.objectStore(kStore).put(entry);
    await complete(transaction);
  }

  async remove(entry: Entry): Promise<void> {
    const transaction = this.database.transaction(kStore, "readwrite");
    transaction.objectStore(kStore).delete(entry.seq);
    await complete(transaction);
  }
}

export class MemoryShelf implements Shelf {
  readonly keeps = false;
  private readonly entries = new Map<number, Entry>();
  all = async () => [...this.entries.values()].sort((a, b) => a.seq - b.seq);
  put = async (entry: Entry) => void this.entries.set(entry.seq, { ...entry });
  remove = async (entry: Entry) => void this.entries.delete(entry.seq);
}

/** A database that is held by something else must not keep the page from opening. */
function tooLong(): Promise<never> {
  return new Promise((_, reject) => setTimeout(() => reject(new Error("the phone's store does not open")), 3_000));
}

export async function openShelf(name = "rindwatch"): Promise<Shelf> {
  try {
    const request = indexedDB.open(name, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(kStore, { keyPath: "seq" });
    const database = await Promise.race([done(request), tooLong()]);
    database.onversionchange = () => database.close();
    return new DatabaseShelf(database);
  } catch {
    return new MemoryShelf();
  }
}
