import { z } from 'zod';
import { SETTING_LAYERS } from '../../../catalog/analytes/group-settings.ts';
import { CONTAINER_STANDINGS } from '../../../protocol/kinds/container.ts';
import { id, instant } from '../../../protocol/primitives.ts';
import { instantMs } from '../../../science/instant-ms.ts';
import { HOLDING_CLOCKS } from '../../../science/samples/holding-clocks.ts';
import { recordId } from '../../equipment-told/told-fields.ts';
import { clockSentence } from './clock-sentence.ts';
import { type ContainerClock, type ContainerClocks, hasPast, isPastEnd } from './container-clocks.ts';
import { COLLECTED_FROM, PRESERVATIONS } from './container-times.ts';
import { timeCautions } from './time-cautions.ts';

const text = z.string().nullable();

/** Which containers are asked about. */
export const deadlinesAsked = {
  at: instant.optional().describe('As of when. Default: now'),
  cooler: id.optional().describe('Only what is packed in it'),
  laboratory: id.optional().describe('Only what goes to it'),
  within: z.coerce
    .number()
    .int()
    .min(0)
    .max(100_000)
    .optional()
    .describe('Only what has a clock that ends within so many hours; what is past its end is among it'),
  which: z
    .enum(['running', 'awaited', 'all'])
    .default('running')
    .describe(
      'running: what the laboratory has not received, and what it has received with a clock that runs on; awaited: only what it has not received; both without what is left out; all: every container',
    ),
};

const clockTold = z.strictObject({
  clock: z.enum(HOLDING_CLOCKS),
  group: z.string().describe('Of which analytes; a bottle may serve several groups'),
  limitMinutes: z.int().min(0),
  written: z.string().describe('The limit as its document has it'),
  from: text.describe(
    'When it began: as recorded or, where a time is later than its record, when that was made; null where it is not known',
  ),
  dueAt: text.describe('In UTC, by elapsed time; null where it has not begun'),
  endedAt: text,
  state: z
    .enum(['not-started', 'running', 'past', 'in-time', 'late', 'before-start'])
    .describe('past: nothing says that it was met, and its end is behind; late: it was done after its end'),
  leftMinutes: z
    .int()
    .nullable()
    .describe('Until the end of a clock that runs, as of when it was asked; below zero: past'),
  basis: z.strictObject({
    catalog: z.string().describe('Group and holding time of the catalog'),
    layer: z.enum(SETTING_LAYERS).describe('Who has the last word on it'),
    source: z.string(),
    dated: text,
    verified: z.boolean().describe('False: from memory, and not read in the source'),
    reason: text.describe('Why the project has it otherwise'),
    approvedBy: text,
  }),
  sentence: z.string(),
});

export const deadlineTold = z.strictObject({
  container: recordId('container'),
  label: z.string(),
  standing: z.enum(CONTAINER_STANDINGS),
  group: z.string().describe('Id of its group of analytes'),
  groupTitle: text.describe('Null for a group that the catalog does not have'),
  suite: text,
  number: text.describe('Of its sample, blank or planned sample'),
  sample: recordId('sample').nullable(),
  blank: recordId('blank').nullable(),
  well: recordId('well').nullable(),
  wellName: text,
  cooler: recordId('cooler').nullable(),
  laboratory: recordId('laboratory').nullable(),
  collectedAt: text.describe('As recorded'),
  collectedFrom: z.enum(COLLECTED_FROM).nullable().describe('Which record says so'),
  preservation: z.enum(PRESERVATIONS).nullable(),
  receivedAt: text,
  dueAt: text.describe('The earliest end of a clock that runs; what ends at the well stands only among its clocks'),
  isPast: z
    .boolean()
    .nullable()
    .describe('Whether one of its clocks is past its end, those that end at the well among them; null where none runs'),
  clocks: z.array(clockTold),
  cautions: z
    .array(z.string())
    .describe('Where the time of its collection cannot be as recorded, or its phone was far off'),
  unknown: text.describe('Of what no clock is known, and why'),
});
export type DeadlineTold = z.output<typeof deadlineTold>;

function toldClock(
  clock: ContainerClock,
  of: ContainerClocks,
  at: string,
  timeZone: string,
): DeadlineTold['clocks'][number] {
  const { clock: name, group, limitMinutes, written, startedAt, dueAt, endedAt, state, basis } = clock;
  const left = state === 'running' && dueAt !== null ? Math.floor((instantMs(dueAt) - instantMs(at)) / 60_000) : null;
  const sentence = clockSentence(clock, of, timeZone);
  return {
    clock: name,
    group: group.id,
    limitMinutes,
    written,
    from: startedAt,
    dueAt,
    endedAt,
    state: isPastEnd(clock, at) ? 'past' : state,
    leftMinutes: left,
    basis,
    sentence,
  };
}

/**
 * A container with its clocks, as it is told.
 *
 * @param now by the clock of the server, whatever time is asked about
 */
export function toldDeadline(of: ContainerClocks, at: string, timeZone: string, now = at): DeadlineTold {
  const { container, holder, well, dueAt } = of;
  const { label, standing, group, cooler, sample, blank } = container.fields;
  return {
    container: container.id,
    label,
    standing,
    group,
    groupTitle: of.groupTitle,
    suite: of.suiteName,
    number: (holder.sample ?? holder.blank ?? holder.planned)?.fields.number ?? null,
    sample: sample ?? null,
    blank: blank ?? null,
    well: well?.id ?? null,
    wellName: well?.fields.name ?? null,
    cooler: cooler ?? null,
    laboratory: of.laboratory?.id ?? null,
    collectedAt: of.collectedAt,
    collectedFrom: of.collectedFrom,
    preservation: of.preservation,
    receivedAt: of.received?.at ?? null,
    dueAt,
    isPast: hasPast(of, at) ? true : dueAt === null ? null : false,
    clocks: of.clocks.map((clock) => toldClock(clock, of, at, timeZone)),
    cautions: [...timeCautions(of, now, timeZone)],
    unknown: of.unknown,
  };
}
