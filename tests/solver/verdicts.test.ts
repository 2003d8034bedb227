import { describe, expect, it } from 'vitest';
import { planLayout } from '../../solver/plan.js';
import type { CableVerdict } from '../../solver/plan-types.js';
import type { SearchResult } from '../../solver/search/search-zone.js';
import { zoneSpace } from '../../solver/search/zone-space.js';
import { verdictsOf } from '../../solver/verdicts.js';
import { metres, rect, requestFor, shower, TOOLS, verdictOn, verdictsIn } from '../helpers/shower.js';

const by = (verdict: CableVerdict): number => {
  if (verdict.by === null) throw new Error(`${verdict.cable}: ${verdict.detail}`);
  return verdict.by;
};

const good = metres(7.5);

describe('refusals that are proven before routing', () => {
  it('bend-radius: by is what the U-turn lacks', () => {
    const stiff = metres(7, { id: 'stiff', minBendRadius: 55 });
    const verdict = verdictOn(stiff, shower());
    // U-turn 2 x 55, widest spacing 3 x 30.
    expect(verdict).toMatchObject({ fits: false, reason: 'bend-radius', by: 20 });
    const softer = { ...stiff, minBendRadius: stiff.minBendRadius - by(verdict) / 2 };
    expect(verdictOn(softer, shower()).reason).not.toBe('bend-radius');
  });

  it('entry-outside: a strip between two stud rows holds no stud', () => {
    const strip = { outline: rect(0, -5, 900, 95), clearance: 40, exclusions: [] };
    const verdict = verdictOn(good, shower({ ...strip, buffer: rect(700, -5, 900, 95) }));
    expect(verdict).toMatchObject({ fits: false, reason: 'entry-outside', by: null });
    const lowered = verdictOn(good, shower({ ...strip, clearance: 30, buffer: rect(700, -5, 900, 95) }));
    expect(lowered.reason).not.toBe('entry-outside');
  });

  it('buffer-unreachable: a wall across the floor', () => {
    const wall = (x1: number) => ({
      id: 'wall',
      shape: { kind: 'polygon' as const, outline: rect(-10, 400, x1, 440) },
      clearance: 0,
    });
    expect(verdictOn(good, shower({ exclusions: [wall(910)] }))).toMatchObject({
      fits: false,
      reason: 'buffer-unreachable',
      by: null,
    });
    expect(verdictOn(good, shower({ exclusions: [wall(600)] })).reason).not.toBe('buffer-unreachable');
  });

  it('too-short: cannot reach the buffer', () => {
    const short = metres(0.5);
    const verdict = verdictOn(short, shower());
    expect(verdict).toMatchObject({ fits: false, reason: 'too-short' });
    expect(verdict.detail).toContain('shortest way');
    // 22 studs lie between the rows y = 840 and y = 180; each takes at least a quarter circle, and 1 % tolerance.
    expect(by(verdict)).toBe(Math.ceil(22 * 30 * (Math.PI / 4) + 5 - 500));
    const longer = metres(0.5 + (by(verdict) * 1.02) / 1000);
    expect(verdictOn(longer, shower()).detail).not.toContain('shortest way');
  });

  it('too-long: what no layout can hold, by packing', () => {
    const verdict = verdictOn(metres(14), shower(), [good]);
    expect(verdict).toMatchObject({ fits: false, reason: 'too-long' });
    expect(verdict.detail).toContain('no more than');
    // Runs 60 mm apart: strips 60 mm wide on 0.9 x 0.9 m hold at most about 13.5 m (area over spacing).
    const most = 14_000 * 1.01 - by(verdict);
    expect(most).toBeGreaterThan(10_000);
    expect(most).toBeLessThanOrEqual((900 * 900) / 60);
    const shorter = verdictOn(metres((most - 1) / 1.01 / 1000), shower(), [good]);
    expect(shorter.detail).not.toContain('no more than');
  });

  it('buffer-too-small: the end window is longer than what can lie in the buffer, by packing', () => {
    const loose = metres(7, { id: 'loose', tolerance: 0.1 });
    const corner = shower({ buffer: rect(700, 0, 900, 200) });
    const verdict = verdictOn(loose, corner);
    expect(verdict).toMatchObject({ fits: false, reason: 'buffer-too-small' });
    expect(verdict.detail).toContain('tolerance alone');
    const tighter = { ...loose, tolerance: loose.tolerance - (by(verdict) + 1) / (2 * loose.length) };
    expect(verdictOn(tighter, corner).detail).not.toContain('tolerance alone');
  });

  it('heat-density: a cable that gives too much whatever it heats', () => {
    const limited = (most: number) => shower({ heatDensity: { target: null, least: null, most } });
    const verdict = verdictOn(good, limited(120));
    expect(verdict).toMatchObject({ fits: false, reason: 'heat-density', coverage: null });
    expect(verdict.detail).toContain('at least');
    expect(verdictOn(good, limited(120 + by(verdict))).detail).not.toContain('at least');
  });
});

describe('verdicts after the search', () => {
  it('too-short: leaves clearly more floor cold than the chosen cable, and by mm more do not', () => {
    const short = metres(4);
    const verdict = verdictOn(short, shower(), [good]);
    expect(verdict).toMatchObject({ fits: false, reason: 'too-short' });
    expect(verdict.detail).toMatch(/at most 7\d\.\d % .* S7\.5 heats 9/);
    const enough = verdictOn(metres(4 + by(verdict) / 1000), shower(), [good]);
    expect(enough.reason).not.toBe('too-short');
    expect(enough.fits).toBe(true);
  });

  it('the same short cable fits where nothing better is at hand', () => {
    const verdict = verdictOn(metres(4), shower());
    expect(verdict).toMatchObject({ fits: true, chosen: true, reason: null });
    expect(verdict.coverage).toBeLessThan(0.75);
  });

  it('too-long: more than the longest layout found, and by mm (and a run) less can be laid', () => {
    const long = metres(12.5);
    const verdict = verdictOn(long, shower(), [good]);
    expect(verdict).toMatchObject({ fits: false, reason: 'too-long' });
    expect(verdict.detail).toContain('longest layout found');
    const shorter = verdictOn(metres(12.5 - (by(verdict) + 600) / 1000), shower(), [good]);
    expect(shorter).toMatchObject({ fits: true, reason: null });
  });

  it('buffer-too-small: more than the longest stretch found, and a tighter cable fits', () => {
    const loose = metres(7, { id: 'loose', tolerance: 0.08 });
    const zone = shower({ buffer: rect(700, 0, 900, 300) });
    const verdict = verdictOn(loose, zone);
    expect(verdict).toMatchObject({ fits: false, reason: 'buffer-too-small' });
    expect(verdict.detail).toContain('longest stretch that could be laid');
    const tighter = { ...loose, tolerance: loose.tolerance - (by(verdict) + 30) / (2 * loose.length) };
    expect(verdictOn(tighter, zone)).toMatchObject({ fits: true, reason: null });
  });

  it('heat-density: out of the limits as laid, with the figures of the layout; the limit moved by so much lets it in', () => {
    const limited = (least: number) => shower({ heatDensity: { target: null, least, most: null } });
    const weak = metres(7.5, { id: 'weak', power: 60 });
    const verdict = verdictOn(weak, limited(120), [good]);
    expect(verdict).toMatchObject({ fits: false, reason: 'heat-density' });
    expect(verdict.coverage).toBeGreaterThan(0.95);
    expect(verdictOn(weak, limited(120 - by(verdict)), [good]).fits).toBe(true);
    expect(verdictOn(good, limited(120), [weak])).toMatchObject({ fits: true, chosen: true });
  });

  it('no-route: only when nothing else can be said, such as a search without time', () => {
    const verdict = verdictOn(good, shower(), [], { engine: null, expired: () => true });
    expect(verdict).toMatchObject({ fits: false, reason: 'no-route', by: null });
    expect(verdict.detail).toContain('clock');
  });

  it('every entry has one verdict; the fitting ones say what the checker measured', () => {
    const catalogue = [3, 5, 6.5, 7, 7.5, 8, 9, 10, 12.5, 14].map((length) => metres(length));
    const outcome = planLayout(requestFor(shower(), catalogue), TOOLS);
    if (outcome.kind !== 'planned') throw new Error('the shower can be laid');
    expect(outcome.verdicts.map(({ cable }) => cable)).toEqual(catalogue.map(({ id }) => id));
    const [plan] = outcome.zones;
    const chosen = outcome.verdicts.filter((verdict) => verdict.chosen);
    expect(chosen).toMatchObject([
      {
        cable: plan?.cable.id,
        coverage: plan?.check.coverage.fraction,
        turns: plan?.check.length.turns,
      },
    ]);
    for (const { fits, reason, coverage, turns, detail } of outcome.verdicts) {
      expect(fits).toBe(reason === null);
      if (fits) expect(coverage).toBeGreaterThan(0.9);
      if (fits) expect(turns).toBeGreaterThan(5);
      expect(detail.length).toBeGreaterThan(20);
    }
    expect(outcome.verdicts.filter(({ fits }) => fits).map(({ cable }) => cable)).toEqual(
      expect.arrayContaining(['S7', 'S7.5', 'S8', 'S9']),
    );
  });

  it('cables of one length that differ otherwise are told apart', () => {
    const verdicts = verdictsIn(shower(), [
      good,
      metres(9.5, { id: 'stiffer', minBendRadius: 40 }),
      metres(9.5, { id: 'softer' }),
      metres(7.5, { id: 'stiffest', minBendRadius: 60 }),
      metres(7.5, { id: 'strong', power: 150 }),
    ]);
    expect(verdicts.get('stiffest')?.reason).toBe('bend-radius');
    // The search sees no difference between these two, so neither may the verdicts.
    expect(verdicts.get('strong')).toMatchObject({ fits: true, reason: null });
    expect(verdicts.get('S7.5')).toMatchObject({ fits: true, reason: null });
    // U-turns of 80 mm need runs 90 mm apart, which hold 9 m on 0.9 x 0.9 m at most (area over spacing).
    expect(verdicts.get('stiffer')).toMatchObject({ fits: false, reason: 'too-long' });
    expect(verdicts.get('softer')).toMatchObject({ fits: true, reason: null });
  });
});

describe('what a search that failed says', () => {
  const zone = shower();
  const space = zoneSpace(zone, { ...requestFor(zone, []), lattice: { pitch: 30, origin: [0, 0] } });
  const cable = metres(7);
  const told = (missed: number | null, routed: SearchResult['routed'] = []) =>
    verdictsOf(
      space,
      [cable],
      {
        found: [],
        missed: new Map(missed === null ? [] : [[cable.id, missed]]),
        longestTail: 3000,
        routed,
        guardFired: false,
        work: 0,
      },
      [],
      null,
    )[0];

  it('too-short by what even the shortest layout takes more', () => {
    expect(told(50)).toMatchObject({ reason: 'too-short', by: 50 });
  });

  it('too-long by what even the longest layout takes less', () => {
    // And 6 mm that fitting leaves for rounding.
    expect(told(-50)).toMatchObject({ reason: 'too-long', by: 56 });
  });

  it('too-long beyond the longest route, with its tolerance of 1 % and 2 mm a turn', () => {
    const routed = [{ main: 5000, tail: 1000, turns: 15, minGap: 2 }];
    expect(told(null, routed)).toMatchObject({ reason: 'too-long', by: 1000 + 70 + 30 + 6 });
  });

  it('no-route where a route was long enough', () => {
    const routed = [{ main: 6500, tail: 3000, turns: 15, minGap: 2 }];
    expect(told(null, routed)).toMatchObject({ reason: 'no-route', by: null });
  });
});
