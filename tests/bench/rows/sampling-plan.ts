import { planChanges } from '../../../src/rules/sampling-plan/plan-changes.ts';
import { proposePlan } from '../../../src/rules/sampling-plan/propose-plan.ts';
import { TestRound } from '../../rules/sampling-plan/plan-facts.ts';
import type { Row } from '../row.ts';

const WELLS = 200;
const SUITES = ['VOC', 'SVOC', 'Metals', 'PFAS', 'Nutrients', 'Ions'];
const MOST_MS = 500;

/** An event of five days of which nothing is planned yet. */
function ms(): number {
  const equipment = { rinsatePer: 'unit-and-day' };
  const facts = new TestRound({ wells: WELLS, suites: SUITES, ends: '2026-05-08', equipment }).facts();
  const begun = performance.now();
  const changes = planChanges(proposePlan(facts), facts, Math.random).flat();
  const took = performance.now() - begun;
  if (changes.length < 2_500) throw new Error(`the plan has ${changes.length} records, it should have over 2,500`);
  return took;
}

export function samplingPlanRow(rounds: number): Row {
  if (rounds > 0) ms();
  const found = Array.from({ length: rounds }, () => ({ own: ms(), other: Number.NaN }));
  const name = `plan of the samples of ${WELLS} wells with ${SUITES.length} suites`;
  return { name, against: '-', unit: 'ms', measure: 'absolute', target: MOST_MS, rounds: found };
}
