import { type RingFault, ringFaults } from '../geometry/ring-faults.js';
import type { Ring } from '../problem.js';
import { type InputProblem, isPositive } from './figure.js';
import { heightOf, measureOutline, transposed } from './outline.js';
import type { Region } from './rule.js';
import type { RuleOverrides } from './rules.js';

/** What the membrane is sold as, mm. */
export type MembraneFormat =
  | { readonly kind: 'sheet'; readonly width: number; readonly length: number }
  | { readonly kind: 'roll'; readonly width: number; readonly length: number };

/** Heating cable in a zone: how much of it lies in the membrane, mm, and its diameter, mm. */
export interface LaidCable {
  readonly length: number;
  readonly diameter: number;
}

/** A curb that the cable crosses: its length along the curb, and the way of the cable over it (up, across, down), mm. */
export interface CurbCrossing {
  readonly length: number;
  readonly crossing: number;
  readonly diameter: number;
}

export interface MaterialZone {
  readonly id: string;
  readonly wet: boolean;
  /** Wall line, mm. */
  readonly outline: Ring;
  /** Parts of it that get neither membrane nor tile (inside it, apart from one another), mm. */
  readonly bare: readonly Ring[];
  readonly cable: LaidCable | null;
  readonly curb: CurbCrossing | null;
}

export interface MaterialInput {
  readonly region: Region;
  readonly overrides: RuleOverrides;
  readonly membrane: MembraneFormat;
  readonly zones: readonly MaterialZone[];
  /** Floor sensors in use. */
  readonly sensors: number;
}

const MOST_PIECES = 1000;

/** Everything that makes the quantities meaningless; empty when there is nothing. */
export function materialProblems(input: MaterialInput): InputProblem[] {
  const problems: InputProblem[] = [];
  const say = (path: InputProblem['path'], message: string): void => {
    problems.push({ path, message });
  };
  const positive = (path: InputProblem['path'], value: number): void => {
    if (!isPositive(value)) say(path, 'must be a number above zero and below 1e9');
  };
  positive(['membrane', 'width'], input.membrane.width);
  positive(['membrane', 'length'], input.membrane.length);
  if (!(Number.isInteger(input.sensors) && input.sensors >= 0))
    say(['sensors'], 'must be a whole number, 0 or more');
  if (input.zones.length === 0) say(['zones'], 'is empty: give at least one zone');
  const ids = new Set<string>();
  for (const [i, zone] of input.zones.entries()) {
    const at = ['zones', i] as const;
    if (ids.has(zone.id)) say([...at, 'id'], `is '${zone.id}', as another zone is: give each its own`);
    ids.add(zone.id);
    const area = areaProblem(zone.outline);
    if (area !== null) say([...at, 'outline'], area);
    let bare = 0;
    for (const [j, ring] of zone.bare.entries()) {
      const trouble = areaProblem(ring);
      if (trouble !== null) say([...at, 'bare', j], trouble);
      else bare += measureOutline(ring).area;
    }
    if (area === null && bare >= measureOutline(zone.outline).area) {
      say([...at, 'bare'], 'leaves nothing of the zone to cover');
    }
    if (zone.cable !== null) {
      positive([...at, 'cable', 'length'], zone.cable.length);
      positive([...at, 'cable', 'diameter'], zone.cable.diameter);
    }
    if (zone.curb !== null) {
      positive([...at, 'curb', 'length'], zone.curb.length);
      positive([...at, 'curb', 'crossing'], zone.curb.crossing);
      positive([...at, 'curb', 'diameter'], zone.curb.diameter);
    }
  }
  if (
    problems.length === 0 &&
    input.zones.some((zone) => piecesAlong(zone.outline, input.membrane) > MOST_PIECES)
  ) {
    say(
      ['membrane'],
      `is too small, a zone would take more than ${MOST_PIECES} pieces: width and length are in mm`,
    );
  }
  return problems;
}

/** Pieces that cover the ring's bounding box. */
function piecesAlong(ring: Ring, membrane: MembraneFormat): number {
  const height = heightOf(ring);
  const width = heightOf(transposed(ring));
  const least = Math.min(membrane.width, membrane.length);
  return (
    ((height.high - height.low) / least + 1) *
    ((width.high - width.low) / Math.max(membrane.width, membrane.length) + 1)
  );
}

function areaProblem(ring: Ring): string | null {
  if (!ring.every(([x, y]) => Number.isFinite(x) && Number.isFinite(y)))
    return 'has a corner that is no number';
  const [fault] = ringFaults(ring, 1);
  return fault === undefined ? null : FAULTS[fault.kind];
}

const FAULTS: Readonly<Record<RingFault['kind'], string>> = {
  'too-few-vertices': 'needs at least three corners',
  'repeated-vertex': 'gives the same corner twice in a row',
  'zero-area': 'encloses no area',
  'self-crossing': 'crosses itself',
  'self-touching': 'touches itself',
};
