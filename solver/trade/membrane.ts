import type { Ring } from '../problem.js';
import { type Figure, figure } from './figure.js';
import type { MaterialInput, MaterialZone } from './material-input.js';
import { chordAt, extentInBand, heightOf, measureOutline, transposed } from './outline.js';
import type { RuleBook } from './rules.js';

export interface MembraneQuantity {
  readonly area: Figure;
  /** Sheets or rolls to bring to the job. */
  readonly pieces: Figure;
  /** Area of those pieces, and what is left of them. */
  readonly bought: Figure;
  readonly offcut: Figure;
  /** Seams between sheets or strips, zone by zone, mm. */
  readonly seams: readonly ZoneSeams[];
  /** Lengths to cut from the roll, mm; empty for sheets. */
  readonly strips: readonly { readonly zone: string; readonly length: number }[];
}

export interface ZoneSeams {
  readonly zone: string;
  readonly lengths: readonly number[];
  readonly total: Figure;
}

const zoneSeams = (zone: string, lengths: readonly number[]): ZoneSeams => ({
  zone,
  lengths,
  total: figure(
    lengths.reduce((sum, length) => sum + length, 0),
    'mm',
    'derived-geometry',
  ),
});

/** m2 of a zone that gets membrane and tile. */
export const coveredArea = (zone: MaterialZone): number =>
  measureOutline(zone.outline).area - zone.bare.reduce((sum, ring) => sum + measureOutline(ring).area, 0);

/** Strips (mm long) and seams (mm) when strips of `width` lie along x from the ring's lower edge upwards. */
function stripsAlongX(ring: Ring, width: number): { readonly strips: number[]; readonly seams: number[] } {
  const { low, high } = heightOf(ring);
  const count = Math.max(1, Math.ceil((high - low) / width - 1e-9));
  const strips: number[] = [];
  const seams: number[] = [];
  for (let i = 0; i < count; i += 1) {
    const from = low + i * width;
    strips.push(extentInBand(ring, from, Math.min(high, from + width)));
    if (i > 0) seams.push(chordAt(ring, from));
  }
  return { strips, seams };
}

/** First fit, longest first; a strip longer than a roll takes whole rolls and joins the remainder. */
function rollsFor(strips: readonly number[], roll: number): number {
  const rest: number[] = [];
  let rolls = 0;
  for (const strip of strips) {
    const whole = Math.floor(strip / roll);
    rolls += whole;
    if (strip - whole * roll > 1e-6) rest.push(strip - whole * roll);
  }
  const left: number[] = [];
  for (const piece of rest.sort((a, b) => b - a)) {
    const at = left.findIndex((room) => room >= piece - 1e-6);
    if (at < 0) left.push(roll - piece);
    else left[at] = (left[at] ?? 0) - piece;
  }
  return rolls + left.length;
}

/** Membrane for all zones together, by sheets with a waste share or by strips cut from rolls. */
export function membraneQuantity(book: RuleBook, input: MaterialInput): MembraneQuantity {
  const { membrane, zones } = input;
  const area = zones.reduce((sum, zone) => sum + coveredArea(zone), 0);
  const piece = (membrane.width * membrane.length) / 1e6;
  const seams: ZoneSeams[] = [];
  if (membrane.kind === 'sheet') {
    const { share } = book.values['membrane-waste'];
    const pieces = Math.ceil((area * (1 + share)) / piece - 1e-9);
    for (const zone of zones) {
      const along = stripsAlongX(zone.outline, membrane.width).seams;
      const across = stripsAlongX(transposed(zone.outline), membrane.length).seams;
      seams.push(zoneSeams(zone.id, [...along, ...across]));
    }
    return {
      area: figure(area, 'm2', 'derived-geometry'),
      pieces: figure(pieces, 'pieces', 'membrane-waste', 'derived-geometry'),
      bought: figure(pieces * piece, 'm2', 'membrane-waste', 'derived-geometry'),
      offcut: figure(pieces * piece - area, 'm2', 'membrane-waste', 'derived-geometry'),
      seams,
      strips: [],
    };
  }
  const trim = book.values['membrane-trim'].length;
  const strips: { zone: string; length: number }[] = [];
  for (const zone of zones) {
    const plans = [zone.outline, transposed(zone.outline)].map((ring) => stripsAlongX(ring, membrane.width));
    const cost = (plan: { readonly strips: readonly number[] }): number =>
      plan.strips.reduce((sum, strip) => sum + strip + trim, 0);
    const best = plans.reduce((a, b) => (cost(b) < cost(a) - 1e-6 ? b : a));
    seams.push(zoneSeams(zone.id, best.seams));
    for (const strip of best.strips) strips.push({ zone: zone.id, length: strip + trim });
  }
  const pieces = rollsFor(
    strips.map((s) => s.length),
    membrane.length,
  );
  return {
    area: figure(area, 'm2', 'derived-geometry'),
    pieces: figure(pieces, 'pieces', 'membrane-trim', 'derived-geometry'),
    bought: figure(pieces * piece, 'm2', 'membrane-trim', 'derived-geometry'),
    offcut: figure(pieces * piece - area, 'm2', 'membrane-trim', 'derived-geometry'),
    seams,
    strips,
  };
}
