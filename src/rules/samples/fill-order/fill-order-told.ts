import { z } from 'zod';
import { HEADSPACES } from '../../../catalog/analytes/analyte-group.ts';
import { DEFAULT_FILL_ORDER, FILL_ORDERS } from '../../../catalog/analytes/fill-orders.ts';
import { SAMPLING_RULES } from '../../../catalog/analytes/sampling-rules.ts';
import { decimal, id } from '../../../protocol/primitives.ts';
import { isRefusal } from '../../../science/refusal.ts';
import { fillTimeS } from '../../../science/samples/fill-time.ts';
import { placesText } from '../../../science/units/significant-text.ts';
import { inObservedOrder } from '../../flags/facts/observed-order.ts';
import { slowestLimit } from '../asked-of-group.ts';
import { makeUpTime } from '../made-up-time.ts';
import { containersInOrder, type InOrder, isWaiting } from './containers-in-order.ts';
import type { FillRecords } from './fill-records.ts';

export const fillOrderInput = z.strictObject({
  flowMlPerMin: decimal.optional().describe('How fast the water comes. Default: as the last reading has it'),
});
export type FillOrderGiven = z.output<typeof fillOrderInput>;

const text = z.string().nullable();
const STATES = ['filled', 'next', 'waiting', 'discarded', 'dropped'] as const;

export const fillOrderOutput = z.strictObject({
  visit: id,
  order: z.string().describe('The order that the plan names, or else the default'),
  orderTitle: z.string(),
  called: text.describe('What the last call decided; null where nobody called'),
  mayFill: z.boolean().describe('Whether the call, or the method, says that bottles may be filled by now'),
  flowMlPerMin: text.describe('At which the times are told; null where nobody said'),
  next: id.nullable().describe('The container to fill next; null where none waits'),
  filledCount: z.int(),
  waitingCount: z.int(),
  waitingMl: z.string().describe('Water that those take which wait'),
  waitingS: text.describe('Seconds to fill those that wait'),
  containers: z
    .array(
      z.strictObject({
        container: id,
        label: z.string(),
        sample: id.nullable(),
        planned: id.nullable(),
        number: text.describe('Of its sample, taken or planned'),
        sampleType: z.string(),
        group: z.string(),
        title: text.describe('Of the group; null for one that the catalog does not hold'),
        suite: text,
        type: z.string(),
        volumeMl: z.string(),
        place: z.int().describe('From 1; what has the same one is filled in any order'),
        state: z.enum(STATES),
        filledAt: text,
        filtered: z.boolean().nullable().describe('Whether it is to be filtered; null where either may be meant'),
        poreUm: text,
        preservatives: z.array(z.string()).nullable().describe('In it, or to be in it; null where that is not known'),
        headspace: z.enum(['none', 'leave-a-third', 'no-overflow']).nullable(),
        cellOff: z.boolean().describe('The flow cell is off the line before it is filled'),
        atMostMlPerMin: text.describe('Limit of rate; null where neither plan nor document has one'),
        fillAtMlPerMin: text.describe('The present rate, or the limit where that is lower'),
        fillS: text.describe('Seconds that it takes at that'),
      }),
    )
    .describe('In the order to fill'),
  cautions: z.array(z.string()),
  sources: z.array(z.string()),
});
export type FillOrderTold = z.output<typeof fillOrderOutput>;
type ContainerTold = FillOrderTold['containers'][number];

function stateOf(one: InOrder, next: InOrder | undefined): ContainerTold['state'] {
  const { standing } = one.container.fields;
  if (standing === 'discarded' || standing === 'dropped') return standing;
  if (one.isFull) return 'filled';
  return one === next ? 'next' : 'waiting';
}

interface Rate {
  readonly limit: number | null;
  readonly at: number | null;
  readonly seconds: number | null;
}

function rateOf(one: InOrder, flow: number | null, { plan }: FillRecords): Rate {
  const volume = Number(one.container.fields.volumeMl);
  const limit = slowestLimit(one.served, volume, plan)?.limit.mlPerMin ?? null;
  const at = flow === null ? null : Math.min(flow, limit ?? flow);
  const seconds = at === null ? null : fillTimeS(volume, at);
  return { limit, at, seconds: seconds === null || isRefusal(seconds) ? null : seconds };
}

function numberText(value: number | null): string | null {
  return value === null ? null : placesText(value, Number.isInteger(value) ? 0 : 1);
}

/** Whether its groups say so, and the finest pores that one asks for. Where one asks for it and another for none, neither is told. */
function filterTold({ served }: InOrder): Pick<ContainerTold, 'filtered' | 'poreUm'> {
  const asked = new Set(served.map((one) => one.filtered).filter((one) => one !== null));
  const [said = null] = asked;
  const filtered = asked.size === 1 ? said : null;
  const pores = served.flatMap(({ poreUm }) => poreUm ?? []).toSorted((a, b) => Number(a) - Number(b));
  return { filtered, poreUm: filtered === true ? (pores[0] ?? null) : null };
}

/** No air, where one of its groups must have none. */
function headspaceOf({ served }: InOrder): ContainerTold['headspace'] {
  const asked = new Set(served.map(({ headspace }) => headspace));
  return HEADSPACES.find((one) => asked.has(one)) ?? null;
}

/** The first set that all of its groups allow. */
function preservativesOf({ served }: InOrder): string[] | null {
  const [first, ...others] = served.map(({ preservatives }) => (preservatives.length === 0 ? [[]] : preservatives));
  const key = (set: readonly string[]) => JSON.stringify(set.toSorted());
  const common = first?.find((set) => others.every((sets) => sets.some((one) => key(one) === key(set))));
  return first ? [...(common ?? first[0] ?? [])] : null;
}

function containerTold(one: InOrder, rate: Rate, next: InOrder | undefined, cellOff: boolean): ContainerTold {
  const { container, asked, of, fill } = one;
  const { label, group, suite, type, volumeMl, preservatives } = container.fields;
  return {
    container: container.id,
    label,
    ...{ sample: of.sample, planned: of.planned, number: of.number, sampleType: of.type },
    ...{ group, title: asked?.group.title ?? null, suite: suite ?? null, type, volumeMl, place: one.place },
    state: stateOf(one, next),
    filledAt: fill?.fields.collected ?? null,
    ...filterTold(one),
    preservatives: preservatives ? [...preservatives] : preservativesOf(one),
    headspace: headspaceOf(one),
    cellOff,
    atMostMlPerMin: numberText(rate.limit),
    fillAtMlPerMin: numberText(rate.at),
    fillS: numberText(rate.seconds),
  };
}

function lastCall({ calls }: FillRecords): string | null {
  return inObservedOrder(calls).at(-1)?.fields.decision ?? null;
}

/** Methods without a purge need no call; a volume is done when its purge has ended. */
function mayFill({ visit, purges, calls }: FillRecords): boolean {
  const { method } = visit.fields;
  const last = inObservedOrder(calls).at(-1)?.fields.decision;
  if (method !== 'low-flow' && method !== 'volume') return true;
  if (last !== undefined) return last !== 'purging-continued' && last !== 'not-stable-stopped';
  return method === 'volume' && purges.some(({ fields }) => fields.ended !== undefined);
}

/** Only where water is pumped, or flows by itself, does it pass a flow cell. */
function hasCell({ visit: { fields } }: FillRecords): boolean {
  return fields.method !== 'passive' && fields.method !== 'gauging';
}

/** Of the samples here, taken or planned. */
function blindWithoutTime({ samples, planned }: FillRecords, all: readonly InOrder[]): readonly string[] {
  const plain = all.filter(({ of }) => {
    // what waits may be of the planned sample alone when that was taken
    const sample = samples.find(({ id, fields }) => id === of.sample || (fields.planned ?? '') === of.planned);
    const plan = planned.find(({ id }) => id === of.planned);
    return of.type === 'blind-duplicate' && (sample?.fields.laboratoryTime ?? plan?.fields.laboratoryTime) == null;
  });
  return [...new Set(plain.map(({ of }) => makeUpTime(of.number ?? 'One')))];
}

function cautionsOf(records: FillRecords, all: readonly InOrder[]): string[] {
  const unknown = all
    .filter(({ asked, served }) => asked === null && served.length === 0)
    .map(({ container }) => container.fields.label);
  return [
    ...(mayFill(records) ? [] : ['Nobody has called the purge stable or done: bottles are filled after that.']),
    ...(all.length === 0 ? ['No container is labelled or recorded for this visit.'] : []),
    ...(unknown.length > 0 ? [`Of these the catalog does not hold the group: ${unknown.join(', ')}.`] : []),
    ...blindWithoutTime(records, all),
    ...(hasCell(records)
      ? ['Take the flow cell off the line, slow it before volatiles, never faster than the well was purged.']
      : []),
  ];
}

function sourcesOf(order: keyof typeof FILL_ORDERS): string[] {
  const { cellOff, slowForVolatiles, ratesOfFieldManual, filterFlushed } = SAMPLING_RULES;
  const rules = [cellOff, slowForVolatiles, ratesOfFieldManual, filterFlushed].map(({ source }) => source);
  return [...new Set([...FILL_ORDERS[order].steps.map(({ source }) => source), ...rules])];
}

/** A flow of nothing fills nothing: then no time is told. */
function flowOf({ flow }: FillRecords, { flowMlPerMin }: FillOrderGiven): number | null {
  const given = flowMlPerMin ?? flow?.fields.flowMlPerMin;
  return given !== undefined && Number(given) > 0 ? Number(given) : null;
}

/** The containers of a visit in the order to fill, what is done, what is next, and how long it takes. */
export function fillOrderTold(records: FillRecords, given: FillOrderGiven): FillOrderTold {
  const all = containersInOrder(records);
  const flow = flowOf(records, given);
  const rates = new Map(all.map((one) => [one, rateOf(one, flow, records)]));
  const waiting = all.filter(isWaiting);
  const [next] = waiting;
  const seconds = waiting.map((one) => rates.get(one)?.seconds ?? null);
  const known = flow !== null && seconds.every((one) => one !== null);
  const order = records.plan?.fillOrder ?? DEFAULT_FILL_ORDER;
  return {
    visit: records.visit.id,
    order,
    orderTitle: FILL_ORDERS[order].title,
    called: lastCall(records),
    mayFill: mayFill(records),
    flowMlPerMin: numberText(flow),
    next: next?.container.id ?? null,
    filledCount: all.filter(({ isFull }) => isFull).length,
    waitingCount: waiting.length,
    waitingMl: placesText(
      waiting.reduce((sum, { container }) => sum + Number(container.fields.volumeMl), 0),
      0,
    ),
    waitingS: known
      ? placesText(
          seconds.reduce<number>((sum, one) => sum + (one ?? 0), 0),
          0,
        )
      : null,
    containers: all.map((one) =>
      containerTold(one, rates.get(one) ?? rateOf(one, flow, records), next, hasCell(records)),
    ),
    cautions: cautionsOf(records, all),
    sources: sourcesOf(order),
  };
}
