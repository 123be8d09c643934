import { z } from 'zod';
import { DECIDES, RAISED_ON } from '../../protocol/kinds/discrepancy.ts';
import { id } from '../../protocol/primitives.ts';
import { byIdIn } from '../samples/by-id.ts';
import type { EventSamples } from '../samples/event-samples.ts';
import { receivedContainers } from '../samples/received.ts';
import { indexSamples } from '../samples/samples-index.ts';
import { toldNumber } from '../samples/told-to-laboratory.ts';
import type { ToldToLaboratory } from './laboratory-list.ts';
import { sinceRaised } from './since-raised.ts';
import { tellableText } from './tellable.ts';

const text = z.string().nullable();

export const discrepancyTold = z
  .strictObject({
    id,
    reference: z.string().describe('By what both sides name it in a call: the id is another on each side'),
    type: z.string().describe('What does not agree, as a code in plain words'),
    detail: z.string(),
    cooler: text.describe('Its number'),
    sampleNumber: text,
    label: text,
    raisedOn: z.enum(RAISED_ON),
    decides: z.enum(DECIDES).describe('Who may decide it'),
    mayDecide: z.boolean().describe('Whether whoever asks is of that side'),
    decideBy: text.describe('Until when a decision is of use: the first clock of the bottles that runs out'),
    standing: z.enum(['open', 'decided']),
    decision: text,
    decidedBy: text,
    decidedAt: text,
    note: text.describe(
      'What became of it since: its receipt was taken back, its bottle came, or its words are withheld',
    ),
  })
  .meta({
    id: 'OpenItem',
    description: 'What was sent and what was received do not agree, until somebody has decided',
  });
export type DiscrepancyTold = z.output<typeof discrepancyTold>;

export type DiscrepancyRecord = EventSamples['discrepancies'][number];
type Side = (typeof DECIDES)[number];

/** How a side names records: by ids of its own, and by what both sides say in a call. */
export interface RecordNames {
  readonly idOf: (record: string) => string;
  readonly referenceOf: (record: string) => string;
}

function inOrder(items: readonly DiscrepancyTold[]): readonly DiscrepancyTold[] {
  const key = ({ standing, decideBy, cooler, label, type, id: own }: DiscrepancyTold) =>
    [standing === 'open' ? '0' : '1', decideBy ?? '~', cooler ?? '~', label ?? '~', type, own].join('\n');
  return items.toSorted((a, b) => (key(a) < key(b) ? -1 : 1));
}

type Since = ReturnType<typeof sinceRaised>;

function told(
  one: DiscrepancyRecord,
  of: EventSamples,
  { side, names, since }: { readonly side: Side; readonly names: RecordNames; readonly since: Since },
): DiscrepancyTold {
  const { fields } = one;
  const container = byIdIn(of.containers, fields.container);
  const about = fields.sample ?? container?.fields.sample;
  const sample = byIdIn(of.samples, about) ?? byIdIn(of.blanks, container?.fields.blank);
  const number = sample && (side === 'laboratory' ? toldNumber(sample, of) : sample.fields.number);
  return {
    id: names.idOf(one.id),
    reference: names.referenceOf(one.id),
    type: fields.type,
    detail: fields.detail,
    cooler: byIdIn(of.coolers, fields.cooler)?.fields.number ?? null,
    sampleNumber: number ?? null,
    label: fields.label ?? container?.fields.label ?? null,
    raisedOn: fields.raisedOn,
    decides: fields.decides,
    mayDecide: fields.decides === side && fields.standing === 'open',
    decideBy: fields.decideBy ?? null,
    standing: fields.standing,
    decision: fields.decision ?? null,
    decidedBy: fields.decidedBy ?? null,
    decidedAt: fields.decidedAt ?? null,
    note: since(one),
  };
}

const WORD_ANEW =
  'The laboratory does not read this decision: it names what a laboratory is not told. Word it anew without, with PATCH /v1/discrepancies/ID.';

/** The open items of an event as the office has them; what is open first, the most urgent at the top. */
export function officeDiscrepancies(of: EventSamples, names: RecordNames): readonly DiscrepancyTold[] {
  const since = sinceRaised({ of, received: receivedContainers(of, indexSamples(of)) });
  const tell = tellableText(of);
  const items = of.discrepancies.map((one) => {
    const its = told(one, of, { side: 'coordinator', names, since });
    const isWithheld =
      its.decision !== null && one.fields.decides !== 'laboratory' && tell(its.decision) !== its.decision;
    return isWithheld ? { ...its, note: [its.note, WORD_ANEW].filter((said) => said !== null).join(' ') } : its;
  });
  return inOrder(items);
}

/** Those that stand on the side of a laboratory: that it raised itself, or that are about what is on its list. */
function discrepanciesOf({ laboratory, world, containers }: ToldToLaboratory): readonly DiscrepancyRecord[] {
  const coolers = new Set(containers.map(({ cooler }) => cooler.id));
  const listed = new Set(containers.map(({ container }) => container.id));
  return world.of.discrepancies.filter(({ fields }) => {
    if (fields.laboratory !== undefined) return fields.laboratory === laboratory;
    return coolers.has(fields.cooler ?? '') || listed.has(fields.container ?? '');
  });
}

/** The same for a laboratory: under ids, numbers and labels that it is told, and nothing that it must not read. */
export function laboratoryDiscrepancies(to: ToldToLaboratory, names: RecordNames): readonly DiscrepancyTold[] {
  const { of } = to.world;
  const tell = tellableText(of);
  const listed = new Set(to.containers.map(({ container }) => container.id));
  const since = sinceRaised(to.world);
  const items = discrepanciesOf(to).map((one) => {
    const its = told(one, of, { side: 'laboratory', names, since });
    // a bottle that is not on its list is known to it by what it read, and by nothing else
    const isListed = one.fields.container === undefined || listed.has(one.fields.container);
    const number = isListed ? its.sampleNumber : null;
    const label = isListed ? its.label : (one.fields.label ?? null);
    return {
      ...its,
      sampleNumber: number,
      label,
      detail: one.fields.raisedOn === 'field' ? tell(its.detail) : its.detail,
      decision: its.decision === null || one.fields.decides === 'laboratory' ? its.decision : tell(its.decision),
    };
  });
  return inOrder(items);
}
