/** The part of a cable that lies already: read from its vertices, judged by the rules that apply to it. */
import { areaRule } from '../check/area-rule.js';
import { bendsRule } from '../check/bends-rule.js';
import { entryRule, latticeRule } from '../check/lattice-rules.js';
import { cableAt, isUsable, lineOf } from '../check/line.js';
import type { RuleVerdict } from '../check/report.js';
import { spacingRule } from '../check/spacing-rule.js';
import type { MetreMarks } from '../job/laying.js';
import { nodePoint, type StudLattice } from '../lattice/stud-lattice.js';
import { type Cable, cornerRadius, type Ring, type Setting, type Zone } from '../problem.js';

/** A metre mark read off the cable at the node reached; `mark` in m. */
export interface MarkReading extends MetreMarks {
  readonly mark: number;
}

export interface LaidPart {
  /** Vertices as given, the node reached last. */
  readonly path: Ring;
  /** The same as lattice nodes, one stud a step. */
  readonly studs: readonly number[];
  readonly turns: number;
  /** Cable (mm, lead-in included) that lies according to the drawing, up to the node reached. */
  readonly drawn: number;
  /** Cable that lies: by the reading where there is one. */
  readonly used: number;
  /** used - drawn: cable that hand-laying took more (or less) than the drawing says, mm. */
  readonly drift: number;
  /** Drift that tolerance and laying explain, mm: tolerance x drawn + slop x turns. */
  readonly driftAllowed: number;
}

export type LaidReading =
  | { readonly kind: 'legal'; readonly laid: LaidPart }
  /** The verdicts of the rules it breaks. */
  | { readonly kind: 'illegal'; readonly rules: readonly RuleVerdict[] };

/** A vertex may be this far off its node, mm. */
const ON_NODE = 0.01;

/** `path`: at least two vertices from the entry to the node reached. `s` is the zone's lattice. */
export function readLaidPart(
  zone: Zone,
  setting: Setting,
  cable: Cable,
  s: StudLattice,
  path: Ring,
  reading: MarkReading | null,
): LaidReading {
  const line = lineOf({ path, reserve: [] }, cornerRadius(setting.lattice));
  const broken = [
    endOnNode(latticeRule(setting.lattice, { path, reserve: [] }), s, path),
    entryRule(zone, setting.lattice, path),
    areaRule(zone, line),
    spacingRule(setting, line),
    bendsRule(setting, cable, line),
  ].filter(({ ok }) => !ok);
  if (broken.length > 0) return { kind: 'illegal', rules: broken };
  const drawn = cableAt(line, zone.leadIn, line.end);
  const used = reading === null ? drawn : markLength(reading);
  return {
    kind: 'legal',
    laid: {
      path,
      studs: studsAlong(s, path),
      turns: line.corners.length,
      drawn,
      used,
      drift: used - drawn,
      driftAllowed: cable.tolerance * drawn + setting.placementSlopPerTurn * line.corners.length,
    },
  };
}

/** Cable (mm) between the hot-to-cold joint and the mark read; negative when the mark lies before the joint's. */
export const markLength = ({ mark, start, direction }: MarkReading): number =>
  (direction === 'up' ? mark - start : start - mark) * 1000;

/** The rule as it stands lets the last vertex lie between nodes; the node reached must be one. */
function endOnNode(verdict: RuleVerdict, s: StudLattice, path: Ring): RuleVerdict {
  const last = path[path.length - 1];
  if (last === undefined || !isUsable(last)) return verdict;
  const v = nodeAt(s, last);
  const [x, y] = v < 0 ? [Number.NaN, Number.NaN] : nodePoint(s, v);
  const size = Math.hypot(last[0] - x, last[1] - y);
  if (v >= 0 && s.free[v] === 1 && size <= ON_NODE) return verdict;
  const message = 'The laid part must end on a lattice node of the routing area.';
  return {
    ...verdict,
    ok: false,
    violations: [...verdict.violations, { at: last, size: v < 0 ? 0 : size, message }],
  };
}

/** Lattice node nearest to a point, -1 outside the lattice's box. */
export function nodeAt(s: StudLattice, [x, y]: readonly [number, number]): number {
  const { pitch, origin } = s.lattice;
  const i = Math.round((x - origin[0]) / pitch) - s.i0;
  const j = Math.round((y - origin[1]) / pitch) - s.j0;
  return i < 0 || j < 0 || i >= s.nx || j >= s.ny ? -1 : j * s.nx + i;
}

/** Lattice nodes along a polyline whose vertices are nodes. */
export function studsAlong(s: StudLattice, path: Ring): number[] {
  const studs: number[] = [];
  for (const p of path) {
    const v = nodeAt(s, p);
    let at = studs[studs.length - 1] ?? v;
    if (studs.length === 0) studs.push(v);
    const row = Math.floor(v / s.nx) - Math.floor(at / s.nx);
    const step = row !== 0 ? Math.sign(row) * s.nx : Math.sign(v - at);
    while (at !== v) {
      at += step;
      studs.push(at);
    }
  }
  return studs;
}
