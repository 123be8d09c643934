import { v7 } from 'uuid';
import { assessPurge } from '../../../src/rules/assessment/assess-purge.ts';
import type { AssessmentInput } from '../../../src/rules/assessment/assessment-input.ts';
import { valuesAt } from '../readings.ts';
import type { Row } from '../row.ts';
import { median } from '../statistics.ts';

const READINGS = 40;
const INTERVAL_MS = 300_000;
const COPIES = 400;
const BEGUN_MS = Date.parse('2026-05-04T15:00:00Z');

function stateOf<Fields>(kind: string, fields: Fields) {
  const nobody = { voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
  return { kind, id: v7(), rev: 1, ...nobody, fields };
}

function observedAt(at: string) {
  return { at, entered: at, captured: 'at-the-well' as const, readBy: v7(), writtenBy: v7() };
}

/** A purge of 40 readings with its level, pump and flow cell, as the write door would load it. */
function purgeToAssess(): AssessmentInput {
  const at = (place: number) => new Date(BEGUN_MS + place * INTERVAL_MS).toISOString();
  const cell = stateOf('unit', {
    type: 'multi-parameter-meter',
    label: 'Meter A',
    use: 'shared',
    ownership: 'owned',
    flowCellVolumeMl: '250',
  } as const);
  const well = stateOf('well', {
    site: v7(),
    name: 'B-1',
    standing: 'in-service',
    depthsFrom: 'measuring-point',
    totalDepthFt: '40',
    screenTopFt: '30',
    screenBottomFt: '40',
    casingInsideDiameterIn: '2.067',
  } as const);
  const visit = stateOf('visit', {
    event: v7(),
    well: well.id,
    crew: v7(),
    method: 'low-flow',
    arrived: at(-4),
  } as const);
  const purge = stateOf('purge', { visit: visit.id, began: at(0) });
  const reading = (place: number) =>
    stateOf('reading', { purge: purge.id, meter: cell.id, ...valuesAt(place), observed: observedAt(at(place)) });
  const level = { visit: visit.id, purpose: 'before-purge', state: 'measured', depthToWaterFt: '21.30' } as const;
  const setUp = {
    visit: visit.id,
    pump: v7(),
    intakeDepthFt: '35',
    tubingInsideDiameterIn: '0.17',
    tubingLengthFt: '45',
    flowCell: cell.id,
  };
  return {
    plan: { criteria: 'epa-region-1-low-stress-rev-4' },
    purge,
    visit,
    well,
    readings: Array.from({ length: READINGS }, (_, place) => reading(place)),
    occurrences: [],
    calls: [],
    setUps: [stateOf('pump-set-up', { ...setUp, observed: observedAt(at(-2)) })],
    levels: [stateOf('water-level', { ...level, observed: observedAt(at(-3)) })],
    units: new Map([[cell.id, cell]]),
  };
}

/** Each purge is assessed once, as the server does it: nothing is remembered from the time before. */
function microseconds(): number {
  const inputs = Array.from({ length: COPIES }, purgeToAssess);
  const times = inputs.map((input) => {
    const begun = performance.now();
    assessPurge(input);
    return (performance.now() - begun) * 1_000;
  });
  return median(times);
}

export function assessmentRow(rounds: number): Row {
  const warm = purgeToAssess();
  for (let time = 0; time < 2_000; time++) assessPurge(structuredClone(warm));
  const found = Array.from({ length: rounds }, () => ({ own: microseconds(), other: Number.NaN }));
  const name = `assessment of a ${READINGS}-reading purge`;
  return { name, against: '-', unit: 'microseconds', measure: 'absolute', target: 50, rounds: found };
}
