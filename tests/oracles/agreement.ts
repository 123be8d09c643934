import type { AssessmentFields } from '../../src/protocol/kinds/assessment.ts';
import { assessPurge } from '../../src/rules/assessment/assess-purge.ts';
import type { AssessmentInput } from '../../src/rules/assessment/assessment-input.ts';
import { Chance } from './chance.ts';
import { randomPurge } from './random-purge.ts';
import { assessAgain, type SecondAssessment, type Status } from './second-assessment.ts';

export interface Told {
  readonly what: string;
  readonly engine: string;
  readonly second: string;
}

/** Statuses of the engine in the words of the rules: what is missing or over range was not judged. */
function statusOf(status: AssessmentFields['parameters'][number]['status']): Status {
  return status === 'missing' || status === 'over-range' ? 'not-judged' : status;
}

function limitsOf({ limits }: AssessmentFields) {
  return (limits ?? []).map(({ of, status, reading, choice }) => ({
    of,
    status,
    reading: reading ?? null,
    choice: choice ?? null,
  }));
}

function compared(engine: AssessmentFields, second: SecondAssessment): (readonly [string, unknown, unknown])[] {
  const ofParameters = second.parameters.flatMap((two) => {
    const one = engine.parameters.find(({ parameter }) => parameter === two.parameter);
    return [
      [`status of ${two.parameter}`, one && statusOf(one.status), two.status],
      [`required ${two.parameter}`, one?.required, two.required],
      // What a window shows that was not judged is not in the rules.
      [
        `window of ${two.parameter}`,
        two.status === 'not-judged' || one?.readings,
        two.status === 'not-judged' || two.readings,
      ],
    ] as const;
  });
  return [
    ['stable', engine.stable, second.stable],
    ['firstHeldAt', engine.firstHeldAt ?? null, second.firstHeldAt],
    ['firstHeldWindow', engine.firstHeldWindow ?? null, second.firstHeldWindow],
    ['window', engine.window, second.window],
    ['drawdown', engine.conditions.drawdown.status, second.drawdown],
    ['minimum purge', engine.conditions.minimumPurge.status, second.minimumPurge],
    ['stable at the call', engine.call.stableThen ?? null, second.stableAtCall],
    ['limits', limitsOf(engine), second.limits],
    ...ofParameters,
  ];
}

export interface Compared {
  readonly second: SecondAssessment;
  readonly differ: readonly Told[];
}

/** One purge decided by both implementations. */
export function decideTwice(input: AssessmentInput): Compared {
  const second = assessAgain(input);
  const differ = compared(assessPurge(input), second)
    .map(([what, one, two]) => ({ what, engine: JSON.stringify(one), second: JSON.stringify(two) }))
    .filter((told) => told.engine !== told.second);
  return { second, differ };
}

/** Where the two implementations differ about one purge. */
export function differences(input: AssessmentInput): readonly Told[] {
  return decideTwice(input).differ;
}

/** The purge of this number of a seed, always the same. */
export function purgeOf(seed: number, number: number): AssessmentInput {
  return randomPurge(new Chance(seed, number));
}

const LISTS = ['readings', 'occurrences', 'calls', 'setUps', 'levels'] as const;

function* smaller(input: AssessmentInput): Generator<AssessmentInput> {
  for (const list of LISTS)
    for (let at = 0; at < input[list].length; at += 1)
      yield { ...input, [list]: input[list].filter((_, index) => index !== at) };
  const { stabilization } = input.plan;
  for (const option of Object.keys(stabilization ?? {})) {
    const rest = Object.fromEntries(Object.entries(stabilization ?? {}).filter(([name]) => name !== option));
    yield { ...input, plan: { ...input.plan, stabilization: rest } };
  }
  for (const [at, reading] of input.readings.entries())
    for (const name of Object.keys(reading.fields).filter((field) => field !== 'purge' && field !== 'observed')) {
      const fields = Object.fromEntries(Object.entries(reading.fields).filter(([field]) => field !== name));
      const less = { ...reading, fields: fields as typeof reading.fields };
      yield { ...input, readings: input.readings.map((one, index) => (index === at ? less : one)) };
    }
}

/** A purge without what is not needed for the same thing to differ. */
export function reduced(input: AssessmentInput): AssessmentInput {
  const what = differences(input)[0]?.what;
  for (const less of smaller(input)) if (differences(less)[0]?.what === what) return reduced(less);
  return input;
}
