import type { CustodyRecord, CustodySample } from '../../../src/documents/custody/custody-facts.ts';

const voc = {
  count: 3,
  type: 'glass vial with septum',
  volumeMl: '40',
  preservative: 'HCl to pH < 2',
  filtered: false,
};
const metals = { count: 1, type: 'HDPE bottle', volumeMl: '500', preservative: 'HNO3 to pH < 2', filtered: true };

export function exampleSample(number: string, at: string): CustodySample {
  return {
    sampleNumber: number,
    labelTime: { at },
    matrix: 'groundwater',
    samplingPoint: `GW-${number.slice(-3)}`,
    containers: [
      { ...voc, analyses: ['volatile organic compounds'] },
      { ...metals, analyses: ['dissolved metals', 'hardness'] },
    ],
    turnaround: '10 days',
  };
}

/** A cooler of an invented firm. */
export const exampleRecord: CustodyRecord = {
  recordNumber: 'R-2026-05-C2',
  madeAt: '2026-05-08T20:11:00Z',
  timeZone: 'America/New_York',
  firm: { name: 'Example Field Services', contact: 'B. Sample, +1 555 0100' },
  site: { name: 'Old tannery', number: 'S-17' },
  project: { name: 'Second quarter round', number: '26-041' },
  laboratory: { name: 'Example Laboratory', address: '1 Beaker Way, Springfield', contact: 'Sample desk' },
  cooler: {
    number: 'C2',
    packedAt: '2026-05-08T18:40:00Z',
    shippedAt: '2026-05-08T20:05:00Z',
    shipper: 'courier',
    trackingNumber: 'TRK 0042 7781',
    ice: 'wet ice, two bags, above and below',
  },
  samples: [
    exampleSample('W26-113', '2026-05-07T14:42:00Z'),
    {
      ...exampleSample('W26-104', '2026-05-07T18:05:00Z'),
      sampleNumber: 'W26-104',
      isForMatrixSpike: true,
      containers: [
        { ...voc, analyses: ['volatile organic compounds'] },
        { ...metals, analyses: ['dissolved metals', 'hardness'], spikeAnalyses: ['dissolved metals'] },
      ],
      labelTime: {
        corrected: {
          now: '2026-05-07 14:05 -04:00',
          was: [
            { text: '2026-05-07 14:50 -04:00', initials: 'AB', at: '2026-05-07T18:20:00Z', reason: 'digits swapped' },
          ],
        },
      },
      remark: 'triple volume for MS/MSD',
    },
  ],
  collectors: [
    { name: 'Alex Brook', organization: 'Example Field Services', initials: 'AB', at: '2026-05-08T18:45:00Z' },
  ],
  seals: [
    { number: '004411', appliedAt: '2026-05-08T18:44:00Z', by: 'AB' },
    {
      number: { now: '004412', was: [{ text: '004421', initials: 'AB', at: '2026-05-08T18:46:00Z' }] },
      appliedAt: '2026-05-08T18:45:00Z',
      by: 'AB',
      brokenAt: '2026-05-09T13:02:00Z',
    },
  ],
  pairs: [
    {
      relinquished: { name: 'Alex Brook', organization: 'Example Field Services', at: '2026-05-08T20:05:00Z' },
      received: { name: 'C. Driver', organization: 'courier', at: '2026-05-08T20:07:00Z' },
      place: 'depot',
      reason: 'transport',
    },
    { received: { name: 'D. Desk', organization: 'Example Laboratory', at: '2026-05-09T13:00:00Z' } },
  ],
  gaps: [
    {
      from: '2026-05-08T20:07:00Z',
      until: '2026-05-09T13:00:00Z',
      sentence: 'The carrier has no relinquish on record; the seals were found intact.',
    },
  ],
  receipt: {
    receivedBy: 'D. Desk',
    organization: 'Example Laboratory',
    at: '2026-05-09T13:00:00Z',
    temperatureC: '4.6',
    temperatureOf: 'temperature blank',
    ice: true,
    sealsIntact: true,
    sealNumbers: ['004411', '004412'],
    containersCounted: 8,
    laboratoryId: 'L26-5512',
    conditions: [{ label: 'W26-113-1', condition: 'headspace', remark: 'bubble of 4 mm' }],
  },
  remarks: ['ΔT of the ice pack ≤ 2 °C; H₂SO₄ bottles are in cooler C3.'],
};
