import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import { listText } from '../../flags/list-text.ts';
import { isBefore } from '../contents-changes.ts';
import type { CoolerFacts } from '../cooler-facts.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';
import type { FormerValue } from '../former-values.ts';
import { handOverSignatures, signedText } from '../signatures.ts';

const { oneLineThrough } = CUSTODY_RULES;

const PRESERVATIVES = {
  record: 'bottle MW-1-1',
  kind: 'container',
  field: 'preservatives',
  was: 'none',
  is: 'nitric acid',
  by: null,
  reason: null,
};

/** A bottle that was moved is told by a rule of its own; that it was filled puts right nothing that somebody signed. */
function isCorrection({ kind, field, was, is }: FormerValue): boolean {
  const isOther = kind === 'container' && (field === 'cooler' || (field === 'standing' && is === 'filled'));
  return was !== '' && !isOther;
}

function told({ record, field, was, is, by }: FormerValue, { packed }: CoolerFacts): string {
  const label = packed.find(({ container }) => container.id === record)?.container.fields.label;
  return `${field}${label === undefined ? '' : ` of ${label}`} from "${was}" to "${is}"${by ? ` by ${by}` : ''}`;
}

export const correctedAfterSigning: CustodyRule = {
  code: 'corrected-after-signing',
  title: 'The custody record was corrected after somebody signed it',
  severity: 'note',
  addressee: 'office',
  source: oneLineThrough.source,
  verified: oneLineThrough.verified,
  isStored: false,
  find(facts, { former, writers }) {
    const signatures = handOverSignatures(facts, writers).toSorted((a, b) => a.sinceMs - b.sinceMs);
    const corrections = former.filter(isCorrection);
    const its = corrections.filter(({ written }) => signatures.some((one) => isBefore(one, written)));
    const signed = signatures.find((one) => its.some(({ written }) => isBefore(one, written)));
    if (signed === undefined) return [];
    const why = its.every(({ reason }) => reason) ? '' : ' Say why, where no reason is given.';
    return aboutCooler(
      facts,
      `After ${signedText(signed, facts.timeZone)}, when it was first signed for, was corrected: ${listText(its.map((one) => told(one, facts)))}. The record shows both, struck through and new; who has a copy from before needs a new one.${why}`,
      its.map(({ record, field, is }) => shows(record, field, is)),
    );
  },
  vectors: [
    {
      name: 'the number of the cooler',
      given: {
        hands: [['out', '17:00', 'Ann Poe']],
        former: [
          {
            record: 'cooler',
            kind: 'cooler',
            field: 'number',
            was: 'C-7',
            is: 'C-1',
            at: '18:00',
            by: 'Ann Poe',
            reason: 'misread',
          },
        ],
      },
      expect: 'number from "C-7" to "C-1" by Ann Poe',
    },
    {
      name: 'before it was signed',
      given: {
        hands: [['out', '17:00', 'Ann Poe']],
        former: [
          {
            record: 'cooler',
            kind: 'cooler',
            field: 'number',
            was: 'C-7',
            is: 'C-1',
            at: '16:00',
            by: null,
            reason: null,
          },
        ],
      },
      expect: null,
    },
    {
      name: 'first given after it was signed',
      given: {
        hands: [['out', '17:00', 'Ann Poe']],
        former: [
          {
            record: 'cooler',
            kind: 'cooler',
            field: 'trackingNumber',
            was: '',
            is: '7001',
            at: '18:00',
            by: null,
            reason: null,
          },
        ],
      },
      expect: null,
    },
    {
      name: 'captured without a signal before it was signed, and heard of later',
      given: {
        bottles: { 'MW-1-1': {} },
        hands: [['out', '17:00', 'Ann Poe']],
        former: [{ ...PRESERVATIVES, at: '20:00', captured: '16:30' }],
      },
      expect: null,
    },
    {
      name: 'heard of after it was signed, and no clock says when it was captured',
      given: {
        bottles: { 'MW-1-1': {} },
        hands: [['out', '17:00', 'Ann Poe']],
        former: [{ ...PRESERVATIVES, at: '20:00', uncertaintyMs: null }],
      },
      expect: null,
    },
    {
      name: 'a bottle, captured after it was signed, kept by the firm before it was closed',
      given: {
        cooler: { packed: '+1 12:00' },
        bottles: { 'MW-1-1': {} },
        hands: [['out', '17:00', 'Ann Poe']],
        former: [{ ...PRESERVATIVES, at: '20:00', captured: '18:00' }],
      },
      expect:
        'After 2026-05-04 17:00, when it was first signed for, was corrected: preservatives of MW-1-1 from "none" to',
    },
    {
      name: 'bottles that were filled',
      given: {
        bottles: { 'MW-1-1': {} },
        hands: [['out', '17:00', 'Ann Poe']],
        former: [{ ...PRESERVATIVES, field: 'standing', was: 'expected', is: 'filled', at: '20:00' }],
      },
      expect: null,
    },
    { name: 'nothing was corrected', given: { hands: [['out', '17:00', 'Ann Poe']] }, expect: null },
  ],
};
