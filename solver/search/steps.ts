/** What a step costs a route beside its two corners, in turns: runs lie straight where that costs no more. */
export const STEP_TURNS = 1;

/**
 * Steps of a route over a lane grid (node numbers in order): pieces of one lane gap that it passes between two pieces in
 * the same direction.
 */
export function stepsOf(nodes: ArrayLike<number>): number {
  let count = 0;
  for (let k = 1; k + 2 < nodes.length; k++) {
    const before = nodes[k] - nodes[k - 1];
    const piece = nodes[k + 1] - nodes[k];
    if (before !== piece && before === nodes[k + 2] - nodes[k + 1]) count++;
  }
  return count;
}
