import { instantMs } from '../../science/instant-ms.ts';
import type { HoldingClock } from '../../science/samples/holding-clocks.ts';
import { decimalText } from '../millionths.ts';
import { wallClock } from '../samples/wall-clock.ts';
import type { LeavingClock } from './leaving-clock.ts';
import type { LeavingAsked, Shipment } from './shipments.ts';

const STEP: Partial<Readonly<Record<HoldingClock, string>>> = {
  'collection-to-extraction': 'extraction',
  'collection-to-analysis': 'analysis',
};

/** Hours between two instants in decimal text, to the hundredth. */
export function hoursBetween(from: string, until: string): string {
  return decimalText(Math.round(((instantMs(until) - instantMs(from)) / 3_600_000) * 100) * 10_000);
}

/** How long after its collection a container is received if it leaves at the earliest; null where either is not known. */
export function hoursAtReceipt({ clock }: LeavingClock, { leaving }: Shipment): string | null {
  return clock.startedAt === null || leaving === null ? null : hoursBetween(clock.startedAt, leaving.receivedAt);
}

function handling({ laboratory }: Shipment): string {
  const hours = laboratory?.fields.handlingHours;
  return hours === undefined || Number(hours) === 0 ? '' : `, and the laboratory needs ${hours} h after that`;
}

/** What would still help. */
function remedy({ receivedBy }: LeavingClock, shipment: Shipment, { at }: LeavingAsked, timeZone: string): string {
  if (instantMs(receivedBy) <= instantMs(at))
    return 'The laboratory receives nothing before that: book a receipt with it, or plan to sample again.';
  const hours = hoursBetween(at, receivedBy);
  const way = shipment.leftAt === null ? 'drive it there' : 'see where it is';
  return `It must be received by ${wallClock(receivedBy, timeZone)}, ${hours} h from now: ${way}, or book a receipt.`;
}

/** What is said of one container that cannot wait: by when it is received, against its limit, and what to do. */
export function leavingSentence(one: LeavingClock, shipment: Shipment, asked: LeavingAsked, timeZone: string): string {
  const { of, clock, leaveBy, standing } = one;
  const what = `${clock.group.title} in ${of.container.fields.label}`;
  const received = shipment.leaving ? wallClock(shipment.leaving.receivedAt, timeZone) : 'at a time not known';
  const took = hoursAtReceipt(one, shipment) ?? '?';
  const limit = `its limit to ${STEP[clock.clock] ?? 'the next step'} is ${clock.written}${handling(shipment)}`;
  if (standing === 'too-late')
    return `${what}: the next receipt is ${received}, ${took} h after it was collected; ${limit}. ${remedy(one, shipment, asked, timeZone)}`;
  if (standing === 'must-leave-today')
    return `${what} must leave by ${wallClock(leaveBy, timeZone)}: then it is received in time; ${limit}.`;
  return `${what} is received ${received}, ${took} h after it was collected; ${limit}.`;
}
