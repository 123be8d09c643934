import { z } from 'zod';
import { PARAMETERS, type Parameter } from '../../catalog/parameters.ts';
import { id } from '../../protocol/primitives.ts';
import { bracketReadings, type MeterReading } from '../calibration/bracket.ts';
import type { CalibrationAsked } from '../calibration/calibration-asked.ts';
import { type Round, roundsAt, roundsOf } from '../calibration/rounds.ts';
import { byKey } from '../equipment/by-key.ts';
import type { MeterReadingRecord } from '../equipment/equipment-records.ts';
import type { MeterCheck } from '../equipment/meters/meter-check.ts';
import { meterValues } from '../equipment/meters/meter-use.ts';
import { momentOf } from '../equipment/moment.ts';
import { reasonsOf, roundOutput, roundTold, sourcesOf } from './meter-shapes.ts';

const sensorOutput = z.strictObject({
  parameter: z.enum(PARAMETERS),
  readings: z.int().min(1).describe('That say something of it'),
  covered: z.int().min(0).describe('A pass stands before and after, and standards around the value where asked'),
  pending: z.int().min(0).describe('No check after them yet'),
  inQuestion: z.int().min(0).describe('A reason stands against them; a person reviews'),
  reasons: z.array(z.string()).describe('Each once'),
  before: roundOutput.nullable().describe('The last check or calibration before the first of them'),
  after: roundOutput.nullable().describe('The first one after the last of them'),
});

export const visitMeterChecksOutput = z.strictObject({
  visit: id,
  event: id,
  limits: z.string().nullable().describe('Id of the set that the plan names; without one nothing is judged'),
  meters: z.array(z.strictObject({ unit: id, label: z.string(), sensors: z.array(sensorOutput) })),
  unnamed: z.int().min(0).describe('Readings that name no meter'),
  sources: z.array(z.string()),
});
export type VisitMeterChecks = z.output<typeof visitMeterChecksOutput>;
type SensorTold = VisitMeterChecks['meters'][number]['sensors'][number];

export interface VisitMeters {
  readonly visit: string;
  readonly event: string;
  readonly asked: CalibrationAsked | null;
  /** Of this visit, that stand. */
  readonly readings: readonly MeterReadingRecord[];
  readonly checks: ReadonlyMap<string, readonly MeterCheck[]>;
  readonly labels: ReadonlyMap<string, string>;
}

/** A reading of one sensor, placed by its clock. */
type Placed = MeterReading & { readonly ms: number };

function readingsOf(meter: string, lines: readonly MeterReadingRecord[]): readonly Placed[] {
  return lines.flatMap((line) => {
    const { at, ms } = momentOf(line, line.fields.observed.at, line.fields.observed);
    return meterValues(line.fields).map((one) => ({ ...one, id: line.id, meter, at, ms }));
  });
}

function sensorTold(
  parameter: Parameter,
  its: readonly Placed[],
  checks: readonly MeterCheck[],
  { asked, fallback }: { readonly asked: CalibrationAsked | null; readonly fallback: CalibrationAsked },
): SensorTold {
  const { set, options, longestH } = asked ?? fallback;
  const plain = checks.map(({ check }) => check);
  const meter = its[0]?.meter ?? '';
  const rounds = roundsOf(set, plain, { meter, parameter }, options);
  const times = its.map(({ ms }) => ms);
  const [firstMs, lastMs] = [Math.min(...times), Math.max(...times)];
  const brackets = asked === null ? [] : bracketReadings(set, plain, its, { ...options, longestH });
  const count = (standing: string) => brackets.filter((one) => one.standing === standing).length;
  const told = (round: Round | undefined) => (round ? roundTold(round, parameter, asked !== null) : null);
  return {
    parameter,
    readings: its.length,
    covered: count('covered'),
    pending: count('pending'),
    inQuestion: count('in-question'),
    reasons: reasonsOf(brackets),
    before: told(roundsAt(rounds, firstMs).earlier.at(-1)),
    after: told(roundsAt(rounds, lastMs).later[0]),
  };
}

/** Which checks of its meters stand before and after the readings of a visit, and what they say of them. */
export function visitMeterChecks(given: VisitMeters, fallback: CalibrationAsked): VisitMeterChecks {
  const { visit, event, asked, readings, checks, labels } = given;
  const ofMeter = byKey(readings, ({ fields }) => fields.meter);
  const meters = [...ofMeter].map(([unit, lines]) => {
    const sensors = byKey(readingsOf(unit, lines), ({ parameter }) => parameter);
    return {
      unit,
      label: labels.get(unit) ?? unit,
      sensors: PARAMETERS.flatMap((parameter) => {
        const its = sensors.get(parameter);
        return its ? [sensorTold(parameter, its, checks.get(unit) ?? [], { asked, fallback })] : [];
      }),
    };
  });
  return {
    visit,
    event,
    limits: asked?.set.id ?? null,
    meters: meters.toSorted((a, b) => (a.unit < b.unit ? -1 : 1)),
    unnamed: readings.filter(({ fields }) => !fields.meter).length,
    sources: sourcesOf(asked),
  };
}
