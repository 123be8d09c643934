import type { RecordState } from '../../../protocol/record.ts';
import { vectorInstant } from '../../flags/vector-bundle.ts';
import { vectorId } from '../../flags/vector-ids.ts';
import type { SampleRecords } from './sample-facts.ts';
import type { ContainerGiven, FillGiven, SampleGiven } from './sample-rule.ts';

const ID = {
  event: 1,
  crew: 3,
  member: 4,
  visit: 5,
  well: 6,
  purge: 8,
  sample: 0x400,
  container: 0x5000,
  fill: 0x60000,
  call: 0x3000,
  planned: 0x900,
};

function record<Fields extends object>(kind: string, id: string, fields: Fields): RecordState<Fields> {
  const nobody = { voided: null, client: null, mutation: null, reason: null, clock: null };
  return { kind, id, rev: 1, by: vectorId(ID.member), ...nobody, fields };
}

function observedAt(time: string) {
  const at = vectorInstant(time);
  const member = vectorId(ID.member);
  return { at, entered: at, captured: 'at-the-well' as const, readBy: member, writtenBy: member };
}

function visitOf({ visit }: SampleGiven): SampleRecords['visit'] {
  if (visit === null) return null;
  const place = { event: vectorId(ID.event), well: vectorId(ID.well), crew: vectorId(ID.crew) };
  const fields = { ...place, method: 'low-flow' as const, arrived: vectorInstant('09:30'), ...visit };
  return record('visit', vectorId(ID.visit), fields);
}

function purged({ visit, purges, calls }: SampleGiven): Pick<SampleRecords, 'purges' | 'calls'> {
  if (visit === null) return { purges: [], calls: [] };
  const whole = [{ ended: vectorInstant('10:30') }];
  return {
    purges: (purges ?? whole).map((fields, at) =>
      record('purge', vectorId(ID.purge + at * 0x10), {
        visit: vectorId(ID.visit),
        began: vectorInstant('10:00'),
        ...fields,
      }),
    ),
    calls: (calls ?? [{}]).map(({ at = '10:30', ...fields }, index) =>
      record('call', vectorId(ID.call + index), {
        purge: vectorId(ID.purge),
        decision: 'stable' as const,
        observed: observedAt(at),
        ...fields,
      }),
    ),
  };
}

function samplesOf({ visit, samples = [{}] }: SampleGiven): SampleRecords['samples'] {
  if (visit === null) return [];
  return samples.map(({ at = '10:35', ...fields }, index) =>
    record('sample', vectorId(ID.sample + index), {
      visit: vectorId(ID.visit),
      number: `W-${101 + index}`,
      suites: ['VOC'],
      collected: vectorInstant(at),
      ...fields,
    }),
  );
}

function plannedOf({ planned = [] }: SampleGiven): SampleRecords['planned'] {
  return planned.map((fields, index) =>
    record('planned-sample', vectorId(ID.planned + index), {
      event: vectorId(ID.event),
      well: vectorId(ID.well),
      number: `W-${101 + index}`,
      type: 'normal' as const,
      suites: ['VOC'],
      standing: 'planned' as const,
      ...fields,
    }),
  );
}

function containerOf(given: ContainerGiven, index: number, hasVisit: boolean): SampleRecords['containers'][number] {
  const { at: _at, fill: _fill, of = hasVisit ? 0 : null, ...fields } = given;
  return record('container', vectorId(ID.container + index), {
    event: vectorId(ID.event),
    ...(of === null ? {} : { sample: vectorId(ID.sample + of) }),
    group: 'volatiles',
    suite: 'VOC',
    type: 'vial' as const,
    material: 'glass' as const,
    preservatives: ['hydrochloric-acid' as const],
    volumeMl: '40',
    label: `W-101-${index + 1}`,
    standing: 'filled' as const,
    ...fields,
  });
}

function fillsOf(
  { fill = {}, at = '10:35' }: ContainerGiven,
  index: number,
  hasVisit: boolean,
): SampleRecords['fills'] {
  if (fill === null) return [];
  const all: readonly FillGiven[] = Array.isArray(fill) ? fill : [fill as FillGiven];
  return all.map(({ at: time = at, ...fields }, times) =>
    record('fill', vectorId(ID.fill + index * 0x10 + times), {
      container: vectorId(ID.container + index),
      ...(hasVisit ? { visit: vectorId(ID.visit) } : {}),
      collected: vectorInstant(time),
      observed: observedAt(time),
      ...fields,
    }),
  );
}

/** The records that the words of a case stand for. */
export function vectorSampleRecords(given: SampleGiven): SampleRecords {
  const { plan = null, suite, containers = [{}] } = given;
  const hasVisit = given.visit !== null;
  const all = containers.map((one, index) => containerOf(one, index, hasVisit));
  return {
    plan,
    visit: visitOf(given),
    ...purged(given),
    samples: samplesOf(given),
    containers: all.filter(({ fields }) => hasVisit === (fields.sample !== undefined)),
    labelled: all.filter(({ fields }) => hasVisit && fields.sample === undefined),
    fills: containers.flatMap((one, index) => fillsOf(one, index, hasVisit)),
    suites: suite ? [record('analyte-suite', vectorId(0x70), { name: 'VOC', groups: [...suite] })] : [],
    planned: plannedOf(given),
  };
}
