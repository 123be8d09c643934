import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { minutesBetween, readInstant } from './instants.ts';

export interface HandOver {
  readonly relinquishedAt: string;
  readonly receivedAt: string;
  /** Between the two a carrier had it, closed so that opening would show. */
  readonly isCarrierLeg: boolean;
}

export interface HandOverReading {
  /** `note`: received before it was given, by no more than two clocks may differ. `question`: by more. */
  readonly order: 'in-order' | 'note' | 'question';
  /** From giving to receiving; below zero where receiving is told as the earlier. */
  readonly minutes: number;
  /** Nobody is known to have had it for longer than two clocks may differ, and no carrier did. */
  readonly isGap: boolean;
}

/**
 * Whether the two signatures of a hand-over fit together.
 *
 * Source: paired signatures with dates and times, US EPA, RCRA Ground-Water Monitoring, Draft Technical Guidance, Nov 1992,
 * p. 7-27; what two clocks may differ by is common practice, no source.
 *
 * @example handOverOrder({ relinquishedAt: '2026-05-04T10:05:00Z', receivedAt: '2026-05-04T09:58:00Z', isCarrierLeg: false }, 15) // note
 */
export function handOverOrder(handOver: HandOver, clocksDifferByMinutes: number): HandOverReading | Refusal {
  const given = readInstant('Relinquished', handOver.relinquishedAt);
  const taken = readInstant('Received', handOver.receivedAt);
  if (isRefusal(given)) return given;
  if (isRefusal(taken)) return taken;
  if (!(clocksDifferByMinutes >= 0))
    return refuse(`Clocks cannot differ by ${clocksDifferByMinutes} minutes: give 0 or more.`);
  const minutes = minutesBetween(given, taken);
  const order = minutes >= 0 ? 'in-order' : -minutes <= clocksDifferByMinutes ? 'note' : 'question';
  return { order, minutes, isGap: minutes > clocksDifferByMinutes && !handOver.isCarrierLeg };
}
