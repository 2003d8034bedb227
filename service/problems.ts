/** Every problem this service answers with (RFC 9457): status, title and explanation come from this one table. */

export interface ProblemKind {
  readonly status: number;
  readonly title: string;
  /** What it means and what to do about it; served at the problem's own `type` address. */
  readonly explanation: string;
}

export const PROBLEMS = {
  'malformed-json': {
    status: 400,
    title: 'The body is not JSON',
    explanation: 'The request body could not be read as one JSON document in UTF-8. Nothing was looked at.',
  },
  'bad-request': {
    status: 400,
    title: 'The request could not be read',
    explanation: 'The request line, its address or a header does not have the form HTTP asks for.',
  },
  'not-found': {
    status: 404,
    title: 'Nothing lives at this address',
    explanation: 'The address is not one of this service; /openapi.json lists them all.',
  },
  'unknown-layout': {
    status: 404,
    title: 'No such layout is kept here',
    explanation:
      'Recent layouts are kept for a while and then dropped. Send the same request again: it gives the same layout under the same id.',
  },
  'unknown-job': {
    status: 404,
    title: 'No such job is kept here',
    explanation: 'Jobs expire some time after they end. Send the same request again to start it anew.',
  },
  'method-not-allowed': {
    status: 405,
    title: 'This address does not take that method',
    explanation: 'The Allow header lists the methods it takes.',
  },
  'too-large': {
    status: 413,
    title: 'The body is too large',
    explanation: 'The request body is larger than this service reads. The limit is in `detail`.',
  },
  'unsupported-media-type': {
    status: 415,
    title: 'The body is not of a type this service reads',
    explanation: 'Send the body as application/json in UTF-8, without a content encoding.',
  },
  'invalid-request': {
    status: 422,
    title: 'The request cannot be right as it stands',
    explanation:
      'The body is JSON but breaks a rule of the interface: a field is missing, unknown, out of range or contradicts another. Each entry of `errors` points at one field and says what to change. No layout was tried.',
  },
  'impossible-layout': {
    status: 422,
    title: 'No cable of the catalogue can be laid',
    explanation:
      'The request is well-formed, but in the zones named no cable fits. `cables` gives the reason for each zone and cable, and by how many millimetres it fails.',
  },
  'illegal-laid-part': {
    status: 422,
    title: 'The part that lies breaks a rule',
    explanation:
      'The laid part of a continuation must itself keep the rules of lattice, entry, routing area, spacing and bends. `rules` lists every place where it does not. Correct the drawing, or move the cable there, before going on.',
  },
  'impossible-continuation': {
    status: 422,
    title: 'The cable that is left cannot be laid from here',
    explanation:
      'From the node reached, no way on was found that uses the cable left and ends in the buffer. `reason` says why, `by` by how many millimetres the cable left is too long or too short. Take up some of the laid part and ask again.',
  },
  'out-of-budget': {
    status: 422,
    title: 'No layout was found within the budget',
    explanation:
      'The search reached its guard before it found a legal layout. Try a lower effort, a larger pitch, fewer zones in one request, or split the zone.',
  },
  'not-solved': {
    status: 422,
    title: 'The solver gave up on this request',
    explanation:
      'The solver stopped on a fault of its own. The fault was recorded; the same request will meet it again, a slightly different one may not.',
  },
  'not-printed': {
    status: 422,
    title: 'This paper could not be made',
    explanation:
      'Drawing the paper stopped on a fault of its own. The fault was recorded; the layout and the other papers are not touched by it.',
  },
  'job-ended': {
    status: 409,
    title: 'The job has already ended',
    explanation: 'A job that is done, failed or cancelled cannot be cancelled again.',
  },
  'queue-full': {
    status: 429,
    title: 'Too much work is waiting',
    explanation: 'The queue is full. Send the request again after the time given in Retry-After.',
  },
  'shutting-down': {
    status: 503,
    title: 'This instance is shutting down',
    explanation: 'It finishes what it has begun and takes nothing new. Send the request again shortly.',
  },
  'internal-error': {
    status: 500,
    title: 'Something went wrong here',
    explanation: 'An unforeseen fault of the service itself. It was recorded under the id in X-Request-Id.',
  },
} as const satisfies Record<string, ProblemKind>;

export type ProblemSlug = keyof typeof PROBLEMS;

export const isProblemSlug = (text: string): text is ProblemSlug => Object.hasOwn(PROBLEMS, text);

/** One fault of the request: where (JSON Pointer) and what to change. */
export interface Fault {
  readonly pointer: string;
  readonly detail: string;
}

/** A problem on its way to the client. */
export interface Problem {
  readonly slug: ProblemSlug;
  readonly detail: string;
  readonly errors?: readonly Fault[];
  /** Further members of the body, plain JSON. */
  readonly members?: Readonly<Record<string, unknown>>;
  /** Seconds for Retry-After. */
  readonly retryAfter?: number;
}

/** Address of a problem type; it answers GET with its explanation. */
export const problemType = (slug: ProblemSlug): string => `/problems/${slug}`;

/** Body of application/problem+json. */
export const problemBody = (problem: Problem): Record<string, unknown> => {
  const kind = PROBLEMS[problem.slug];
  return {
    type: problemType(problem.slug),
    title: kind.title,
    status: kind.status,
    detail: problem.detail,
    ...(problem.errors === undefined ? {} : { errors: problem.errors }),
    ...problem.members,
  };
};

/** A problem thrown from a route to the error handler. */
export class ProblemError extends Error {
  readonly problem: Problem;

  constructor(problem: Problem) {
    super(problem.detail);
    this.name = 'ProblemError';
    this.problem = problem;
  }
}
