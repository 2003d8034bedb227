/** Invented requests for the document and for people to paste. */

export const LAYOUT_EXAMPLE = {
  lattice: { pitch: 30, origin: [0, 0] },
  spacing: { min: 2, target: 3, max: 3 },
  zones: [
    {
      id: 'shower',
      wet: true,
      outline: [
        [0, 0],
        [1200, 0],
        [1200, 900],
        [0, 900],
      ],
      clearance: 50,
      exclusions: [{ id: 'drain', center: [600, 450], radius: 60, clearanceStuds: 2 }],
      buffer: {
        outline: [
          [0, 0],
          [1200, 0],
          [1200, 150],
          [0, 150],
        ],
      },
      entry: [60, 840],
    },
  ],
  catalogue: [
    { id: 'A8', length: 8000, power: 96, voltage: 230, minBendRadius: 15 },
    { id: 'A9', length: 9500, power: 114, voltage: 230, minBendRadius: 15 },
    { id: 'A11', length: 11000, power: 132, voltage: 230, minBendRadius: 15 },
  ],
  effort: 'quick',
};
