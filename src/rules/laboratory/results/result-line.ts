import { RESULT_CONDITIONS } from '../../../protocol/kinds/laboratory-result.ts';
import { instant } from '../../../protocol/primitives.ts';
import { isCasNumber } from '../../../science/samples/cas-number.ts';
import { compareText } from '../../../science/units/decimal-arithmetic.ts';
import type { LineProblem, ResultColumn } from './result-columns.ts';
import { figureFault } from './result-figure.ts';
import { ESTIMATED, NOT_DETECTED, qualifiersIn, unknownQualifier } from './result-qualifiers.ts';

/** Cells of one line by their columns; an empty one is not there. */
export type ResultCells = Readonly<Partial<Record<ResultColumn, string>>>;
type Condition = (typeof RESULT_CONDITIONS)[number];

/** What a line says by itself, before one looks what was ordered. */
export interface ResultLine {
  readonly cells: ResultCells;
  readonly qualifiers: readonly string[];
  readonly condition: Condition;
  /** As it is kept: of what was not detected, the limit is no value. */
  readonly value: string | undefined;
}

type Say = (column: ResultColumn | null, problem: string, toDo: string) => void;

const FIGURES: readonly ResultColumn[] = ['value', 'reportingLimit', 'detectionLimit', 'dilution'];
const TIMES: readonly ResultColumn[] = ['extracted', 'analyzed'];

function checkForms(cells: ResultCells, say: Say): void {
  for (const column of ['sampleNumber', 'unit'] as const) {
    if (cells[column] === undefined) say(column, 'it is empty', 'every line needs it');
  }
  if (cells.analyte === undefined && cells.casNumber === undefined)
    say('analyte', 'neither name nor CAS number', 'give one');
  for (const column of FIGURES) {
    const fault = cells[column] === undefined ? null : figureFault(cells[column]);
    if (fault) say(column, fault.problem, fault.toDo);
  }
  for (const column of TIMES) {
    if (cells[column] === undefined || instant.safeParse(cells[column]).success) continue;
    say(column, 'it is no date and time with offset', 'write it as 2026-05-06T14:05:00-05:00');
  }
  if (cells.casNumber !== undefined && !isCasNumber(cells.casNumber)) {
    say('casNumber', 'its form or its check digit is wrong', 'compare it with the report; benzene is 71-43-2');
  }
}

function stated(cells: ResultCells, say: Say): Condition | undefined {
  const { condition } = cells;
  if (condition === undefined) return undefined;
  const found = RESULT_CONDITIONS.find((one) => one === condition);
  if (!found) say('condition', 'it is not known', `use one of: ${RESULT_CONDITIONS.join(', ')}`);
  return found;
}

function isSame(a: string | undefined, b: string): boolean {
  return a !== undefined && compareText(a, b) === 0;
}

function notDetected({ value, reportingLimit, detectionLimit }: ResultCells, say: Say): undefined {
  if (reportingLimit === undefined && detectionLimit === undefined) {
    say('reportingLimit', 'it was not detected, and no limit is given', 'give the reporting or the detection limit');
  } else if (value !== undefined && !isSame(reportingLimit, value) && !isSame(detectionLimit, value)) {
    say('value', 'it was not detected, and the value is none of its limits', 'leave the value empty, or take U away');
  }
  return undefined;
}

function conditionOf(cells: ResultCells, qualifiers: readonly string[], say: Say): Condition {
  const said = stated(cells, say);
  if (said !== undefined) return said;
  const { value, reportingLimit } = cells;
  if (qualifiers.includes(NOT_DETECTED)) return 'not-detected';
  if (value === undefined) return 'not-reported';
  const isEstimate = qualifiers.some((code) => ESTIMATED.includes(code));
  if (reportingLimit === undefined) return isEstimate ? 'below-reporting-limit' : 'detected';
  return compareText(value, reportingLimit) < 0 ? 'below-reporting-limit' : 'detected';
}

/** Reads one line; what is wrong with it is said cell by cell, all of it. */
export function readResultLine(cells: ResultCells, line: number): ResultLine | readonly LineProblem[] {
  const problems: LineProblem[] = [];
  const say: Say = (column, problem, toDo) =>
    problems.push({ line, column, given: column === null ? null : (cells[column] ?? null), problem, toDo });
  checkForms(cells, say);
  const qualifiers = qualifiersIn(cells.qualifiers ?? '');
  const unknown = unknownQualifier(qualifiers);
  if (unknown) say('qualifiers', `the qualifier ${unknown.code} is not known`, unknown.toDo);
  if (problems.length > 0) return problems;
  const condition = conditionOf(cells, qualifiers, say);
  if (condition === 'not-detected') notDetected(cells, say);
  else if (cells.value === undefined && condition !== 'not-reported')
    say('value', `it is empty, and ${condition}`, 'give it');
  else if (cells.value === undefined && cells.condition === undefined && qualifiers.length === 0) {
    say(
      'value',
      'it is empty, and nothing says why',
      'give the value, or the qualifier U, or the condition not-reported',
    );
  }
  if (problems.length > 0) return problems;
  return { cells, qualifiers, condition, value: condition === 'not-detected' ? undefined : cells.value };
}
