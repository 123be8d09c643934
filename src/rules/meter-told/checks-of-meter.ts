import { z } from 'zod';
import { PARAMETERS, type Parameter } from '../../catalog/parameters.ts';
import { id, instant } from '../../protocol/primitives.ts';
import { type Bracketed, bracketReadings } from '../calibration/bracket.ts';
import type { CalibrationAsked } from '../calibration/calibration-asked.ts';
import { parameterOf } from '../calibration/check.ts';
import { type Round, roundsOf } from '../calibration/rounds.ts';
import type { UnitRecord } from '../equipment/equipment-records.ts';
import type { MeterCheck } from '../equipment/meters/meter-check.ts';
import type { Moment } from '../equipment/moment.ts';
import { gravestStanding, reasonsOf, roundOutput, roundTold, sourcesOf, standing } from './meter-shapes.ts';

export const checksOfMeterInput = z.strictObject({
  from: instant.optional().describe('With offset. Default: 31 days before the end'),
  until: instant.optional().describe('With offset. Default: now'),
  event: id.optional().describe('By whose plan the checks are judged. Default: as for may-be-used'),
});
export type ChecksOfMeterGiven = z.output<typeof checksOfMeterInput>;

const sensorOutput = z.strictObject({
  parameter: z.enum(PARAMETERS),
  readings: z.int().min(1).describe('That say something of it'),
  standing,
  reasons: z.array(z.string()),
  before: instant.nullable().describe('When the check or calibration before its first reading was'),
  after: instant.nullable().describe('When the one after its last reading was'),
});

export const checksOfMeterOutput = z.strictObject({
  unit: id,
  label: z.string(),
  from: instant,
  until: instant,
  event: id.nullable(),
  limits: z.string().nullable().describe('Id of the set by which the checks are judged'),
  rounds: z
    .array(
      roundOutput.extend({
        before: z.array(id).describe('Visits whose readings it stands before'),
        after: z.array(id).describe('Visits whose readings it stands after'),
      }),
    )
    .describe('The latest first'),
  visits: z
    .array(
      z.strictObject({
        visit: id,
        event: id,
        well: id,
        wellName: z.string(),
        sensors: z.array(sensorOutput),
      }),
    )
    .describe('Those that you may see at which it was read, the latest first; each judged by the plan of its event'),
  more: z.boolean().describe('There are more visits or checks than are told of: ask for fewer days'),
  sources: z.array(z.string()),
});
export type ChecksOfMeter = z.output<typeof checksOfMeterOutput>;

/** A meter at a visit. */
export interface MeterVisit {
  readonly visit: string;
  readonly event: string;
  readonly well: string;
  readonly wellName: string;
  readonly first: Moment;
  readonly last: Moment;
  readonly counts: Readonly<Partial<Record<Parameter, number>>>;
  readonly asked: CalibrationAsked | null;
}

export interface MeterHistory {
  readonly unit: UnitRecord;
  readonly checks: readonly MeterCheck[];
  readonly visits: readonly MeterVisit[];
  readonly from: string;
  readonly until: string;
  readonly fromMs: number;
  readonly untilMs: number;
  readonly event: string | null;
  readonly asked: CalibrationAsked | null;
  readonly more: boolean;
}

interface SensorVisit {
  readonly parameter: Parameter;
  readonly told: ChecksOfMeter['visits'][number]['sensors'][number];
  readonly before: Round | undefined;
  readonly after: Round | undefined;
}

/** Readings between the same checks stand alike: one for each stretch between the first reading and the last. */
function stretches({ first, last }: MeterVisit, rounds: readonly Round[]): readonly { at: string; ms: number }[] {
  const checks = rounds.flatMap((round) => round.checks);
  const within = checks.filter(({ atMs }) => atMs > first.ms && atMs <= last.ms);
  return [first, ...within.map(({ check: { at }, atMs }) => ({ at, ms: atMs }))];
}

function bracketsOf(one: MeterVisit, meter: string, parameter: Parameter, given: MeterHistory): readonly Bracketed[] {
  if (one.asked === null) return [];
  const { set, options, longestH } = one.asked;
  const checks = given.checks.map(({ check }) => check);
  const rounds = roundsOf(set, checks, { meter, parameter }, options);
  const readings = stretches(one, rounds).map(({ at, ms }) => ({
    id: `${ms}`,
    meter,
    parameter,
    at,
    ms,
    value: null,
  }));
  return bracketReadings(set, checks, readings, { ...options, longestH });
}

function sensorVisit(
  one: MeterVisit,
  parameter: Parameter,
  readings: number,
  rounds: readonly Round[],
  given: MeterHistory,
): SensorVisit {
  const before = rounds.findLast(({ startMs }) => startMs <= one.first.ms);
  const isAfter = ({ atMs }: Round['checks'][number]) => atMs > one.last.ms;
  const after = rounds.find(({ checks }) => checks.some(isAfter));
  const brackets = bracketsOf(one, given.unit.id, parameter, given);
  const told = {
    parameter,
    readings,
    standing: one.asked === null ? ('not-judged' as const) : gravestStanding(brackets),
    reasons: reasonsOf(brackets),
    before: before?.at ?? null,
    after: after?.checks.find(isAfter)?.check.at ?? null,
  };
  return { parameter, told, before, after };
}

/** How rounds are cut does not hang on the limits; any set serves where the plan names none. */
function roundsOfMeter({ unit, checks, asked }: MeterHistory, fallback: CalibrationAsked) {
  const { set, options } = asked ?? fallback;
  const plain = checks.map(({ check }) => check);
  const checked = new Set(plain.map(parameterOf));
  return new Map(
    PARAMETERS.filter((parameter) => checked.has(parameter)).map((parameter) => [
      parameter,
      roundsOf(set, plain, { meter: unit.id, parameter }, options),
    ]),
  );
}

/** The checks of a meter, the visits that each of them stands before and after, and what that says of its readings. */
export function checksOfMeter(given: MeterHistory, fallback: CalibrationAsked): ChecksOfMeter {
  const { unit, visits, asked } = given;
  const rounds = roundsOfMeter(given, fallback);
  const placed = visits.map((one) => ({
    one,
    sensors: PARAMETERS.flatMap((parameter) => {
      const count = one.counts[parameter] ?? 0;
      return count > 0 ? [sensorVisit(one, parameter, count, rounds.get(parameter) ?? [], given)] : [];
    }),
  }));
  const around = (round: Round, side: 'before' | 'after') =>
    placed.filter(({ sensors }) => sensors.some((sensor) => sensor[side] === round)).map(({ one }) => one.visit);
  const told = [...rounds].flatMap(([parameter, its]) =>
    its
      .filter(({ startMs }) => startMs >= given.fromMs && startMs <= given.untilMs)
      .map((round) => ({ round, told: roundTold(round, parameter, asked !== null) })),
  );
  return {
    unit: unit.id,
    label: unit.fields.label,
    from: given.from,
    until: given.until,
    event: given.event,
    limits: asked?.set.id ?? null,
    rounds: told
      .toSorted((a, b) => b.round.startMs - a.round.startMs)
      .map(({ round, told: one }) => ({ ...one, before: around(round, 'before'), after: around(round, 'after') })),
    visits: placed.map(({ one: { visit, event, well, wellName }, sensors }) => ({
      visit,
      event,
      well,
      wellName,
      sensors: sensors.map((sensor) => sensor.told),
    })),
    more: given.more,
    sources: sourcesOf(asked),
  };
}
