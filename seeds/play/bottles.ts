import { fillOrderAt } from '../../src/client/fills-here.ts';
import type { RecordState } from '../../src/protocol/record.ts';
import { suitesOf } from '../firm/plan.ts';
import { stamp } from './clock.ts';
import { note, reach, type Stop, timeOf } from './stop.ts';

/** From one bottle to the next. */
const EACH_MS = 30_000;
/** How much earlier the crew writes on a blind duplicate: no clock of the laboratory runs late by it. */
const BLIND_BEFORE_MS = 47 * 60_000;
/** A bubble is seen in a vial of this well, and nobody fills another. */
const BUBBLE_AT = 'MW-1';

interface Planned extends RecordState {
  readonly fields: Readonly<Record<'event' | 'number' | 'type' | 'well' | 'standing', string>> & {
    readonly suites: readonly string[];
  };
}

async function all(stop: Pick<Stop, 'phone'>, kind: string): Promise<readonly RecordState[]> {
  return (await stop.phone.client.all(kind)).map(({ record }) => record).filter(({ voided }) => voided === null);
}

/** What the plan asks for at this well, as the phone knows it: the sample first, then what is taken beside it. */
export async function plannedHere(stop: Stop): Promise<readonly Planned[]> {
  const well = stop.world.id('well', stop.well);
  const its = (await all(stop, 'planned-sample')) as readonly Planned[];
  return its
    .filter(({ fields }) => fields.event === stop.world.event && fields.well === well && fields.standing === 'planned')
    .toSorted((a, b) => Number(b.fields.type === 'normal') - Number(a.fields.type === 'normal'));
}

function fillOf({ fields }: RecordState, hasBubble: boolean): Readonly<Record<string, unknown>> {
  const isVial = fields.type === 'vial';
  const preservatives = (fields.preservatives ?? []) as readonly string[];
  return {
    flowMlPerMin: isVial ? '100' : '250',
    cellOff: true,
    ...(isVial ? { bubble: hasBubble } : {}),
    ...(preservatives.length > 0 ? { preserved: true } : {}),
    ...(fields.group === 'metals-dissolved' ? { filtered: true, filterPoreUm: '0.45' } : { filtered: false }),
  };
}

/** Those of a planned sample that wait, in the order that the phone shows. */
async function waiting(stop: Stop, planned: string): Promise<readonly RecordState[]> {
  const told = await fillOrderAt(stop.phone.client.context, stop.visit);
  const its = new Map((await all(stop, 'container')).map((one) => [one.id, one]));
  const todo = told?.containers.filter((one) => one.planned === planned && ['next', 'waiting'].includes(one.state));
  return (todo ?? []).flatMap(({ container }) => its.get(container) ?? []);
}

/** Fills the containers that the plan has for a sample, one after the other; gives the time after the last. */
async function fillBottles(
  stop: Stop,
  fromMs: number,
  planned: string,
  sample: string,
  isFirst: boolean,
): Promise<number> {
  const { client } = stop.phone;
  let ms = fromMs;
  const todo = await waiting(stop, planned);
  const spoilt = isFirst ? todo.filter(({ fields }) => fields.type === 'vial')[1] : undefined;
  for (const container of todo) {
    ms += EACH_MS;
    await reach(stop, ms);
    await client.amend('container', container.id, { sample, standing: 'filled' });
    const hasBubble = stop.well === BUBBLE_AT && container === spoilt;
    const filled = { container: container.id, visit: stop.visit, ...fillOf(container, hasBubble) };
    await note(stop, ms, 'fill', { ...filled, collected: timeOf(stop, ms) });
  }
  return ms;
}

/** The sample with its bottles, and what the plan takes beside it: a duplicate, a matrix spike. */
export async function takeSample(stop: Stop, ms: number, number: string): Promise<void> {
  await reach(stop, ms);
  const { visit, phone, well } = stop;
  const suites = suitesOf(well);
  const [first, ...beside] = await plannedHere(stop);
  const own = first === undefined ? { number } : { number: first.fields.number, planned: first.id };
  const sample = await phone.client.record('sample', { visit, suites, collected: timeOf(stop, ms), ...own });
  if (first === undefined) return;
  let last = await fillBottles(stop, ms, first.id, sample.id, true);
  for (const { id: planned, fields } of beside) {
    const isBlind = fields.type === 'blind-duplicate';
    const told = isBlind ? { laboratoryTime: stamp(last - BLIND_BEFORE_MS, stop.world.zone) } : {};
    const type = { type: fields.type, of: sample.id, number: fields.number, planned, ...told };
    const collected = timeOf(stop, last);
    const its = await phone.client.record('sample', { visit, suites: fields.suites, collected, ...type });
    last = await fillBottles(stop, last, planned, its.id, false);
  }
}
