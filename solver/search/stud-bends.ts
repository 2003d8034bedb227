/** Which way a walk turns at k. Steps are +-1 and +-nx; quarter turns to the left keep this sign, to the right flip it. */
export function sideOf(nodes: Int32Array, k: number): number {
  const into = nodes[k] - nodes[k - 1];
  const side = Math.sign(into) * Math.sign(nodes[k + 1] - nodes[k]);
  return Math.abs(into) === 1 ? side : -side;
}

/**
 * Corners of nodes[from..to], and jogs: straight pieces shorter than `jogStuds` between opposite corners, those shorter
 * than `least` counted `slight` times.
 */
export function bends(
  nodes: Int32Array,
  from: number,
  to: number,
  jogStuds: number,
  least: number,
  slight: number,
): { turns: number; jogs: number } {
  let turns = 0;
  let jogs = 0;
  let lastCorner = -1;
  let lastSide = 0;
  for (let k = from + 1; k < to; k++) {
    const into = nodes[k] - nodes[k - 1];
    const out = nodes[k + 1] - nodes[k];
    if (into === out) continue;
    turns++;
    const side = sideOf(nodes, k);
    if (lastCorner >= 0 && side !== lastSide && k - lastCorner < jogStuds)
      jogs += k - lastCorner < least ? slight : 1;
    lastCorner = k;
    lastSide = side;
  }
  return { turns, jogs };
}
