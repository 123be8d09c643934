import { isKitFlag, isNumberFlag, kitDerived, numberFlagId, numbersDerived } from '../../rules/derive/event-derived.ts';
import type { Held } from '../../rules/held.ts';
import { heldUnder } from '../../store/write/load-held.ts';
import { numberedInEvents } from '../../store/write/numbered-in-event.ts';
import type { WriteTx } from '../../store/write/transaction.ts';
import { writeDerived } from '../derive-group.ts';
import type { Draft, Group } from '../group.ts';
import { deriveHandedIn } from './derive-handed-in.ts';
import { loadMissing, take } from './load-more.ts';
import { type NumberKeys, numberKeys } from './number-keys.ts';

async function loadReviews(tx: WriteTx, group: Group, flags: readonly string[]): Promise<void> {
  if (flags.length > 0) take(group, await heldUnder(tx, [...new Set(flags)], ['flag-review']));
}

function checksOf(group: Group, event: string): readonly Held[] {
  return group.overlay.under(event).filter(({ state }) => state.kind === 'kit-check');
}

/** The kits of an event together: a later check of a crew takes back what was asked about an earlier one of that day. */
async function deriveKits(tx: WriteTx, group: Group, events: readonly string[]): Promise<void> {
  if (events.length === 0) return;
  const { overlay } = group;
  take(group, await heldUnder(tx, events, ['kit-check']));
  const checks = events.flatMap((event) => checksOf(group, event));
  const under = checks.map(({ state }) => state.id);
  if (under.length > 0) take(group, await heldUnder(tx, under, ['flag']));
  const stored = under.flatMap((id) => overlay.under(id).filter(isKitFlag));
  const wanted = events.flatMap((event) => kitDerived(tx.firm, checksOf(group, event), overlay));
  await loadReviews(tx, group, [...stored.map(({ state }) => state.id), ...wanted.map(({ id }) => id)]);
  writeDerived(
    group,
    stored,
    events.flatMap((event) => kitDerived(tx.firm, checksOf(group, event), overlay)),
  );
}

/** What stands of these events and has these numbers: as it was decided in this group, else as it is stored. */
async function numberedNow(
  tx: WriteTx,
  { overlay }: Group,
  keys: NumberKeys,
): Promise<ReadonlyMap<string, readonly Pick<Held, 'state'>[]>> {
  const isWhole = [...keys.values()].includes(null);
  const numbers = isWhole ? null : [...new Set([...keys.values()].flatMap((its) => [...(its ?? [])]))];
  const stored = await numberedInEvents(tx, [...keys.keys()], numbers);
  const isVoid = (visit: string | null, asStored: boolean) => {
    const held = visit === null ? undefined : overlay.get(visit);
    return held ? held.state.voided !== null : asStored;
  };
  const decided = [...overlay.ofKind('sample'), ...overlay.ofKind('blank')].map((held) => {
    return { event: held.feed.slice('event:'.length), visit: held.visit, isVoid: false, state: held.state };
  });
  const all = [...decided, ...stored.filter(({ state }) => overlay.get(state.id) === undefined)];
  const standing = all.filter((one) => one.state.voided === null && !isVoid(one.visit, one.isVoid));
  return new Map(
    [...keys].map(([event, its]) => {
      const here = standing.filter((one) => one.event === event);
      return [event, here.filter(({ state }) => its === null || its.has(String(state.fields.number)))];
    }),
  );
}

async function deriveNumbers(tx: WriteTx, group: Group, keys: NumberKeys): Promise<void> {
  if (keys.size === 0) return;
  const { overlay } = group;
  const numbered = await numberedNow(tx, group, keys);
  const ids = [...keys].flatMap(([event, its]) => [...(its ?? [])].map((one) => numberFlagId(tx.firm, event, one)));
  await loadMissing(tx, group, [...keys.keys(), ...ids]);
  const whole = [...keys].flatMap(([event, its]) => (its === null ? [event] : []));
  if (whole.length > 0) take(group, await heldUnder(tx, whole, ['flag']));
  const stored = [
    ...ids.flatMap((id) => overlay.get(id) ?? []),
    ...whole.flatMap((event) => overlay.under(event).filter(isNumberFlag)),
  ];
  const wanted = () =>
    [...numbered].flatMap(([id, its]) => {
      const event = overlay.get(id);
      return event ? numbersDerived(tx.firm, event, its, overlay) : [];
    });
  await loadReviews(
    tx,
    group,
    wanted().map(({ id }) => id),
  );
  writeDerived(group, stored, wanted());
}

/** Derives what is asked about the kits of an event and about the numbers of its samples and blanks. */
export async function deriveEventFlags(tx: WriteTx, group: Group, drafts: readonly Draft[]): Promise<void> {
  const checks = drafts.filter(({ held }) => held.state.kind === 'kit-check');
  const { events } = group.gathered;
  await deriveKits(tx, group, [...new Set([...checks.flatMap(({ held }) => held.parent ?? []), ...events])]);
  await deriveNumbers(tx, group, numberKeys(drafts, group.overlay, events));
  await deriveHandedIn(tx, group, drafts, events);
}
