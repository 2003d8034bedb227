import { type CableReport, cableReport } from './cable-report.js';
import { type CircuitReport, circuitReport } from './circuit-report.js';
import { type ElectricalInput, electricalProblems } from './electrical-input.js';
import { type Figure, type Finding, figure, type InputProblem, type Status, worstStatus } from './figure.js';
import type { Region } from './rule.js';
import { type OverrideProblem, type RuleId, type RuleNote, ruleNotes, ruleValues } from './rules.js';

export interface ElectricalReport {
  readonly kind: 'report';
  readonly region: Region;
  /** The worst of all findings. */
  readonly status: Status;
  readonly cables: readonly CableReport[];
  readonly circuits: readonly CircuitReport[];
  readonly totals: {
    readonly power: Figure;
    readonly heatedArea: Figure | null;
    readonly density: Figure | null;
  };
  /** All that is not 'ok', of cables, thermostats and circuits. */
  readonly open: readonly Finding[];
  /** Every rule that a figure or finding above names. */
  readonly rules: readonly RuleNote[];
}

export type ElectricalOutcome =
  | ElectricalReport
  | { readonly kind: 'bad-input'; readonly problems: readonly InputProblem[] }
  | { readonly kind: 'bad-overrides'; readonly problems: readonly OverrideProblem[] };

/** Everything the electrician gets: W, W/m, W/m2, A, V, ohm, C, K, mm, m2. */
export function electricalReport(input: ElectricalInput): ElectricalOutcome {
  const resolution = ruleValues(input.region, input.overrides);
  if (resolution.kind === 'refused') return { kind: 'bad-overrides', problems: resolution.problems };
  const problems = electricalProblems(input);
  if (problems.length > 0) return { kind: 'bad-input', problems };
  const { book } = resolution;

  const supplies = new Map<string, number>();
  for (const circuit of input.circuits) {
    for (const id of circuit.thermostats.flatMap((t) => t.cables)) supplies.set(id, circuit.voltage);
  }
  const cables = input.cables.map((c) => cableReport(book, c, supplies.get(c.id) ?? c.voltage));
  const byId = new Map(cables.map((c) => [c.id, c]));
  const circuits = input.circuits.map((c) => circuitReport(book, c, byId));

  const power = cables.reduce((sum, c) => sum + c.powerAtSupply.value, 0);
  const area = cables.every((c) => c.floor !== null)
    ? cables.reduce((sum, c) => sum + (c.floor?.heatedArea.value ?? 0), 0)
    : null;
  const totals = {
    power: figure(power, 'W', 'voltage-squared'),
    heatedArea: area === null ? null : figure(area, 'm2', 'mean-spacing'),
    density: area === null ? null : figure(power / area, 'W/m2', 'heat-density', 'mean-spacing'),
  };
  const findings = [
    ...cables.flatMap((c) => c.findings),
    ...circuits.flatMap((c) => [...c.findings, ...c.thermostats.flatMap((t) => t.findings)]),
  ];
  const used: RuleId[] = [
    ...findings.map((f) => f.rule),
    ...[...cables, ...circuits, ...circuits.flatMap((c) => c.thermostats)].flatMap(rulesIn),
    ...cables.flatMap((c) => (c.floor === null ? [] : rulesIn(c.floor))),
    ...rulesIn(totals),
  ];
  return {
    kind: 'report',
    region: input.region,
    status: worstStatus(findings),
    cables,
    circuits,
    totals,
    open: findings.filter((f) => f.status !== 'ok'),
    rules: ruleNotes(book, used),
  };
}

/** Rules of the figures that are direct members of a report. */
function rulesIn(section: object): RuleId[] {
  return Object.values(section).flatMap((member: unknown) => (isFigure(member) ? member.rules : []));
}

function isFigure(member: unknown): member is Figure {
  return (
    typeof member === 'object' &&
    member !== null &&
    'value' in member &&
    'unit' in member &&
    'rules' in member
  );
}
