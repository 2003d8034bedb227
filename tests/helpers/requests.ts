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
