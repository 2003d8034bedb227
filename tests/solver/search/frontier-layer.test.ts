import { describe, expect, it } from 'vitest';
import {
  colourIn,
  FrontierLayer,
  looseIn,
  openIn,
  originOf,
  pairsIn,
} from '../../../solver/search/frontier-layer.js';
import { edgePotential } from '../../../solver/search/frontier-potential.js';
import { FrontierStep, wordsFor } from '../../../solver/search/frontier-step.js';
import { sweepView } from '../../../solver/search/frontier-view.js';
import { randomGridTask, seeded } from '../../helpers/grid-tasks.js';

const LOOSE = 3;

describe('the census of a state', () => {
  // Oracle: the plugs counted one by one.
  it('says what its key says, after every step of a sweep', () => {
    const random = seeded(21);
    let states = 0;
    let most = 0;
    for (let k = 0; k < 300; k++) {
      const task = randomGridTask(random, k % 10 === 0 ? 24 : 6, 24);
      const view = sweepView(task, k % 2 === 0 ? 'rows' : 'columns', k % 3 === 0);
      const { width, present } = view;
      const words = wordsFor(width);
      let [layer, next] = [new FrontierLayer(words), new FrontierLayer(words)];
      const finish = { cost: Infinity, parent: -1 };
      const step = new FrontierStep(view, edgePotential(view, 8), finish, next);
      layer.offer(new Int32Array(words), 0, 0, 0, originOf(-1, 0));
      let before = 0;
      for (let cell = 0; cell < present.length; cell++) {
        if (present[cell] === 0) continue;
        const row = Math.floor(cell / width);
        next.clear();
        step.run(layer, next, 0, cell, row !== before);
        before = row;
        [layer, next] = [next, layer];
        const column = cell % width;
        for (let i = 0; i < layer.count; i++) {
          let [open, loose, colour] = [0, 0, 0];
          for (let p = 0; p <= width; p++) {
            const plug = (layer.keys[i * words + (p >> 4)] >>> (2 * (p & 15))) & 3;
            if (plug === 0) continue;
            open++;
            if (plug === LOOSE) loose++;
            // Up to the cell's column plugs lead down, the next one right, those beyond into the cell's own row.
            const [r, c] = p <= column ? [row + 1, p] : [row, p === column + 1 ? p : p - 1];
            colour += (r + c) % 2 === 0 ? 1 : -1;
          }
          const census = layer.censuses[i];
          expect([openIn(census), looseIn(census), colourIn(census)]).toEqual([open, loose, colour]);
          expect(2 * pairsIn(census)).toBe(open - loose);
          most = Math.max(most, open);
        }
        states += layer.count;
      }
    }
    expect(states).toBeGreaterThan(5000);
    expect(most).toBeGreaterThan(5);
  });
});
