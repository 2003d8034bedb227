/** An invented bathroom of 2.4 x 2.1 m beside a 0.9 x 1.2 m tiled shower behind a curb of 100 x 100 mm. */
import type { CrossingTask } from '../../../solver/job/crossing.js';
import { type Curb, GROOVE } from '../../../solver/job/curb.js';
import type { Ring, Setting, Zone } from '../../../solver/problem.js';

export const rectangle = (x0: number, y0: number, x1: number, y1: number): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

export const SETTING: Setting = {
  lattice: { pitch: 30, origin: [0, 0] },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
};

export const CURB: Curb = {
  outline: rectangle(2400, 0, 2500, 1200),
  height: 100,
  descent: 100,
  groove: GROOVE,
};

export const FLOOR: Zone = {
  id: 'floor',
  wet: false,
  outline: rectangle(0, 0, 2400, 2100),
  clearance: 50,
  exclusions: [
    { id: 'vanity', shape: { kind: 'polygon', outline: rectangle(0, 1550, 1200, 2100) }, clearance: 0 },
    { id: 'wc', shape: { kind: 'circle', center: [1900, 1750], radius: 180 }, clearance: 50 },
  ],
  buffer: rectangle(0, 0, 150, 1550),
  entry: [1300, 60],
  leadIn: 0,
  priorities: [],
};

export const SHOWER: Zone = {
  id: 'shower',
  wet: true,
  outline: rectangle(2500, 0, 3400, 1200),
  clearance: 50,
  exclusions: [{ id: 'drain', shape: { kind: 'circle', center: [2950, 600], radius: 60 }, clearance: 90 }],
  buffer: rectangle(3250, 0, 3400, 1200),
  entry: [2560, 300],
  leadIn: 0,
  priorities: [],
};

export const TASK: CrossingTask = {
  dry: FLOOR,
  wet: SHOWER,
  curb: CURB,
  setting: SETTING,
  thermostat: { at: [1500, 0], height: 1200 },
  coldLead: 3000,
  minBendRadius: 15,
  wish: { crossing: null, joint: null },
  laid: [],
  coldLeads: [],
};
