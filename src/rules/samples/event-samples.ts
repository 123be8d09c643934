import type { FieldsOf, KindDefinition } from '../../protocol/kind.ts';
import { analyteSuite } from '../../protocol/kinds/analyte-suite.ts';
import { assignment } from '../../protocol/kinds/assignment.ts';
import { blank } from '../../protocol/kinds/blank.ts';
import { call } from '../../protocol/kinds/call.ts';
import { container } from '../../protocol/kinds/container.ts';
import { cooler } from '../../protocol/kinds/cooler.ts';
import { coolerCheck } from '../../protocol/kinds/cooler-check.ts';
import { crew } from '../../protocol/kinds/crew.ts';
import { discrepancy } from '../../protocol/kinds/discrepancy.ts';
import { event } from '../../protocol/kinds/event.ts';
import { fill } from '../../protocol/kinds/fill.ts';
import { handOver } from '../../protocol/kinds/hand-over.ts';
import { laboratory } from '../../protocol/kinds/laboratory.ts';
import { laboratoryResult } from '../../protocol/kinds/laboratory-result.ts';
import { plannedSample } from '../../protocol/kinds/planned-sample.ts';
import { purge } from '../../protocol/kinds/purge.ts';
import { sample } from '../../protocol/kinds/sample.ts';
import { sampleReceipt } from '../../protocol/kinds/sample-receipt.ts';
import { seal } from '../../protocol/kinds/seal.ts';
import { site } from '../../protocol/kinds/site.ts';
import { visit } from '../../protocol/kinds/visit.ts';
import { well } from '../../protocol/kinds/well.ts';
import type { RecordState } from '../../protocol/record.ts';
import { readable } from '../readable.ts';

/** The records of an event's samples, by the list of `EventSamples` in which they stand. */
const LISTS = {
  assignments: assignment,
  wells: well,
  visits: visit,
  purges: purge,
  calls: call,
  samples: sample,
  blanks: blank,
  plannedSamples: plannedSample,
  containers: container,
  fills: fill,
  coolers: cooler,
  seals: seal,
  handOvers: handOver,
  coolerChecks: coolerCheck,
  receipts: sampleReceipt,
  discrepancies: discrepancy,
  results: laboratoryResult,
  suites: analyteSuite,
  laboratories: laboratory,
  crews: crew,
} as const satisfies Readonly<Record<string, { readonly name: string }>>;

type Lists = typeof LISTS;
type Of<Kind extends Pick<KindDefinition, 'fields'>> = RecordState<FieldsOf<Kind>>;

/** All that is known of the samples of an event. Lists go by id; voided records are not among them. */
export type EventSamples = { readonly [Name in keyof Lists]: readonly Of<Lists[Name]>[] } & {
  readonly event: Of<typeof event>;
  readonly site: Of<typeof site> | null;
};

/** What has to be loaded for it: of the feed of the event, of that of its site, and of that of the firm. */
export const EVENT_SAMPLES_KINDS: readonly string[] = [
  event.name,
  site.name,
  ...Object.values(LISTS).map(({ name }) => name),
];

function byKind(states: readonly RecordState[]): Map<string, RecordState[]> {
  const found = new Map<string, RecordState[]>();
  for (const state of states.toSorted((a, b) => (a.id < b.id ? -1 : 1))) {
    if (state.voided !== null) continue;
    const its = found.get(state.kind);
    if (its) its.push(readable(state));
    else found.set(state.kind, [readable(state)]);
  }
  return found;
}

/**
 * Puts the records of an event into their lists. What was stored has the shape of its kind, once it is read as one.
 *
 * @param of the event, which may itself be voided
 * @param states of `EVENT_SAMPLES_KINDS`, in any order
 */
export function eventSamples(of: RecordState, states: readonly RecordState[]): EventSamples {
  const found = byKind(states);
  const lists = Object.entries(LISTS).map(([name, kind]) => [name, found.get(kind.name) ?? []]);
  const [its = null] = found.get(site.name) ?? [];
  return { ...Object.fromEntries(lists), event: readable(of), site: its } as unknown as EventSamples;
}
