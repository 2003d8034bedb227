/** The layout that was being laid: what is left of it is a way on too. */
import { type Cable, cornerSaving, type Trace } from '../problem.js';
import type { EffortBudget } from '../search/effort.js';
import { shapeRoute } from '../search/shape-route.js';
import { countTurns, type Tail } from '../search/tail.js';
import type { ZoneSpace } from '../search/zone-space.js';
import { nodesPassed } from './join.js';
import { nodeAt } from './laid-part.js';

/** The rest of `planned` from the start of `space` as lattice nodes; null where it does not pass there. */
export function restOfPlan({ s, start }: ZoneSpace, planned: Trace): number[] | null {
  const vertices = [...planned.path.slice(0, -1), ...planned.reserve.slice(1, -1)];
  if (vertices.length === 0 || vertices.some((p) => nodeAt(s, p) < 0)) return null;
  const nodes = nodesPassed(s, planned);
  const at = nodes.indexOf(start);
  return at < 0 || at + 1 >= nodes.length ? null : nodes.slice(at);
}

/** The same way shaped for the cable that is left; null where that fails. */
export function reshaped(
  space: ZoneSpace,
  way: readonly number[],
  cable: Cable,
  minGap: number,
  turnWeight: number,
  budget: EffortBudget,
): Trace | null {
  const { usable, buffer, s } = space;
  const first = way.findIndex((v, k) => k > 0 && buffer[v] === 1);
  const main = way.slice(0, first);
  const nodes = way.slice(first);
  if (first < 1 || main.some((v) => !usable[v]) || nodes.some((v) => !buffer[v])) return null;
  const tail: Tail = {
    nodes,
    outside: 0,
    length: (nodes.length - 1) * s.lattice.pitch - countTurns(nodes) * cornerSaving(s.lattice),
    turns: countTurns([...main.slice(-1), ...nodes]),
  };
  const shaped = shapeRoute(space, cable, way, tail, {
    turnWeight,
    minGap,
    polishTrials: budget.polishTrials,
    annealTrials: budget.annealTrials,
  });
  return shaped.kind === 'fitted' ? shaped.trace : null;
}
