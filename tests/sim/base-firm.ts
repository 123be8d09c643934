import type { Actor, Batch } from '../../src/writes/batch.ts';
import type { Lane } from '../../src/writes/lane.ts';

const FIXED = '01970000-0000-7000-8000-';

/** The same ids in every run: what is compared must not differ by chance. */
export function fixedId(number: number): string {
  return `${FIXED}${number.toString(16).padStart(12, '0')}`;
}

/** Whether a record was entered before a world began. */
export function wasThereBefore(id: string): boolean {
  return id.startsWith(FIXED);
}

export const START_MS = Date.parse('2026-05-04T12:00:00Z');

export const FIRM = fixedId(1);
export const IDS = {
  ann: fixedId(2),
  bob: fixedId(3),
  north: fixedId(4),
  south: fixedId(5),
  site: fixedId(6),
  otherSite: fixedId(7),
  spring: fixedId(8),
  autumn: fixedId(9),
  wells: [fixedId(10), fixedId(11), fixedId(12)],
  units: [fixedId(13), fixedId(14)],
  assignments: [fixedId(15), fixedId(16), fixedId(17)],
  nest: fixedId(18),
  visits: [fixedId(22), fixedId(23)],
  purges: [fixedId(24), fixedId(25)],
  readings: [fixedId(26), fixedId(27)],
} as const;

export const EVENTS = [IDS.spring, IDS.autumn] as const;
export const CREWS = [IDS.north, IDS.south] as const;

const FIRST_DEVICE = 0x100;

export function deviceId(at: number): string {
  return fixedId(FIRST_DEVICE + at);
}

const FIRST_TOKEN = 0x200;

export function tokenId(at: number): string {
  return fixedId(FIRST_TOKEN + at);
}

/** Phone 0 is the office's, whose token speaks for no device. */
export function deviceOfToken(token: string | null): string | null {
  const at = token === null ? -1 : Number.parseInt(token.slice(-12), 16) - FIRST_TOKEN;
  return at > 0 ? deviceId(at) : null;
}

export function crewOf(device: number): string {
  return device % 2 === 0 ? IDS.north : IDS.south;
}

interface Draft {
  readonly kind: string;
  readonly id: string;
  readonly set: Readonly<Record<string, unknown>>;
}

function event(id: string, site: string, name: string): Draft {
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const set = { site, name, starts: '2026-05-04', ends: '2026-05-05', standing: 'open', plan };
  return { kind: 'event', id, set };
}

function well(at: number, more: object = {}): Draft {
  const set = { site: IDS.site, name: `W-${at + 1}`, standing: 'in-service', depthsFrom: 'measuring-point' };
  return { kind: 'well', id: IDS.wells[at] ?? '', set: { ...set, totalDepthFt: `${40 + 10 * at}.5`, ...more } };
}

function unit(at: number, type: string, label: string): Draft {
  return { kind: 'unit', id: IDS.units[at] ?? '', set: { type, label, use: 'shared', ownership: 'owned' } };
}

function assignment(at: number, eventId: string, crew: string): Draft {
  return { kind: 'assignment', id: IDS.assignments[at] ?? '', set: { event: eventId, crew } };
}

/** A firm with two crews, a site with three wells, two events, and a device for each phone. */
export function baseDrafts(devices: number): Draft[] {
  const member = (id: string, name: string, initials: string): Draft => {
    return { kind: 'member', id, set: { name, initials, standing: 'active' } };
  };
  return [
    { kind: 'firm', id: FIRM, set: { name: 'Testwater Associates' } },
    member(IDS.ann, 'Ann Reader', 'AR'),
    member(IDS.bob, 'Bob Writer', 'BW'),
    { kind: 'crew', id: IDS.north, set: { name: 'North crew' } },
    { kind: 'crew', id: IDS.south, set: { name: 'South crew' } },
    ...Array.from({ length: devices }, (_, at): Draft => {
      return { kind: 'device', id: deviceId(at), set: { label: `Phone ${at}`, crew: crewOf(at), person: IDS.ann } };
    }),
    { kind: 'site', id: IDS.site, set: { name: 'Old Depot', timeZone: 'America/Chicago' } },
    { kind: 'site', id: IDS.otherSite, set: { name: 'Mill Pond', timeZone: 'America/Chicago' } },
    { kind: 'nest', id: IDS.nest, set: { site: IDS.site, name: 'Nest 1' } },
    well(0),
    well(1, { nest: IDS.nest }),
    well(2, { nest: IDS.nest }),
    unit(0, 'bladder-pump', 'Pump A'),
    unit(1, 'multi-parameter-meter', 'Meter A'),
    event(IDS.spring, IDS.site, 'Spring round'),
    event(IDS.autumn, IDS.otherSite, 'Autumn round'),
    assignment(0, IDS.spring, IDS.north),
    assignment(1, IDS.spring, IDS.south),
    assignment(2, IDS.autumn, IDS.north),
  ];
}

/** Who enters the firm. */
export const ENTERED_BY: Actor = {
  firm: FIRM,
  token: fixedId(20),
  role: 'admin',
  device: null,
  person: null,
  revoked: false,
};

/** A visit of a crew at a well, with a purge that goes on. */
function visitDrafts(at: number): Draft[] {
  const [visit = '', purge = '', reading = ''] = [IDS.visits[at], IDS.purges[at], IDS.readings[at]];
  const began = '2026-05-04T07:10:00.000-05:00';
  const [well, crew, meter] = [IDS.wells[at], CREWS[at], IDS.units[1]];
  const read = '2026-05-04T07:20:00.000-05:00';
  const observed = { at: read, entered: read, captured: 'at-the-well', readBy: IDS.ann, writtenBy: IDS.bob };
  const values = { ph: '7.1', temperatureC: '12.1', turbidityNtu: '3.1', flowMlPerMin: '200' };
  return [
    { kind: 'visit', id: visit, set: { event: IDS.spring, well, crew, method: 'low-flow', arrived: began } },
    { kind: 'purge', id: purge, set: { visit, began } },
    { kind: 'reading', id: reading, set: { purge, meter, ...values, observed } },
  ];
}

/** Enters the firm through the write door. */
export function enterFirm(lane: Lane, devices: number): Promise<void> {
  return enter(lane, fixedId(21), baseDrafts(devices));
}

/** Two crews are at work in one event. */
export function enterDay(lane: Lane): Promise<void> {
  return enter(lane, fixedId(28), [...visitDrafts(0), ...visitDrafts(1)]);
}

async function enter(lane: Lane, client: string, drafts: readonly Draft[]): Promise<void> {
  const lines = drafts.map((draft, index) => {
    const text = JSON.stringify({ mutationId: index + 1, verb: 'record', ...draft });
    return { bytes: Buffer.from(text), text };
  });
  const rest = { schemaVersion: 1, sent: null, roundTripMs: 0, unsent: null, oneShot: false, carried: false };
  const batch: Batch = { actor: ENTERED_BY, client, first: 1, lines, ...rest };
  const answer = await lane(batch);
  const outcomes = answer.status === 'answered' ? answer.outcomes : [answer.status];
  const bad = outcomes.filter((text) => !text.includes('"outcome":"applied"'));
  if (bad.length > 0) throw new Error(`the firm was not entered: ${bad.join()}`);
}
