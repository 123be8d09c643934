import { randomUUID } from 'node:crypto';
import type pg from 'pg';
import { v7 } from 'uuid';
import type { Role } from '../../src/protocol/kind.ts';
import { secretHash } from '../../src/store/tokens.ts';
import { insertToken } from '../../src/store/write/token-rows.ts';
import type { Actor, Answer, Batch } from '../../src/writes/batch.ts';
import { type Lane, openLane } from '../../src/writes/lane.ts';

/** What a test gives for one mutation; the rest is filled in. */
export interface Draft {
  readonly verb?: string;
  readonly kind: string;
  readonly id?: string;
  readonly set?: Readonly<Record<string, unknown>>;
  readonly base?: unknown;
  readonly reason?: string;
  readonly by?: string;
  readonly requires?: readonly string[];
  readonly clock?: unknown;
}

export interface OutcomeLike {
  readonly mutationId: number;
  readonly outcome: string;
  readonly id?: string;
  readonly kind?: string;
  readonly rev?: number;
  readonly feed?: string;
  readonly seq?: number;
  readonly code?: string;
  readonly detail?: string;
  readonly setAside?: string;
  readonly conflicts?: readonly string[];
}

export const NOON = Date.parse('2026-05-04T12:00:00Z');

export function batchOf(actor: Actor, client: string, first: number, lines: readonly (string | Buffer)[]): Batch {
  return {
    actor,
    client,
    first,
    lines: lines.map((line) => {
      const bytes = Buffer.from(line as string);
      return { bytes, text: bytes.toString('utf8') };
    }),
    schemaVersion: 1,
    sent: null,
    roundTripMs: 0,
    unsent: null,
    oneShot: false,
    carried: false,
  };
}

/** A client of a firm that pushes straight into the write door. */
export class TestClient {
  readonly id = randomUUID();
  readonly actor: Actor;
  readonly lane: Lane;
  next = 1;

  constructor(actor: Actor, lane: Lane) {
    this.actor = actor;
    this.lane = lane;
  }

  line(draft: Draft): string {
    const { verb = 'record', id = v7(), ...rest } = draft;
    return JSON.stringify({ mutationId: this.next++, verb, id, ...rest });
  }

  async answer(lines: readonly (string | Buffer)[], first: number): Promise<Answer> {
    return this.lane(batchOf(this.actor, this.id, first, lines));
  }

  /** Pushes drafts as one batch and gives their outcomes. */
  async push(...drafts: readonly Draft[]): Promise<OutcomeLike[]> {
    const first = this.next;
    return this.outcomes(
      await this.answer(
        drafts.map((draft) => this.line(draft)),
        first,
      ),
    );
  }

  outcomes(answer: Answer): OutcomeLike[] {
    if (answer.status !== 'answered') throw new Error(`answered ${JSON.stringify(answer)}`);
    return answer.outcomes.map((text) => JSON.parse(text) as OutcomeLike);
  }
}

/** A firm in a test database, with a write door and members, a site, wells, an event and crews to work with. */
export class TestFirm {
  readonly id = randomUUID();
  readonly pool: pg.Pool;
  readonly lane: Lane;
  nowMs = NOON;
  readonly ids = {
    ann: v7(),
    bob: v7(),
    north: v7(),
    south: v7(),
    site: v7(),
    nest: v7(),
    shallow: v7(),
    deep: v7(),
    lone: v7(),
    event: v7(),
    pump: v7(),
    otherPump: v7(),
    meter: v7(),
    otherMeter: v7(),
    phone: v7(),
    otherPhone: v7(),
  };

  constructor(pool: pg.Pool) {
    this.pool = pool;
    this.lane = openLane({ pool, now: () => new Date(this.nowMs), committed: () => undefined });
  }

  async actor(role: Role, device: string | null = null, person: string | null = null): Promise<Actor> {
    const token = randomUUID();
    const createdAt = new Date(this.nowMs).toISOString();
    const hash = secretHash(randomUUID());
    await insertToken(this.pool, {
      firm: this.id,
      id: token,
      hash,
      label: role,
      role,
      device,
      createdAt,
      expiresAt: null,
    });
    return { firm: this.id, token, role, device, person, revoked: false };
  }

  async client(role: Role, device: string | null = null): Promise<TestClient> {
    return new TestClient(await this.actor(role, device, this.ids.ann), this.lane);
  }

  /** The standing of the firm: its people, places and equipment, entered through the write door. */
  async setUp(): Promise<TestClient> {
    const admin = new TestClient(await this.actor('admin'), this.lane);
    const { ids } = this;
    const well = (id: string, name: string, depth: string, more: object = {}): Draft => ({
      kind: 'well',
      id,
      set: {
        site: ids.site,
        name,
        standing: 'in-service',
        depthsFrom: 'measuring-point',
        totalDepthFt: depth,
        ...more,
      },
    });
    const unit = (id: string, type: string, label: string, more: object = {}): Draft => ({
      kind: 'unit',
      id,
      set: { type, label, use: 'shared', ownership: 'owned', ...more },
    });
    const drafts: Draft[] = [
      { kind: 'firm', id: this.id, set: { name: 'Testwater Associates' } },
      { kind: 'member', id: ids.ann, set: { name: 'Ann Reader', initials: 'AR', standing: 'active' } },
      { kind: 'member', id: ids.bob, set: { name: 'Bob Writer', initials: 'BW', standing: 'active' } },
      { kind: 'crew', id: ids.north, set: { name: 'North crew' } },
      { kind: 'crew', id: ids.south, set: { name: 'South crew' } },
      { kind: 'device', id: ids.phone, set: { label: 'Phone 1', crew: ids.north, person: ids.ann } },
      { kind: 'device', id: ids.otherPhone, set: { label: 'Phone 2', crew: ids.south, person: ids.bob } },
      { kind: 'site', id: ids.site, set: { name: 'Old Depot', timeZone: 'America/Chicago' } },
      { kind: 'nest', id: ids.nest, set: { site: ids.site, name: 'Nest 4' } },
      well(ids.shallow, 'W-4S', '25.3', { nest: ids.nest, screenTopFt: '15.3', screenBottomFt: '25.3' }),
      well(ids.deep, 'W-4D', '61.8', { nest: ids.nest, screenTopFt: '51.8', screenBottomFt: '61.8' }),
      well(ids.lone, 'W-1', '40', { screenTopFt: '30', screenBottomFt: '40', casingInsideDiameterIn: '2.067' }),
      unit(ids.pump, 'bladder-pump', 'Pump A'),
      unit(ids.otherPump, 'bladder-pump', 'Pump B'),
      unit(ids.meter, 'multi-parameter-meter', 'Meter A', { flowCellVolumeMl: '250' }),
      unit(ids.otherMeter, 'multi-parameter-meter', 'Meter B', { flowCellVolumeMl: '250' }),
      {
        kind: 'event',
        id: ids.event,
        set: {
          site: ids.site,
          name: 'Spring round',
          starts: '2026-05-04',
          ends: '2026-05-05',
          standing: 'open',
          plan: { criteria: 'epa-region-1-low-stress-rev-4' },
        },
      },
      { kind: 'assignment', set: { event: ids.event, crew: ids.north, well: ids.lone } },
      { kind: 'assignment', set: { event: ids.event, crew: ids.south, well: ids.shallow } },
    ];
    const outcomes = await admin.push(...drafts);
    const bad = outcomes.filter((outcome) => outcome.outcome !== 'applied');
    if (bad.length > 0) throw new Error(`the test firm was not set up: ${JSON.stringify(bad)}`);
    return admin;
  }

  observed(at: string, captured = 'at-the-well', entered = at) {
    return { at, entered, captured, readBy: this.ids.ann, writtenBy: this.ids.bob };
  }
}
