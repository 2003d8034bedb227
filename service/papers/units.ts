import type { Display } from './model.js';

const MM_PER_INCH = 25.4;
const SQ_FT_PER_M2 = 1 / 0.3048 ** 2;

/** Length in feet and inches to the nearest 1/8 in: 2400 -> `7' 10 1/2"`. */
export const feetInches = (mm: number): string => {
  const eighths = Math.round((Math.abs(mm) / MM_PER_INCH) * 8);
  const sign = mm < 0 && eighths > 0 ? '-' : '';
  const feet = Math.floor(eighths / 96);
  const inches = Math.floor((eighths % 96) / 8);
  const rest = eighths % 8;
  const divisor = rest % 4 === 0 ? 4 : rest % 2 === 0 ? 2 : 1;
  const fraction = rest === 0 ? '' : `${rest / divisor}/${8 / divisor}`;
  const whole = inches === 0 && fraction !== '' ? '' : String(inches);
  const tail = [whole, fraction].filter((part) => part !== '').join(' ');
  return feet === 0 ? `${sign}${tail}"` : `${sign}${feet}' ${tail}"`;
};

/** Plain decimal without trailing zeros and without a negative zero. */
export const decimal = (value: number, places: number): string => {
  const text = value.toFixed(places);
  const trimmed = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return trimmed === '-0' ? '0' : trimmed;
};

/** Length on a dimension line: bare millimetres, or feet and inches. */
export const dimensionText = (mm: number, display: Display): string =>
  display === 'metric' ? decimal(mm, 0) : feetInches(mm);

/** Length in running text, metres above one metre. */
export const lengthText = (mm: number, display: Display): string => {
  if (display === 'imperial') return feetInches(mm);
  return Math.abs(mm) >= 1000 ? `${(mm / 1000).toFixed(2)} m` : `${decimal(mm, 0)} mm`;
};

/** Length in a table column, always in metres on metric papers. */
export const columnText = (mm: number, display: Display): string =>
  display === 'imperial' ? feetInches(mm) : `${(mm / 1000).toFixed(2)} m`;

/** Metre mark as printed on a cable: metres on all papers. */
export const markText = (mm: number): string => (mm / 1000).toFixed(2);

export const areaText = (m2: number, display: Display): string =>
  display === 'metric' ? `${m2.toFixed(2)} m²` : `${(m2 * SQ_FT_PER_M2).toFixed(1)} sq ft`;

export const percentText = (fraction: number): string => `${(fraction * 100).toFixed(1)} %`;
