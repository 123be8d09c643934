import { z } from 'zod';
import { PARAMETERS, type Parameter } from '../../catalog/parameters.ts';
import { id, instant } from '../../protocol/primitives.ts';
import { type CalibrationAsked, parametersAsked } from '../calibration/calibration-asked.ts';
import { parameterOf } from '../calibration/check.ts';
import { usableNow } from '../calibration/usable-now.ts';
import type { UnitRecord } from '../equipment/equipment-records.ts';
import type { MeterCheck } from '../equipment/meters/meter-check.ts';
import { unitName } from '../equipment/unit-kind.ts';
import { sourcesOf } from './meter-shapes.ts';

export const meterUsableInput = z.strictObject({
  at: instant.optional().describe('When it is to be used, with offset. Default: now'),
  event: id
    .optional()
    .describe('Whose plan decides. Default: the one for which it was signed out last, or in which it was read last'),
  parameter: z.enum(PARAMETERS).optional().describe('Ask for one sensor alone'),
});
export type MeterUsableGiven = z.output<typeof meterUsableInput>;

export const meterUsableOutput = z.strictObject({
  unit: id,
  label: z.string(),
  at: instant,
  event: id.nullable().describe('Whose plan decided'),
  limits: z.string().nullable().describe('Id of the set of limits'),
  usable: z.boolean().nullable().describe('Null where nobody asks it to be checked'),
  sensors: z.array(
    z.strictObject({
      parameter: z.enum(PARAMETERS),
      usable: z.boolean(),
      reasons: z.array(z.string()),
      cautions: z.array(z.string()),
      until: z.string().nullable().describe('Until when the last pass vouches'),
    }),
  ),
  reasons: z.array(z.string()),
  sources: z.array(z.string()),
});
export type MeterUsable = z.output<typeof meterUsableOutput>;

export interface MeterAsked {
  readonly unit: UnitRecord;
  readonly checks: readonly MeterCheck[];
  readonly at: string;
  readonly event: string | null;
  /** By the plan of that event; null where it names no limits. */
  readonly asked: CalibrationAsked | null;
  /** Why it is out of service, where it is. */
  readonly outOfService: string | null;
  /** The inspection that it failed, where that still stands. */
  readonly failedCheck: string | null;
  readonly parameter?: Parameter | undefined;
}

const METERS: readonly string[] = ['multi-parameter-meter', 'turbidity-meter'];

function whyNotAsked({ unit, event, asked }: MeterAsked): string | undefined {
  const name = unitName(unit, unit.id);
  if (!METERS.includes(unit.fields.type))
    return `${name} is a ${unit.fields.type.replaceAll('-', ' ')}, no meter: nobody asks for checks of it in standards.`;
  if (event === null)
    return `For which event ${name} is at work is not recorded: name one, for its plan says by which limits.`;
  return asked === null ? 'The plan of the event names no limits for checks of meters.' : undefined;
}

function sensorsOf(given: MeterAsked, asked: CalibrationAsked): MeterUsable['sensors'] {
  const { unit, checks, at, parameter } = given;
  const everChecked = new Set(checks.map(({ check }) => parameterOf(check)));
  const all = parametersAsked(asked, PARAMETERS, { unitType: unit.fields.type, everChecked });
  const parameters = parameter ? [parameter] : all.filter((one) => one !== 'temperature');
  const plain = checks.map(({ check }) => check);
  const sensors = usableNow(
    asked.set,
    plain,
    { meter: unit.id, parameters, now: at, longestH: asked.longestH },
    asked.options,
  );
  return sensors.map((one) => ({ ...one, reasons: [...one.reasons], cautions: [...one.cautions] }));
}

/**
 * Whether a meter may be used, from what is stored of it: its checks, the plan of its event, and whether it is in
 * service and passed its last inspection.
 * No is advice: a reading that is made nevertheless is kept like any other.
 */
export function meterUsable(given: MeterAsked): MeterUsable {
  const { unit, at, event, asked, outOfService, failedCheck } = given;
  const why = whyNotAsked(given);
  const sensors = asked !== null && why === undefined ? sensorsOf(given, asked) : [];
  const isChecked = why === undefined ? sensors.every((sensor) => sensor.usable) : null;
  return {
    unit: unit.id,
    label: unit.fields.label,
    at,
    event,
    limits: asked?.set.id ?? null,
    usable: outOfService === null && failedCheck === null ? isChecked : false,
    sensors,
    reasons: [outOfService, failedCheck, why, ...sensors.flatMap(({ reasons }) => reasons)].filter(
      (one) => typeof one === 'string',
    ),
    sources: sourcesOf(asked),
  };
}
