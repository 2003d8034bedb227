/** "Go on from here": part of a cable lies, the rest is planned anew with exactly the cable that is left. */
import { coverageBound } from '../bounds/area.js';
import { checkTrace } from '../check/check-trace.js';
import type { CheckReport, RuleVerdict } from '../check/report.js';
import { countedTurns } from '../counted-turns.js';
import type { PlanTools } from '../plan-types.js';
import {
  type Cable,
  cornerSaving,
  type Effort,
  type Ring,
  type Setting,
  type Trace,
  type Zone,
} from '../problem.js';
import { refusalBeforeSearch } from '../refusals.js';
import { EFFORTS } from '../search/effort.js';
import { leastGap } from '../search/lane-choice.js';
import { turnWorth } from '../search/objective.js';
import { searchZone } from '../search/search-zone.js';
import { StudPath } from '../search/stud-path.js';
import { buildTail } from '../search/tail.js';
import { type ZoneSpace, zoneSpace } from '../search/zone-space.js';
import { reshaped, restOfPlan } from './as-planned.js';
import { joined, nodesPassed } from './join.js';
import { type LaidPart, type MarkReading, readLaidPart } from './laid-part.js';
import { longTails } from './long-tail.js';
import { restSpace } from './rest-space.js';

export interface RestRequest {
  readonly setting: Setting;
  readonly zone: Zone;
  readonly cable: Cable;
  /** Vertices of the centre line that lies, from the entry to the node reached. */
  readonly path: Ring;
  /** Mark read off the cable at the node reached; null: the drawing says how much cable lies. */
  readonly reading: MarkReading | null;
  /** The layout that is being laid, drawn on the lattice: going on along it is weighed too. */
  readonly planned?: Trace;
  /** Unheated area (mm2) that one turn fewer is worth. */
  readonly turnWeight: number;
  readonly effort: Effort;
}

export interface RestPlan {
  readonly laid: LaidPart;
  readonly trace: Trace;
  /**
   * The whole trace read by the checker. With a reading the drift counts as lead-in, and the end may fall as far off as
   * `tolerance` says.
   */
  readonly check: CheckReport;
  /** mm of cable left at the node reached. */
  readonly left: number;
  /** Length tolerance t (mm) that the end was planned for. */
  readonly tolerance: number;
  readonly upperBound: number;
  readonly boundBasis: string;
}

export type RestReason = 'too-long' | 'too-short' | 'buffer-unreachable' | 'bend-radius' | 'no-route';

export type RestOutcome =
  | { readonly kind: 'planned'; readonly plan: RestPlan; readonly guardFired: boolean }
  /** The part that lies breaks rules itself; their verdicts. */
  | { readonly kind: 'illegal'; readonly rules: readonly RuleVerdict[] }
  | {
      readonly kind: 'impossible';
      /** About the cable that is left. */
      readonly reason: RestReason;
      /** mm that the cable left is too long or too short by; null where no length helps or none is known. */
      readonly by: number | null;
      readonly left: number;
      readonly drift: number;
      readonly detail: string;
      readonly guardFired: boolean;
    };

/** Turns of the way on that a direct run into the buffer is allowed for. */
const FEW_TURNS = 30;

/** Legal ways of one kind that are weighed. */
const ENOUGH = 2;

/** With no more cable left than this (mm) the stretch in the buffer is worth a search of its own. */
const SHORT_REST = 6000;

/** More than the room that shaping leaves for rounding, mm. */
const ROUNDING = 20;

/** Beam of the search for a direct run into the buffer. */
const TAIL_STATES = 200;

export function planRest(request: RestRequest, tools: PlanTools): RestOutcome {
  tools.onPhase?.('prepare');
  const { zone, setting, cable } = request;
  const whole = zoneSpace(zone, setting);
  const reading = readLaidPart(zone, setting, cable, whole.s, request.path, request.reading);
  if (reading.kind === 'illegal') return reading;
  const rest = new Rest(request, whole, reading.laid, tools);
  return rest.plan();
}

interface Candidate {
  readonly trace: Trace;
  readonly check: CheckReport;
  readonly cost: number;
}

/** The first of the cheapest. */
const leastCost = (candidates: readonly (Candidate | null)[]): Candidate | null =>
  candidates.reduce((best, next) => (next && (!best || next.cost < best.cost) ? next : best), null);

class Rest {
  private readonly left: number;
  private readonly minGap: number;

  constructor(
    private readonly request: RestRequest,
    private readonly whole: ZoneSpace,
    private readonly laid: LaidPart,
    private readonly tools: PlanTools,
  ) {
    this.left = request.cable.length - laid.used;
    this.minGap = leastGap(whole, request.cable.minBendRadius);
  }

  plan(): RestOutcome {
    const { cable, zone, turnWeight, effort } = this.request;
    const { laid, left, tools } = this;
    if (left <= 0)
      return this.impossible(
        'too-short',
        -left,
        `all of the cable is used up ${mm(-left)} before the place reached`,
      );
    const space = restSpace(this.whole, laid.studs, laid.used, this.minGap);
    const direct = this.direct();
    const asPlanned = this.asPlanned(space);
    const wary = this.wary();
    const refused = refusalBeforeSearch(space, wary);
    if (refused && !direct && !asPlanned) return this.refusal(refused.reason, refused.by);
    tools.onPhase?.('solve');
    const searched = refused
      ? null
      : searchZone(space, [wary], {
          turnWeight,
          budgets: EFFORTS[effort],
          engine: tools.engine,
          each: false,
          expired: tools.expired,
        });
    const ways = (searched?.found ?? []).map(({ trace }) => nodesPassed(space.s, trace));
    const candidates = [
      this.best(direct ? [...ways.slice(0, 1), direct, ...ways.slice(1)] : ways),
      asPlanned && this.best([asPlanned]),
      asPlanned && this.best(this.reshaped(space, asPlanned)),
    ];
    let missed = searched?.missed.get(cable.id) ?? null;
    const sure = candidates.some((candidate) => candidate !== null);
    if (searched && !tools.expired() && (!sure || left <= SHORT_REST))
      for (const own of sure ? [wary] : [wary, this.bold()]) {
        const tails = longTails(space, own, this.minGap, turnWeight, EFFORTS[effort][0]);
        candidates.push(this.best(tails.ways));
        if (tails.missed !== null && (missed === null || Math.abs(tails.missed) < Math.abs(missed)))
          missed = tails.missed;
        if (tails.ways.length > 0) break;
      }
    tools.onPhase?.('verify');
    const planned = leastCost(candidates);
    if (planned) {
      const bound = coverageBound({ ...zone, leadIn: zone.leadIn + laid.drift }, this.whole.setting, [cable]);
      return {
        kind: 'planned',
        plan: {
          laid,
          trace: planned.trace,
          check: planned.check,
          left,
          tolerance: planned.check.end.tolerance,
          upperBound: bound.fraction,
          boundBasis: bound.basis,
        },
        guardFired: tools.expired(),
      };
    }
    if (missed === null)
      return refused
        ? this.refusal(refused.reason, refused.by)
        : this.impossible('no-route', null, 'no way on from here was found that ends in the buffer');
    return this.refusal(missed > 0 ? 'too-short' : 'too-long', Math.abs(missed));
  }

  /** mm by which the end may be off, when the way on adds this many turns to the laid ones. */
  private play(turns: number): number {
    const { cable, setting, reading } = this.request;
    return reading === null
      ? cable.tolerance * cable.length + setting.placementSlopPerTurn * (this.laid.turns + turns)
      : cable.tolerance * Math.max(0, this.left) + setting.placementSlopPerTurn * turns;
  }

  /** The cable as the search must see it: turns that lie already and a corner at the joint count as tolerance. */
  private wary(): Cable {
    const { cable, setting } = this.request;
    return { ...cable, tolerance: (this.play(1) + cornerSaving(setting.lattice)) / cable.length };
  }

  /** The same without allowance for rounding, for a rest that fits to the millimetre; the checker decides. */
  private bold(): Cable {
    const { cable } = this.request;
    return { ...cable, tolerance: Math.max(0, this.play(0) - ROUNDING) / cable.length };
  }

  private asPlanned(space: ZoneSpace): number[] | null {
    const { planned } = this.request;
    return planned === undefined ? null : restOfPlan(space, planned);
  }

  private reshaped(space: ZoneSpace, way: readonly number[]): number[][] {
    const { turnWeight, effort } = this.request;
    const trace = reshaped(space, way, this.wary(), this.minGap, turnWeight, EFFORTS[effort][0]);
    return trace ? [nodesPassed(space.s, trace)] : [];
  }

  /** Straight on into the buffer, for an end of cable that is too short for anything else. */
  private direct(): number[] | null {
    const { laid, whole, left, minGap } = this;
    const tail = buildTail(whole.s, laid.studs, {
      buffer: whole.buffer,
      minGap,
      wanted: left + this.play(FEW_TURNS) + 2 * whole.s.lattice.pitch,
      maxOutside: whole.setting.spacing.max + 1,
      maxStates: TAIL_STATES,
    });
    return tail ? [laid.studs[laid.studs.length - 1], ...tail.nodes] : null;
  }

  /** Of the first legal joined traces (ways in order of merit) the one with the least cold floor and turns. */
  private best(ways: readonly (readonly number[])[]): Candidate | null {
    const legal: Candidate[] = [];
    for (const way of ways) {
      if (legal.length >= ENOUGH) break;
      const found = this.judged(way);
      if (found) legal.push({ ...found, cost: this.cost(found) });
    }
    return leastCost(legal);
  }

  /** The stated objective, mm2. */
  private cost({ trace, check }: Pick<Candidate, 'trace' | 'check'>): number {
    const { whole, minGap } = this;
    const counted = countedTurns(check.length.turns, trace.path, whole.setting);
    const turns = counted * turnWorth(whole, this.request.turnWeight);
    if (whole.zone.priorities.length === 0) return check.coverage.unheatedArea * 1e6 + turns;
    const nodes = nodesPassed(whole.s, { path: trace.path, reserve: [] });
    return new StudPath(whole.s, whole.floor, nodes, minGap, whole.heatRadius, nodes.length).cold + turns;
  }

  private judged(way: readonly number[]): { trace: Trace; check: CheckReport } | null {
    const { zone, setting, cable, reading } = this.request;
    const { laid, left } = this;
    let turns = 0;
    const all = [...laid.studs.slice(-2), ...way.slice(1)];
    for (let k = 1; k + 1 < all.length; k++) if (all[k] - all[k - 1] !== all[k + 1] - all[k]) turns++;
    const play = this.play(turns);
    const join = (spare: number) => joined(this.whole.s, laid, way, left, zone.leadIn, spare);
    const trace = join(play + 2) ?? join(play);
    if (!trace) return null;
    if (reading === null) {
      const check = checkTrace(zone, setting, cable, trace);
      return check.ok ? { trace, check } : null;
    }
    const drawn = checkTrace(zone, setting, cable, trace).length.turns;
    const check = checkTrace(
      { ...zone, leadIn: zone.leadIn + laid.drift },
      { ...setting, placementSlopPerTurn: 0 },
      { ...cable, tolerance: this.play(drawn - laid.turns) / cable.length },
      trace,
    );
    return check.ok ? { trace, check } : null;
  }

  private refusal(reason: string | null, by: number | null): RestOutcome {
    const { left } = this;
    switch (reason) {
      case 'too-short':
        return this.impossible(
          'too-short',
          by,
          `${mm(left)} of cable are left, too short to end in the buffer${by === null ? '' : `: ${mm(by)} are missing`}`,
        );
      case 'too-long':
        return this.impossible(
          'too-long',
          by,
          `${mm(left)} of cable are left, more than the search could lay${by === null ? '' : `: ${mm(by)} too many`}`,
        );
      case 'bend-radius':
        return this.impossible(
          'bend-radius',
          by,
          'the cable is too stiff for a U-turn at the widest spacing',
        );
      default:
        return this.impossible(
          'buffer-unreachable',
          null,
          'no channel leads from here into the buffer that keeps clear of the cable that lies',
        );
    }
  }

  private impossible(reason: RestReason, by: number | null, detail: string): RestOutcome {
    return {
      kind: 'impossible',
      reason,
      by: by === null ? null : Math.round(by),
      left: this.left,
      drift: this.laid.drift,
      detail,
      guardFired: this.tools.expired(),
    };
  }
}

const mm = (length: number): string => `${Math.round(length)} mm`;
