import { Problem } from '../../protocol/problem.ts';
import type { RecordState } from '../../protocol/record.ts';
import { type CoolerFacts, coolerFacts } from '../../rules/custody/cooler-facts.ts';
import type { FormerValue } from '../../rules/custody/former-values.ts';
import type { Writers } from '../../rules/custody/signatures.ts';
import { byIdIn } from '../../rules/samples/by-id.ts';
import type { EventSamples } from '../../rules/samples/event-samples.ts';
import { feedStates } from '../../store/read/feed-states.ts';
import type { ReadTx } from '../../store/read/transaction.ts';
import { loadCoolerSamples } from '../cooler-samples.ts';
import { inSight } from '../in-sight.ts';
import { type Contents, coolerContents } from './contents.ts';
import { formerValues } from './former-values.ts';

/** The people of a firm, as they are named and as they sign. */
export interface People {
  readonly firm: string;
  readonly names: ReadonlyMap<string, string>;
  readonly initials: ReadonlyMap<string, string>;
}

/** A cooler with everything that its documents and questions are told from. */
export interface LoadedCooler {
  readonly facts: CoolerFacts;
  readonly of: EventSamples;
  readonly people: People;
  readonly former: readonly FormerValue[];
  /** Who wrote down first what was changed since. */
  readonly writers: Writers;
  readonly contents: Contents;
}

export async function loadPeople(tx: ReadTx): Promise<People> {
  const states = await feedStates(tx, ['firm'], ['firm', 'member']);
  const members = states.filter(({ kind }) => kind === 'member');
  const text = (state: RecordState, field: string) => String(state.fields[field] ?? '');
  const firm = states.find(({ kind }) => kind === 'firm');
  return {
    firm: firm ? text(firm, 'name') : '',
    names: new Map(members.map((one) => [one.id, text(one, 'name')])),
    initials: new Map(members.map((one) => [one.id, text(one, 'initials')])),
  };
}

/** The records that stand on the custody record of a cooler. */
function recordsOf(
  { cooler, seals, receipts, packed, handOvers }: CoolerFacts,
  of: EventSamples,
): readonly RecordState[] {
  const holders = packed.flatMap((one) => one.of ?? []);
  const planned = holders.flatMap((one) => {
    const id = 'planned' in one.fields ? one.fields.planned : undefined;
    return byIdIn(of.plannedSamples, id) ?? [];
  });
  const containers = packed.map(({ container }) => container);
  return [cooler, ...seals, ...receipts, ...handOvers, ...containers, ...holders, ...planned] as readonly RecordState[];
}

/**
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing` for a cooler that is not there or that the reader does not see
 */
export async function loadCooler(tx: ReadTx, feeds: readonly string[] | null, id: string): Promise<LoadedCooler> {
  const { state } = await inSight(tx, feeds, 'cooler', id);
  const event = String(state.fields.event);
  const of = await loadCoolerSamples(tx, feeds, { id, event });
  const cooler = byIdIn(of.coolers, id);
  if (!cooler) throw new Problem('record_missing', `the cooler ${id} was taken out of the count: nothing stands in it`);
  const facts = coolerFacts(cooler, of);
  const people = await loadPeople(tx);
  const { former, writers } = await formerValues(tx, `event:${event}`, recordsOf(facts, of), people.initials);
  const contents = await coolerContents(tx, facts, of, people);
  return { facts, of, people, former, writers, contents };
}
