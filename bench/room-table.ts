import type { Looks } from '../solver/check/looks.js';
import { mean, percent } from './results.js';

/** Columns of the rooms' table. */
export const HEAD: readonly string[] = [
  'room',
  'm2',
  'cable',
  's',
  'cpu s',
  'cover %',
  'bound %',
  'gap',
  'turns',
  'looks',
  'turn bounds',
  'lane grid',
  'slack mm',
  'plain %',
  'plain turns',
];

/** What the columns mean. */
export const NOTES = [
  's: clock; cpu s: processor time, what the clock shows when the machine does nothing else.',
  'cover: heated share of the target area, measured on true geometry; bound: no legal layout has more; gap: points',
  'between them. turns: in all (in the buffer). looks: jogs / stairs / fingers shorter than two spacings. turn bounds, for',
  'paths over the nodes that the lane route behind the layout visits: fewest straight pieces, fewest turns, fewest turns of',
  'a path as long as the cable asks for, with as much work behind them as at effort thorough, not timed; shaping adds',
  'fingers and takes jogs away, so that a layout may also have fewer.',
  'lane grid: nodes, method, whether its route is proven. plain: a serpentine in one direction at the target spacing, of',
  'any length; (out) = it does not end in the buffer. A turn counts as much as 10 cm2 of cold floor (less in small rooms),',
  'a jog as 24 turns, a stair as 6, a short finger as 2: more effort may give up a little coverage for fewer of them.',
].join('\n');

/** Figures of a room that was laid. */
export interface Laid {
  readonly coverage: number;
  readonly gap: number;
  readonly turns: number;
  /** How many of them lie in the buffer, of which the bounds know nothing. */
  readonly inBuffer: number;
  readonly looks: Looks;
  /** Floor, mm2, that each short finger warms and nothing else does. */
  readonly fingers: readonly number[];
  /** For paths of any length, and of the cable's; null where no lane route stands behind the layout. */
  readonly turnBound: { readonly turns: number; readonly atLength: number } | null;
  /** Processor time, seconds. */
  readonly processor: number;
}

/** Mean and extreme figures, a line each. */
export function summaryLines(laid: readonly Laid[], rooms: number): string[] {
  const lines = [`- laid: ${laid.length} of ${rooms} rooms`];
  if (laid.length === 0) return lines;
  const coverages = laid.map(({ coverage }) => coverage);
  const gaps = laid.map(({ gap }) => gap);
  const seconds = laid.map(({ processor }) => processor);
  lines.push(
    `- coverage: mean ${percent(mean(coverages))} %, least ${percent(Math.min(...coverages))} %`,
    `- gap to the bound: mean ${percent(mean(gaps))} points, largest ${percent(Math.max(...gaps))}`,
    `- processor seconds: mean ${mean(seconds).toFixed(2)}, longest ${Math.max(...seconds).toFixed(2)}`,
  );
  const sum = (of: (looks: Looks) => number) => laid.reduce((total, { looks }) => total + of(looks), 0);
  const turns = laid.reduce((total, room) => total + room.turns, 0);
  lines.push(
    `- looks: ${sum(({ jogs }) => jogs)} jogs, ${sum(({ stairs }) => stairs)} stairs, ${sum(({ fingers }) => fingers)} short fingers in ${turns} turns`,
  );
  const fingers = laid.flatMap((room) => room.fingers);
  if (fingers.length > 0)
    lines.push(
      `- cm2 that a short finger warms and nothing else does: mean ${(mean(fingers) / 100).toFixed(0)}, least ${(Math.min(...fingers) / 100).toFixed(0)}`,
    );
  const over = (of: (room: Laid, bound: NonNullable<Laid['turnBound']>) => number) =>
    laid.flatMap((room) => {
      const ratio = room.turnBound ? of(room, room.turnBound) : Infinity;
      return Number.isFinite(ratio) && ratio > 0 ? [ratio] : [];
    });
  const line = (title: string, ratios: readonly number[]) => {
    if (ratios.length > 0)
      lines.push(
        `- ${title}: mean ${mean(ratios).toFixed(2)} times, largest ${Math.max(...ratios).toFixed(2)}`,
      );
  };
  line(
    'turns outside the buffer over the bound at the length',
    over(({ turns, inBuffer }, { atLength }) => (turns - inBuffer) / atLength),
  );
  line(
    'all turns over the bound at any length',
    over(({ turns }, bound) => turns / bound.turns),
  );
  return lines;
}
