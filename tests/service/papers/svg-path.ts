/** Length of path data made of absolute M, L, A (circular, shorter way) and Z, measured from the data alone. */
export const pathDataLength = (d: string): number => {
  let total = 0;
  let [x, y] = [0, 0];
  for (const [, command = '', body = ''] of d.matchAll(/([MLAZ])([^MLAZ]*)/g)) {
    const n = body
      .trim()
      .split(/[\s,]+/)
      .map(Number);
    const [tx, ty] = command === 'A' ? [n[5] ?? 0, n[6] ?? 0] : [n[0] ?? 0, n[1] ?? 0];
    const chord = Math.hypot(tx - x, ty - y);
    if (command === 'L') total += chord;
    if (command === 'A') {
      const r = n[0] ?? 0;
      total += 2 * r * Math.asin(Math.min(1, chord / (2 * r)));
    }
    [x, y] = [tx, ty];
  }
  return total;
};
