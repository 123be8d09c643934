import type { ReadTx } from './transaction.ts';

/** A device of a crew, with the newest client on it and what it last said. Times in UTC. */
export interface DeviceSync {
  readonly crew: string;
  readonly device: string;
  readonly label: string;
  /** The installation of the field client that pushed last; null where none ever did. */
  readonly client: string | null;
  readonly lastPush: string | null;
  readonly lastPull: string | null;
  readonly unsentCount: number | null;
  readonly unsentOldest: string | null;
  /** When it came back with an older memory than the server has of it, or on a copy; null where it never did. */
  readonly cameBackAt: string | null;
  /** Server time minus device time. */
  readonly clockDifferenceMs: number | null;
  /** Mutations of all its clients that wait for another record. */
  readonly waiting: number;
  /** Those that wait for a person. */
  readonly forAPerson: number;
  /** Those that mean nothing, and are only kept. */
  readonly refused: number;
}

const TEXT = `with clients as (
  select k.device, c.* from unnest($2::uuid[]) as w(crew)
  join device d on d.firm = $1 and d.crew = w.crew and not d.voided
  join token k on k.firm = $1 and k.device = d.id
  join client c on c.firm = $1 and c.token = k.id
), newest as (
  select distinct on (device) * from clients order by device, pushed_at desc nulls last, id
), back as (
  select device, max(came_back_at) as came_back_at from clients group by device
), aside as (
  select c.device, count(*) filter (where s.standing = 'waiting') as waiting,
    count(*) filter (where s.standing = 'kept' and s.outcome = 'set_aside') as person,
    count(*) filter (where s.standing = 'kept' and s.outcome = 'refused') as refused
  from clients c join set_aside s on s.firm = $1 and s.client = c.id group by c.device
)
select d.crew, d.id as device, d.label, n.id as client, n.pushed_at as "lastPush", n.pulled_at as "lastPull",
  b.came_back_at as "cameBackAt", n.unsent_count as "unsentCount", n.unsent_oldest as "unsentOldest", n.difference_ms as "clockDifferenceMs",
  coalesce(a.waiting, 0) as waiting, coalesce(a.person, 0) as "forAPerson", coalesce(a.refused, 0) as refused
from unnest($2::uuid[]) as w(crew)
join device d on d.firm = $1 and d.crew = w.crew and not d.voided
left join newest n on n.device = d.id
left join back b on b.device = d.id
left join aside a on a.device = d.id
order by d.crew, d.label collate "C", d.id`;

/** When the devices of these crews were last in touch, and what they had not sent then. */
export async function devicesInTouch(tx: ReadTx, crews: readonly string[]): Promise<DeviceSync[]> {
  const { rows } = await tx.client.query<DeviceSync>({
    name: 'devices-in-touch',
    text: TEXT,
    values: [tx.firm, [...new Set(crews)]],
  });
  return rows;
}
