import type { Exclusion, Lattice, Point, Ring } from '../problem.js';

/** Flange of a shower drain; the cable keeps `clearanceStuds` from its edge. */
export type Drain =
  | {
      readonly kind: 'point';
      readonly center: Point;
      readonly radius: number;
      readonly clearanceStuds: number;
    }
  | { readonly kind: 'linear'; readonly outline: Ring; readonly clearanceStuds: number };

/** Two to three studs; common practice, no source. */
export const DRAIN_STUDS = 3;

export const drainExclusion = (drain: Drain, id: string, pitch: Lattice['pitch']): Exclusion => ({
  id,
  shape:
    drain.kind === 'point'
      ? { kind: 'circle', center: drain.center, radius: drain.radius }
      : { kind: 'polygon', outline: drain.outline },
  clearance: drain.clearanceStuds * pitch,
});
