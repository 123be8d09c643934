import { coolerWorld, custodyDerived, isCustodyFlag, suiteNames } from '../../rules/derive/custody-derived.ts';
import type { Held } from '../../rules/held.ts';
import { coolersAround } from '../../store/write/coolers-around.ts';
import { containersOfCoolers, heldUnder, receiptsOfCoolers, suitesNamed } from '../../store/write/load-held.ts';
import { suiteCoolers } from '../../store/write/suite-coolers.ts';
import type { WriteTx } from '../../store/write/transaction.ts';
import { writeDerived } from '../derive-group.ts';
import { loadMissing, take } from '../equipment/load-more.ts';
import type { Group } from '../group.ts';
import { type CustodySeeds, custodySeeds } from './cooler-seeds.ts';

function idsOf(held: readonly Held[]): string[] {
  return held.map(({ state }) => state.id);
}

async function under(tx: WriteTx, group: Group, parents: readonly string[], kinds: readonly string[]): Promise<void> {
  if (parents.length > 0) take(group, await heldUnder(tx, [...new Set(parents)], kinds));
}

/** The coolers that these changes bear on: those that are named, and those around what changed. */
async function coolersOf(tx: WriteTx, group: Group, seeds: CustodySeeds): Promise<string[]> {
  const { overlay } = group;
  const { coolers, filled, samples, blanks, planned, events, sites, sent } = seeds;
  await loadMissing(tx, group, filled);
  const ofFilled = filled.map((id) => overlay.get(id)?.state.fields.cooler).filter((one) => typeof one === 'string');
  const isAsked = [samples, blanks, planned, events, sites].some((ids) => ids.length > 0);
  const around = isAsked ? await coolersAround(tx, seeds) : [];
  const bySuites = sent.length > 0 ? await suiteCoolers(tx, sent) : [];
  return [...new Set([...coolers, ...ofFilled, ...around, ...bySuites])];
}

/** The suites that say where something goes; of a cooler without a laboratory it is not asked. */
async function loadSuites(tx: WriteTx, group: Group, held: readonly Held[], packed: readonly Held[]): Promise<void> {
  const sent = new Set(held.flatMap(({ state }) => (state.fields.laboratory == null ? [] : [state.id])));
  const its = packed.filter(({ state }) => sent.has(String(state.fields.cooler)));
  const fields = its.map(({ state }) => state.fields);
  const ids = fields.flatMap(({ sample, blank, planned }) => [sample, blank, planned]);
  const names = suiteNames([...its, ...ids.flatMap((id) => group.overlay.get(String(id)) ?? [])]);
  if (names.length > 0) take(group, await suitesNamed(tx, [...names]));
}

/** What these coolers are judged by. */
async function loadCoolers(tx: WriteTx, group: Group, coolers: readonly string[]): Promise<void> {
  const { overlay } = group;
  await loadMissing(tx, group, coolers);
  const held = coolers.flatMap((id) => overlay.get(id) ?? []);
  await loadMissing(
    tx,
    group,
    held.map(({ parent }) => parent),
  );
  await loadMissing(
    tx,
    group,
    held.map(({ parent }) => overlay.get(parent ?? '')?.state.fields.site),
  );
  await under(tx, group, coolers, ['seal', 'hand-over', 'cooler-check', 'flag']);
  take(group, await containersOfCoolers(tx, coolers));
  take(group, await receiptsOfCoolers(tx, coolers));
  const wanted = new Set<unknown>(coolers);
  const packed = overlay.ofKind('container').filter(({ state }) => wanted.has(state.fields.cooler));
  await under(tx, group, idsOf(packed), ['fill']);
  const naming = (field: string, its: readonly Held[]) => its.map(({ state }) => state.fields[field]);
  const holders = [...naming('sample', packed), ...naming('blank', packed)];
  await loadMissing(tx, group, [...holders, ...naming('planned', packed)]);
  const known = holders.flatMap((id) => overlay.get(String(id)) ?? []);
  await loadMissing(tx, group, naming('planned', known));
  await loadSuites(tx, group, held, packed);
}

/** The flags that are stored beside these coolers and what was received of them. */
async function storedFlags(tx: WriteTx, group: Group, coolers: readonly string[], seeds: CustodySeeds) {
  const { overlay } = group;
  await under(tx, group, group.gathered.events, ['sample-receipt']);
  const wanted = new Set<unknown>(coolers);
  const ofEvents = group.gathered.events.flatMap((event) => overlay.under(event));
  const receipts = [
    ...overlay.ofKind('sample-receipt').filter(({ state }) => wanted.has(state.fields.cooler)),
    ...ofEvents.filter(({ state }) => state.kind === 'sample-receipt'),
  ];
  const subjects = [...new Set([...coolers, ...idsOf(receipts), ...seeds.receipts])];
  await under(tx, group, subjects, ['flag']);
  return subjects.flatMap((id) => overlay.under(id)).filter(isCustodyFlag);
}

/**
 * Derives what is asked about coolers and what laboratories found in them, a cooler at a time. A push that touches none costs
 * a look at its drafts and no statement.
 */
export async function deriveCustody(tx: WriteTx, group: Group): Promise<void> {
  const seeds = custodySeeds(group);
  if (seeds === null) return;
  const coolers = await coolersOf(tx, group, seeds);
  if (coolers.length === 0 && seeds.receipts.length === 0 && group.gathered.events.length === 0) return;
  if (coolers.length > 0) await loadCoolers(tx, group, coolers);
  const stored = await storedFlags(tx, group, coolers, seeds);
  const wanted = () => {
    const world = coolerWorld(group.overlay);
    return coolers.flatMap((id) => {
      const cooler = group.overlay.get(id);
      return cooler ? custodyDerived(tx.firm, cooler, world) : [];
    });
  };
  const flags = [...idsOf(stored), ...wanted().map(({ id }) => id)];
  await under(tx, group, flags, ['flag-review']);
  writeDerived(group, stored, wanted());
}
