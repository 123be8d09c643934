import type { FieldsOf } from '../../../protocol/kind.ts';
import type { discrepancy } from '../../../protocol/kinds/discrepancy.ts';
import { instantMs } from '../../../science/instant-ms.ts';
import { derivedId } from '../../derived-id.ts';
import { containerClocks } from '../../samples/deadlines/container-clocks.ts';
import type { EventSamples } from '../../samples/event-samples.ts';
import type { ToldToLaboratory } from '../laboratory-list.ts';
import { type ReceiptFinding, receiptFindings } from './receipt-findings.ts';

export type DiscrepancyFields = FieldsOf<typeof discrepancy>;

/**
 * An item to be opened. Its id follows from what it is about, so that a second receipt of the same opens no second one, and
 * one of other bottles, or with another reading, does.
 */
export interface OpenItem {
  readonly id: string;
  readonly set: DiscrepancyFields;
}

/** The earliest end of a clock that still runs, by the times that the laboratory is told, which are never later. */
function decideBy({ world }: ToldToLaboratory, concerned: readonly string[]): string | undefined {
  const ids = new Set(concerned);
  const due = world.of.containers.flatMap((container) => {
    if (!ids.has(container.id)) return [];
    return containerClocks(world.index, container, undefined).dueAt ?? [];
  });
  return due.toSorted((a, b) => instantMs(a) - instantMs(b))[0];
}

/** One bottle or label is told apart by itself; what is of a whole cooler by the bottles that it concerns, and what was read. */
function matter({ container, label, concerned, reading }: ReceiptFinding): readonly string[] {
  if (container !== null || label !== null) return [container ?? '', label ?? ''];
  return ['', '', ...concerned.toSorted(), reading ?? ''];
}

function itemOf(
  finding: ReceiptFinding,
  receipt: EventSamples['receipts'][number],
  told: ToldToLaboratory,
  firm: string,
) {
  const { type, detail, decides, cooler, container, label, concerned } = finding;
  const event = told.world.of.event.id;
  const until = decideBy(told, concerned);
  const id = derivedId(firm, 'discrepancy', event, cooler ?? receipt.id, type, ...matter(finding));
  const set: DiscrepancyFields = {
    event,
    receipt: receipt.id,
    laboratory: told.laboratory,
    type,
    detail,
    raisedOn: 'laboratory',
    decides,
    standing: 'open',
    ...(cooler === null ? {} : { cooler }),
    ...(container === null ? {} : { container }),
    ...(label === null ? {} : { label }),
    ...(until === undefined ? {} : { decideBy: until }),
  };
  return { id, set };
}

/** The items that a receipt opens, each with who may decide it and until when that is of use. */
export function openItems(receiptId: string, told: ToldToLaboratory, firm: string): readonly OpenItem[] {
  const { of } = told.world;
  const receipt = of.receipts.find(({ id }) => id === receiptId);
  if (!receipt) return [];
  const listed = { ...of, containers: told.containers.map(({ container }) => container) };
  return receiptFindings(receipt, listed).map((finding) => itemOf(finding, receipt, told, firm));
}
