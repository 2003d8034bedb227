/** Plugs held by one key word: two bits each. */
export const PLUGS_PER_WORD = 16;

/**
 * All states of one step, at most one per key: a key is `words` 32-bit words of two-bit plug symbols. Entry i carries
 * its cost so far, the potentials of its open plugs, the trace index it came from and the edges chosen in the step (1 = right, 2 = down).
 */
export class FrontierLayer {
  count = 0;
  keys: Int32Array;
  costs: Float64Array;
  pulls: Float64Array;
  parents: Int32Array;
  choices: Uint8Array;
  private slots: Int32Array;
  private capacity: number;

  constructor(readonly words: number) {
    this.capacity = 64;
    this.keys = new Int32Array(this.capacity * words);
    this.costs = new Float64Array(this.capacity);
    this.pulls = new Float64Array(this.capacity);
    this.parents = new Int32Array(this.capacity);
    this.choices = new Uint8Array(this.capacity);
    this.slots = new Int32Array(this.capacity * 2).fill(-1);
  }

  clear(): void {
    this.count = 0;
    this.slots.fill(-1);
  }

  /** Adds a state, or lowers the cost of the one with the same key; of equal costs the first stays. */
  offer(key: Int32Array, cost: number, pull: number, parent: number, choice: number): void {
    const words = this.words;
    const mask = this.slots.length - 1;
    let slot = hashKey(key, 0, words) & mask;
    for (let entry = this.slots[slot]; entry >= 0; entry = this.slots[slot]) {
      const base = entry * words;
      let w = 0;
      while (w < words && this.keys[base + w] === key[w]) w++;
      if (w === words) {
        if (cost < this.costs[entry]) {
          this.costs[entry] = cost;
          this.parents[entry] = parent;
          this.choices[entry] = choice;
        }
        return;
      }
      slot = (slot + 1) & mask;
    }
    const entry = this.count++;
    this.slots[slot] = entry;
    const base = entry * words;
    for (let w = 0; w < words; w++) this.keys[base + w] = key[w];
    this.costs[entry] = cost;
    this.pulls[entry] = pull;
    this.parents[entry] = parent;
    this.choices[entry] = choice;
    if (this.count === this.capacity) this.grow();
  }

  /** Moves entry `source` to place `target` (target <= source); the hash slots are stale until `clear`. */
  move(source: number, target: number): void {
    if (source === target) return;
    for (let w = 0; w < this.words; w++) {
      this.keys[target * this.words + w] = this.keys[source * this.words + w];
    }
    this.costs[target] = this.costs[source];
    this.pulls[target] = this.pulls[source];
    this.parents[target] = this.parents[source];
    this.choices[target] = this.choices[source];
  }

  private grow(): void {
    const capacity = this.capacity * 2;
    const { words } = this;
    const keys = new Int32Array(capacity * words);
    keys.set(this.keys);
    const costs = new Float64Array(capacity);
    costs.set(this.costs);
    const pulls = new Float64Array(capacity);
    pulls.set(this.pulls);
    const parents = new Int32Array(capacity);
    parents.set(this.parents);
    const choices = new Uint8Array(capacity);
    choices.set(this.choices);
    this.keys = keys;
    this.costs = costs;
    this.pulls = pulls;
    this.parents = parents;
    this.choices = choices;
    this.capacity = capacity;
    const mask = capacity * 2 - 1;
    this.slots = new Int32Array(capacity * 2).fill(-1);
    for (let entry = 0; entry < this.count; entry++) {
      let slot = hashKey(keys, entry * words, words) & mask;
      while (this.slots[slot] >= 0) slot = (slot + 1) & mask;
      this.slots[slot] = entry;
    }
  }
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

/** Back-pointers of every state kept so far: enough to read a path back. */
export class FrontierTrace {
  count = 0;
  private parents = new Int32Array(1 << 14);
  private choices = new Uint8Array(1 << 14);

  /** Appends all entries of a layer; entry i becomes trace index (returned base) + i. */
  append(layer: FrontierLayer): number {
    const base = this.count;
    const needed = base + layer.count;
    if (needed > this.parents.length) {
      const size = Math.max(needed, this.parents.length * 2);
      const parents = new Int32Array(size);
      parents.set(this.parents);
      const choices = new Uint8Array(size);
      choices.set(this.choices);
      this.parents = parents;
      this.choices = choices;
    }
    this.parents.set(layer.parents.subarray(0, layer.count), base);
    this.choices.set(layer.choices.subarray(0, layer.count), base);
    this.count = needed;
    return base;
  }

  /** Choices from the first step to trace index `last`, in step order; -1 gives none. */
  read(last: number): number[] {
    const choices: number[] = [];
    for (let index = last; index >= 0; index = this.parents[index]) choices.push(this.choices[index]);
    return choices.reverse();
  }
}
