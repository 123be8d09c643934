import { listText } from '../flags/list-text.ts';
import { analyteKeys } from './analyte-key.ts';
import { blankStanding } from './blank-standing.ts';
import type { ResultRecord } from './equipment-records.ts';
import type { Judgement } from './judged-sample.ts';

type Result = ResultRecord['fields'];

interface Met {
  readonly found: Set<string>;
  readonly notFound: Set<string>;
}

/** The wells that something met since it was last clean, with what was found there. */
export class WellsBehind {
  /** Last come last. */
  readonly #wells = new Set<string>();
  readonly #met = new Map<string, Met>();
  readonly #clearedBy = new Map<string, string>();

  forget(): void {
    this.#wells.clear();
    this.#met.clear();
    this.#clearedBy.clear();
  }

  wellsBut(well: string): readonly string[] {
    return [...this.#wells].filter((one) => one !== well).toReversed();
  }

  meet(well: string, results: readonly ResultRecord[]): void {
    this.#wells.delete(well);
    this.#wells.add(well);
    // what is put into another well anew is no longer cleared by the blank before
    this.#clearedBy.clear();
    for (const { fields } of results) {
      if (fields.condition === 'not-reported') continue;
      for (const key of analyteKeys(fields)) {
        const met = this.#met.get(key) ?? { found: new Set<string>(), notFound: new Set<string>() };
        (fields.condition === 'not-detected' ? met.notFound : met.found).add(well);
        this.#met.set(key, met);
      }
    }
  }

  clearedBy(number: string, results: readonly ResultRecord[]): void {
    for (const { fields } of results) {
      if (blankStanding(results, fields) !== 'clean') continue;
      for (const key of analyteKeys(fields)) {
        this.#clearedBy.set(key, number);
        this.#met.set(key, { found: new Set(), notFound: new Set(this.#wells) });
      }
    }
  }

  /** @param wells those behind, without the one where the sample was taken */
  judge(result: Result, wells: readonly string[], named: (well: string) => string): Judgement {
    const { analyte, condition } = result;
    if (condition === 'not-detected') return { standing: 'cleared', sentence: `${analyte} was not detected.` };
    if (condition === 'not-reported')
      return { standing: 'cannot-tell', sentence: `${analyte} of the sample is not reported.` };
    const keys = analyteKeys(result);
    const blank = keys.map((key) => this.#clearedBy.get(key)).find((one) => one !== undefined);
    if (blank) return { standing: 'cleared', sentence: `${blank} in between was clean of ${analyte}.` };
    const known = keys.map((key) => this.#met.get(key)).filter((one) => one !== undefined);
    const found = wells.filter((one) => known.some((met) => met.found.has(one)));
    if (found.length > 0)
      return {
        standing: 'in-question',
        sentence: `${analyte} was found at ${listText(found.map(named))} too, before it.`,
      };
    const open = wells.filter((one) => !known.some((met) => met.notFound.has(one)));
    if (open.length > 0)
      return { standing: 'cannot-tell', sentence: `No result for ${analyte} of ${listText(open.map(named))} is here.` };
    return { standing: 'cleared', sentence: `${analyte} was not detected at ${listText(wells.map(named))} before it.` };
  }
}
