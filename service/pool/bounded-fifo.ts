/** First in, first out, with a limit; entries can be taken out of the middle. */
export class BoundedFifo<T> {
  readonly #entries = new Set<T>();
  readonly limit: number;

  constructor(limit: number) {
    this.limit = limit;
  }

  get size(): number {
    return this.#entries.size;
  }

  /** False when the queue is full. */
  push(entry: T): boolean {
    if (this.#entries.size >= this.limit) return false;
    this.#entries.add(entry);
    return true;
  }

  shift(): T | undefined {
    for (const entry of this.#entries) {
      this.#entries.delete(entry);
      return entry;
    }
    return undefined;
  }

  /** False when the entry is not (or no longer) waiting. */
  remove(entry: T): boolean {
    return this.#entries.delete(entry);
  }

  /** How many stand before the entry; -1 when it is not waiting. */
  position(entry: T): number {
    let k = 0;
    for (const other of this.#entries) {
      if (other === entry) return k;
      k += 1;
    }
    return -1;
  }
}
