/** An invented small shower, as it is sent. */
export const showerRequest = () => ({
  lattice: { pitch: 30, origin: [0, 0] },
  spacing: { min: 2, target: 3, max: 3 },
  zones: [
    {
      id: 'shower',
      wet: true,
      outline: [
        [0, 0],
        [900, 0],
        [900, 900],
        [0, 900],
      ],
      clearance: 30,
      exclusions: [{ id: 'drain', center: [450, 480], radius: 50, clearanceStuds: 1 }],
      buffer: {
        outline: [
          [0, 0],
          [900, 0],
          [900, 200],
          [0, 200],
        ],
      },
      entry: [60, 840],
    },
  ],
  catalogue: [
    { id: 'S5', length: 5000, power: 60, voltage: 230, minBendRadius: 15 },
    { id: 'S7', length: 7000, power: 84, voltage: 230, minBendRadius: 15 },
  ],
  effort: 'quick',
});

export type ShowerRequest = ReturnType<typeof showerRequest>;

/** The same request for the fake worker: the zone's id says what it does. */
export const fakeRequest = (zone: string) => {
  const request = showerRequest();
  return { ...request, zones: [{ ...request.zones[0], id: zone }] };
};

const box = (x0: number, y0: number, x1: number, y1: number) => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

/** An invented bathroom of 2.4 x 2.1 m with a shower of 0.9 x 1.2 m behind a curb. */
export const bathroomRequest = () => ({
  lattice: { pitch: 30, origin: [0, 0] },
  spacing: { min: 2, target: 3, max: 3 },
  zones: [
    {
      id: 'floor',
      outline: box(0, 0, 2400, 2100),
      clearance: 50,
      exclusions: [
        { id: 'vanity', outline: box(0, 1550, 1200, 2100), clearance: 0 },
        { id: 'wc', center: [1900, 1750], radius: 180, clearance: 50 },
      ],
      buffer: { outline: box(0, 0, 200, 1550) },
      entry: [1350, 60],
    },
    {
      id: 'shower',
      wet: true,
      outline: box(2500, 0, 3400, 1200),
      clearance: 50,
      buffer: { outline: box(3200, 0, 3400, 1200) },
      drain: { center: [2950, 600], radius: 60 },
      curb: { outline: box(2400, 0, 2500, 1200), height: 100 },
      dryZone: 'floor',
    },
  ],
  catalogue: [9, 10, 11.5, 13, 15, 17, 20, 23, 27, 31, 36, 41, 47].map((metres) => ({
    id: `C${metres}`,
    length: metres * 1000,
    power: metres * 12,
    voltage: 230,
    minBendRadius: 15,
    coldLead: 4000,
  })),
  thermostat: { at: [1500, 0] },
  marks: { start: 100, direction: 'down' },
  supply: { region: 'IEC', voltage: 230, alloy: { kind: 'nichrome' }, braid: true, groundFaultTrip: 0.03 },
  effort: 'quick',
});
