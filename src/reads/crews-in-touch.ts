import { type DeviceSync, devicesInTouch } from '../store/read/crew-sync.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import type { CrewStatus, DeviceStatus, SetAsideCounts } from './event-status-result.ts';

export type CrewInTouch = Omit<CrewStatus, 'id' | 'name'>;

function deviceStatus(row: DeviceSync): DeviceStatus {
  const { device, label, lastPush, lastPull, cameBackAt, unsentCount, unsentOldest, clockDifferenceMs } = row;
  const { waiting, forAPerson, refused } = row;
  const times = { lastPush, lastPull, cameBackAt, unsentCount, unsentOldest, clockDifferenceMs };
  return { id: device, label, ...times, setAside: { waiting, forAPerson, refused } };
}

/** Instants in UTC with the same number of digits or fewer: PostgreSQL leaves out trailing zeros. */
function pick(times: readonly (string | null)[], better: (a: number, b: number) => boolean): string | null {
  const known = times.filter((time) => time !== null);
  return known.reduce<string | null>(
    (best, time) => (best === null || better(Date.parse(time), Date.parse(best)) ? time : best),
    null,
  );
}

const later = (a: number, b: number): boolean => a > b;
const earlier = (a: number, b: number): boolean => a < b;

function sumOrNull(counts: readonly (number | null)[]): number | null {
  const known = counts.filter((count) => count !== null);
  return known.length === 0 ? null : known.reduce((sum, count) => sum + count, 0);
}

function furthestOff(differences: readonly (number | null)[]): number | null {
  return differences.reduce(
    (worst, one) => (one !== null && Math.abs(one) > Math.abs(worst ?? -1) ? one : worst),
    null,
  );
}

export function addSetAside(counts: readonly SetAsideCounts[]): SetAsideCounts {
  const sum = (key: keyof SetAsideCounts) => counts.reduce((total, one) => total + one[key], 0);
  return { waiting: sum('waiting'), forAPerson: sum('forAPerson'), refused: sum('refused') };
}

function ofCrew(devices: readonly DeviceStatus[]): CrewInTouch {
  return {
    lastPush: pick(
      devices.map((one) => one.lastPush),
      later,
    ),
    lastPull: pick(
      devices.map((one) => one.lastPull),
      later,
    ),
    unsentCount: sumOrNull(devices.map((one) => one.unsentCount)),
    unsentOldest: pick(
      devices.map((one) => one.unsentOldest),
      earlier,
    ),
    clockDifferenceMs: furthestOff(devices.map((one) => one.clockDifferenceMs)),
    setAside: addSetAside(devices.map((one) => one.setAside)),
    devices,
  };
}

/** When each crew was last in touch, and what its devices had not sent then; a crew without devices has none. */
export async function crewsInTouch(tx: ReadTx, crews: readonly string[]): Promise<ReadonlyMap<string, CrewInTouch>> {
  const rows = await devicesInTouch(tx, crews);
  return new Map(
    crews.map((crew) => [crew, ofCrew(rows.filter((row) => row.crew === crew).map((row) => deviceStatus(row)))]),
  );
}
