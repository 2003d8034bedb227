/** Version of the package. */
export const SERVICE_VERSION = '0.1.0';

/** Part of every id: raised whenever the same request may give another layout or another response. */
export const SOLVER_VERSION = '1';
