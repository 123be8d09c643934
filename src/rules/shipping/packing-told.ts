import { z } from 'zod';
import { analyteGroup } from '../../catalog/analytes/analyte-groups.ts';
import { SHIPPING_RULES } from '../../catalog/analytes/shipping-rules.ts';
import { SEVERITIES } from '../../protocol/kinds/flag.ts';
import { coolerFacts } from '../custody/cooler-facts.ts';
import { recordId } from '../equipment-told/told-fields.ts';
import { type ContainerClocks, containerClocks } from '../samples/deadlines/container-clocks.ts';
import { cautionsOfMany } from '../samples/deadlines/time-cautions.ts';
import type { EventSamples } from '../samples/event-samples.ts';
import { groupsOf } from '../samples/groups-of.ts';
import { MADE_UP_TIME_SOURCE, makeUpTime } from '../samples/made-up-time.ts';
import { receivedContainers } from '../samples/received.ts';
import { indexSamples, type SamplesIndex } from '../samples/samples-index.ts';
import { isBlind } from '../samples/told-to-laboratory.ts';
import { type MustLeaveGiven, mustLeaveInput, nextMorning, shipmentTold, toldShipment } from './must-leave-told.ts';
import { type PackingSaid, packingSaid } from './packing-rules.ts';
import { shipmentOf } from './shipments.ts';
import { transitOf } from './transit.ts';

export const packingInput = mustLeaveInput;

const said = z.strictObject({
  code: z.string(),
  severity: z.enum(SEVERITIES),
  sentence: z.string(),
  source: z.string(),
  verified: z.boolean(),
});

export const packingOutput = z.strictObject({
  cooler: recordId('cooler'),
  event: recordId('event'),
  number: z.string(),
  at: z.string(),
  timeZone: z.string(),
  transitHours: z.string(),
  transitSource: z.string(),
  packed: z.string().nullable(),
  groups: z
    .array(z.strictObject({ group: z.string(), title: z.string().nullable(), containers: z.int().min(0) }))
    .describe('What is in it, by group of analytes'),
  shipment: shipmentTold,
  says: z.array(said).describe('What is said while it is packed: the clocks first'),
});
export type PackingTold = z.output<typeof packingOutput>;

function countsOf(containers: readonly ContainerClocks[]): PackingTold['groups'] {
  const counts = new Map<string, PackingTold['groups'][number]>();
  for (const group of containers.flatMap(({ container }) => groupsOf(container))) {
    const before = counts.get(group)?.containers ?? 0;
    counts.set(group, { group, title: analyteGroup(group)?.title ?? null, containers: before + 1 });
  }
  return [...counts.values()].toSorted((a, b) => (a.group < b.group ? -1 : 1));
}

/** One sentence a way to be late, with the tightest container as its example. */
function clocksSaid(shipment: PackingTold['shipment']): readonly PackingSaid[] {
  const { source, verified } = SHIPPING_RULES.shipBy;
  const of = (standing: string) => shipment.clocks.find((one) => one.standing === standing)?.sentence;
  const more = (count: number) => (count > 1 ? ` ${count} containers in all.` : '');
  const late = of('too-late');
  const must = of('must-leave-today');
  return [
    ...(shipment.why === null
      ? []
      : [{ code: 'way-not-known', severity: 'caution', sentence: shipment.why, source, verified } as const]),
    ...(late === undefined
      ? []
      : [
          {
            code: 'misses-a-clock',
            severity: 'stop',
            sentence: `${late}${more(shipment.tooLate)}`,
            source,
            verified,
          } as const,
        ]),
    ...(must === undefined
      ? []
      : [
          {
            code: 'must-leave-today',
            severity: 'caution',
            sentence: `${must}${more(shipment.mustLeave)}`,
            source,
            verified,
          } as const,
        ]),
  ];
}

/** Clocks that rest on a time which cannot be. */
function timesSaid(containers: readonly ContainerClocks[], now: string, timeZone: string): readonly PackingSaid[] {
  const source = 'Arithmetic of the records: nothing is recorded before it is done';
  return cautionsOfMany(containers, now, timeZone).map((sentence) => {
    return { code: 'collection-time-doubtful', severity: 'caution', sentence, source, verified: true } as const;
  });
}

/** Its labels would show its parent: the last moment to make up a time, since the list is told what it has at the close. */
function blindSaid({ of }: SamplesIndex, containers: readonly ContainerClocks[]): readonly PackingSaid[] {
  const numbers = containers.flatMap(({ holder: { sample, planned } }) => {
    const told = sample?.fields.laboratoryTime ?? planned?.fields.laboratoryTime;
    return sample && isBlind(sample, of) && told == null ? [sample.fields.number] : [];
  });
  return [...new Set(numbers)].map((number) => {
    return {
      code: 'blind-duplicate-without-time',
      severity: 'question',
      sentence: makeUpTime(number),
      ...MADE_UP_TIME_SOURCE,
    } as const;
  });
}

/**
 * What is said while a cooler is packed.
 *
 * @returns null for a cooler that is not among the records of the event
 */
export function packingTold(
  samples: EventSamples,
  coolerId: string,
  asked: MustLeaveGiven & { readonly now: string },
): PackingTold | null {
  const index = indexSamples(samples);
  const cooler = index.coolers.get(coolerId);
  if (!cooler) return null;
  const timeZone = samples.site?.fields.timeZone ?? 'UTC';
  const at = asked.at ?? asked.now;
  const transit = transitOf(index, asked.transitHours);
  const leaving = { at, later: asked.later ?? nextMorning(at, timeZone), transit };
  const received = receivedContainers(samples, index);
  const its = samples.containers.filter(({ fields }) => fields.cooler === coolerId);
  const containers = its.map((one) => containerClocks(index, one, received.get(one.id)));
  const awaited = containers.filter((one) => one.container.fields.standing === 'filled' && !one.received);
  const named = cooler.fields.laboratory;
  const laboratory = (named === undefined ? containers[0]?.laboratory : index.laboratories.get(named)) ?? null;
  const shipment = toldShipment(
    shipmentOf(index, { cooler, laboratory, containers: awaited }, leaving),
    leaving,
    timeZone,
  );
  const facts = coolerFacts(cooler, samples);
  return {
    cooler: coolerId,
    event: samples.event.id,
    number: cooler.fields.number,
    at,
    timeZone,
    transitHours: transit.hours,
    transitSource: transit.source,
    packed: cooler.fields.packed ?? null,
    groups: countsOf(containers),
    shipment,
    says: [
      ...clocksSaid(shipment),
      ...timesSaid(awaited, asked.now, timeZone),
      ...blindSaid(index, awaited),
      ...packingSaid({ index, cooler, containers, facts, at }),
    ],
  };
}
