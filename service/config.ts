import { availableParallelism } from 'node:os';
import { z } from 'zod';

const count = (fallback: number, max: number) => z.coerce.number().int().min(1).max(max).default(fallback);

const configSchema = z.object({
  /** 0 takes any free port. */
  PORT: z.coerce.number().int().min(0).max(65_535).default(8080),
  LOG_LEVEL: z.enum(['fatal', 'error', 'warn', 'info', 'debug', 'trace', 'silent']).default('info'),
  /** Solver threads. */
  WORKERS: count(Math.min(4, availableParallelism()), 64),
  /** Most requests that may wait for a thread. */
  QUEUE_LIMIT: count(32, 10_000),
  /** Answers kept in memory. */
  KEEP_ANSWERS: count(200, 100_000),
  /** Jobs kept in memory. */
  KEEP_JOBS: count(200, 100_000),
  /** How long an ended job is kept. */
  JOB_KEEP_SECONDS: count(3600, 604_800),
  /** How long a shutdown waits for work under way. */
  DRAIN_SECONDS: count(30, 3600),
});

export type Config = z.output<typeof configSchema>;

/** Reads the configuration from environment variables; throws with one line for each that is wrong. */
export const readConfig = (env: Readonly<Record<string, string | undefined>>): Config => {
  const result = configSchema.safeParse(env);
  if (result.success) return result.data;
  const lines = result.error.issues.map((issue) => `${issue.path.join('.')}: ${issue.message}`);
  throw new Error(`Wrong configuration\n${lines.join('\n')}`);
};
