import type { DECIDES } from '../../../protocol/kinds/discrepancy.ts';
import { type CoolerFacts, coolerFacts } from '../../custody/cooler-facts.ts';
import { plainNumber } from '../../custody/other-coolers.ts';
import { type ReceiptJudged, receiptJudged } from '../../custody/receipt-judged.ts';
import type { Unlabelled } from '../../custody/unlabelled.ts';
import type { EventSamples } from '../../samples/event-samples.ts';
import { firstOf } from '../first-of.ts';
import { looseDoubts, receiptDoubts } from './receipt-doubts.ts';

type Receipt = EventSamples['receipts'][number];

/** What was sent and what was received do not agree. Its text names labels and what a laboratory is told, and nothing else. */
export interface ReceiptFinding {
  /** Code in plain words. */
  readonly type: string;
  readonly detail: string;
  readonly decides: (typeof DECIDES)[number];
  readonly cooler: string | null;
  readonly container: string | null;
  readonly label: string | null;
  /** Containers whose clocks run on meanwhile. */
  readonly concerned: readonly string[];
  /** What was read or counted, where that makes it another matter: a cooler that came at 9 °C is not the one that came at 7. */
  readonly reading: string | null;
}

type Draft = Pick<ReceiptFinding, 'type' | 'detail'> & Partial<ReceiptFinding>;
type Packed = ReceiptJudged['cold'][number]['packed'];

const SHOWN = 20;

function labels(packed: readonly Packed[]): string {
  return firstOf(packed.map(({ container }) => container.fields.label));
}

function ids(packed: readonly Packed[]): readonly string[] {
  return packed.map(({ container }) => container.id);
}

/** The most open items of one kind that a receipt makes; beyond it they are one, so that nobody has to close hundreds. */
const MOST_OF_A_KIND = 50;

function notReceived({ missing, unlabelled }: ReceiptJudged): readonly Draft[] {
  const may = unlabelled.length > 0 ? ' A bottle without a label came, which may be it.' : '';
  if (missing.length > MOST_OF_A_KIND) {
    const detail = `${missing.length} bottles were sent in this cooler and did not come: ${labels(missing)}.`;
    return [{ type: 'not-received', detail, concerned: ids(missing) }];
  }
  return missing.map(({ container: { id, fields } }) => ({
    type: 'not-received',
    detail: `${fields.label} was sent in this cooler and did not come.${may}`,
    container: id,
    label: fields.label,
    concerned: [id],
  }));
}

function notExpected({ extra }: ReceiptJudged): readonly Draft[] {
  const detail = (label: string) => `A bottle labelled ${label} came, which is not on the list of this cooler.`;
  if (extra.length <= MOST_OF_A_KIND) {
    return extra.map(({ label }) => ({ type: 'not-expected', detail: detail(label), label }));
  }
  const some = extra.slice(0, SHOWN).map(({ label }) => label);
  return [
    {
      type: 'not-expected',
      detail: `${extra.length} bottles came that are not on its list: ${some.join(', ')} ...`,
      reading: extra.map(({ label }) => label).join('\n'),
    },
  ];
}

function candidatesText({ candidates }: Unlabelled): string {
  const fit = candidates.filter(({ against }) => against.length === 0);
  const [only] = fit;
  if (!only) return 'It fits nothing that was expected and did not come.';
  const why = ({ reasons }: (typeof fit)[number]) => (reasons.length > 0 ? ` (${reasons.join(', ')})` : '');
  if (fit.length === 1) return `It can only be ${only.packed.container.fields.label}${why(only)}.`;
  const shown = fit.slice(0, 5).map((one) => `${one.packed.container.fields.label}${why(one)}`);
  return `It may be ${shown.join(', or ')}${fit.length > shown.length ? `, or one of ${fit.length - shown.length} more` : ''}.`;
}

function withoutLabel({ unlabelled }: ReceiptJudged): readonly Draft[] {
  return unlabelled.map((one) => ({
    type: 'no-label',
    detail: `A bottle without a readable label came ("${one.item.label}"). ${candidatesText(one)}`,
    label: one.item.label,
    concerned: ids(one.candidates.filter(({ against }) => against.length === 0).map(({ packed }) => packed)),
  }));
}

const CONDITIONS: Readonly<Record<string, string>> = {
  broken: 'came broken',
  leaking: 'came leaking',
  headspace: 'came with air in it',
  frozen: 'came frozen',
  'wrong-preservative': 'came with another preservative than was ordered',
};

function conditions({ items }: ReceiptJudged): readonly Draft[] {
  return items.flatMap(({ packed: { container }, item, wrongPh }): Draft[] => {
    const { id, fields } = container;
    const about = { container: id, label: fields.label, concerned: [id] };
    const said = CONDITIONS[item.condition];
    const remark = item.remark == null ? '' : ` (${item.remark})`;
    if (said !== undefined) return [{ ...about, type: item.condition, detail: `${fields.label} ${said}${remark}.` }];
    if (wrongPh === null) return [];
    const detail = `${fields.label} came at pH ${item.ph}, which is not what its preservative is to give.`;
    return [{ ...about, type: 'wrong-preservative', detail }];
  });
}

/** What is warm is judged by container: acidified metals need no cooling (see the rules of receipt of the catalog). */
function temperature({ cold, items, isTemperatureRecorded }: ReceiptJudged): readonly Draft[] {
  const asked = cold.filter(({ limit }) => limit?.atMostC != null);
  if (!isTemperatureRecorded && asked.length > 0) {
    const detail = 'No temperature was recorded: the receipt is incomplete until it is, and no sample has failed.';
    return [
      {
        type: 'temperature-not-recorded',
        detail,
        decides: 'laboratory',
        concerned: ids(asked.map(({ packed }) => packed)),
      },
    ];
  }
  const said = new Set(items.flatMap(({ item, packed }) => (item.condition === 'warm' ? [packed.container.id] : [])));
  const warm = cold.filter(
    ({ judgement, packed, limit }) =>
      judgement === 'too-warm' ||
      (judgement === 'not-recorded' && limit?.atMostC != null && said.has(packed.container.id)),
  );
  const below = cold.filter(({ judgement }) => judgement === 'below-zero');
  const free = cold.filter(({ judgement }) => judgement === 'no-limit').map(({ packed }) => packed);
  const untouched = free.length > 0 ? ` Untouched, since they need not be cool: ${labels(free)}.` : '';
  const found = (type: string, its: typeof cold, what: string): Draft[] => {
    if (its.length === 0) return [];
    const packed = its.map((one) => one.packed);
    const readings = [...new Set(its.map(({ readingC }) => (readingC === null ? 'warm' : `at ${readingC} °C`)))];
    return [
      {
        type,
        detail: `Came ${readings.join(' and ')}, ${what}: ${labels(packed)}.${untouched}`,
        concerned: ids(packed),
        reading: readings.join('\n'),
      },
    ];
  };
  const limits = [...new Set(warm.map(({ limit }) => `${limit?.atMostC} °C`))].join(' and ');
  return [...found('too-warm', warm, `above ${limits}`), ...found('below-zero', below, 'where it may have frozen')];
}

function count({ counted, expected, saidMissing, extra, unlabelled }: ReceiptJudged): readonly Draft[] {
  // what is said bottle by bottle is open already: one cause, one item. A bottle without a label may be one of either
  const named = expected - saidMissing.length + extra.length;
  if (counted === null || counted === named || counted === named + unlabelled.length) return [];
  const detail = `${counted} bottles were counted; ${expected} were sent in this cooler, of which ${saidMissing.length} are told as missing, and ${extra.length} came beside them.`;
  return [
    {
      type: 'count-differs',
      detail,
      reading: `${counted} of ${expected}, ${saidMissing.length} less, ${extra.length} more`,
    },
  ];
}

function seals({ receipt: { fields } }: ReceiptJudged, facts: CoolerFacts): readonly Draft[] {
  const broken: Draft[] =
    fields.sealsIntact === false
      ? [{ type: 'seals-not-intact', detail: 'The seals were not intact when it came.' }]
      : [];
  const read = (fields.sealNumbers ?? []).map(plainNumber);
  if (read.length === 0) return broken;
  const own = facts.seals.flatMap((seal) =>
    seal.fields.broken === undefined ? [plainNumber(seal.fields.number)] : [],
  );
  const isSame = own.length === read.length && own.every((number) => read.includes(number));
  if (isSame || own.length === 0) return broken;
  return [
    ...broken,
    {
      type: 'seal-numbers-differ',
      detail: `Seals read: ${(fields.sealNumbers ?? []).join(', ')}; they are not those that were put on.`,
      reading: read.toSorted().join('\n'),
    },
  ];
}

function complete(draft: Draft, cooler: string | null): ReceiptFinding {
  return { decides: 'coordinator', container: null, label: null, concerned: [], reading: null, cooler, ...draft };
}

/** Loose bottles, or a cooler that nobody knows: there is nothing to count against, and every label is looked up by itself. */
function ofLooseBottles({ fields }: Receipt, told: ReadonlyMap<string, string>): readonly Draft[] {
  return (fields.items ?? []).flatMap(({ label, condition }): Draft[] => {
    const container = told.get(label);
    const said = CONDITIONS[condition];
    if (condition === 'no-label')
      return [{ type: 'no-label', detail: `A bottle without a readable label came ("${label}").`, label }];
    if (container === undefined && condition !== 'missing') {
      return [{ type: 'not-expected', detail: `A bottle labelled ${label} came, which is not on the list.`, label }];
    }
    if (container === undefined || said === undefined) return [];
    return [{ type: condition, detail: `${label} ${said}.`, container, label, concerned: [container] }];
  });
}

/**
 * What does not agree between what was sent and what a receipt says, as items for a person to decide.
 *
 * @param of as a laboratory is told it: with the bottles that are on its list in their coolers, and no other
 */
export function receiptFindings(receipt: Receipt, of: EventSamples): readonly ReceiptFinding[] {
  const cooler = of.coolers.find(({ id }) => id === receipt.fields.cooler);
  if (!cooler) {
    const told = new Map(of.containers.map(({ id, fields }) => [fields.label, id]));
    const drafts: Draft[] = [
      ...ofLooseBottles(receipt, told),
      ...looseDoubts(receipt, of.site?.fields.timeZone ?? null),
    ];
    return drafts.map((draft) => complete(draft, null));
  }
  const facts = coolerFacts(cooler, of);
  const judged = receiptJudged(receipt, facts);
  const drafts = [
    ...notReceived(judged),
    ...notExpected(judged),
    ...withoutLabel(judged),
    ...conditions(judged),
    ...temperature(judged),
    ...receiptDoubts(receipt, facts),
    ...count(judged),
    ...seals(judged, facts),
  ];
  return drafts.map((draft) => complete(draft, cooler.id));
}
