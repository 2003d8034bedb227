import type { Exclusion, Point, Ring } from '../solver/problem.js';
import { seeded } from '../solver/search/random.js';
import { type BenchRoom, catalogue } from './room-set.js';

const SEED = 20;

const rect = (x0: number, y0: number, x1: number, y1: number): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

/** Invented narrow zones, 0.75 to 1.1 m by 1.2 to 3.4 m with up to two obstacles; the same `count` gives the same. */
export function narrowRooms(count: number): BenchRoom[] {
  const random = seeded(SEED);
  const between = (low: number, high: number): number => Math.round(low + random() * (high - low));
  return Array.from({ length: count }, (_, k) => {
    const width = between(750, 1100);
    const length = between(1200, 3400);
    const exclusions: Exclusion[] = [];
    for (let n = between(0, 2); n > 0; n--) {
      const id = `x${n}`;
      const center: Point = [between(200, length - 400), between(150, width - 150)];
      if (random() < 0.5)
        exclusions.push({ id, shape: { kind: 'circle', center, radius: between(40, 110) }, clearance: 40 });
      else {
        const [w, d] = [between(100, 350), between(80, 300)];
        const y = random() < 0.5 ? 0 : width - d;
        const outline = rect(center[0], y, center[0] + w, y + d);
        exclusions.push({ id, shape: { kind: 'polygon', outline }, clearance: 20 });
      }
    }
    const id = `narrow-${k + 1}`;
    return {
      name: `${id}, ${(length / 1000).toFixed(2)}x${(width / 1000).toFixed(2)}, ${exclusions.length} obstacles`,
      area: (length * width) / 1e6,
      catalogue: catalogue(4, 80, 1.25),
      zone: {
        id,
        wet: false,
        outline: rect(0, 0, length, width),
        clearance: 50,
        exclusions,
        buffer: rect(length - 200, 0, length, width),
        entry: [60, 60],
        leadIn: 0,
        priorities: [],
      },
    };
  });
}
