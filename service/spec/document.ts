import { createDocument } from 'zod-openapi';
import { routeModules } from '../routes/index.js';
import { SERVICE_VERSION } from '../version.js';

/** The OpenAPI 3.1 document, made from the schemas that validate requests. */
export const openApiDocument = (): ReturnType<typeof createDocument> =>
  createDocument({
    openapi: '3.1.1',
    info: {
      title: 'oxturn',
      version: SERVICE_VERSION,
      description:
        'Plans electric floor-warming cable on a stud membrane. Lengths and coordinates in mm (x right, y up, plan view), areas in m2, power in W, voltage in V. Errors are RFC 9457 problems.',
      license: { name: 'GPL-3.0-or-later', identifier: 'GPL-3.0-or-later' },
    },
    paths: Object.assign({}, ...routeModules().map(({ paths }) => paths)),
  });
