import { isUnreadable, type ReadMutation, readMutation } from '../../../src/protocol/read-mutation.ts';
import { decide } from '../../../src/rules/decide/decide.ts';
import { type Decision, isTaken } from '../../../src/rules/decide/decision.ts';
import { compareDerived } from '../../../src/rules/derive/derived.ts';
import { VISIT_DERIVED, visitDerived } from '../../../src/rules/derive/visit-derived.ts';
import type { Held } from '../../../src/rules/held.ts';
import type { Seen } from '../../../src/rules/merge/register.ts';
import type { Overlay } from '../../../src/rules/overlay.ts';
import { emptyWorld, FIRM, idOf, MEMBER, VISIT } from './merge-world.ts';

/** A mutation as a phone sends it, read once, so that it can be taken in many orders. */
export interface Sent {
  readonly phone: number;
  readonly read: ReadMutation;
}

export function clientOf(phone: number): string {
  return idOf(0xc0, phone);
}

export function sent(phone: number, mutation: Readonly<Record<string, unknown>>): Sent {
  const read = readMutation(JSON.stringify(mutation));
  if (isUnreadable(read)) throw new Error(`the test made an unreadable mutation: ${read.detail}`);
  return { phone, read };
}

/** A server of one firm that decides one mutation after the other, as the write door does, without a database. */
export class SimulatedServer {
  readonly world: Overlay;
  readonly ids = new Set<string>();
  readonly #seenRevs: Map<string, number>;

  constructor(world: Overlay = emptyWorld(), seenRevs: ReadonlyMap<string, number> = new Map()) {
    this.world = world;
    this.#seenRevs = new Map(seenRevs);
  }

  /** The same server once more, so that different orders can go on from one state. */
  copy(): SimulatedServer {
    const world = emptyWorld();
    const copy = new SimulatedServer(world, this.#seenRevs);
    for (const id of this.ids) {
      const held = this.world.get(id);
      if (held) world.put(held);
      copy.ids.add(id);
    }
    return copy;
  }

  take({ phone, read }: Sent): Decision {
    const client = clientOf(phone);
    const writer = { client, role: 'coordinator' as const, person: MEMBER };
    const decision = decide({ read, writer, clock: null, seen: this.#seen(client, read) }, this.world);
    if (!isTaken(decision)) return decision;
    for (const { held } of decision.changes) {
      this.world.put(held);
      this.ids.add(held.state.id);
    }
    this.#seenRevs.set(`${client} ${read.mutation.mutationId}`, decision.seenRev);
    return decision;
  }

  #seen(client: string, read: ReadMutation): Seen | null {
    const { base } = read.mutation;
    if (base === undefined) return null;
    if ('was' in base) return { value: base.was };
    if ('rev' in base) return base;
    const rev = this.#seenRevs.get(`${client} ${base.after}`);
    return rev === undefined ? null : { rev };
  }

  held(id: string): Held | undefined {
    return this.world.get(id);
  }

  rev(id: string): number {
    return this.world.get(id)?.state.rev ?? 0;
  }

  all(): Held[] {
    return [...this.ids].sort().flatMap((id) => this.world.get(id) ?? []);
  }

  derived() {
    return visitDerived(FIRM, VISIT, this.world);
  }

  /** Stores what follows from the visit, as the write door does after a group. */
  derive(): void {
    const stored = this.world.ofVisit(VISIT).filter((held) => VISIT_DERIVED.includes(held.state.kind));
    const { put, withdrawn } = compareDerived(stored, this.derived());
    for (const { held } of put) this.world.put(held);
    for (const held of withdrawn) this.world.drop(held.state.id);
  }

  conflictOf(id: string): Held {
    const found = this.world.under(id).find((held) => held.state.kind === 'conflict');
    if (!found) throw new Error(`no conflict about ${id}`);
    return found;
  }
}
