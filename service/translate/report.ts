import type {
  CheckReport,
  CoverageReport,
  EndReport,
  LengthReport,
  RuleVerdict,
} from '../../solver/check/report.js';
import { finite, mm, part, wirePoint, wireRing } from './numbers.js';

export const wireLength = (report: LengthReport) => ({
  cable: mm(report.cable),
  leadIn: mm(report.leadIn),
  path: mm(report.path),
  sharp: mm(report.sharp),
  cornerSaving: mm(report.cornerSaving),
  turns: report.turns,
});

export const wireEnd = (report: EndReport) => ({
  at: wirePoint(report.at),
  earliest: wirePoint(report.earliest),
  latest: wirePoint(report.latest),
  tolerance: mm(report.tolerance),
  slack: mm(report.slack),
});

export const wireCoverage = (report: CoverageReport) => ({
  targetArea: part(report.targetArea),
  heatedArea: part(report.heatedArea),
  unheatedArea: part(report.unheatedArea),
  fraction: part(report.fraction),
  cold: report.cold.map(wireRing),
  bufferArea: part(report.bufferArea),
  bufferHeatedArea: part(report.bufferHeatedArea),
  bufferFraction: report.bufferArea > 0 ? part(report.bufferHeatedArea / report.bufferArea) : null,
  fractionShortest: part(report.fractionShortest),
  fractionLongest: part(report.fractionLongest),
});

export const wireRule = (verdict: RuleVerdict) => ({
  rule: verdict.rule,
  ok: verdict.ok,
  worst: finite(verdict.worst),
  limit: finite(verdict.limit),
  at: verdict.at === null ? null : wirePoint(verdict.at),
});

/** A verdict with its violations. */
export const wireJudgedRule = (verdict: RuleVerdict) => ({
  ...wireRule(verdict),
  violations: verdict.violations.map(({ at, size, message }) => ({
    at: wirePoint(at),
    size: finite(size),
    message,
  })),
});

/** The report with its violations. */
export const wireReport = (report: CheckReport) => ({
  ok: report.ok,
  rules: report.rules.map(wireJudgedRule),
  length: wireLength(report.length),
  end: wireEnd(report.end),
  coverage: wireCoverage(report.coverage),
});
