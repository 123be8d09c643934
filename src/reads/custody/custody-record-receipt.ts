import type { LaboratoryReceipt } from '../../documents/custody/custody-facts.ts';
import type { CoolerFacts } from '../../rules/custody/cooler-facts.ts';

const NOT_RECORDED = 'not recorded';

/** What the laboratory wrote down of a cooler, as it may be read there. */
export function receiptOf(
  { receipts, laboratoryName }: CoolerFacts,
  tellable: (text: string) => string,
): LaboratoryReceipt | undefined {
  const last = receipts.at(-1)?.fields;
  if (!last) return undefined;
  const { temperatureC, temperatureOf, ice, sealsIntact, sealNumbers, containersCounted, remark } = last;
  const conditions = (last.items ?? [])
    .filter((item) => item.condition !== 'ok' || item.ph != null || item.temperatureC != null)
    .map(({ label, condition, ph, temperatureC: own, remark: said }) => {
      const notes = [
        ph == null ? '' : `pH ${ph}`,
        own == null ? '' : `${own} °C`,
        said == null ? '' : tellable(said),
      ].filter((one) => one !== '');
      return { label, condition, ...(notes.length > 0 ? { remark: notes.join(', ') } : {}) };
    });
  return {
    receivedBy: last.receivedBy ?? NOT_RECORDED,
    ...(laboratoryName === null ? {} : { organization: laboratoryName }),
    at: last.received,
    ...(temperatureC == null ? {} : { temperatureC }),
    ...(temperatureOf == null
      ? {}
      : { temperatureOf: temperatureOf === 'blank' ? 'temperature blank' : temperatureOf }),
    ...(ice == null ? {} : { ice }),
    ...(sealsIntact == null ? {} : { sealsIntact }),
    ...(sealNumbers == null ? {} : { sealNumbers }),
    ...(containersCounted == null ? {} : { containersCounted }),
    conditions,
    ...(remark == null ? {} : { remark: tellable(remark) }),
  };
}
