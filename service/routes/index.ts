import { checks } from './checks.js';
import { documentation } from './documentation.js';
import { jobs } from './jobs.js';
import { layouts } from './layouts.js';
import { operations } from './operations.js';
import type { RouteModule } from './route.js';

/** Every part of the interface; the service serves and the document describes exactly these. */
export const routeModules = (): readonly RouteModule[] => [layouts, checks, jobs, operations, documentation];
