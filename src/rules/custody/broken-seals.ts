import type { SealRecord } from '../samples/sample-records.ts';
import { isAfter } from './clocks.ts';
import type { CoolerFacts } from './cooler-facts.ts';

/** Opening it at the laboratory breaks a seal as it should. */
export function brokenBefore({ seals, receipts, custody }: CoolerFacts): readonly SealRecord[] {
  const arrived = receipts[0]?.fields.received ?? custody.changes.at(-1)?.received?.at ?? null;
  return seals.filter(({ fields: { broken } }) => broken != null && (arrived === null || isAfter(arrived, broken)));
}

/** The one put on after it was broken, where there is one. */
export function sealAfter({ seals }: CoolerFacts, broken: string): SealRecord | undefined {
  return seals.find(({ fields }) => Date.parse(fields.applied) >= Date.parse(broken));
}

export function brokenOnTheWay(facts: CoolerFacts, isResealed: boolean) {
  return brokenBefore(facts).filter(
    ({ fields }) => (sealAfter(facts, fields.broken ?? '') !== undefined) === isResealed,
  );
}
