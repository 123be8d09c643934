import type { Derived } from '../../rules/derive/derived.ts';
import { samplesDerived, sampleWorld } from '../../rules/derive/sample-derived.ts';
import { visitDerived } from '../../rules/derive/visit-derived.ts';
import type { Overlay } from '../../rules/overlay.ts';
import type { FieldClient } from '../client.ts';
import { identityOf } from '../context.ts';
import { clockHere } from './clock.ts';
import { type PendingHere, type VisitRecordsHere, visitRecordsHere } from './records.ts';
import { Replay } from './replay.ts';
import { worldHere } from './world.ts';

/** Everything that a preview is made from. */
export interface Prepared {
  readonly visit: string;
  readonly here: VisitRecordsHere;
  /** What was pulled, and the own work that was laid over so far. */
  readonly world: Overlay;
  readonly replay: Replay;
  readonly isClockKnown: boolean;
}

/** Names derived records while the firm is not known; they are compared with nothing then. */
const NO_FIRM = '00000000-0000-0000-0000-000000000000';

/** Reads what bears on a visit; the own work is not laid over yet. */
export function prepare({ context }: FieldClient, visit: string): Promise<Prepared> {
  const { exclusive, store, role } = context;
  return exclusive(async () => {
    const here = await visitRecordsHere(store, visit);
    const { client } = await identityOf(store);
    const clock = clockHere(here.ofEvent, client);
    const world = worldHere(visit, here);
    return { visit, here, world, replay: new Replay(world, role, clock), isClockKnown: clock !== null };
  });
}

export function layOver({ replay }: Prepared, pending: readonly PendingHere[]): void {
  for (const one of pending) replay.take(one);
}

export function derivedHere({ visit, here, world }: Prepared): readonly Derived[] {
  const firm = here.firm ?? NO_FIRM;
  return [...visitDerived(firm, visit, world), ...samplesDerived(firm, visit, sampleWorld(world))];
}
