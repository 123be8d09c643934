import { overlapOf } from './claim-overlap.ts';
import type { Claim, ClaimClash, ConflictFields } from './claim-record.ts';

type Rival = ConflictFields['shown'];

/** The earlier claim by its time as entered; equal times by id, so that every replica orders them alike. */
export function inOrder<Item extends Claim>(a: Item, b: Item): readonly [Item, Item] {
  const apart = Date.parse(a.fields.from) - Date.parse(b.fields.from);
  return apart < 0 || (apart === 0 && a.id < b.id) ? [a, b] : [b, a];
}

function rivalOf<Item extends Claim>(claim: Item, value: unknown): Rival {
  const { id, by, client, mutation } = claim;
  return {
    value,
    record: id,
    ...(by === null ? {} : { by }),
    ...(client === null ? {} : { client }),
    ...(mutation === null ? {} : { mutation }),
  };
}

export interface ClashRule<Item extends Claim> {
  readonly type: 'well-claim' | 'sign-out';
  /** What is claimed: only claims of the same thing can clash. */
  readonly thing: (claim: Item) => string;
  readonly excused: (a: Item, b: Item) => boolean;
  /** What a claim claims, for the person who decides; absent fields are left out. */
  readonly value: (claim: Item) => Readonly<Record<string, unknown>>;
  readonly sentence: (earlier: Item, later: Item) => string;
}

const DOUBT = ' Their times overlap by no more than their clocks may be off.';

function clashOf<Item extends Claim>(rule: ClashRule<Item>, a: Item, b: Item): readonly ClaimClash[] {
  if (a.fields.crew === b.fields.crew || rule.thing(a) !== rule.thing(b) || rule.excused(a, b)) return [];
  const certainty = overlapOf(a, b);
  if (certainty === 'none') return [];
  const [earlier, later] = inOrder(a, b);
  const fields: ConflictFields = {
    subjectKind: rule.type,
    subject: later.id,
    type: rule.type,
    sentence: `${rule.sentence(earlier, later)}${certainty === 'possible' ? DOUBT : ''}`,
    certainty,
    shown: rivalOf(earlier, rule.value(earlier)),
    kept: [rivalOf(later, rule.value(later))],
    standing: 'open',
  };
  return [{ key: `${rule.type} ${[a.id, b.id].toSorted().join(' ')}`, fields }];
}

/** One clash for each pair of claims that cannot both be, in the order of their keys. Voided claims clash with none. */
export function clashesOf<Item extends Claim>(rule: ClashRule<Item>, claims: readonly Item[]): readonly ClaimClash[] {
  const live = claims.filter((claim) => claim.voided === null);
  return live
    .flatMap((claim, at) => live.slice(at + 1).flatMap((other) => clashOf(rule, claim, other)))
    .toSorted((a, b) => (a.key < b.key ? -1 : 1));
}
