import { type Figure, figure } from './figure.js';
import type { MaterialZone } from './material-input.js';
import { coveredArea } from './membrane.js';
import type { RuleBook, RuleId } from './rules.js';

export type LayerId = 'under-membrane' | 'fill' | 'under-tile';

export interface MortarLayer {
  readonly layer: LayerId;
  /** Dry mortar, waste included. */
  readonly mass: Figure;
  /** Whole bags if the layer is mixed from bags of its own. */
  readonly bags: Figure;
}

export interface MortarQuantity {
  readonly layers: readonly MortarLayer[];
  readonly mass: Figure;
  /** Whole bags if one mortar serves all layers. */
  readonly bags: Figure;
  /** Least contact under tile, zone by zone. */
  readonly contact: readonly { readonly zone: string; readonly least: Figure }[];
}

/** Space of a cable, m2 x mm (that is litres). */
const cableLitres = (zone: MaterialZone): number =>
  zone.cable === null ? 0 : (zone.cable.length * (Math.PI / 4) * zone.cable.diameter ** 2) / 1e6;

/** Dry mortar by layer: area x thickness x rate, the fill less the studs and the cable. */
export function mortarQuantity(book: RuleBook, zones: readonly MaterialZone[]): MortarQuantity {
  const v = book.values;
  const area = zones.reduce((sum, zone) => sum + coveredArea(zone), 0);
  const cable = zones.reduce((sum, zone) => sum + cableLitres(zone), 0);
  const rate = v['mortar-rate'].mass * (1 + v['mortar-rate'].waste);
  const fill = v['mortar-fill'];
  const layer = (id: LayerId, litres: number, rule: RuleId): MortarLayer => {
    const mass = Math.max(0, litres) * rate;
    return {
      layer: id,
      mass: figure(mass, 'kg', rule, 'mortar-rate', 'derived-geometry'),
      bags: figure(bagsFor(book, mass), 'pieces', 'mortar-bag', rule, 'mortar-rate'),
    };
  };
  const layers = [
    layer('under-membrane', area * v['mortar-under-membrane'].thickness, 'mortar-under-membrane'),
    layer('fill', area * fill.thickness * fill.openShare - cable, 'mortar-fill'),
    layer('under-tile', area * v['mortar-under-tile'].thickness, 'mortar-under-tile'),
  ];
  const mass = layers.reduce((sum, l) => sum + l.mass.value, 0);
  const contact = v['mortar-contact'];
  return {
    layers,
    mass: figure(mass, 'kg', 'mortar-rate', 'derived-geometry'),
    bags: figure(bagsFor(book, mass), 'pieces', 'mortar-bag', 'mortar-rate'),
    contact: zones.map((z) => ({
      zone: z.id,
      least: figure(z.wet ? contact.wet : contact.dry, 'ratio', 'mortar-contact'),
    })),
  };
}

const bagsFor = (book: RuleBook, mass: number): number =>
  Math.ceil(mass / book.values['mortar-bag'].mass - 1e-9);
