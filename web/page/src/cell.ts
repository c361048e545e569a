// A value that others can watch: the only state outside the components.
import { useEffect, useReducer } from "preact/hooks";

export class Cell<T> {
  private readonly watchers = new Set<() => void>();
  constructor(private current: T) {}

  get value(): T {
    return this.current;
  }

  set(next: T): void {
    if (Object.is(next, this.current)) return;
    this.current = next;
    this.tell();
  }

  /** Tells the watchers that something inside the value has changed. */
  tell(): void {
    for (const watcher of [...this.watchers]) watcher();
  }

  watch(watcher: () => void): () => void {
    this.watchers.add(watcher);
    return () => this.watchers.delete(watcher);
  }
}

/** The cell's value; the component is drawn again when it changes. */
export function useCell<T>(cell: Cell<T>): T {
  const redraw = useReducer((n: number) => n + 1, 0)[1] as (action: void) => void;
  useEffect(() => cell.watch(() => redraw()), [cell]);
  return cell.value;
}
