import type { LaboratoryReceipt } from '../../documents/custody/custody-facts.ts';
import type { CoolerFacts } from '../../rules/custody/cooler-facts.ts';
import { missingThatCame, receiptsInOrder } from '../../rules/samples/receipt-words.ts';
import type { ReceiptRecord } from '../../rules/samples/sample-records.ts';

const NOT_RECORDED = 'not recorded';

type Tellable = (text: string) => string;

/** Of what is missing there, what no other receipt says came. */
function conditionsOf(one: ReceiptRecord, { receipts }: CoolerFacts, tellable: Tellable) {
  const came = missingThatCame(one, receipts);
  return (one.fields.items ?? [])
    .filter((item) => item.condition !== 'ok' || item.ph != null || item.temperatureC != null)
    .filter((item) => item.condition !== 'missing' || !came.has(item.label))
    .map(({ label, condition, ph, temperatureC: own, remark: said }) => {
      const notes = [
        ph == null ? '' : `pH ${ph}`,
        own == null ? '' : `${own} °C`,
        said == null ? '' : tellable(said),
      ].filter((note) => note !== '');
      return { label, condition, ...(notes.length > 0 ? { remark: notes.join(', ') } : {}) };
    });
}

function receiptOf(one: ReceiptRecord, facts: CoolerFacts, tellable: Tellable): LaboratoryReceipt {
  const { laboratoryName } = facts;
  const { temperatureC, temperatureOf, ice, sealsIntact, sealNumbers, containersCounted, remark } = one.fields;
  return {
    receivedBy: one.fields.receivedBy ?? NOT_RECORDED,
    ...(laboratoryName === null ? {} : { organization: laboratoryName }),
    at: one.fields.received,
    ...(temperatureC == null ? {} : { temperatureC }),
    ...(temperatureOf == null
      ? {}
      : { temperatureOf: temperatureOf === 'blank' ? 'temperature blank' : temperatureOf }),
    ...(ice == null ? {} : { ice }),
    ...(sealsIntact == null ? {} : { sealsIntact }),
    ...(sealNumbers == null ? {} : { sealNumbers }),
    ...(containersCounted == null ? {} : { containersCounted }),
    conditions: conditionsOf(one, facts, tellable),
    ...(remark == null ? {} : { remark: tellable(remark) }),
  };
}

/** All that the laboratory wrote down of a cooler, as it may be read there: a later receipt takes no word of another's. */
export function receiptsOf(
  facts: CoolerFacts,
  tellable: Tellable,
): { readonly receipt?: LaboratoryReceipt; readonly laterReceipts?: readonly LaboratoryReceipt[] } {
  const [receipt, ...laterReceipts] = receiptsInOrder(facts.receipts).map((one) => receiptOf(one, facts, tellable));
  if (receipt === undefined) return {};
  return { receipt, ...(laterReceipts.length === 0 ? {} : { laterReceipts }) };
}
