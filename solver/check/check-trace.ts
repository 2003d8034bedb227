/** The independent judge: reads any path against every rule; shares no code with what lays paths. */
import { type Cable, cornerRadius, type Setting, type Trace, type Zone } from '../problem.js';
import { areaRule } from './area-rule.js';
import { bendsRule } from './bends-rule.js';
import { coverageOf } from './coverage.js';
import { endReport, endRule, endWindow, lengthReport, lengthRule, reserveRule } from './end-rules.js';
import { entryRule, latticeRule } from './lattice-rules.js';
import { isUsable, lineOf } from './line.js';
import type { CheckReport } from './report.js';
import { spacingRule } from './spacing-rule.js';

/**
 * Judges `trace` in a valid zone. Takes any trace (off the lattice, diagonal, self-crossing, with vertices that
 * repeat or are not finite, empty) and never throws; vertices that are not finite are a lattice violation and left
 * out of the rest.
 */
export const checkTrace = (zone: Zone, setting: Setting, cable: Cable, trace: Trace): CheckReport => {
  const line = lineOf(trace, cornerRadius(setting.lattice));
  const length = lengthReport(zone, cable, line, trace);
  const window = endWindow(zone, setting, cable, line, length.turns);
  const last = trace.path.filter(isUsable).at(-1) ?? null;
  const rules = [
    latticeRule(setting.lattice, trace),
    entryRule(zone, setting.lattice, trace.path),
    areaRule(zone, line),
    spacingRule(setting, line),
    bendsRule(setting, cable, line),
    lengthRule(length, last),
    endRule(zone, line, window),
    reserveRule(trace, line, window),
  ];
  return {
    ok: rules.every(({ ok }) => ok),
    rules,
    length,
    end: endReport(zone, cable, trace, line, window),
    coverage: coverageOf(zone, setting, line, window),
  };
};
