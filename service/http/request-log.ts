import { randomUUID } from 'node:crypto';
import { performance } from 'node:perf_hooks';
import type { RequestHandler } from 'express';
import type { Logger } from 'pino';

const CLEAN = /^[\w.-]{1,64}$/;

/** Gives each request an id (its own X-Request-Id when it is a clean one) and logs it when it is over. */
export const requestLog =
  (log: Logger): RequestHandler =>
  (req, res, next) => {
    const given = req.get('x-request-id');
    const requestId = given !== undefined && CLEAN.test(given) ? given : randomUUID();
    res.locals.requestId = requestId;
    res.set('X-Request-Id', requestId);
    res.set('X-Content-Type-Options', 'nosniff');
    const since = performance.now();
    res.on('close', () => {
      log.info(
        {
          requestId,
          method: req.method,
          path: req.path,
          status: res.writableFinished ? res.statusCode : null,
          ms: Math.round(performance.now() - since),
        },
        res.writableFinished ? 'answered' : 'client left',
      );
    });
    next();
  };
