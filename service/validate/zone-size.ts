import { signedArea } from '../../solver/geometry/measure.js';
import type { Ring } from '../../solver/problem.js';
import { SIZES } from '../limits.js';
import type { Fault } from '../problems.js';
import { fieldName, jsonPointer, type PathPart } from './pointer.js';

const MM2_PER_M2 = 1e6;

/** Limits on the size of a zone; `outline` has no fault of its own. */
export const zoneSizeFaults = (outline: Ring, pitch: number, path: readonly PathPart[]): readonly Fault[] => {
  const xs = outline.map(([x]) => x);
  const ys = outline.map(([, y]) => y);
  const width = Math.max(...xs) - Math.min(...xs);
  const height = Math.max(...ys) - Math.min(...ys);
  const name = fieldName(path);
  const pointer = jsonPointer(path);
  const faults: Fault[] = [];
  const longest = Math.max(width, height);
  if (longest > SIZES.zoneSide) {
    faults.push({
      pointer,
      detail: `${name} measures ${longest} mm along its longer side; at most ${SIZES.zoneSide} mm are allowed. Split the zone, or check that coordinates are in mm.`,
    });
  }
  const area = Math.abs(signedArea(outline)) / MM2_PER_M2;
  if (area > SIZES.zoneArea) {
    faults.push({
      pointer,
      detail: `${name} encloses ${area.toFixed(2)} m2; at most ${SIZES.zoneArea} m2 are allowed. Split the zone, or check that coordinates are in mm.`,
    });
  }
  const nodes = (Math.floor(width / pitch) + 1) * (Math.floor(height / pitch) + 1);
  if (faults.length === 0 && nodes > SIZES.latticeNodes) {
    faults.push({
      pointer,
      detail: `${name} spans ${nodes} stud crossings at a pitch of ${pitch} mm; at most ${SIZES.latticeNodes} are allowed. Split the zone or use a larger pitch.`,
    });
  }
  return faults;
};
