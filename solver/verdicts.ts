/** What became of cables that were searched for. */
import { sweptArea } from './bounds/area.js';
import type { Legal } from './choose.js';
import { areaOf } from './geometry/region.js';
import type { CableVerdict } from './plan-types.js';
import type { Cable } from './problem.js';
import { refusal } from './refusals.js';
import { bufferStretch } from './search/buffer-stretch.js';
import { leastGap } from './search/lane-choice.js';
import { endPlay, lengthInZone } from './search/length-window.js';
import type { SearchResult } from './search/search-zone.js';
import type { ZoneSpace } from './search/zone-space.js';
import { mm, percent, plural, wattsPerArea } from './words.js';

/** A cable whose proven best coverage lies this far below the chosen one's is too short for the floor. */
const CLEARLY_COLDER = 0.02;

/** What fitting a layout to a cable leaves for rounding, mm. */
const ROUNDING = 6;

/** A floor that would take this many times a cable's length is not too small for it. */
const ROOMY = 1.3;

/** Verdicts on the cables that `searched` was about; `legal` are its layouts, best first. */
export function verdictsOf(
  space: ZoneSpace,
  cables: readonly Cable[],
  searched: SearchResult,
  legal: readonly Legal[],
  chosen: Legal | null,
): CableVerdict[] {
  const judge = new Judge(space, searched, legal, chosen);
  return cables.map((cable) => judge.verdict(cable));
}

/** Proven: no layout with this cable heats a larger share. */
const mostCovered = (space: ZoneSpace, cable: Cable, target: number): number =>
  Math.min(1, sweptArea(space.setting, lengthInZone(space, cable)) / target);

/** Whether no layout with this cable can come near what the chosen one heats. */
export function clearlyColder(space: ZoneSpace, cable: Cable, chosen: Legal | null): boolean {
  const target = areaOf(space.target);
  if (!chosen || target <= 0) return false;
  return mostCovered(space, cable, target) < chosen.check.coverage.fraction - CLEARLY_COLDER;
}

class Judge {
  private readonly target: number;

  constructor(
    private readonly space: ZoneSpace,
    private readonly searched: SearchResult,
    private readonly legal: readonly Legal[],
    private readonly chosen: Legal | null,
  ) {
    this.target = areaOf(space.target);
  }

  verdict(cable: Cable): CableVerdict {
    const { chosen, legal } = this;
    const laid = legal.find(({ found }) => found.cable.id === cable.id) ?? null;
    if (chosen && chosen.found.cable.id === cable.id)
      return this.fitting(
        chosen,
        true,
        this.sentence(chosen, `it leaves the least cold floor for its turns${this.wish(chosen)}`),
      );
    const measured = laid && {
      coverage: laid.check.coverage.fraction,
      turns: laid.check.length.turns,
    };
    const refused = this.refused(cable, laid);
    if (refused) return { ...refused, ...measured };
    if (laid) return this.fitting(laid, false, this.sentence(laid, this.comparison(laid)));
    return this.unlaid(cable);
  }

  private fitting({ found, check }: Legal, chosen: boolean, detail: string): CableVerdict {
    return {
      zone: this.space.zone.id,
      cable: found.cable.id,
      fits: true,
      chosen,
      reason: null,
      by: null,
      coverage: check.coverage.fraction,
      turns: check.length.turns,
      detail,
    };
  }

  private sentence({ check }: Legal, tail: string): string {
    return `fits: heats ${percent(check.coverage.fraction)} of the target with ${plural(check.length.turns, 'turn')}; ${tail}`;
  }

  private comparison(laid: Legal): string {
    const { check, objective } = laid;
    const { chosen } = this;
    if (!chosen) return 'another part of the zone decides';
    const points = 100 * (chosen.check.coverage.fraction - check.coverage.fraction);
    const turns = check.length.turns - chosen.check.length.turns;
    const colder =
      Math.abs(points) < 0.05
        ? 'as much'
        : `${Math.abs(points).toFixed(1)} points ${points > 0 ? 'less' : 'more'}`;
    const bent =
      turns === 0 ? 'as many turns' : `${plural(Math.abs(turns), 'turn')} ${turns > 0 ? 'more' : 'fewer'}`;
    const nearly =
      objective < chosen.objective ? ', but the chosen one suits what else must go in better' : '';
    return `beside ${chosen.found.cable.id}: ${colder}, ${bent}${nearly}${this.wish(laid)}`;
  }

  private wish({ density }: Legal): string {
    const wished = this.space.zone.heatDensity?.target ?? null;
    return wished === null ? '' : `; ${wattsPerArea(density)} where ${wattsPerArea(wished)} are wished`;
  }

  /** Refusals that also hold for a cable that could be laid. */
  private refused(cable: Cable, laid: Legal | null): CableVerdict | null {
    const { space, chosen } = this;
    if (laid && laid.beyond !== 0) {
      const { least, most } = space.zone.heatDensity ?? { least: null, most: null };
      const limit =
        laid.beyond > 0
          ? `${wattsPerArea(most ?? 0)} is the most allowed`
          : `${wattsPerArea(least ?? 0)} is the least allowed`;
      return refusal(
        space,
        cable,
        'heat-density',
        Math.abs(laid.beyond),
        `it gives ${wattsPerArea(laid.density)} over the floor it heats, ${limit}`,
      );
    }
    if (!chosen || this.target <= 0) return null;
    return clearlyColder(space, cable, chosen)
      ? this.tooShortForFloor(cable, mostCovered(space, cable, this.target))
      : null;
  }

  private tooShortForFloor(cable: Cable, best: number): CableVerdict {
    const { space, target, chosen } = this;
    const spacing = 2 * space.heatRadius;
    const wanted = target / spacing + space.zone.leadIn;
    const rival = chosen ? `; ${chosen.found.cable.id} heats ${percent(chosen.check.coverage.fraction)}` : '';
    return refusal(
      space,
      cable,
      'too-short',
      Math.max(1, wanted - cable.length),
      `at most ${percent(best)} of the target could be heated with it${rival}; ${mm(wanted)} of cable cover the floor at the target spacing`,
    );
  }

  /** A cable that nothing proven speaks against, but that no layout was found for. */
  private unlaid(cable: Cable): CableVerdict {
    const { space, searched, chosen } = this;
    const missed = searched.missed.get(cable.id) ?? null;
    // What was laid with a cable as stiff as this one, or stiffer, would be legal with this one.
    const minGap = leastGap(space, cable.minBendRadius);
    const legal = this.legal.filter(({ found }) => leastGap(space, found.cable.minBendRadius) >= minGap);
    const longest = Math.max(
      0,
      ...searched.routed
        .filter((route) => route.minGap >= minGap)
        .map(({ main, tail }) => main + tail + space.zone.leadIn),
      ...legal.map(({ found, check }) => found.cable.length + check.end.tolerance),
    );
    const play = endPlay(space, cable, this.turnsOf(cable));
    const shorterFits = legal.some(({ found }) => found.cable.length <= cable.length);
    const longerFits = legal.some(({ found }) => found.cable.length >= cable.length);
    // A stretch in the buffer need not be looked for beyond what the end may be off by.
    const stretch = Math.max(
      searched.longestTail,
      bufferStretch(space, cable, 2 * play + 4 * space.s.lattice.pitch),
    );
    // Lengths from the entry to the buffer come in steps of two pitches; the stretch must make up for one.
    const needed = 2 * play + 2 * space.s.lattice.pitch;
    const missing = needed - stretch;
    const beyondAll = longest > 0 ? cable.length + play + ROUNDING - longest : 0;
    const surplus = missed === null ? beyondAll : missed < 0 ? ROUNDING - missed : 0;
    // Runs at the least spacing would take up most of the floor only with a cable much longer than this one.
    const roomy = areaOf(space.routing) / (minGap * space.s.lattice.pitch) > ROOMY * (cable.length + play);
    if (missing > 0 && (roomy || !(missed !== null && surplus > 2 * missing && !longerFits)))
      return refusal(
        space,
        cable,
        'buffer-too-small',
        missing,
        `its end may fall about ${mm(play)} to either side, with which ${mm(needed)} must lie in the buffer; the longest stretch that could be laid there is ${mm(stretch)}`,
      );
    if (surplus > 0 && !longerFits)
      return refusal(
        space,
        cable,
        'too-long',
        surplus,
        `with its tolerance it is ${mm(surplus)} longer than the longest layout found here`,
      );
    if (missed !== null && missed > 0 && !shorterFits)
      return refusal(
        space,
        cable,
        'too-short',
        missed,
        `the shortest layout found that ends in the buffer takes ${mm(missed)} more than it has`,
      );
    const best = mostCovered(space, cable, this.target);
    if (chosen && best < chosen.check.coverage.fraction) return this.tooShortForFloor(cable, best);
    return refusal(
      space,
      cable,
      'no-route',
      missed === null ? null : Math.abs(missed),
      searched.guardFired
        ? 'the clock ended the search before a layout of its length was found'
        : missed === null
          ? 'no layout of its length that ends in the buffer was found, though nothing rules one out'
          : `no layout of exactly its length was found, though nothing rules one out; the closest is ${mm(Math.abs(missed))} too ${missed > 0 ? 'long' : 'short'}`,
    );
  }

  /** Turns such a cable takes, going by the layout or route nearest to it in length. */
  private turnsOf(cable: Cable): number {
    const { leadIn } = this.space.zone;
    const known = [
      ...this.legal.map(({ found, check }) => ({ length: found.cable.length, turns: check.length.turns })),
      ...this.searched.routed.map(({ main, tail, turns }) => ({ length: main + tail / 2 + leadIn, turns })),
    ];
    let nearest: { length: number; turns: number } | null = null;
    for (const one of known)
      if (!nearest || Math.abs(one.length - cable.length) < Math.abs(nearest.length - cable.length))
        nearest = one;
    // Nothing was laid: a serpentine on a square floor turns twice for each of its runs.
    return nearest ? nearest.turns : Math.round((2 * cable.length) / Math.sqrt(Math.max(1, this.target)));
  }
}
