import { z } from 'zod';

const text = z.string();
const maybe = text.optional();

const old = z.strictObject({ text, initials: text, at: text, reason: maybe });
const corrected = z
  .strictObject({ now: text, was: z.array(old).describe('The oldest first') })
  .meta({ id: 'CorrectedText', description: 'A value that was corrected: what it was is struck through on the paper' });
const written = z.union([text, corrected]);

const signer = z.strictObject({ name: text, organization: maybe, initials: maybe, at: maybe });

const mark = z
  .strictObject({ initials: text, day: text })
  .meta({ id: 'AfterSigningMark', description: 'Who did it, and on which day by the calendar of the site' });

const containers = z.strictObject({
  count: z.int(),
  type: text,
  volumeMl: maybe,
  preservative: written.optional(),
  filtered: z.boolean().optional(),
  analyses: z.array(text),
  spikeAnalyses: z.array(text).optional().describe('What is to be spiked out of them'),
  added: mark
    .optional()
    .describe('After somebody signed for the cooler; in an event with a blind duplicate the remarks count them'),
  takenOut: mark.optional().describe('After somebody signed for the cooler: struck through on the paper, not counted'),
  remark: maybe,
});

const sample = z.strictObject({
  sampleNumber: written.describe('As told to the laboratory'),
  labelTime: z.union([z.strictObject({ at: text }), z.strictObject({ corrected })]),
  matrix: written,
  samplingPoint: written,
  containers: z.array(containers),
  isForMatrixSpike: z.boolean().optional(),
  spikeOf: maybe.describe('Of a matrix spike, the number as told of the sample that is spiked'),
  turnaround: written.optional(),
  remark: maybe,
});

const receipt = z.strictObject({
  receivedBy: text,
  organization: maybe,
  at: text,
  temperatureC: maybe,
  temperatureOf: maybe,
  ice: z.boolean().optional(),
  sealsIntact: z.boolean().optional(),
  sealNumbers: z.array(text).optional(),
  containersCounted: z.int().optional(),
  laboratoryId: maybe,
  conditions: z.array(z.strictObject({ label: text, condition: text, remark: maybe })),
  remark: maybe,
});

/** The same facts that the document is drawn from. */
export const custodyRecordShape = z
  .strictObject({
    recordNumber: text,
    madeAt: text,
    timeZone: text,
    firm: z.strictObject({ name: text, contact: maybe }),
    site: z.strictObject({ name: text, number: maybe }),
    project: z.strictObject({ name: text, number: maybe }).optional(),
    laboratory: z.strictObject({ name: text, address: maybe, contact: maybe }).optional(),
    cooler: z.strictObject({
      number: written,
      packedAt: maybe,
      shippedAt: maybe,
      shipper: written.optional(),
      trackingNumber: written.optional(),
      ice: maybe,
    }),
    samples: z.array(sample).describe('In the order of the told numbers'),
    collectors: z.array(signer),
    seals: z.array(z.strictObject({ number: written, appliedAt: maybe, by: maybe, brokenAt: maybe })),
    pairs: z.array(
      z.strictObject({
        relinquished: signer.optional(),
        received: signer.optional(),
        place: maybe,
        reason: maybe,
      }),
    ),
    gaps: z.array(z.strictObject({ from: maybe, until: maybe, sentence: text })),
    receipt: receipt.optional().describe('The first'),
    laterReceipts: z.array(receipt).optional().describe('What the laboratory said of it since, each as it was said'),
    remarks: z.array(text),
  })
  .meta({ id: 'CustodyRecord' });
