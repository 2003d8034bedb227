import { type Figure, figure, type InputProblem } from './figure.js';
import { type MaterialInput, materialProblems } from './material-input.js';
import { type MembraneQuantity, membraneQuantity } from './membrane.js';
import { type MortarQuantity, mortarQuantity } from './mortar.js';
import { type OverrideProblem, type RuleId, type RuleNote, ruleNotes, ruleValues } from './rules.js';
import { type GrooveQuantity, grooveQuantity, type SealingQuantity, sealingQuantity } from './sealing.js';

export interface MaterialReport {
  readonly kind: 'report';
  readonly membrane: MembraneQuantity;
  readonly mortar: MortarQuantity;
  /** One entry per wet zone. */
  readonly sealing: readonly SealingQuantity[];
  /** One entry per curb that a cable crosses. */
  readonly grooves: readonly GrooveQuantity[];
  readonly sensors: { readonly inUse: Figure; readonly spare: Figure };
  readonly rules: readonly RuleNote[];
}

export type MaterialOutcome =
  | MaterialReport
  | { readonly kind: 'bad-input'; readonly problems: readonly InputProblem[] }
  | { readonly kind: 'bad-overrides'; readonly problems: readonly OverrideProblem[] };

/** Quantities of material, no prices: m2, mm, kg, whole pieces. */
export function materialQuantities(input: MaterialInput): MaterialOutcome {
  const resolution = ruleValues(input.region, input.overrides);
  if (resolution.kind === 'refused') return { kind: 'bad-overrides', problems: resolution.problems };
  const problems = materialProblems(input);
  if (problems.length > 0) return { kind: 'bad-input', problems };
  const { book } = resolution;
  const membrane = membraneQuantity(book, input);
  const mortar = mortarQuantity(book, input.zones);
  const sealing = input.zones
    .filter((zone) => zone.wet)
    .map((zone) =>
      sealingQuantity(book, zone, membrane.seams.find((s) => s.zone === zone.id)?.lengths ?? []),
    );
  const grooves = input.zones.flatMap((zone) =>
    zone.curb === null ? [] : [grooveQuantity(book, zone.id, zone.curb)],
  );
  const sensors = {
    inUse: figure(input.sensors, 'pieces', 'as-given'),
    spare: figure(input.sensors * book.values['spare-sensor'].count, 'pieces', 'spare-sensor'),
  };
  const figures: readonly Figure[] = [
    membrane.area,
    membrane.pieces,
    membrane.bought,
    ...membrane.seams.map((s) => s.total),
    ...mortar.layers.flatMap((l) => [l.mass, l.bags]),
    mortar.mass,
    ...mortar.contact.map((c) => c.least),
    ...sealing.flatMap((s) => [s.perimeter, s.total, s.width, s.rolls]),
    ...grooves.flatMap((g) => [g.width, g.length, g.fill]),
    sensors.inUse,
    sensors.spare,
  ];
  const used: RuleId[] = figures.flatMap((f) => f.rules);
  return { kind: 'report', membrane, mortar, sealing, grooves, sensors, rules: ruleNotes(book, used) };
}
