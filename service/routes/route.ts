import type { Router } from 'express';
import type { ZodOpenApiPathsObject } from 'zod-openapi';
import type { Deps } from '../deps.js';

/** A part of the interface: its routes and their description, kept together. New parts join the list in index.ts. */
export interface RouteModule {
  readonly paths: ZodOpenApiPathsObject;
  mount(router: Router, deps: Deps): void;
}
