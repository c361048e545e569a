// Where entries lie: IndexedDB, and where a phone refuses that, memory (the page then says so). Several open pages share
// one shelf and each sends what lies on it: the id of an act makes that harmless. What was struck out stays for a while
// as struck, so that a page that took it up before does not send it.
import { inOrder, type Entry } from "./entry";

export interface Shelf {
  /** What waits or was refused, in the order of the taps. */
  all(): Promise<Entry[]>;
  put(entry: Entry): Promise<void>;
  /** Puts an entry that is about to be sent. False if it was struck out, on whichever page. */
  claim(entry: Entry): Promise<boolean>;
  /** Strikes it out for every page, if none has begun to send it. False if one may have. */
  strikeUnsent(entry: Entry): Promise<boolean>;
  strike(entry: Entry): Promise<void>;
  remove(entry: Entry): Promise<void>;
  readonly keeps: boolean; // survives a reload
}

type Kept = Entry & { struck_at?: number };

const kVersion = 2;
const kStore = "taps";       // by the id of the act
const kFirstStore = "acts";  // of version 1: by a counter that each page began anew
const kStruckFor = 90 * 86_400_000; // ms; no page sleeps longer

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
  keeps = true;

  constructor(private readonly database: IDBDatabase) {
    // A newer page lays it out anew and takes over what lies here; what is tapped on this one stays in memory from now on.
    database.onversionchange = () => {
      database.close();
      this.keeps = false;
    };
    database.onclose = () => (this.keeps = false);
  }

  async all(): Promise<Entry[]> {
    const found = await done<Kept[]>(this.database.transaction(kStore).objectStore(kStore).getAll());
    return found.filter((e) => e.struck_at === undefined).sort(inOrder);
  }

  async put(entry: Kept): Promise<void> {
    const transaction = this.write();
    transaction.objectStore(kStore).put(entry);
    await complete(transaction);
  }

  claim(entry: Entry): Promise<boolean> {
    return this.replaceIf(entry, (kept) => kept?.struck_at === undefined);
  }

  strikeUnsent(entry: Entry): Promise<boolean> {
    return this.replaceIf(struck(entry), (kept) => kept !== undefined && kept.tries === 0);
  }

  strike(entry: Entry): Promise<void> {
    return this.put(struck(entry));
  }

  async remove(entry: Entry): Promise<void> {
    const transaction = this.database.transaction(kStore, "readwrite");
    transaction.objectStore(kStore).delete(entry.act.id);
    await complete(transaction);
  }

  /** Forgets what was struck out so long ago that no page can still hold it. */
  async tidy(): Promise<void> {
    const transaction = this.database.transaction(kStore, "readwrite");
    const store = transaction.objectStore(kStore);
    const kept = await done<Kept[]>(store.getAll());
    for (const { act, struck_at } of kept) if (struck_at !== undefined && Date.now() - struck_at > kStruckFor) store.delete(act.id);
    await complete(transaction);
  }

  private write(): IDBTransaction {
    // "strict": the tap is on the phone's disk before it is sent.
    return this.database.transaction(kStore, "readwrite", { durability: "strict" });
  }

  /** Looks and writes in one transaction: no other page comes between. */
  private async replaceIf(entry: Kept, holds: (kept: Kept | undefined) => boolean): Promise<boolean> {
    const transaction = this.write();
    const store = transaction.objectStore(kStore);
    const may = holds(await done<Kept | undefined>(store.get(entry.act.id)));
    if (may) store.put(entry);
    await complete(transaction);
    return may;
  }
}

const struck = (entry: Entry): Kept => ({ ...entry, struck_at: Date.now() });

export class MemoryShelf implements Shelf {
  readonly keeps = false;
  private readonly entries = new Map<string, Entry>();
  all = async () => [...this.entries.values()].sort(inOrder);
  put = async (entry: Entry) => void this.entries.set(entry.act.id, { ...entry });
  remove = async (entry: Entry) => void this.entries.delete(entry.act.id);
  // One page alone has it: nothing is struck out behind its back.
  strike = this.remove;
  claim = async (entry: Entry) => {
    await this.put(entry);
    return true;
  };
  strikeUnsent = async ({ act }: Entry) => this.entries.get(act.id)?.tries === 0 && this.entries.delete(act.id);
}

/** Lays the store out; what version 1 left is taken over. */
function layOut(database: IDBDatabase, transaction: IDBTransaction): void {
  const store = database.createObjectStore(kStore, { keyPath: "act.id" });
  if (!database.objectStoreNames.contains(kFirstStore)) return;
  const left: IDBRequest<Entry[]> = transaction.objectStore(kFirstStore).getAll();
  left.onsuccess = () => {
    for (const entry of left.result) store.put(entry);
    database.deleteObjectStore(kFirstStore);
  };
}

const kPatience = 3_000; // ms; a database that is held by something else must not keep the page from opening

function opened(name: string): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(name, kVersion);
    let late = false;
    const timer = setTimeout(() => {
      late = true;
      reject(new Error("the phone's store does not open"));
    }, kPatience);
    request.onupgradeneeded = () => layOut(request.result, request.transaction!);
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      clearTimeout(timer);
      if (late) request.result.close(); // nobody waits for it any more, and open it would stand in another page's way
      else resolve(request.result);
    };
  });
}

export async function openShelf(name = "rindwatch"): Promise<Shelf> {
  try {
    const shelf = new DatabaseShelf(await opened(name));
    void shelf.tidy().catch(() => undefined); // what is left lies there until the next time
    return shelf;
  } catch {
    return new MemoryShelf();
  }
}
