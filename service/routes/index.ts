import { checks } from './checks.js';
import { continuations } from './continuations.js';
import { documentation } from './documentation.js';
import { electrical } from './electrical.js';
import { fits } from './fits.js';
import { jobs } from './jobs.js';
import { layouts } from './layouts.js';
import { materials } from './materials.js';
import { operations } from './operations.js';
import { papers } from './papers.js';
import { readings } from './readings.js';
import type { RouteModule } from './route.js';
import { tradeRules } from './trade-rules.js';

/** Every part of the interface; the service serves and the document describes exactly these. */
export const routeModules = (): readonly RouteModule[] => [
  layouts,
  papers,
  fits,
  checks,
  continuations,
  jobs,
  electrical,
  readings,
  materials,
  tradeRules,
  operations,
  documentation,
];
