import type { FieldsOf } from '../../protocol/kind.ts';
import type { pumpSetUp } from '../../protocol/kinds/pump-set-up.ts';
import type { sample } from '../../protocol/kinds/sample.ts';
import type { visit } from '../../protocol/kinds/visit.ts';
import type { RecordState } from '../../protocol/record.ts';
import { instantMs } from '../../science/instant-ms.ts';
import type { WellClaim } from '../claims/claim-record.ts';
import { inOneReliefLine } from '../claims/relief-line.ts';
import { canonicalEvidence, fieldEvidence } from './evidence.ts';
import type { RaisedFlag } from './raised-flag.ts';
import { SECOND_PURGE_METHODS, SECOND_PURGE_RULE } from './second-purge-rule.ts';

type Visit = RecordState<FieldsOf<typeof visit>>;
type Of<Fields, Field extends keyof Fields> = Pick<RecordState, 'voided'> & { readonly fields: Pick<Fields, Field> };

/** What is on record of one well in one event. */
export interface WellRound {
  readonly visits: readonly Visit[];
  readonly setUps: readonly Of<FieldsOf<typeof pumpSetUp>, 'visit' | 'pump'>[];
  readonly samples: readonly Of<FieldsOf<typeof sample>, 'visit'>[];
  readonly claims: readonly Pick<WellClaim, 'id' | 'voided' | 'fields'>[];
}

function purges({ voided, fields }: Visit): boolean {
  return voided === null && SECOND_PURGE_METHODS.includes(fields.method);
}

function inOrder(a: Visit, b: Visit): number {
  return instantMs(a.fields.arrived) - instantMs(b.fields.arrived) || (a.id < b.id ? -1 : 1);
}

/** Bottles that broke are voided: then somebody has to take that sample again. */
function isSampleLost({ id }: Visit, { samples }: WellRound): boolean {
  const its = samples.filter(({ fields }) => fields.visit === id);
  return its.length > 0 && its.every(({ voided }) => voided !== null);
}

/** Whether it goes on or ended with a sample that stands; after any other end somebody has to come back. */
function isEnough(one: Visit, round: WellRound): boolean {
  const { outcome } = one.fields;
  return outcome === undefined || (outcome === 'sampled' && !isSampleLost(one, round));
}

function pumpsOf(one: Visit, { setUps, claims }: WellRound): ReadonlySet<string> {
  const here = setUps.filter(({ voided, fields }) => voided === null && fields.visit === one.id);
  const claimed = claims.filter(({ voided, fields }) => voided === null && fields.crew === one.fields.crew);
  return new Set([...here, ...claimed].flatMap(({ fields }) => fields.pump ?? []));
}

/** The later crew relieves the earlier one, by its word or since it goes on with the pump in the well. */
function isOnePurge(earlier: Visit, later: Visit, round: WellRound): boolean {
  const of = ({ fields }: Visit) =>
    round.claims.filter((one) => one.voided === null && one.fields.crew === fields.crew);
  const byId = new Map(round.claims.map((claim) => [claim.id, claim as WellClaim]));
  const handedOver = of(later).some((one) =>
    of(earlier).some((other) => inOneReliefLine(one as WellClaim, other as WellClaim, byId)),
  );
  if (handedOver || earlier.fields.outcome === 'sampled') return handedOver;
  const pumps = pumpsOf(earlier, round);
  return [...pumpsOf(later, round)].some((pump) => pumps.has(pump));
}

/** "2026-05-04 09:10", as it was entered. */
function dayAndTime(instant: string): string {
  return instant.slice(0, 16).replace('T', ' ');
}

function flagOf(earlier: Visit, later: Visit, well: string): RaisedFlag {
  const { code, severity } = SECOND_PURGE_RULE;
  const how = earlier.fields.outcome === 'sampled' ? 'purged and sampled' : 'purged';
  return {
    rule: code,
    subjectKind: 'visit',
    subject: later.id,
    severity,
    addressee: later.fields.left === undefined ? 'now' : 'tonight',
    sentence: `${well} is ${how} by another crew in this event, which arrived at ${dayAndTime(earlier.fields.arrived)}. Read the tag of the well and call them before you go on; let the office say which visit counts.`,
    evidence: canonicalEvidence([
      fieldEvidence(later, 'arrived'),
      fieldEvidence(later, 'crew'),
      fieldEvidence(earlier, 'arrived'),
      fieldEvidence(earlier, 'crew'),
    ]),
    standing: 'raised',
  };
}

/**
 * Asked at the later of two visits in which different crews purge one well in one event, where the earlier one goes on
 * or ended with a sample: at each later one once, beside the first of the others. The visits stand in the order of
 * arrival at the well, so that it is the same in whichever order they reach the server.
 */
export function secondPurges(round: WellRound, well: string): readonly RaisedFlag[] {
  const purging = round.visits.filter(purges).toSorted(inOrder);
  return purging.flatMap((later, at) => {
    const others = purging.slice(0, at).filter(({ fields }) => fields.crew !== later.fields.crew);
    const earlier = others.find((one) => isEnough(one, round) && !isOnePurge(one, later, round));
    return earlier ? [flagOf(earlier, later, well)] : [];
  });
}
