import type { Role } from '../../protocol/kind.ts';
import { isUnreadable, type ReadMutation, readMutation } from '../../protocol/read-mutation.ts';
import { decide } from '../../rules/decide/decide.ts';
import { type Decision, isTaken, type Taken } from '../../rules/decide/decision.ts';
import type { Request } from '../../rules/decide/request.ts';
import type { Held, World } from '../../rules/held.ts';
import type { Seen } from '../../rules/merge/register.ts';
import type { Overlay } from '../../rules/overlay.ts';
import { versionOf } from '../batch.ts';
import type { MeasuredClock } from './clock.ts';
import type { PendingHere } from './records.ts';

/** An own mutation that the server, as far as can be told here, will not apply. */
export interface NotTakenHere {
  readonly client: string;
  readonly mutationId: number;
  readonly kind: string;
  readonly id: string;
  readonly outcome: 'set_aside' | 'refused';
  readonly code: string;
  readonly detail: string;
}

function nobody(kind: string, id: string): Held {
  const none = { voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
  return { state: { kind, id, rev: 1, ...none, fields: {} }, feed: '', parent: null, visit: null, memory: null };
}

/** What a field that names this record expects there; people are named by `by` and by `observed` besides. */
function expectedKind({ kind, fields }: ReadMutation, id: string): string {
  const named = Object.entries(kind.references).find(([field]) => fields[field] === id);
  return named?.[1] ?? 'member';
}

/** The world with what a mutation names and this device does not hold: the server is taken to have it. */
function presuming(world: Overlay, read: ReadMutation, missing: readonly string[]): World {
  const presumed = new Map(missing.map((id) => [id, nobody(expectedKind(read, id), id)]));
  return {
    get: (id) => world.get(id) ?? presumed.get(id),
    ofVisit: (id) => world.ofVisit(id),
    under: (id) => world.under(id),
    wellsOfNest: (id) => world.wellsOfNest(id),
  };
}

function decideHere(request: Request, world: Overlay): Decision {
  const decision = decide(request, world);
  if (isTaken(decision) || decision.code !== 'parent_missing') return decision;
  const { verb, id } = request.read.mutation;
  // A change of something that is not here: nothing can be said of it.
  if (verb !== 'record' && !world.get(id)) return decision;
  return decide(request, presuming(world, request.read, decision.waitsFor));
}

/** Lays the own work of a device over what it has pulled, by the rules by which the server will decide it. */
export class Replay {
  readonly #world: Overlay;
  readonly #role: Role | null;
  readonly #clock: MeasuredClock;
  /** By client and number: what the writer had in view after it. */
  readonly #taken = new Map<string, Taken>();
  readonly notTaken: NotTakenHere[] = [];

  /**
   * @param role of the token of this device; null where it is not known: then every right is presumed
   * @param clock how far the clock of this device is off; null where that was never measured
   */
  constructor(world: Overlay, role: Role | null, clock: MeasuredClock | null) {
    this.#world = world;
    this.#role = role;
    this.#clock = clock ?? { differenceMs: 0, uncertaintyMs: 0 };
  }

  take({ entry, mutation }: PendingHere): void {
    const { client, mutationId, kind, id } = entry;
    const read = readMutation(entry.line, versionOf(entry));
    const said = { client, mutationId, kind, id };
    if (isUnreadable(read)) {
      this.notTaken.push({ ...said, outcome: 'set_aside', code: read.code, detail: read.detail });
      return;
    }
    const role = this.#role ?? read.kind.writers[0] ?? 'coordinator';
    const clock = mutation.clock ? { ...mutation.clock, ...this.#clock } : null;
    const writer = { client, role, person: mutation.by ?? null };
    const decision = decideHere({ read, writer, clock, seen: this.#seen(client, read) }, this.#world);
    if (!isTaken(decision)) {
      const { outcome, code, detail } = decision;
      this.notTaken.push({ ...said, outcome, code, detail });
      return;
    }
    for (const { held } of decision.changes) this.#world.put(held);
    this.#taken.set(`${client} ${mutationId}`, decision);
  }

  #seen(client: string, { mutation }: ReadMutation): Seen | null {
    const { base, id } = mutation;
    const current = this.#world.get(id)?.state.rev ?? 0;
    if (base === undefined) return null;
    if ('was' in base) return { value: base.was };
    if ('rev' in base) return base.rev > current ? null : base;
    const own = this.#taken.get(`${client} ${base.after}`);
    // It was pulled already, and with it what its writer had in view.
    return { rev: own ? own.seenRev : current };
  }
}
