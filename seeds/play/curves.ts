import type { Chance } from './chance.ts';

/** What the formation yields, once the water that stood in the casing is out. */
export interface Water {
  readonly temperatureC: number;
  readonly ph: number;
  readonly specificConductanceUsPerCm: number;
  readonly dissolvedOxygenMgPerL: number;
  readonly orpMv: number;
  readonly turbidityNtu: number;
}

export interface PurgeShape {
  readonly water: Water;
  readonly readings: number;
  readonly staticFt: number;
  readonly drawdownFt: number;
  readonly flowMlPerMin: number;
}

export interface Row {
  /** Since the purge began. */
  readonly seconds: number;
  readonly fields: Readonly<Record<string, string>>;
}

/** How the first water differs from the formation's, and by how much a sensor wavers. Invented, plausible. */
interface Course {
  readonly field: keyof Water;
  readonly digits: number;
  readonly add: number;
  readonly times: number;
  readonly wavers: number;
  readonly waversShare: number;
}

const COURSES: readonly Course[] = [
  { field: 'temperatureC', digits: 2, add: 1.7, times: 1, wavers: 0.02, waversShare: 0 },
  { field: 'ph', digits: 2, add: 0.36, times: 1, wavers: 0.01, waversShare: 0 },
  { field: 'specificConductanceUsPerCm', digits: 0, add: 0, times: 1.13, wavers: 1, waversShare: 0 },
  { field: 'dissolvedOxygenMgPerL', digits: 2, add: 2.2, times: 1, wavers: 0.01, waversShare: 0 },
  { field: 'orpMv', digits: 0, add: 105, times: 1, wavers: 1, waversShare: 0 },
  { field: 'turbidityNtu', digits: 1, add: 55, times: 1, wavers: 0, waversShare: 0.012 },
];

const READING_S = 300;
/** The crew opens gently and goes up to the flow of the purge after the first reading. */
const FIRST_FLOW_SHARE = 0.75;
const LEVEL_RESTS_S = 300;
/** By so many times its time constant the water has come to rest three readings before the last one. */
const TIMES_CONSTANT = 3.6;

export function decimalOf(value: number, digits: number): string {
  const text = value.toFixed(digits);
  return Number(text) === 0 ? (0).toFixed(digits) : text;
}

function parameter(course: Course, water: Water, left: number, chance: Chance): string {
  const end = water[course.field];
  const start = end * course.times + course.add;
  const smooth = end + (start - end) * left;
  const wavers = course.wavers + course.waversShare * Math.abs(smooth);
  return decimalOf(smooth + wavers * chance.wobble(), course.digits);
}

/** A few seconds early or late, as a person reads; never so early that the reading would not count. */
function lateness(chance: Chance): number {
  return chance.whole(-5, 15);
}

/** The lines of a purge log: every five minutes, drifting from the water of the casing to that of the formation. */
export function purgeRows(shape: PurgeShape, chance: Chance): Row[] {
  const { water, readings, staticFt, drawdownFt, flowMlPerMin } = shape;
  const constantS = (READING_S * Math.max(3, readings - 3)) / TIMES_CONSTANT;
  let purgedMl = 0;
  return Array.from({ length: readings }, (_, index) => {
    const seconds = READING_S * (index + 1) + lateness(chance);
    const flow = index === 0 ? flowMlPerMin * FIRST_FLOW_SHARE : flowMlPerMin;
    purgedMl += (flow * READING_S) / 60;
    const left = Math.exp(-seconds / constantS);
    const measured = COURSES.map((course) => [course.field, parameter(course, water, left, chance)]);
    const level = staticFt + drawdownFt * (1 - Math.exp(-seconds / LEVEL_RESTS_S));
    return {
      seconds,
      fields: {
        ...Object.fromEntries(measured),
        depthToWaterFt: decimalOf(level, 2),
        flowMlPerMin: decimalOf(flow, 0),
        purgedMl: decimalOf(purgedMl, 0),
      },
    };
  });
}
