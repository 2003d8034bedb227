import { type Figure, show } from '../../solver/trade/figure.js';
import type { MaterialReport } from '../../solver/trade/material.js';
import type { MaterialInput } from '../../solver/trade/material-input.js';
import type { LayerId } from '../../solver/trade/mortar.js';
import { RULES } from '../../solver/trade/rules.js';
import type { Display, SheetMaterial } from '../papers/model.js';
import { areaText, lengthText } from '../papers/units.js';

const LAYERS: Readonly<Record<LayerId, string>> = {
  'under-membrane': 'mortar under the membrane',
  fill: 'mortar filling the studs over the cable',
  'under-tile': 'mortar under the tiles',
};

const KG_PER_LB = 0.45359237;

const massText = (kg: number, display: Display): string =>
  display === 'metric' ? `${kg.toFixed(1)} kg` : `${(kg / KG_PER_LB).toFixed(1)} lb`;

/** Titles of the rules behind a figure. */
const basisOf = ({ rules }: Figure): string => rules.map((id) => RULES[id].title).join('; ');

/** Lines of the material page. */
export const materialLines = (
  report: MaterialReport,
  membrane: MaterialInput['membrane'],
  display: Display,
): readonly SheetMaterial[] => {
  const { mortar, sealing, grooves, sensors } = report;
  const length = (mm: number): string => lengthText(mm, display);
  const format = `${membrane.kind}s of ${length(membrane.width)} x ${length(membrane.length)}`;
  const row = (item: string, quantity: string, figure: Figure): SheetMaterial => ({
    item,
    quantity,
    basis: basisOf(figure),
  });
  return [
    row('floor to cover', areaText(report.membrane.area.value, display), report.membrane.area),
    row(`membrane, ${format}`, show(report.membrane.pieces.value), report.membrane.pieces),
    row('membrane left over', areaText(report.membrane.offcut.value, display), report.membrane.offcut),
    ...mortar.layers.map(({ layer, mass, bags }) =>
      row(LAYERS[layer], `${massText(mass.value, display)}, ${show(bags.value)} bags`, mass),
    ),
    row('mortar in all, if one serves all layers', `${show(mortar.bags.value)} bags`, mortar.bags),
    ...mortar.contact.map(({ zone, least }) =>
      row(`mortar contact under tile, ${zone}`, `at least ${show(least.value * 100)} %`, least),
    ),
    ...sealing.flatMap((seal) => [
      row(
        `sealing tape, ${seal.zone}`,
        `${length(seal.total.value)}, ${show(seal.rolls.value)} rolls`,
        seal.total,
      ),
      row(`least width of the tape, ${seal.zone}`, length(seal.width.value), seal.width),
      row(
        `corner pieces, ${seal.zone}`,
        `${show(seal.insideCornerPieces.value)} inside, ${show(seal.outsideCornerPieces.value)} outside`,
        seal.insideCornerPieces,
      ),
    ]),
    ...grooves.map((groove) =>
      row(
        `grout for the groove over the curb, ${groove.zone}`,
        `${massText(groove.fill.value, display)} in ${length(groove.length.value)}`,
        groove.fill,
      ),
    ),
    row('floor sensors', show(sensors.inUse.value), sensors.inUse),
    row('spare sensors, laid with the first', show(sensors.spare.value), sensors.spare),
  ];
};
