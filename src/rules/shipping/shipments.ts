import { instantMs } from '../../science/instant-ms.ts';
import { isRefusal } from '../../science/refusal.ts';
import { receiptOf } from '../../science/samples/ship-by.ts';
import { coolerFacts } from '../custody/cooler-facts.ts';
import { leftAt } from '../custody/left-at.ts';
import type { ContainerClocks } from '../samples/deadlines/container-clocks.ts';
import type { CoolerRecord, LaboratoryRecord } from '../samples/sample-records.ts';
import type { SamplesIndex } from '../samples/samples-index.ts';
import { backlogMinutes, laboratoryCalendar } from './laboratory-calendar.ts';
import { type Leaving, type LeavingClock, leavingClocks } from './leaving-clock.ts';
import type { Transit } from './transit.ts';

export interface Shipment {
  /** Null for what is in no cooler yet. */
  readonly cooler: CoolerRecord | null;
  readonly laboratory: LaboratoryRecord | null;
  readonly leftAt: string | null;
  readonly containers: readonly ContainerClocks[];
  /** Null where there is no way to know when it is received; then `why` says so. */
  readonly leaving: Leaving | null;
  readonly arrivesAt: string | null;
  readonly clocks: readonly LeavingClock[];
  readonly why: string | null;
}

export interface LeavingAsked {
  readonly at: string;
  readonly later: string;
  readonly transit: Transit;
}

function unknownWay(laboratory: LaboratoryRecord | null): string | null {
  if (!laboratory) return 'No laboratory is known for it: name one on the cooler, on its samples, or in the plan.';
  const { receiving, alsoOpen } = laboratory.fields;
  if (receiving.length + (alsoOpen?.length ?? 0) > 0) return null;
  return `Nobody said when ${laboratory.fields.name} receives: give its receiving hours.`;
}

/** A shipment that left may be past its transit and still not received: then it is received from now on. */
function startOf(left: string | null, { at, transit }: LeavingAsked): string {
  if (left === null) return at;
  const earliestMs = Math.max(instantMs(left), instantMs(at) - transit.minutes * 60_000);
  return earliestMs === instantMs(left) ? left : new Date(earliestMs).toISOString();
}

/** One cooler, or what goes to one laboratory and is in none yet, with by when each container in it has to leave. */
export function shipmentOf(
  index: SamplesIndex,
  about: Pick<Shipment, 'cooler' | 'laboratory' | 'containers'>,
  asked: LeavingAsked,
): Shipment {
  const { laboratory, cooler, containers } = about;
  const left = cooler && leftAt(coolerFacts(cooler, index.of));
  const none = { ...about, leftAt: left, leaving: null, arrivesAt: null, clocks: [] };
  const why = unknownWay(laboratory);
  if (!laboratory || why !== null) return { ...none, why };
  const calendar = laboratoryCalendar(laboratory);
  const at = startOf(left, asked);
  const receipt = receiptOf(at, asked.transit.minutes, calendar);
  if (isRefusal(receipt)) return { ...none, why: receipt.refused };
  const afterwards = left === null ? receiptOf(asked.later, asked.transit.minutes, calendar) : receipt;
  if (isRefusal(afterwards)) return { ...none, why: afterwards.refused };
  const { receivedAt } = receipt;
  const leaving = {
    at,
    isUnderWay: left !== null,
    later: asked.later,
    receivedAt,
    laterReceivedAt: afterwards.receivedAt,
  };
  const way = { calendar, transitMinutes: asked.transit.minutes, backlogMinutes: backlogMinutes(laboratory) };
  return {
    ...about,
    leftAt: left,
    leaving,
    arrivesAt: receipt.arrivesAt,
    clocks: leavingClocks(containers, way, leaving),
    why: null,
  };
}

/** What is filled and not received, by the cooler that it is in, and what is in none by where it goes. */
export function shipmentsOf(
  index: SamplesIndex,
  containers: readonly ContainerClocks[],
  asked: LeavingAsked,
): readonly Shipment[] {
  const groups = new Map<string, ContainerClocks[]>();
  for (const one of containers) {
    if (one.container.fields.standing !== 'filled' || one.received) continue;
    const key = one.container.fields.cooler ?? `to ${one.laboratory?.id ?? 'nobody'}`;
    const its = groups.get(key);
    if (its) its.push(one);
    else groups.set(key, [one]);
  }
  const shipments = [...groups].map(([key, its]) => {
    const laboratory = its[0]?.laboratory ?? null;
    return shipmentOf(index, { cooler: index.coolers.get(key) ?? null, laboratory, containers: its }, asked);
  });
  const first = ({ clocks }: Shipment) => instantMs(clocks[0]?.leaveBy ?? '9999-12-31T00:00:00Z');
  return shipments.toSorted((a, b) => first(a) - first(b));
}
