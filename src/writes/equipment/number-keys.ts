import type { Held } from '../../rules/held.ts';
import type { Overlay } from '../../rules/overlay.ts';
import type { Draft } from '../group.ts';

/** By event the numbers of samples and blanks that are looked at; null: all of the event. */
export type NumberKeys = ReadonlyMap<string, ReadonlySet<string> | null>;

const NUMBERED = ['sample', 'blank'];
const LOOKED_AT = ['number', 'collected', 'type'];

/** Whether a change says anything of what a number is on. */
function tells({ held, before, leaves }: Draft): boolean {
  if (before === null || leaves !== null) return true;
  if ((held.state.voided === null) !== (before.state.voided === null)) return true;
  return LOOKED_AT.some((field) => held.state.fields[field] !== before.state.fields[field]);
}

/** A visit that is voided or counted again takes its samples along. */
function samplesBehind({ held, before }: Draft, overlay: Overlay): readonly Held[] {
  if (held.state.kind !== 'visit' || before === null) return [];
  if ((held.state.voided === null) === (before.state.voided === null)) return [];
  return overlay.ofVisit(held.state.id).filter(({ state }) => state.kind === 'sample');
}

/**
 * The numbers of which these changes say that they are, or were, on a sample or a blank of an event.
 *
 * @param whole events of which every number is looked at
 */
export function numberKeys(drafts: readonly Draft[], overlay: Overlay, whole: readonly string[]): NumberKeys {
  const keys = new Map<string, Set<string> | null>(whole.map((event) => [event, null]));
  const put = (feed: string, { state }: Pick<Held, 'state'>) => {
    const event = feed.slice('event:'.length);
    const numbers = keys.get(event) === undefined ? new Set<string>() : keys.get(event);
    keys.set(event, numbers?.add(String(state.fields.number)) ?? null);
  };
  for (const draft of drafts) {
    const { held, before, leaves } = draft;
    for (const sample of samplesBehind(draft, overlay)) put(sample.feed, sample);
    if (!NUMBERED.includes(held.state.kind) || !tells(draft)) continue;
    put(held.feed, held);
    if (before !== null) put(leaves ?? before.feed, before);
  }
  return keys;
}
