/** Plugs held by one key word: two bits each. */
export const PLUGS_PER_WORD = 16;

/**
 * What a key says in sum, packed into one integer that plugs add to and take from: loose plugs (2 bits), open plugs
 * (12 bits), and above them the sum of the colours (+1 where row + column is even, else -1) of the cells they lead into.
 */
export const LOOSE_UNIT = 1;
export const OPEN_UNIT = 4;
export const COLOUR_UNIT = 2 ** 14;
export const looseIn = (census: number): number => census & 3;
export const openIn = (census: number): number => (census >> 2) & 4095;
export const colourIn = (census: number): number => census >> 14;
/** Pieces of path with two open plugs each. */
export const pairsIn = (census: number): number => (openIn(census) - looseIn(census)) >> 1;

/** Where a state came from: trace index of its parent and the edges chosen in the step (1 = right, 2 = down). */
export const originOf = (parent: number, choice: number): number => (parent << 2) | choice;
export const parentIn = (origin: number): number => origin >> 2;
export const choiceIn = (origin: number): number => origin & 3;

/**
 * All states of one step, at most one per key: a key is `words` 32-bit words of two-bit plug symbols. Entry i carries
 * its cost so far, the potentials of its open plugs, its census and its origin.
 */
export class FrontierLayer {
  count = 0;
  keys: Int32Array;
  costs: Float64Array;
  pulls: Float64Array;
  censuses: Int32Array;
  origins: Int32Array;
  private slots: Int32Array;
  private capacity: number;

  constructor(readonly words: number) {
    this.capacity = 64;
    this.keys = new Int32Array(this.capacity * words);
    this.costs = new Float64Array(this.capacity);
    this.pulls = new Float64Array(this.capacity);
    this.censuses = new Int32Array(this.capacity);
    this.origins = new Int32Array(this.capacity);
    this.slots = new Int32Array(this.capacity * 2).fill(-1);
  }

  clear(): void {
    this.count = 0;
    this.slots.fill(-1);
  }

  /** Adds a state, or lowers the cost of the one with the same key; of equal costs the first stays. */
  offer(key: Int32Array, cost: number, pull: number, census: number, origin: number): void {
    const { words, keys, slots } = this;
    const mask = slots.length - 1;
    let slot = hashKey(key, 0, words) & mask;
    for (let entry = slots[slot]; entry >= 0; entry = slots[slot]) {
      const base = entry * words;
      let w = 0;
      while (w < words && keys[base + w] === key[w]) w++;
      if (w === words) {
        if (cost < this.costs[entry]) {
          this.costs[entry] = cost;
          this.origins[entry] = origin;
        }
        return;
      }
      slot = (slot + 1) & mask;
    }
    const entry = this.count++;
    slots[slot] = entry;
    const base = entry * words;
    for (let w = 0; w < words; w++) keys[base + w] = key[w];
    this.costs[entry] = cost;
    this.pulls[entry] = pull;
    this.censuses[entry] = census;
    this.origins[entry] = origin;
    if (this.count === this.capacity) this.grow();
  }

  /** Moves entry `source` to place `target` (target <= source); the hash slots are stale until `clear`. */
  move(source: number, target: number): void {
    if (source === target) return;
    const { words, keys } = this;
    for (let w = 0; w < words; w++) keys[target * words + w] = keys[source * words + w];
    this.costs[target] = this.costs[source];
    this.pulls[target] = this.pulls[source];
    this.censuses[target] = this.censuses[source];
    this.origins[target] = this.origins[source];
  }

  private grow(): void {
    const { words, capacity } = this;
    const larger = capacity * 2;
    this.keys = grown(this.keys, new Int32Array(larger * words));
    this.costs = grown(this.costs, new Float64Array(larger));
    this.pulls = grown(this.pulls, new Float64Array(larger));
    this.censuses = grown(this.censuses, new Int32Array(larger));
    this.origins = grown(this.origins, new Int32Array(larger));
    this.capacity = larger;
    const mask = larger * 2 - 1;
    this.slots = new Int32Array(larger * 2).fill(-1);
    for (let entry = 0; entry < this.count; entry++) {
      let slot = hashKey(this.keys, entry * words, words) & mask;
      while (this.slots[slot] >= 0) slot = (slot + 1) & mask;
      this.slots[slot] = entry;
    }
  }
}

function grown<T extends Int32Array | Float64Array>(from: T, into: T): T {
  into.set(from);
  return into;
}

/** Well-mixed 32-bit hash of one key. */
export function hashKey(keys: Int32Array, base: number, words: number): number {
  let h = 0x2f6e2b1;
  for (let w = 0; w < words; w++) {
    h = Math.imul(h ^ keys[base + w], 0x9e3779b1);
    h ^= h >>> 15;
  }
  h = Math.imul(h, 0x85ebca6b);
  return (h ^ (h >>> 13)) >>> 0;
}

/** Origins of every state kept so far: enough to read a path back. */
export class FrontierTrace {
  count = 0;
  private origins = new Int32Array(1 << 11);

  /** Appends all entries of a layer; entry i becomes trace index (returned base) + i. */
  append(layer: FrontierLayer): number {
    const base = this.count;
    const needed = base + layer.count;
    if (needed > this.origins.length)
      this.origins = grown(this.origins, new Int32Array(Math.max(needed, this.origins.length * 2)));
    const { origins } = this;
    for (let i = 0; i < layer.count; i++) origins[base + i] = layer.origins[i];
    this.count = needed;
    return base;
  }

  /** Choices from the first step to trace index `last`, in step order; -1 gives none. */
  read(last: number): number[] {
    const choices: number[] = [];
    for (let index = last; index >= 0; index = parentIn(this.origins[index]))
      choices.push(choiceIn(this.origins[index]));
    return choices.reverse();
  }
}
