import type { Point, Ring } from '../../../solver/problem.js';

/** A plain serpentine: runs from `low` to `high` along one axis at the given places on the other, from `low` first. */
export const serpentine = (axis: 'x' | 'y', low: number, high: number, places: readonly number[]): Ring =>
  places.flatMap((place, k): Point[] => {
    const ends: [number, number] = k % 2 === 0 ? [low, high] : [high, low];
    return ends.map((end): Point => (axis === 'x' ? [end, place] : [place, end]));
  });
