import type { FieldsOf } from '../../protocol/kind.ts';
import type { visit } from '../../protocol/kinds/visit.ts';
import type { FlagRuleEntry } from './flag-rule.ts';

type Visit = FieldsOf<typeof visit>;

/** A visit of the case in a few words; the crews are called a and b, the pumps p and q. */
export interface SecondPurgeStop {
  readonly crew: string;
  /** Time of day. */
  readonly at: string;
  readonly method?: Visit['method'];
  readonly outcome?: Visit['outcome'];
  readonly left?: true;
  readonly pump?: string;
  /** It was voided. */
  readonly voided?: true;
  /** Its one sample stands, or was voided. */
  readonly sample?: 'stands' | 'voided';
}

export interface SecondPurgeVector {
  readonly name: string;
  readonly stops: readonly SecondPurgeStop[];
  /** The crew of the second stop said that it relieves that of the first. */
  readonly relieved?: true;
  /** The places of the stops that are asked about. */
  readonly expect: readonly number[];
}

const NORTH: SecondPurgeStop = { crew: 'a', at: '09:10' };
const SOUTH: SecondPurgeStop = { crew: 'b', at: '11:00' };
const SAMPLED: SecondPurgeStop = { ...NORTH, outcome: 'sampled', left: true };

/** A well that recovers by itself and is sampled the next day (`dry-well`) is met twice by its method. */
export const SECOND_PURGE_METHODS: readonly Visit['method'][] = ['low-flow', 'volume'];

export const SECOND_PURGE_RULE: FlagRuleEntry & {
  readonly methods: typeof SECOND_PURGE_METHODS;
  readonly vectors: readonly SecondPurgeVector[];
} = {
  code: 'well-purged-by-two-crews',
  title: 'Two crews purge one well in one event',
  severity: 'question',
  addressee: 'now',
  source: 'Each well is sampled once in a round: common practice, no source',
  verified: false,
  methods: SECOND_PURGE_METHODS,
  vectors: [
    { name: 'both are at it', stops: [NORTH, SOUTH], expect: [1] },
    { name: 'they came in the other order', stops: [SOUTH, NORTH], expect: [0] },
    { name: 'the first one has its sample', stops: [SAMPLED, SOUTH], expect: [1] },
    {
      name: 'with the same pump, after the sample',
      stops: [
        { ...SAMPLED, pump: 'p' },
        { ...SOUTH, pump: 'p' },
      ],
      expect: [1],
    },
    {
      name: 'with pumps of their own',
      stops: [
        { ...NORTH, pump: 'p' },
        { ...SOUTH, pump: 'q' },
      ],
      expect: [1],
    },
    {
      name: 'a relief that goes on with the pump',
      stops: [
        { ...NORTH, pump: 'p' },
        { ...SOUTH, pump: 'p' },
      ],
      expect: [],
    },
    { name: 'a relief by its word', stops: [NORTH, SOUTH], relieved: true, expect: [] },
    { name: 'the sample of the first was lost', stops: [{ ...SAMPLED, sample: 'voided' }, SOUTH], expect: [] },
    { name: 'the sample of the first stands', stops: [{ ...SAMPLED, sample: 'stands' }, SOUTH], expect: [1] },
    { name: 'one crew comes back', stops: [NORTH, { ...SOUTH, crew: 'a' }], expect: [] },
    { name: 'one of them only gauges', stops: [NORTH, { ...SOUTH, method: 'gauging' }], expect: [] },
    { name: 'the first one could not sample it', stops: [{ ...NORTH, outcome: 'not-stable' }, SOUTH], expect: [] },
    { name: 'the well was purged dry before', stops: [{ ...NORTH, outcome: 'purged-dry' }, SOUTH], expect: [] },
    { name: 'a dry well by its method', stops: [NORTH, { ...SOUTH, method: 'dry-well' }], expect: [] },
    { name: 'the first one was voided', stops: [{ ...NORTH, voided: true }, SOUTH], expect: [] },
    { name: 'three crews', stops: [NORTH, SOUTH, { crew: 'c', at: '13:00' }], expect: [1, 2] },
  ],
};
