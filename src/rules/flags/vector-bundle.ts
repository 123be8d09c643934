import type { Observed, RecordState } from '../../protocol/record.ts';
import type { VisitBundle } from '../visit-bundle.ts';
import type { VisitFacts } from './flag-rule.ts';
import type { VectorGiven } from './flag-vector.ts';
import { vectorId } from './vector-ids.ts';

const ID = { event: 1, site: 2, crew: 3, member: 4, visit: 5, well: 6, pump: 7, purge: 8 };

/** An instant of the day of the cases. */
export function vectorInstant(timeOfDay: string): string {
  return `2026-05-04T${timeOfDay}:00-05:00`;
}

function observedAt(timeOfDay: string): Observed {
  const at = vectorInstant(timeOfDay);
  const member = vectorId(ID.member);
  return { at, entered: at, captured: 'at-the-well', readBy: member, writtenBy: member };
}

interface Late {
  readonly afterAssignment?: string;
  readonly carriedWithRight?: boolean;
}

function record<Fields extends object>(kind: string, id: string, given: Fields & Late): RecordState<Fields> {
  const { afterAssignment, carriedWithRight: right, ...rest } = given;
  const fields = rest as unknown as Fields;
  const late =
    afterAssignment === undefined ? {} : { afterAssignment: { assignment: vectorId(9), ended: afterAssignment } };
  const carried = right === undefined ? {} : { carriedBy: [{ device: vectorId(8), right, rev: 1 }] };
  return {
    kind,
    id,
    rev: 1,
    voided: null,
    by: vectorId(ID.member),
    client: null,
    mutation: null,
    reason: null,
    clock: null,
    ...late,
    ...carried,
    fields,
  };
}

/** Records of one kind: the defaults, over them what the case gives, and the time at which each was observed. */
function records<Fields extends object>(
  kind: string,
  from: number,
  given: readonly ({ readonly at?: string } & object)[] | undefined,
  defaults: (timeOfDay: string, index: number) => Fields,
): readonly RecordState<Fields>[] {
  return (given ?? []).map(({ at, ...fields }, index) =>
    record(kind, vectorId(from + index), { ...defaults(at ?? '10:30', index), ...fields }),
  );
}

const place = { site: vectorId(ID.site), standing: 'in-service', depthsFrom: 'measuring-point' } as const;

function placeFacts(given: VectorGiven): Pick<VisitBundle, 'event' | 'visit' | 'well' | 'nestWells'> {
  const plan = { criteria: 'of-the-case' };
  return {
    event: record('event', vectorId(ID.event), {
      site: vectorId(ID.site),
      name: 'Spring round',
      starts: '2026-05-04',
      ends: '2026-05-08',
      standing: 'open' as const,
      plan,
    }),
    visit: record('visit', vectorId(ID.visit), {
      event: vectorId(ID.event),
      well: vectorId(ID.well),
      crew: vectorId(ID.crew),
      method: 'low-flow' as const,
      arrived: vectorInstant('09:30'),
      ...given.visit,
    }),
    well: record('well', vectorId(ID.well), { ...place, name: 'MW-4S', ...given.well }),
    nestWells: records('well', 0x60, given.nestWells, (_, index) => ({ ...place, name: `MW-4-${index}` })),
  };
}

const visit = vectorId(ID.visit);
const purge = vectorId(ID.purge);

function visitRecords(given: VectorGiven): Pick<VisitBundle, 'levels' | 'soundings' | 'setUps' | 'samples' | 'uses'> {
  return {
    levels: records('water-level', 0x100, given.levels, (at) => ({
      visit,
      purpose: 'before-purge' as const,
      state: 'measured' as const,
      observed: observedAt(at),
    })),
    soundings: records('sounding', 0x200, given.soundings, (at) => ({
      visit,
      depthToBottomFt: '25.3',
      observed: observedAt(at),
    })),
    setUps: records('pump-set-up', 0x300, given.setUps, (at) => ({
      visit,
      pump: vectorId(ID.pump),
      observed: observedAt(at),
    })),
    samples: records('sample', 0x400, given.samples, (at, index) => ({
      visit,
      number: `W-${101 + index}`,
      suites: ['metals'],
      collected: vectorInstant(at),
    })),
    uses: records('unit-use', 0x500, given.uses, (at) => ({
      visit,
      unit: vectorId(ID.pump),
      how: 'down-the-well' as const,
      from: vectorInstant(at),
      observed: observedAt(at),
    })),
  };
}

/** The case has a purge once it gives anything of one. */
function purges({ readings, occurrences, calls, assessment }: VectorGiven): VisitBundle['purges'] {
  if (!readings && !occurrences && !calls && !assessment) return [];
  return [
    {
      purge: record('purge', purge, { visit, began: vectorInstant('10:00') }),
      readings: records('reading', 0x1000, readings, (at) => ({ purge, observed: observedAt(at) })),
      occurrences: records('occurrence', 0x2000, occurrences, (at) => ({
        purge,
        type: 'other' as const,
        observed: observedAt(at),
      })),
      calls: records('call', 0x3000, calls, (at) => ({
        purge,
        decision: 'stable' as const,
        observed: observedAt(at),
      })),
    },
  ];
}

/** The visit that the words of a case stand for. */
export function vectorFacts(given: VectorGiven): VisitFacts {
  const pump = record('unit', vectorId(ID.pump), {
    type: 'bladder-pump' as const,
    label: 'P-1',
    use: 'shared' as const,
    ownership: 'owned' as const,
    ...given.pump,
  });
  return {
    bundle: {
      ...placeFacts(given),
      ...visitRecords(given),
      measuringPoints: records('measuring-point', 0x50, given.measuringPoints, () => ({
        well: vectorId(ID.well),
        description: 'Notch on the rim',
        validFrom: '2019-06-04T09:00:00-05:00',
        change: 'first' as const,
      })),
      purges: purges(given),
      units: new Map([[pump.id, pump]]),
      superseded: new Map(),
    },
    assessments: new Map(given.assessment ? [[purge, given.assessment]] : []),
  };
}
