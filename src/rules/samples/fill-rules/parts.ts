import { byKey } from '../../equipment/by-key.ts';
import { fieldEvidence } from '../../flags/evidence.ts';
import { timeOfDay } from '../../flags/facts/observed-order.ts';
import { listText } from '../../flags/list-text.ts';
import type { Evidence, Finding } from '../../flags/raised-flag.ts';
import type { AskedOfGroup } from '../asked-of-group.ts';
import type { FillRecord, SampleRecord } from '../sample-records.ts';
import { wallClock } from '../wall-clock.ts';
import { beganAt } from './fill-times.ts';
import type { ContainerFacts, SampleFacts } from './sample-facts.ts';

/** A container with the fill that is looked at. */
export interface Filled extends ContainerFacts {
  readonly fill: FillRecord;
}

const known = new WeakMap<SampleFacts['containers'], readonly Filled[]>();

/** What is full, with its last fill; found once for all the rules that ask it of the same containers. */
export function filled({ containers }: Pick<SampleFacts, 'containers'>): readonly Filled[] {
  const before = known.get(containers);
  if (before) return before;
  const found = containers.flatMap((one) => (one.isFull && one.fill !== null ? [{ ...one, fill: one.fill }] : []));
  known.set(containers, found);
  return found;
}

/** The first of its groups that must have no air. */
export function withoutAir({ served }: Pick<ContainerFacts, 'served'>): AskedOfGroup | undefined {
  return served.find(({ headspace }) => headspace === 'none');
}

/** What all of its groups together need to give results: each is analysed in water of its own. */
export function leastMl({ served }: Pick<ContainerFacts, 'served'>): number {
  return served.reduce((sum, { leastVolumeMl }) => sum + leastVolumeMl, 0);
}

/** A container with the group of it that something is not right for. */
export interface ForGroup extends Filled {
  readonly by: AskedOfGroup;
}

/** Those that are not right for one of their groups, each with the first of these. */
export function filledAgainst(
  facts: Pick<SampleFacts, 'containers'>,
  isAgainst: (asked: AskedOfGroup, one: Filled) => boolean,
): readonly ForGroup[] {
  return filled(facts).flatMap((one) => {
    const by = one.served.find((asked) => isAgainst(asked, one));
    return by ? [{ ...one, by }] : [];
  });
}

/** Those of the samples of the visit, with what the plan has for them. */
export function ofSamples({ containers, labelled }: Pick<SampleFacts, 'containers' | 'labelled'>) {
  return [...containers, ...labelled];
}

export function labelsText(containers: readonly ContainerFacts[]): string {
  return listText(containers.map(({ container }) => container.fields.label).toSorted());
}

/** By the clock that another time is written by; with its date where that is another. */
function timeBeside(beside: string, at: string): string {
  const zone = /[+-]\d\d:\d\d$/.exec(beside)?.[0] ?? 'UTC';
  const [day = '', time = ''] = wallClock(at, zone).split(' ');
  return day === beside.slice(0, 10) ? time : `${day} ${time}`;
}

/** "W-101-1 (10:35)": labels with when each was filled, by its own clock or as beside another time. */
export function labelsAtTimes(its: readonly Filled[], beside?: string): string {
  const told = (at: string) => (beside === undefined ? timeOfDay(at) : timeBeside(beside, at));
  return listText(its.map(({ container, fill }) => `${container.fields.label} (${told(beganAt(fill))})`).toSorted());
}

export function fillEvidence(fill: FillRecord): Evidence {
  return fieldEvidence(fill, fill.fields.began === undefined ? 'collected' : 'began');
}

export function aboutContainer(
  { container }: ContainerFacts,
  sentence: string,
  evidence: readonly Evidence[],
): Finding {
  return { subjectKind: 'container', subject: container.id, sentence, evidence };
}

export function aboutSample(sample: SampleRecord, sentence: string, evidence: readonly Evidence[]): Finding {
  return { subjectKind: 'sample', subject: sample.id, sentence, evidence };
}

/** One finding for each sample of which some containers give rise to it. */
export function perSample<Of extends ContainerFacts>(
  its: readonly Of[],
  find: (sample: SampleRecord, its: readonly Of[]) => Finding,
): readonly Finding[] {
  const bySample = byKey(
    its.filter(({ sample }) => sample !== null),
    ({ sample }) => String(sample?.id),
  );
  return [...bySample.values()].flatMap((all) => {
    const sample = all[0]?.sample;
    return sample ? [find(sample, all)] : [];
  });
}
