import { analyteKeys } from '../decon/analyte-key.ts';
import { amountOf } from '../decon/analyte-result.ts';
import { listText } from '../flags/list-text.ts';
import { blankStanding } from './blank-standing.ts';
import type { ResultRecord } from './equipment-records.ts';
import type { Judgement } from './judged-sample.ts';

type Result = ResultRecord['fields'];

/** A stay at a well, with what was found there. */
interface Meeting {
  readonly well: string;
  readonly found: ReadonlySet<string>;
  readonly notFound: ReadonlySet<string>;
}

/** A blank that was clean of an analyte after so many stays. */
interface Proof {
  readonly number: string;
  readonly results: readonly ResultRecord[];
  readonly after: number;
}

function keysOf(results: readonly ResultRecord[], is: (result: Result) => boolean): ReadonlySet<string> {
  return new Set(results.flatMap(({ fields }) => (is(fields) ? analyteKeys(fields) : [])));
}

/** The wells that something met since it was last clean, with what was found there. */
export class WellsBehind {
  /** Last come last. */
  readonly #wells = new Set<string>();
  #meetings: Meeting[] = [];
  readonly #proofs = new Map<string, Proof[]>();

  forget(): void {
    this.#wells.clear();
    this.#meetings = [];
    this.#proofs.clear();
  }

  wellsBut(well: string): readonly string[] {
    return [...this.#wells].filter((one) => one !== well).toReversed();
  }

  meet(well: string, results: readonly ResultRecord[]): void {
    this.#wells.delete(well);
    this.#wells.add(well);
    this.#meetings.push({
      well,
      found: keysOf(results, ({ condition }) => condition !== 'not-detected' && condition !== 'not-reported'),
      notFound: keysOf(results, ({ condition }) => condition === 'not-detected'),
    });
  }

  clearedBy(number: string, results: readonly ResultRecord[]): void {
    for (const { fields } of results) {
      if (blankStanding(results, fields) !== 'clean') continue;
      for (const key of analyteKeys(fields)) {
        const proof = { number, results, after: this.#meetings.length };
        this.#proofs.set(key, [...(this.#proofs.get(key) ?? []), proof]);
      }
    }
  }

  /** The last blank in which as much as the sample shows would have shown; of a sample without a figure, none. */
  #proofOf(result: Result): Proof | undefined {
    const amount = amountOf(result);
    if (amount === null) return undefined;
    return analyteKeys(result)
      .flatMap((key) => this.#proofs.get(key) ?? [])
      .filter(({ results }) => blankStanding(results, result, [amount]) === 'clean')
      .toSorted((a, b) => a.after - b.after)
      .at(-1);
  }

  /** @param wells those behind, without the one where the sample was taken */
  judge(result: Result, wells: readonly string[], named: (well: string) => string): Judgement {
    const { analyte, condition } = result;
    if (condition === 'not-detected') return { standing: 'cleared', sentence: `${analyte} was not detected.` };
    if (condition === 'not-reported')
      return { standing: 'cannot-tell', sentence: `${analyte} of the sample is not reported.` };
    const keys = analyteKeys(result);
    const proof = this.#proofOf(result);
    const since = this.#meetings.slice(proof?.after ?? 0);
    if (proof && since.length === 0)
      return { standing: 'cleared', sentence: `${proof.number} in between was clean of ${analyte}.` };
    const met = (well: string, is: (meeting: Meeting) => boolean) => since.some((one) => one.well === well && is(one));
    const found = wells.filter((one) => met(one, (meeting) => keys.some((key) => meeting.found.has(key))));
    if (found.length > 0)
      return {
        standing: 'in-question',
        sentence: `${analyte} was found at ${listText(found.map(named))} too, before it.`,
      };
    const isOpen = (well: string) =>
      met(well, () => true) && !met(well, (meeting) => keys.some((key) => meeting.notFound.has(key)));
    const open = wells.filter(isOpen);
    if (open.length > 0)
      return { standing: 'cannot-tell', sentence: `No result for ${analyte} of ${listText(open.map(named))} is here.` };
    return { standing: 'cleared', sentence: `${analyte} was not detected at ${listText(wells.map(named))} before it.` };
  }
}
