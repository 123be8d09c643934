import type { FieldsOf } from '../../protocol/kind.ts';
import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import type { conflict } from '../../protocol/kinds/conflict.ts';
import type { flag } from '../../protocol/kinds/flag.ts';
import type { visitSummary } from '../../protocol/kinds/visit-summary.ts';
import type { RecordState } from '../../protocol/record.ts';
import { SCHEMA_VERSION } from '../../protocol/version.ts';
import { isOfEquipment } from '../../rules/derive/equipment-derived.ts';
import { isSampleFlag } from '../../rules/derive/sample-derived.ts';
import { isSecondPurge } from '../../rules/derive/second-purge-derived.ts';
import { VISIT_DERIVED } from '../../rules/derive/visit-derived.ts';
import { SECOND_PURGE_RULE } from '../../rules/flags/second-purge-rule.ts';
import type { FieldClient } from '../client.ts';
import { visitOf } from '../visit-of.ts';
import { type Beside, besideOf } from './beside.ts';
import { cautionsOf, limitsOf, type NotLookedAt } from './limits.ts';
import { derivedHere, layOver, type Prepared, prepare } from './prepare.ts';
import type { NotTakenHere } from './replay.ts';

export type FlagFields = FieldsOf<typeof flag>;
export type ConflictFields = FieldsOf<typeof conflict>;
export type SummaryFields = FieldsOf<typeof visitSummary>;

/** How what follows here stands to what the server said last. */
export interface Ahead {
  /** Own mutations about the visit that the server has not answered for. */
  readonly unsent: number;
  /** Those that it answered for and whose rows were not pulled yet. */
  readonly notPulled: number;
  readonly agrees: boolean;
  readonly sentence: string;
}

export interface VisitPreview {
  readonly visit: string;
  readonly assessments: readonly Beside<AssessmentFields>[];
  readonly flags: readonly Beside<FlagFields>[];
  readonly conflicts: readonly Beside<ConflictFields>[];
  /** Null where the visit goes on and the server has none of it either. */
  readonly summary: Beside<SummaryFields> | null;
  readonly ahead: Ahead;
  /** Own work that the server will set aside or refuse, by the same rules. */
  readonly notTaken: readonly NotTakenHere[];
  readonly notLookedAt: readonly NotLookedAt[];
  readonly cautions: readonly string[];
  /** Of the rules here. */
  readonly schemaVersion: number;
}

export interface PurgePreview extends Omit<VisitPreview, 'assessments' | 'flags' | 'conflicts' | 'summary'> {
  readonly purge: string;
  /** Null where the purge was voided, or is not here. */
  readonly assessment: Beside<AssessmentFields> | null;
}

/** What the server made of the visit, as far as it was pulled. */
function serversWord({ here }: Prepared): RecordState[] {
  const all = here.ofVisit.map(({ record }) => record).filter(({ kind }) => VISIT_DERIVED.includes(kind));
  const isTold = (state: RecordState) => isSecondPurge({ state }) || isSampleFlag({ state });
  // what is said of units rests on more than the visit, of which a device has a part only
  const ofVisit = all.filter((state) => isTold(state) || !isOfEquipment({ state }));
  const ofContainers = here.besides.map(({ record }) => record).filter((state) => isSampleFlag({ state }));
  const states = [...ofVisit, ...ofContainers];
  const claims = ['well-claim', 'sign-out'];
  const own = states.filter(({ kind, fields }) => kind !== 'conflict' || !claims.includes(String(fields.type)));
  return here.summary === null ? own : [...own, here.summary];
}

/** Whether another crew purges the well follows from visits of which a device may have a part only. */
function withOtherCrews(flags: readonly Beside<FlagFields>[]): Beside<FlagFields>[] {
  return flags.map((one) =>
    one.server?.rule === SECOND_PURGE_RULE.code ? { ...one, here: one.server, agrees: true } : one,
  );
}

/** A flag that only a former value would raise is kept as the server said it, where the former value is not here. */
function withFormer(flags: readonly Beside<FlagFields>[], limits: readonly NotLookedAt[]): Beside<FlagFields>[] {
  const known = !limits.some(({ what }) => what === 'former-values');
  return flags.map((one) => {
    const stays = !known && one.here === null && one.server?.standing === 'cleared';
    return stays ? { ...one, here: one.server, agrees: true } : one;
  });
}

function sentenceOf(unsent: number, notPulled: number, agrees: boolean, said: number): string {
  const records = (count: number) => (count === 1 ? '1 change' : `${count} changes`);
  if (unsent > 0) return `${records(unsent)} of this visit did not reach the server yet: this device is ahead of it.`;
  if (notPulled > 0)
    return `The server has ${records(notPulled)} whose rows come with the next sync: this device is ahead.`;
  if (agrees) return said === 0 ? 'There is nothing to say of this visit yet.' : 'The server said the same.';
  if (said === 0) return 'What the server says of this visit was not pulled yet.';
  return 'The server said otherwise of the same records: it knows more, or has another version. Its word counts.';
}

function aheadOf({ here }: Prepared, besides: readonly Beside<unknown>[]): Ahead {
  const unsent = here.pending.filter(({ entry }) => entry.outcome === null).length;
  const notPulled = here.pending.length - unsent;
  const agrees = besides.every((one) => one.agrees);
  const said = besides.filter((one) => one.server !== null).length;
  return { unsent, notPulled, agrees, sentence: sentenceOf(unsent, notPulled, agrees, said) };
}

function previewOf(all: Prepared): VisitPreview {
  const { visit, here, world, replay } = all;
  const [derived, pulled] = [derivedHere(all), serversWord(all)];
  const limits = limitsOf(visit, world, here, all.isClockKnown);
  const assessments = besideOf<AssessmentFields>('assessment', derived, pulled);
  const flags = withOtherCrews(withFormer(besideOf<FlagFields>('flag', derived, pulled), limits));
  const conflicts = besideOf<ConflictFields>('conflict', derived, pulled);
  const [summary = null] = besideOf<SummaryFields>('visit-summary', derived, pulled);
  const besides = [...assessments, ...flags, ...conflicts, ...(summary === null ? [] : [summary])];
  return {
    visit,
    assessments,
    flags,
    conflicts,
    summary,
    ahead: aheadOf(all, besides),
    notTaken: replay.notTaken,
    notLookedAt: limits,
    cautions: cautionsOf(visit, world),
    schemaVersion: SCHEMA_VERSION,
  };
}

/**
 * What the server will say of a visit, from what is on this device, by the server's own rules and without a signal:
 * assessments, flags, conflicts and the summary, each beside what the server said last.
 */
export async function previewVisit(client: FieldClient, visit: string): Promise<VisitPreview> {
  const all = await prepare(client, visit);
  layOver(all, all.here.pending);
  return previewOf(all);
}

/** What the server will say of a purge. */
export async function previewPurge(client: FieldClient, purge: string): Promise<PurgePreview> {
  // Of a purge that is not here no visit is known either: then just that is said.
  const visit = (await visitOf(client, purge)) ?? purge;
  const { assessments, flags, conflicts, summary, ...rest } = await previewVisit(client, visit);
  const assessment = assessments.find(({ here, server }) => (here ?? server)?.purge === purge) ?? null;
  return { ...rest, purge, assessment };
}
