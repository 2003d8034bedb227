/**
 * A bound on coverage that holds for every legal layout on the lattice, with any of the cables, whatever lays it:
 * the lesser of two areas, each of which contains or outweighs the heated target of every legal layout.
 *
 * Reach. Every vertex of a path but the last is a node, every segment lies on a channel and in the routing area, and
 * the first vertex is an entry node. So the path runs through unit edges that lie in the routing area, one joined to
 * the next from the entry on, and its last segment ends on such an edge or on a stretch of channel begun from one of
 * their nodes. A legal path visits no node beyond a neck that it would have to pass twice (proof in `one-way.ts`).
 * `reachOf` collects the rest, with the judge's tolerance; what lies further than R from all of them is heated by no
 * layout.
 *
 * Sweep. Cut the centre line (corners sharp, as heat is measured) into unit edges e_1, e_2, ... and, where the last
 * vertex lies between nodes, one shorter last edge. Write K(e) for the points within R of e, s for the saving
 * (2 - pi/2) p/2 of a corner, and book each corner's saving to the edge behind it. The heated floor is at most
 *     |K(e_1)| + sum over i > 1 of |K(e_i) - K(e_(i-1))|.
 * |K(e_1)| = pi R^2 + 2 R p, and e_1 takes p of cable. An edge of length x that goes straight on adds 2 R x and takes
 * x. A unit edge behind a corner adds A = `cornerGain` and takes p - s. With
 *     rate = max(2 R, A / (p - s))
 * no unit edge adds more than rate x its cable. A shorter last edge of length x adds at most 2 R x <= rate x, also
 * behind a corner, and takes at least x - s: at most rate x its cable + rate x s. (If the path is one short edge of
 * length x, it heats pi R^2 + 2 R x.) All cable together is the cable's length less the lead-in, to 1 mm. Hence
 *     heated <= pi R^2 + rate x (length + 1 mm - lead-in + s).
 * Looking at more than one edge back does not lower the rate: a staircase with a corner at every node has it (seen
 * numerically for windows of up to six edges: the increment of its edges stays A), and is legal.
 *
 * The sweep holds with the longest cable that can be laid at all; a cable that `longestFit` proves too long for the
 * room is in no legal layout, so it is left out.
 */
import { areaOf } from '../geometry/region.js';
import { routingArea, targetArea } from '../geometry/zone-area.js';
import { type Cable, cornerSaving, heatRadius, type Setting, type Zone } from '../problem.js';
import { type ZoneLimits, zoneLimits } from './fit.js';
import { beyondReach } from './reach.js';

export interface CoverageBound {
  /** No legal layout heats a larger share of the target. */
  readonly fraction: number;
  /** Which argument gave the figure, in words. */
  readonly basis: string;
}

/** What the judge lets a path's length differ from its cable's by, mm. */
const LENGTH_TOLERANCE = 1;

/**
 * Area within R of a unit edge that lies behind a right-angled corner but not within R of the edge before it, mm2.
 * With the edges [-p,0] x 0 and 0 x [0,p]: nothing below y = 0, pR right of x = 0, and left of it
 * pR + pi R^2/4 less the part that both cover, which is R^2 for R <= p and else
 * p^2 + 2 p (R - p) + the lens { (a+p)^2 + b^2 <= R^2, a^2 + (b+p)^2 <= R^2, a, b >= 0 }.
 */
export const cornerGain = (radius: number, pitch: number): number => {
  const [R, p] = [radius, pitch];
  const alone = 2 * p * R + (Math.PI * R * R) / 4;
  if (R <= p) return alone - R * R;
  const b = (Math.sqrt(2 * R * R - p * p) - p) / 2;
  const lens = b * Math.sqrt(R * R - b * b) + R * R * Math.asin(b / R) - 2 * p * b - b * b;
  return alone - p * p - 2 * p * (R - p) - lens;
};

/** Most floor (mm2) that a path with `length` mm of cable, lead-in taken off, can heat: the sweep above. */
export const sweptArea = (setting: Setting, length: number): number => {
  const radius = heatRadius(setting);
  const { pitch } = setting.lattice;
  const saving = cornerSaving(setting.lattice);
  const rate = Math.max(2 * radius, cornerGain(radius, pitch) / (pitch - saving));
  const laid = length + LENGTH_TOLERANCE;
  return laid < 0 ? 0 : Math.PI * radius ** 2 + rate * (laid + saving);
};

const percent = (fraction: number): string => `${(100 * fraction).toFixed(2)} %`;

/**
 * Proven upper bound on heated target / target over every legal layout with any of `cables`. `limits`: those of this
 * zone and setting, where the caller has them.
 */
export const coverageBound = (
  zone: Zone,
  setting: Setting,
  cables: readonly Cable[],
  limits: ZoneLimits = zoneLimits(zone, setting),
): CoverageBound => {
  const target = targetArea(zone, routingArea(zone));
  const total = areaOf(target);
  if (total <= 0) return { fraction: 1, basis: 'there is no target area to heat' };
  const within = total - areaOf(beyondReach(limits.reach(), target, heatRadius(setting)));
  const sweeps = ({ length }: Cable): number => sweptArea(setting, length - zone.leadIn);
  // Only if every cable that sweeps all within reach is too long to be laid does the sweep of the others count.
  const short = cables.filter((cable) => sweeps(cable) < within);
  const long = cables.filter((cable) => !short.includes(cable));
  let tooLong = false;
  if (short.length > 0 && long.length > 0) {
    tooLong = long.every(({ length, tolerance }) => length * (1 + tolerance) > limits.longest());
  }
  if (long.length === 0 || tooLong) {
    const fraction = Math.max(0, ...short.map(sweeps)) / total;
    const which = tooLong ? 'cable that the room can hold' : 'cable';
    return {
      fraction,
      basis: `the longest ${which} sweeps at most ${percent(fraction)} of the target, laid without any overlap`,
    };
  }
  const fraction = Math.min(1, within / total);
  return {
    fraction,
    basis:
      fraction === 1
        ? 'every point of the target is within reach of some stud channel'
        : `${percent(1 - fraction)} of the target is out of reach of every stud channel that a path from the entry to the buffer can use`,
  };
};
