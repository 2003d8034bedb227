import type { ColdLead } from '../../solver/job/cold-lead.js';
import type { PreparedCrossing } from '../../solver/job/prepare.js';
import type { SensorPlace } from '../../solver/job/sensor.js';
import type { ZonePlan } from '../../solver/plan-types.js';
import type { Point } from '../../solver/problem.js';
import type { Display, SheetFact } from '../papers/model.js';
import { dimensionText, lengthText } from '../papers/units.js';
import type { ZoneFittings } from '../pool/fit-out.js';

/** Deviation that still counts as square, degrees. */
const SQUARE = 0.5;

interface Words {
  length(mm: number): string;
  place(at: Point): string;
}

const wordsOf = (display: Display): Words => ({
  length: (mm) => lengthText(mm, display),
  place: ([x, y]) => `(${dimensionText(x, display)}, ${dimensionText(y, display)})`,
});

const leadFact = (lead: ColdLead, has: number, w: Words): SheetFact => ({
  what: 'cold lead',
  value: `${w.length(lead.needed)} of ${w.length(has)} needed: ${w.length(lead.floor)} along the wall to below the thermostat, ${w.length(lead.rise)} up to it`,
});

const sensorFact = (what: string, place: SensorPlace, w: Words): SheetFact => ({
  what,
  value: `at ${w.place(place.at)}, midway between runs ${place.between.join(' and ')}, ${w.length(place.depth)} inside the heated area; its lead runs from the wall at ${w.place(place.leaves)}, ${w.length(place.length.total)} to the thermostat in all`,
});

const sensorFacts = ({ sensor }: ZoneFittings, w: Words): readonly SheetFact[] => {
  if (sensor === null) return [];
  if (sensor.kind === 'impossible')
    return [{ what: 'floor sensor', value: `no place found. ${sensor.message}` }];
  const own = sensorFact('floor sensor', sensor.sensor, w);
  if (sensor.spare !== null) return [own, sensorFact('spare sensor', sensor.spare, w)];
  return sensor.spareMissing === null ? [own] : [own, { what: 'spare sensor', value: sensor.spareMissing }];
};

const crossingFacts = ({ dryZone, crossing }: PreparedCrossing, w: Words): readonly SheetFact[] => {
  const { parts, groove, stud } = crossing;
  const turn = crossing.slant <= SQUARE ? 'square to it' : `${crossing.slant.toFixed(0)} degrees off square`;
  return [
    {
      what: 'joint, hot to cold',
      value: `on the dry floor "${dryZone}", at ${w.place(crossing.joint)}, never in the shower`,
    },
    {
      what: 'crossing',
      value: `once, from ${w.place(crossing.enter)} to ${w.place(crossing.leave)}, ${groove === null ? 'on the level' : 'over the top of the curb'}, ${turn}`,
    },
    ...(groove === null
      ? []
      : [
          {
            what: 'groove over the curb',
            value: `${w.length(groove.width)} wide, ${w.length(groove.depth)} deep, made before the curb is covered, grouted solid around the cable`,
          },
          {
            what: 'over the curb',
            value: `${w.length(parts.climb)} up, ${w.length(parts.top)} across, ${w.length(parts.descent)} down${stud === null ? '' : `; before it half a turn about the stud at ${w.place(stud)}, ${w.length(parts.wrap)}`}`,
          },
        ]),
    {
      what: 'heating cable before the entry',
      value: `${w.length(crossing.leadIn)} from the joint: ${w.length(parts.run)} on the floors${groove === null ? '' : ' and the way over the curb'}, less ${w.length(parts.cornerSaving)} for rounded corners`,
    },
  ];
};

/** Places and leads of a zone for the papers: joint, crossing, cold lead, sensors. */
export const zoneFacts = (plan: ZonePlan, fittings: ZoneFittings, display: Display): readonly SheetFact[] => {
  const w = wordsOf(display);
  const { coldLead, crossing } = fittings;
  const joint = coldLead?.path.at(-1);
  return [
    ...(crossing === null ? [] : crossingFacts(crossing, w)),
    ...(crossing !== null || joint === undefined
      ? []
      : [{ what: 'joint, hot to cold', value: `at ${w.place(joint)}, where the cable enters` }]),
    ...(coldLead === null ? [] : [leadFact(coldLead, plan.cable.coldLead, w)]),
    ...sensorFacts(fittings, w),
  ];
};
