import type { FlagRuleEntry } from '../flags/flag-rule.ts';
import { listText } from '../flags/list-text.ts';
import type { KitLine, KitStanding } from './kit-standing.ts';

export interface KitFinding {
  readonly code: string;
  readonly severity: FlagRuleEntry['severity'];
  readonly addressee: FlagRuleEntry['addressee'];
  readonly sentence: string;
  readonly source: string;
}

export interface KitVector {
  readonly name: string;
  /** Lines of a kit that was looked at; null where nobody looked. */
  readonly lines: readonly Pick<KitLine, 'item' | 'standing' | 'expected' | 'found' | 'expires'>[] | null;
  readonly expect: string | null;
}

export interface KitRule extends FlagRuleEntry {
  /** What is asked about these lines, of which there is at least one. */
  sentence(its: readonly KitLine[]): string;
  readonly vectors: readonly KitVector[];
  /** A fault of the check itself, which stays until it is mended; the rest changes with what the day needs. */
  readonly isStored: boolean;
  /** Of the lines that it asks about. */
  readonly standings: readonly KitLine['standing'][];
}

const PRACTICE = 'Common practice, no source';

function counted({ item, expected, found }: KitLine): string {
  return expected !== null && found !== null ? `${item} (${found} of ${expected})` : item;
}

const base = { item: 'Bottles for VOC', expected: 6, found: 6, expires: null, standing: 'ok' } as const;
const buffer = { item: 'Standard for pH', expected: null, found: 1 } as const;

const short: KitRule = {
  code: 'kit-item-short',
  title: 'Something that the day needs is short or missing',
  severity: 'caution',
  addressee: 'now',
  source: PRACTICE,
  verified: false,
  isStored: true,
  standings: ['short', 'missing'],
  sentence(its) {
    return `Short or missing before the day begins: ${listText(its.map(counted))}. Fetch it, or have the office say what is left out today.`;
  },
  vectors: [
    { name: 'four of six', lines: [{ ...base, found: 4, standing: 'short' }], expect: 'Bottles for VOC (4 of 6)' },
    { name: 'all there', lines: [base], expect: null },
    { name: 'nobody looked', lines: null, expect: null },
  ],
};

const expired: KitRule = {
  code: 'kit-item-expired',
  title: 'A standard or another item is past its date',
  severity: 'caution',
  addressee: 'now',
  source: `${PRACTICE}: standards are used until the date on their bottle`,
  verified: false,
  isStored: true,
  standings: ['expired'],
  sentence(its) {
    const dated = its.map(({ item, expires }) => (expires ? `${item} (${expires})` : item));
    return `Past its date: ${listText(dated)}. Take one that is in date before anything is checked in it.`;
  },
  vectors: [
    {
      name: 'a buffer',
      lines: [{ ...buffer, expires: '2026-04-30', standing: 'expired' }],
      expect: 'Standard for pH (2026-04-30)',
    },
    { name: 'in date', lines: [{ ...buffer, expires: '2027-01-31', standing: 'ok' }], expect: null },
  ],
};

const notLookedAt: KitRule = {
  code: 'kit-item-not-looked-at',
  title: 'Something that the day needs was not looked at',
  severity: 'note',
  addressee: 'now',
  source: PRACTICE,
  verified: false,
  isStored: false,
  standings: ['not-looked-at'],
  sentence(its) {
    return `The check of the kit says nothing of ${listText(its.map(({ item }) => item))}. Look, and write it down.`;
  },
  vectors: [
    {
      name: 'no ice in the list',
      lines: [base, { ...base, item: 'Ice', expected: null, found: null, standing: 'not-looked-at' }],
      expect: 'says nothing of Ice',
    },
    { name: 'nobody looked at anything yet', lines: null, expect: null },
  ],
};

/** What is asked about the kit of a morning: answered with it, and stored beside the check where that itself says it. */
export const KIT_RULES: readonly KitRule[] = [expired, notLookedAt, short];

/** The lines of a kit that was looked at which a rule asks about. */
export function askedLines({ standings }: KitRule, { check, lines }: KitStanding): readonly KitLine[] {
  return check === null ? [] : lines.filter(({ standing }) => standings.includes(standing));
}

export function kitFindings(kit: KitStanding): readonly KitFinding[] {
  return KIT_RULES.flatMap((rule) => {
    const its = askedLines(rule, kit);
    const { code, severity, addressee, source } = rule;
    return its.length === 0 ? [] : [{ code, severity, addressee, sentence: rule.sentence(its), source }];
  });
}
