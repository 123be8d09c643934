import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import { timeText } from '../clocks.ts';
import { type AfterSigning, afterSigning } from '../contents-changes.ts';
import type { CoolerFacts } from '../cooler-facts.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';
import { signaturesOf, signedText } from '../signatures.ts';

const { oneLineThrough, beforeRelease } = CUSTODY_RULES;

function how({ change: { act, other } }: AfterSigning): string {
  if (act === 'added') return other === null ? 'added' : `added from cooler ${other}`;
  return act === 'taken out' && other !== null ? `put into cooler ${other}` : act;
}

/** What one person did with several bottles in one minute is told once. */
function told(its: readonly AfterSigning[], { timeZone }: CoolerFacts): readonly string[] {
  const groups = new Map<string, string[]>();
  for (const one of its) {
    const { change, signature } = one;
    const who = change.by === null ? '' : ` by ${change.by}`;
    const why = change.reason === null ? '' : ` (${change.reason})`;
    const after = `after ${signature.says} ${signedText(signature, timeZone)}`;
    const rest = `${how(one)}${who} ${timeText(change.at, timeZone)}, ${after}${why}`;
    groups.set(rest, [...(groups.get(rest) ?? []), change.label]);
  }
  return [...groups].map(([rest, labels]) => {
    const all = labels.toSorted();
    return `${all.join(', ')} ${all.length === 1 ? 'was' : 'were'} ${rest}.`;
  });
}

export const contentsChangedAfterSigning: CustodyRule = {
  code: 'contents-changed-after-signing',
  title: 'Bottles were put into a cooler or taken out of it after somebody signed for it',
  severity: 'question',
  addressee: 'office',
  source: `${oneLineThrough.source}; record and containers agree before a cooler goes: ${beforeRelease.source}`,
  verified: oneLineThrough.verified,
  isStored: false,
  find(facts, { contents, writers }) {
    const its = afterSigning(contents, signaturesOf(facts, writers));
    if (its.length === 0) return [];
    const why = its.every(({ change }) => change.reason) ? '' : ' Say why, where no reason is given.';
    return aboutCooler(
      facts,
      `${told(its, facts).join(' ')} The record shows what left struck through, and what came as added after signing; who has a copy from before needs a new one.${why}`,
      its.flatMap(({ change, signature }) => [
        shows(change.container, 'cooler', change.label),
        shows(signature.record, 'at', signature.at),
      ]),
    );
  },
  vectors: [
    {
      name: 'moved to another cooler after it was relinquished',
      given: {
        cooler: { packed: '16:30' },
        hands: [['out', '17:00', 'Ann Poe']],
        contents: [{ label: 'MW-1-1', act: 'taken out', at: '17:30', by: 'Ben Roe', other: 'C-2' }],
      },
      expect:
        'MW-1-1 was put into cooler C-2 by Ben Roe 2026-05-04 17:30, after Ann Poe relinquished it 2026-05-04 17:00.',
    },
    {
      name: 'two added after it was received, with a reason',
      given: {
        cooler: { packed: '16:30' },
        hands: [
          ['out', '17:00', 'Ann Poe'],
          ['in', '17:05', 'Cy Loe'],
        ],
        contents: [
          { label: 'MW-2-1', act: 'added', at: '17:30', by: 'Ben Roe', reason: 'was forgotten' },
          { label: 'MW-1-1', act: 'added', at: '17:30', by: 'Ben Roe', reason: 'was forgotten' },
        ],
      },
      expect:
        'MW-1-1, MW-2-1 were added by Ben Roe 2026-05-04 17:30, after Cy Loe received it 2026-05-04 17:05 (was forgotten).',
    },
    {
      name: 'discarded behind a seal that nobody broke',
      given: { seals: [['S-1', '16:40']], contents: [{ label: 'MW-1-1', act: 'discarded', at: '17:30' }] },
      expect: 'MW-1-1 was discarded 2026-05-04 17:30, after seal S-1 was put on 2026-05-04 16:40. The record',
    },
    {
      name: 'packed before it was signed for, and heard of later',
      given: {
        cooler: { packed: '16:30' },
        hands: [['out', '17:00', 'Ann Poe']],
        contents: [{ label: 'MW-1-1', act: 'added', at: '16:50', by: 'Ben Roe' }],
      },
      expect: null,
    },
    {
      name: 'signed on paper, and all of it typed in the evening',
      given: {
        cooler: { packed: '16:30' },
        hands: [['out', '17:00', 'Ann Poe', { observed: { entered: '2026-05-04T20:10:00-05:00' } }]],
        contents: [{ label: 'MW-1-1', act: 'added', at: '20:00' }],
      },
      expect: null,
    },
    {
      name: 'after its seal was broken, before the next',
      given: {
        seals: [
          ['S-1', '12:00', '13:00'],
          ['S-2', '14:00'],
        ],
        contents: [{ label: 'MW-1-1', act: 'added', at: '13:30' }],
      },
      expect: null,
    },
    {
      name: 'kept overnight by the firm before it was closed',
      given: {
        cooler: { packed: '+1 12:00' },
        hands: [
          ['out', '18:00', 'Ann Poe'],
          ['in', '18:05', 'Ben Roe'],
        ],
        contents: [{ label: 'MW-1-1', act: 'added', at: '+1 11:00' }],
      },
      expect: null,
    },
    {
      name: 'kept overnight by the firm, and nobody said yet that it is closed',
      given: {
        hands: [
          ['out', '18:00', 'Ann Poe'],
          ['in', '18:05', 'Ben Roe', { organization: null }],
        ],
        contents: [{ label: 'MW-1-1', act: 'added', at: '+1 11:00' }],
      },
      expect: null,
    },
    {
      name: 'left in a locked room overnight, where nobody signs',
      given: {
        cooler: { packed: '+1 12:00', carrier: 'Example Couriers' },
        hands: [['out', '18:00', 'Ann Poe', { to: 'locked room' }]],
        contents: [{ label: 'MW-1-1', act: 'added', at: '+1 11:00' }],
      },
      expect: null,
    },
    {
      name: 'to a carrier, though nobody said that it is closed',
      given: {
        cooler: { carrier: 'Example Couriers' },
        hands: [['out', '17:00', 'Ann Poe', { to: 'van of Example Couriers' }]],
        contents: [{ label: 'MW-1-1', act: 'added', at: '17:30' }],
      },
      expect: 'MW-1-1 was added 2026-05-04 17:30, after Ann Poe relinquished it',
    },
    {
      name: 'under the number of a carrier, which signs nothing',
      given: {
        cooler: { trackingNumber: '7001' },
        hands: [['out', '17:00', 'Ann Poe']],
        contents: [{ label: 'MW-1-1', act: 'added', at: '17:30' }],
      },
      expect: 'MW-1-1 was added',
    },
    {
      name: 'to another firm, though nobody said that it is closed',
      given: {
        hands: [
          ['out', '17:00', 'Ann Poe'],
          ['in', '17:05', 'Cy Loe', { organization: 'Example Laboratory' }],
        ],
        contents: [{ label: 'MW-1-1', act: 'added', at: '17:30' }],
      },
      expect: 'MW-1-1 was added 2026-05-04 17:30, after Cy Loe received it',
    },
    {
      name: 'the laboratory has it, though nobody said that it is closed',
      given: {
        hands: [['out', '17:00', 'Ann Poe', { organization: null }]],
        receipt: {},
        contents: [{ label: 'MW-1-1', act: 'added', at: '17:30' }],
      },
      expect: 'MW-1-1 was added 2026-05-04 17:30, after Ann Poe relinquished it',
    },
  ],
};
