import type { Display } from './model.js';

export interface Scale {
  /** mm of the room per mm of paper. */
  readonly ratio: number;
  readonly name: string;
}

const METRIC: readonly Scale[] = [10, 20, 25, 50, 100, 200, 500].map((ratio) => ({
  ratio,
  name: `1:${ratio}`,
}));

const IMPERIAL: readonly Scale[] = [
  { ratio: 12, name: `1" = 1' 0"` },
  { ratio: 16, name: `3/4" = 1' 0"` },
  { ratio: 24, name: `1/2" = 1' 0"` },
  { ratio: 48, name: `1/4" = 1' 0"` },
  { ratio: 96, name: `1/8" = 1' 0"` },
  { ratio: 192, name: `1/16" = 1' 0"` },
  { ratio: 384, name: `1/32" = 1' 0"` },
];

/** The largest standard scale for which `fits` holds, or the smallest there is. */
export const standardScale = (display: Display, fits: (scale: Scale) => boolean): Scale => {
  const scales = display === 'metric' ? METRIC : IMPERIAL;
  return scales.find(fits) ?? scales.at(-1) ?? { ratio: 100, name: '1:100' };
};
