import { Temporal } from 'temporal-polyfill';
import { z } from 'zod';
import { decimal, instant } from '../../protocol/primitives.ts';
import { instantMs } from '../../science/instant-ms.ts';
import { HOLDING_CLOCKS } from '../../science/samples/holding-clocks.ts';
import { recordId } from '../equipment-told/told-fields.ts';
import { eventClocks } from '../samples/deadlines/event-clocks.ts';
import { cautionsOfMany } from '../samples/deadlines/time-cautions.ts';
import type { EventSamples } from '../samples/event-samples.ts';
import { indexSamples } from '../samples/samples-index.ts';
import { isTemperatureBlank } from '../samples/temperature-blank.ts';
import { wallClock } from '../samples/wall-clock.ts';
import { LEAVING_STANDINGS, type LeavingClock } from './leaving-clock.ts';
import { hoursAtReceipt, leavingSentence } from './leaving-sentence.ts';
import { type LeavingAsked, type Shipment, shipmentsOf } from './shipments.ts';
import { transitOf } from './transit.ts';

/** When coolers go on the next day. Common practice, no source; whoever asks may give another instant. */
const MORNING = '08:00';
/** A truckload; the counts tell of all. */
const MOST_LISTED = 100;

const hours = decimal.refine((value) => Number(value) >= 0, { error: 'must not be below zero' });

export const mustLeaveInput = z.strictObject({
  at: instant.optional().describe('As of when. Default: now'),
  later: instant
    .optional()
    .describe(
      'When it leaves if it does not leave today. Default: 08:00 of the next day at the site (common practice, no source)',
    ),
  transitHours: hours
    .optional()
    .describe('From hand-over to the laboratory. Default: as planned; else 24 (common practice, no source)'),
});
export type MustLeaveGiven = z.output<typeof mustLeaveInput>;

const text = z.string().nullable();
const count = z.int().min(0);

export const leavingTold = z.strictObject({
  container: recordId('container'),
  label: z.string(),
  group: z.string(),
  wellName: text,
  clock: z.enum(HOLDING_CLOCKS),
  written: z.string().describe('Its limit as the document has it'),
  dueAt: z.string(),
  receivedBy: z.string().describe('The last receipt that is in time'),
  leaveBy: z.string().describe('The last departure that is in time'),
  standing: z.enum(LEAVING_STANDINGS),
  hoursAtReceipt: text.describe('From its collection to the receipt, if it leaves at the earliest'),
  sentence: z.string(),
});

export const shipmentTold = z.strictObject({
  cooler: recordId('cooler').nullable().describe('Null for what is in no cooler yet'),
  number: text.describe('Of the cooler'),
  laboratory: recordId('laboratory').nullable(),
  laboratoryName: text,
  leftAt: text.describe('When it was given away, as signed; null where it is still here'),
  containers: count.describe('Filled, and not received'),
  mustLeave: count.describe('Containers that miss a clock if they leave later than today'),
  tooLate: count.describe('Containers that miss a clock even if they leave at once'),
  arrivesAt: text.describe('At the door of the laboratory, if it leaves at the earliest'),
  receivedAt: text.describe('When somebody is there to receive it then'),
  handInBy: text.describe('By when it has to be handed in today; null where it may wait'),
  clocks: z.array(leavingTold).describe(`What cannot wait, the earliest first; at most ${MOST_LISTED}`),
  why: text.describe('Why nothing can be said of when it is received'),
  sentence: z.string(),
});

export const mustLeaveOutput = z.strictObject({
  event: recordId('event'),
  at: z.string(),
  later: z.string(),
  timeZone: z.string(),
  transitHours: z.string(),
  transitSource: z.string(),
  mustLeave: count,
  tooLate: count,
  cautions: z
    .array(z.string())
    .describe('Where the time of a collection cannot be as recorded, or a phone was far off, with the containers'),
  shipments: z.array(shipmentTold).describe('The one that has to leave the earliest first'),
  withoutClock: count.describe(
    'Filled containers of which no clock is known, temperature blanks apart; the deadlines tell why',
  ),
});
export type MustLeaveTold = z.output<typeof mustLeaveOutput>;

/** The next morning where the site is. */
export function nextMorning(at: string, timeZone: string): string {
  const day = Temporal.Instant.from(at).toZonedDateTimeISO(timeZone).toPlainDate().add({ days: 1 });
  return day.toZonedDateTime({ timeZone, plainTime: MORNING }).toInstant().toString();
}

function withStanding(clocks: readonly LeavingClock[], standing: LeavingClock['standing']): readonly LeavingClock[] {
  return clocks.filter((one) => one.standing === standing);
}

function shipmentSentence(shipment: Shipment, must: readonly LeavingClock[], late: number, timeZone: string): string {
  const { why, leaving, containers, cooler, laboratory } = shipment;
  const what = cooler ? `Cooler ${cooler.fields.number}` : `${containers.length} containers that are in no cooler`;
  if (why !== null || !leaving) return `${what}: ${why ?? 'nothing is known of its way'}`;
  const at = wallClock(leaving.receivedAt, timeZone);
  const where = laboratory?.fields.name ?? 'the laboratory';
  const went = leaving.isUnderWay ? 'is under way' : 'leaving now';
  const lates = late === 0 ? '' : `; ${late} of its containers miss a clock then`;
  const [first] = must;
  const by = first
    ? `; hand it in by ${wallClock(first.leaveBy, timeZone)}, or ${must.length} of its containers miss a clock`
    : '';
  return `${what} ${went} is received by ${where} at ${at}${lates}${by}.`;
}

/** A shipment with what cannot wait in it. */
export function toldShipment(shipment: Shipment, asked: LeavingAsked, timeZone: string): z.output<typeof shipmentTold> {
  const { cooler, laboratory, containers, leaving, arrivesAt, clocks, why } = shipment;
  const must = withStanding(clocks, 'must-leave-today');
  const late = withStanding(clocks, 'too-late');
  const listed = clocks.filter(({ standing }) => standing === 'must-leave-today' || standing === 'too-late');
  return {
    cooler: cooler?.id ?? null,
    number: cooler?.fields.number ?? null,
    laboratory: laboratory?.id ?? null,
    laboratoryName: laboratory?.fields.name ?? null,
    leftAt: shipment.leftAt,
    containers: containers.length,
    mustLeave: must.length,
    tooLate: late.length,
    arrivesAt,
    receivedAt: leaving?.receivedAt ?? null,
    handInBy: must[0]?.leaveBy ?? null,
    clocks: listed.slice(0, MOST_LISTED).map((one) => toldLeaving(one, shipment, asked, timeZone)),
    why,
    sentence: shipmentSentence(shipment, must, late.length, timeZone),
  };
}

function toldLeaving(
  one: LeavingClock,
  shipment: Shipment,
  asked: LeavingAsked,
  timeZone: string,
): z.output<typeof leavingTold> {
  const { of, clock, dueAt, receivedBy, leaveBy, standing } = one;
  return {
    container: of.container.id,
    label: of.container.fields.label,
    group: clock.group.id,
    wellName: of.well?.fields.name ?? null,
    clock: clock.clock,
    written: clock.written,
    dueAt,
    receivedBy,
    leaveBy,
    standing,
    hoursAtReceipt: hoursAtReceipt(one, shipment),
    sentence: leavingSentence(one, shipment, asked, timeZone),
  };
}

/** Earlier than it is asked nothing leaves later. */
function laterThan(at: string, later: string | undefined, timeZone: string): string {
  const given = later ?? nextMorning(at, timeZone);
  return instantMs(given) < instantMs(at) ? at : given;
}

/** What of an event has to leave today so that no clock is missed, by cooler and laboratory. */
export function mustLeaveTold(samples: EventSamples, asked: MustLeaveGiven & { readonly now: string }): MustLeaveTold {
  const index = indexSamples(samples);
  const timeZone = samples.site?.fields.timeZone ?? 'UTC';
  const at = asked.at ?? asked.now;
  const transit = transitOf(index, asked.transitHours);
  const leaving = { at, later: laterThan(at, asked.later, timeZone), transit };
  const clocks = eventClocks(samples, index);
  const shipments = shipmentsOf(index, clocks, leaving).map((one) => toldShipment(one, leaving, timeZone));
  const waiting = clocks.filter(({ container, received }) => container.fields.standing === 'filled' && !received);
  return {
    event: samples.event.id,
    at,
    later: leaving.later,
    timeZone,
    transitHours: transit.hours,
    transitSource: transit.source,
    mustLeave: shipments.reduce((sum, one) => sum + one.mustLeave, 0),
    tooLate: shipments.reduce((sum, one) => sum + one.tooLate, 0),
    cautions: [...cautionsOfMany(waiting, asked.now, timeZone)],
    shipments,
    withoutClock: waiting.filter(({ clocks, holder }) => clocks.length === 0 && !isTemperatureBlank(holder)).length,
  };
}
