import { z } from 'zod';
import { ADDRESSEES, SEVERITIES } from '../../protocol/kinds/flag.ts';
import { ITEM_CONDITIONS } from '../../protocol/kinds/sample-receipt.ts';
import { id, instant } from '../../protocol/primitives.ts';
import type { CoolerFacts, Packed } from './cooler-facts.ts';
import { standingOf } from './cooler-standing.ts';
import type { Signer } from './custody-change.ts';
import { custodyFindings } from './custody-findings.ts';
import type { Beside } from './custody-rule.ts';
import { nightsKept } from './nights.ts';
import { receiptJudged } from './receipt-judged.ts';

export const custodyInput = z.strictObject({});

const text = z.string().nullable();
const at = instant.nullable();

const signer = z.strictObject({
  record: id,
  at: instant,
  name: z.string(),
  organization: text,
  to: text.describe('Of who relinquished: to whom'),
  isReceipt: z.boolean().describe('Nobody signed; the laboratory recorded that it received the cooler'),
});

const change = z.strictObject({
  number: z.int().nullable(),
  relinquished: signer.nullable(),
  received: signer.nullable(),
  place: text,
  purpose: text,
  isCarrierLeg: z
    .boolean()
    .describe(
      'Counts as custody: a carrier had it under a tracking number, with a seal whole from the one to the other',
    ),
  order: z
    .enum(['in-order', 'note', 'question'])
    .nullable()
    .describe('Note: two clocks differ; null with a side missing'),
});

const content = z.strictObject({
  container: id,
  label: z.string(),
  group: z.string(),
  standing: z.string(),
  collected: at,
  laboratory: id.nullable().describe('Where it is to go, as its sample or the plan says'),
});

const candidate = z.strictObject({
  container: id,
  label: z.string(),
  reasons: z.array(z.string()),
  against: z.array(z.string()),
});

const receipt = z.strictObject({
  receipt: id,
  received: instant,
  isTemperatureRecorded: z.boolean(),
  expected: z.int(),
  counted: z.int().nullable(),
  containers: z.array(
    z.strictObject({
      container: id,
      label: z.string(),
      readingC: text,
      atMostC: text.describe('Null where it need not be cool, or no document says'),
      cold: z.enum([
        'within',
        'too-warm',
        'warm-same-day',
        'below-zero',
        'no-limit',
        'not-recorded',
        'not-known',
        'not-preserved',
      ]),
      source: text,
    }),
  ),
  missing: z.array(z.strictObject({ container: id, label: z.string() })),
  extra: z.array(
    z.strictObject({
      label: z.string(),
      condition: z.enum(ITEM_CONDITIONS),
      container: id.nullable().describe('Of that label in this event'),
      cooler: id.nullable().describe('In which that is packed'),
    }),
  ),
  unlabelled: z
    .array(z.strictObject({ label: z.string(), candidates: z.array(candidate) }))
    .describe('The likeliest first; a person decides'),
});

export const custodyOutput = z.strictObject({
  cooler: id,
  event: id,
  number: z.string(),
  laboratory: text,
  standing: z.enum(['being-packed', 'kept', 'on-the-way', 'at-laboratory']),
  holder: text.describe('Who has it now, as far as anybody signed; a carrier where it is on the way'),
  since: at,
  changes: z.array(change),
  gaps: z.array(z.strictObject({ kind: z.string(), from: at, until: at, sentence: z.string(), records: z.array(id) })),
  holders: z
    .array(z.strictObject({ holder: text, from: at, until: at }))
    .describe(
      'Who had it from when until when; null for a time for which nobody signed. From hand to hand: no time runs back, where clocks did',
    ),
  seals: z.array(z.strictObject({ seal: id, number: z.string(), applied: instant, by: text, broken: at })),
  checks: z.array(
    z.strictObject({
      check: id,
      at: z.string(),
      temperatureC: text,
      ice: z.boolean().nullable(),
      place: text,
      sealsIntact: z.boolean().nullable(),
    }),
  ),
  nights: z
    .array(z.strictObject({ day: z.string(), checks: z.array(id) }))
    .describe('Through which it was kept before it was given to a carrier or the laboratory'),
  contents: z.array(content),
  receipts: z.array(receipt),
  findings: z.array(
    z.strictObject({
      code: z.string(),
      severity: z.enum(SEVERITIES),
      addressee: z.enum(ADDRESSEES),
      subjectKind: z.string(),
      subject: id,
      sentence: z.string(),
      source: z.string(),
      isStored: z.boolean().describe('Stored as a flag too; the others depend on the time, or on what was corrected'),
    }),
  ),
});
export type CustodyTold = z.output<typeof custodyOutput>;

function contentOf({ container, collected, laboratory }: Packed): CustodyTold['contents'][number] {
  const { label, group, standing } = container.fields;
  return { container: container.id, label, group, standing, collected, laboratory };
}

function named({ container }: Packed) {
  return { container: container.id, label: container.fields.label };
}

function receiptsTold(facts: CoolerFacts): CustodyTold['receipts'] {
  return facts.receipts.map((one) => {
    const judged = receiptJudged(one, facts);
    return {
      receipt: one.id,
      received: one.fields.received,
      isTemperatureRecorded: judged.isTemperatureRecorded,
      expected: judged.expected,
      counted: judged.counted,
      containers: judged.cold.map(({ packed, readingC, limit, judgement }) => ({
        ...named(packed),
        readingC,
        atMostC: limit?.atMostC ?? null,
        cold: judgement,
        source: limit?.source ?? null,
      })),
      missing: judged.missing.map(named),
      extra: judged.extra.map(({ label, condition }) => {
        const known = facts.elsewhere.find(({ fields }) => fields.label === label);
        return { label, condition, container: known?.id ?? null, cooler: known?.fields.cooler ?? null };
      }),
      unlabelled: judged.unlabelled.map(({ item, candidates }) => ({
        label: item.label,
        candidates: candidates.map(({ packed, reasons, against }) => ({
          ...named(packed),
          reasons: [...reasons],
          against: [...against],
        })),
      })),
    };
  });
}

function signerTold(one: Signer | null): CustodyTold['changes'][number]['relinquished'] {
  return one && { ...one };
}

function recordsTold({ seals, checks }: CoolerFacts): Pick<CustodyTold, 'seals' | 'checks'> {
  return {
    seals: seals.map(({ id: seal, fields: { number, applied, appliedBy, broken } }) => ({
      seal,
      number,
      applied,
      by: appliedBy ?? null,
      broken: broken ?? null,
    })),
    checks: checks.map(({ id: check, fields: { observed, temperatureC, ice, place, sealsIntact } }) => ({
      check,
      at: observed.at,
      temperatureC: temperatureC ?? null,
      ice: ice ?? null,
      place: place ?? null,
      sealsIntact: sealsIntact ?? null,
    })),
  };
}

/** Who has a cooler, who had it, what is in it, what was received, and what is to be asked about all that. */
export function custodyTold(facts: CoolerFacts, beside: Beside): CustodyTold {
  const { cooler, custody, laboratoryName } = facts;
  return {
    cooler: cooler.id,
    event: cooler.fields.event,
    number: cooler.fields.number,
    laboratory: laboratoryName,
    ...standingOf(facts),
    changes: custody.changes.map(({ relinquished, received, reading, ...one }) => ({
      ...one,
      relinquished: signerTold(relinquished),
      received: signerTold(received),
      order: reading?.order ?? null,
    })),
    gaps: custody.gaps.map((gap) => ({ ...gap, records: [...gap.records] })),
    holders: custody.stretches.map((one) => ({ ...one })),
    ...recordsTold(facts),
    nights: nightsKept(facts, beside.now).map(({ day, checks }) => ({ day, checks: checks.map((one) => one.id) })),
    contents: facts.packed.map(contentOf),
    receipts: receiptsTold(facts),
    findings: custodyFindings(facts, beside).map(({ rule, subjectKind, subject, sentence }) => {
      const { code, severity, addressee, source, isStored } = rule;
      return { code, severity, addressee, subjectKind, subject, sentence, source, isStored };
    }),
  };
}
