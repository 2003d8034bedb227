/** Figures as people read them in sentences. */

export const mm = (length: number): string => `${Math.round(length)} mm`;

export const percent = (fraction: number): string => `${(100 * fraction).toFixed(1)} %`;

export const wattsPerArea = (density: number): string => `${density.toFixed(1)} W/m2`;

export const plural = (count: number, noun: string): string => `${count} ${noun}${count === 1 ? '' : 's'}`;
