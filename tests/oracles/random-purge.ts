import type { CriteriaSet } from '../../src/catalog/criteria-set.ts';
import { criteriaSets } from '../../src/catalog/criteria-sets.ts';
import { PARAMETERS, type Parameter } from '../../src/catalog/parameters.ts';
import { OCCURRENCE_TYPES } from '../../src/protocol/kinds/occurrence.ts';
import type { StampedClock } from '../../src/protocol/record.ts';
import type { AssessmentInput, ReadingRecord } from '../../src/rules/assessment/assessment-input.ts';
import {
  call,
  idOf,
  inputOf,
  later,
  level,
  occurrence,
  PURGE,
  type Purge,
  reading,
  setUp,
  unit,
  well,
} from '../rules/assessment/purge-fixture.ts';
import type { Chance } from './chance.ts';
import { randomPlan } from './random-plan.ts';
import { courseOf, valuesOf } from './random-values.ts';

/** Sets that ask for more than most do: oxygen in percent of saturation, volumes by the intake, a minimum purge. */
const RICH = criteriaSets.filter(
  (set) =>
    set.minimumPurge !== undefined ||
    set.beforeFirstReading !== undefined ||
    set.criteria.some((criterion) => criterion.orInPercentSaturation !== undefined),
);

interface Moment {
  readonly time: string;
  readonly id: string;
  readonly voided: boolean;
  readonly clock?: StampedClock;
  readonly client?: string;
  readonly captured?: 'at-the-well' | 'same-day' | 'from-paper';
}

type Clocks = 'none' | 'right' | 'wrong' | 'mixed';

/** Makes the moments of one purge: each record has its own id, some are voided, some come by a device clock. */
function momentMaker(chance: Chance, wild: number) {
  const clocks = chance.rarely<Clocks>(0.3, ['right', 'wrong', 'mixed'], 'none');
  const off = chance.one([0, 30_000, 600_000, 600_001, -900_000]);
  let made = 0;
  return (seconds: number): Moment => {
    made += 1;
    const plain = { time: later(seconds), id: idOf(`${chance.whole(0, 1e9)} ${made}`), voided: chance.is(wild / 6) };
    if (clocks === 'none' || (clocks === 'mixed' && chance.is(0.4)))
      return { ...plain, captured: chance.rarely(0.1, ['same-day', 'from-paper'] as const, 'at-the-well') };
    const boot = chance.rarely(0.2, ['boot 2'], 'boot 1');
    const jitter = clocks === 'right' ? 0 : chance.one([0, 0, 1_000, -4_000, 400_000]);
    const clock: StampedClock = {
      wall: later(seconds),
      monotonicMs: seconds * 1_000 + (boot === 'boot 1' ? 5_000 : 77_000) + jitter,
      boot,
      sequence: chance.is(0.1) ? 1 : made,
      differenceMs: chance.rarely(0.3, [0, 600_000, 600_001], off),
      uncertaintyMs: 20,
    };
    return { ...plain, clock, client: idOf(chance.rarely(0.2, ['phone 2'], 'phone')) };
  };
}

/** Seconds from one reading to the next, often just at the interval less the grace, or at the gap. */
function stepS(chance: Chance, usual: number): number {
  if (!chance.is(0.2)) return usual;
  return chance.one([0, 60, usual - 30, usual - 31, usual - 29, usual + 1, 2 * usual, 1_800, 1_801, 600, 601, 3_000]);
}

function flowOf(chance: Chance, wild: number): string | undefined {
  if (chance.is(0.15)) return undefined;
  return chance.rarely(wild, ['220', '221', '180', '179.9', '100', '0', '50', '25'], '200');
}

function readingsOf(
  chance: Chance,
  set: CriteriaSet,
  seconds: readonly number[],
  wild: number,
  moment: (s: number) => Moment,
) {
  const calm = chance.is(0.75);
  const courses = Object.fromEntries(PARAMETERS.map((name) => [name, courseOf(chance, set, name, calm)])) as Record<
    Parameter,
    () => string
  >;
  const meters = chance.one([
    [undefined],
    ['meter A'],
    ['meter A', 'meter A', 'meter A', 'meter B'],
    ['meter A', undefined],
  ]);
  const purged = chance.is(0.15);
  const saturation = chance.one([[], ['19.9', '20', '20.0'], ['20', '20.1'], ['4.7', '50'], ['-1', '18']]);
  return seconds.map((second) => {
    const values = valuesOf(chance, courses, wild, saturation);
    const meter = chance.one(meters);
    const measured = Object.keys(values).filter((name) => values[name as keyof typeof values] !== undefined);
    const fields = {
      ...values,
      meter: meter && idOf(meter),
      flowMlPerMin: flowOf(chance, wild),
      depthToWaterFt: chance.is(0.6) ? chance.one(['22.00', '22.05', '22.30', '22.31', '22.33', '21.9']) : undefined,
      purgedMl: purged && chance.is(0.6) ? String(second * 3) : undefined,
      overRange: measured.length > 0 && chance.is(wild) ? [chance.one(measured)] : undefined,
      ...(chance.is(wild / 20) ? { purge: idOf('other purge') } : {}),
    };
    return reading(moment(second), JSON.parse(JSON.stringify(fields)) as Partial<ReadingRecord['fields']>);
  });
}

function wellOf(chance: Chance) {
  if (chance.is(0.1)) return null;
  const may = (value: string) => (chance.is(0.1) ? undefined : value);
  return well(
    JSON.parse(
      JSON.stringify({
        depthsFrom: chance.rarely(0.3, ['ground'] as const, 'measuring-point'),
        stickUpFt: may('2.5'),
        casingInsideDiameterIn: may(chance.one(['2', '2.067', '4'])),
        totalDepthFt: may(chance.one(['30', '22.5', '45.2'])),
        screenTopFt: may(chance.one(['20', '25', '22.00', '22.05', '19.5'])),
        screenBottomFt: may(chance.one(['30', '35'])),
      }),
    ),
  );
}

function setUpsOf(chance: Chance, last: number, moment: (s: number) => Moment) {
  return Array.from({ length: chance.rarely(0.3, [0, 2], 1) }, () =>
    setUp(
      moment(chance.is(0.8) ? -600 : chance.whole(0, last + 60)),
      JSON.parse(
        JSON.stringify({
          intakeDepthFt: chance.is(0.8) ? chance.one(['27', '24', '30', '22.00', '35', '36']) : undefined,
          tubingInsideDiameterIn: chance.is(0.9) ? '0.17' : undefined,
          tubingLengthFt: chance.is(0.9) ? chance.one(['40', '5']) : undefined,
          flowCell: chance.is(0.3) ? idOf('cell') : undefined,
          flowCellVolumeMl: chance.is(0.4) ? chance.one(['250', '500', '1000', '1000.1']) : undefined,
        }),
      ),
    ),
  );
}

/** A whole purge by chance: any set, any plan, any course of readings and of what happened. */
export function randomPurge(chance: Chance): AssessmentInput {
  const set = chance.one(chance.is(0.3) ? RICH : criteriaSets);
  const wild = chance.one([0, 0, 0.02, 0.05, 0.2]);
  const usual = chance.rarely(0.3, [60, 120, 180, 300], Number(set.minimumIntervalMin?.value ?? '3') * 60);
  const seconds: number[] = [];
  for (
    let at = 0, made = chance.rarely(0.1, [0, 1, 2], chance.whole(3, 11));
    made > 0;
    made -= 1, at += stepS(chance, usual)
  )
    seconds.push(at);
  const last = seconds.at(-1) ?? 0;
  const moment = momentMaker(chance, wild);
  const some = (most: number) => Array.from({ length: chance.is(0.5) ? 0 : chance.whole(0, most) });
  const when = () => (chance.is(0.4) && seconds.length > 0 ? chance.one(seconds) : chance.whole(-300, last + 300));
  const readings = readingsOf(chance, set, seconds, wild, moment);
  const purge: Purge = {
    criteria: set.id,
    plan: randomPlan(chance),
    readings: chance.is(0.05) ? [...readings, ...readings.slice(0, 2)] : readings,
    occurrences: some(wild > 0.05 ? 4 : 1).map(() =>
      occurrence(
        moment(when()),
        chance.rarely(0.2, ['meter-swapped', 'flow-changed'], chance.one(OCCURRENCE_TYPES)),
        JSON.parse(
          JSON.stringify({
            flowMlPerMin: chance.is(0.6) ? chance.one(['200', '220', '221', '180', '100', '0']) : undefined,
            meter: chance.is(0.6) ? idOf(chance.one(['meter A', 'meter B'])) : undefined,
          }),
        ),
      ),
    ),
    calls: some(2).map(() => call(moment(when()), chance.one(['stable', 'purging-continued', 'not-stable-sampled']))),
    setUps: setUpsOf(chance, last, moment),
    levels: [
      ...(chance.is(0.8) ? [level(moment(-900), 'before-purge', '22.00')] : []),
      ...some(3).map(() =>
        level(
          moment(when()),
          chance.one(['before-purge', 'synoptic', 'pumping', 'recovery']),
          chance.one(['22.00', '22.05', '22.30', '22.35', '21.95']),
          chance.is(0.15) ? { state: 'dry', depthToWaterFt: undefined } : {},
        ),
      ),
    ],
    units: [
      unit(idOf('cell'), { flowCellVolumeMl: '500' }),
      unit(idOf('meter A'), chance.is(0.5) ? { flowCellVolumeMl: '250' } : {}),
      unit(idOf('meter B'), { flowCellVolumeMl: '1000' }),
    ],
    well: wellOf(chance),
  };
  const input = inputOf(purge);
  return {
    ...input,
    readings: chance.shuffled(input.readings),
    occurrences: chance.shuffled(input.occurrences),
    levels: chance.shuffled(input.levels),
  };
}

export { PURGE };
