/** A graph by numbers: node v has neighbours 0 .. degree(v) - 1, each a node or -1 where there is none. */
export interface NumberedGraph {
  readonly count: number;
  degree(v: number): number;
  neighbour(v: number, k: number): number;
}

/**
 * 1 for the nodes on some simple path from one of the starts to one of the ends; none where no end is reached. With two
 * more nodes, one joined to all starts, one to all ends, and both to each other, these are the block (2-connected
 * component) of the edge between the two (Hopcroft and Tarjan 1973).
 */
export function onSimplePaths(
  { count, degree, neighbour }: NumberedGraph,
  starts: readonly number[],
  ends: readonly number[],
): Uint8Array {
  const START = count;
  const END = count + 1;
  const isStart = new Uint8Array(count);
  const isEnd = new Uint8Array(count);
  for (const v of starts) isStart[v] = 1;
  for (const v of ends) isEnd[v] = 1;
  /** -1 where there is no such neighbour, -2 beyond the last. */
  const next = (v: number, k: number): number => {
    if (v === END) return ends[k] ?? -2;
    const beyond = k - degree(v);
    if (beyond < 0) return neighbour(v, k);
    if (beyond === 0) return isStart[v] === 1 ? START : -1;
    return beyond === 1 ? (isEnd[v] === 1 ? END : -1) : -2;
  };
  // Depth first from START, whose first neighbour is END: what is left when all smaller blocks are taken off is theirs.
  const order = new Int32Array(count + 2).fill(-1);
  const low = new Int32Array(count + 2);
  const tried = new Int32Array(count + 2);
  const parent = new Int32Array(count + 2);
  const pending: number[] = [];
  order[START] = 0;
  order[END] = low[END] = 1;
  parent[END] = START;
  let clock = 1;
  for (let v = END; v !== START; ) {
    const w = next(v, tried[v]++);
    if (w === -1) continue;
    if (w >= 0 && order[w] >= 0) low[v] = Math.min(low[v], order[w]);
    else if (w >= 0) {
      order[w] = low[w] = ++clock;
      parent[w] = v;
      pending.push(w);
      v = w;
    } else {
      const up = parent[v];
      if (up !== START) {
        low[up] = Math.min(low[up], low[v]);
        if (low[v] >= order[up]) pending.length = pending.lastIndexOf(v);
      }
      v = up;
    }
  }
  const isOn = new Uint8Array(count);
  for (const v of pending) isOn[v] = 1;
  return isOn;
}
