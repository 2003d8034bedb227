import { distance } from '../geometry/measure.js';
import type { Point } from '../problem.js';

/** Stretches shorter than this (mm) are not looked into. */
const FINEST = 0.05;

/** Greatest value found and where. */
export interface Peak {
  readonly value: number;
  readonly at: Point;
}

/**
 * Maximum over the segment a-b of a function of the point that changes by at most 1 per mm (any signed distance
 * does). Whether it exceeds `ignore` is told to FINEST / 2; where it does, it is found to within 1 mm or 1/200 of the segment.
 */
export const deepest = (f: (p: Point) => number, a: Point, b: Point, ignore: number): Peak => {
  const precision = Math.max(1, distance(a, b) / 200);
  const fa = f(a);
  const fb = f(b);
  let best: Peak = fa >= fb ? { value: fa, at: a } : { value: fb, at: b };
  const open: [Point, number, Point, number][] = [[a, fa, b, fb]];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const [p, fp, q, fq] = next;
    const length = distance(p, q);
    const most = (fp + fq + length) / 2;
    if (length < FINEST || most <= (best.value > ignore ? best.value + precision : ignore)) continue;
    const middle: Point = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
    const fm = f(middle);
    if (fm > best.value) best = { value: fm, at: middle };
    open.push([p, fp, middle, fm], [middle, fm, q, fq]);
  }
  return best;
};
