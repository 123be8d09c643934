import type { SamplingPlan } from '../../protocol/sampling-plan.ts';
import { derivedId } from '../derived-id.ts';
import { byKey } from '../equipment/by-key.ts';
import type { RaisedFlag } from '../flags/raised-flag.ts';
import type { Held, World } from '../held.ts';
import { readable } from '../readable.ts';
import { LABEL_RULE, type Labelled, labelFlags } from '../samples/fill-rules/label-twice.ts';
import type { SampleRecords } from '../samples/fill-rules/sample-facts.ts';
import { sampleFlags } from '../samples/fill-rules/sample-flags.ts';
import { SAMPLE_RULES } from '../samples/fill-rules/sample-rules.ts';
import type { Derived } from './derived.ts';
import { flagDerived } from './flag-derived.ts';

const CODES: readonly unknown[] = SAMPLE_RULES.map(({ code }) => code);

export function isLabelFlag({ state: { kind, fields } }: Pick<Held, 'state'>): boolean {
  return kind === 'flag' && fields.rule === LABEL_RULE.code;
}

/** Whether a stored flag follows from the samples of a visit with their containers, which lie in no visit. */
export function isSampleFlag({ state: { kind, fields } }: Pick<Held, 'state'>): boolean {
  return kind === 'flag' && CODES.includes(fields.rule);
}

/** The loaded records, with the containers of each sample. */
export interface SampleWorld extends Pick<World, 'get' | 'ofVisit' | 'under'> {
  containersOf(sample: string): readonly Held[];
  /** Those for a planned sample that are said to be of no sample and of no blank. */
  labelledFor(planned: string): readonly Held[];
  readonly suites: readonly Held[];
}

interface Loaded extends Pick<World, 'get' | 'ofVisit' | 'under'> {
  ofKind(kind: string): readonly Held[];
}

export function sampleWorld(world: Loaded): SampleWorld {
  const all = world.ofKind('container');
  const containers = byKey(all, ({ state }) => textOf(state.fields.sample));
  const labelled = byKey(all, (held) => (isLabelledOnly(held) ? textOf(held.state.fields.planned) : null));
  return {
    get: (id) => world.get(id),
    ofVisit: (id) => world.ofVisit(id),
    under: (id) => world.under(id),
    containersOf: (sample) => containers.get(sample) ?? [],
    labelledFor: (planned) => labelled.get(planned) ?? [],
    suites: world.ofKind('analyte-suite'),
  };
}

function textOf(value: unknown): string | null {
  return typeof value === 'string' ? value : null;
}

/** What was stored has the shape of its kind, once it is read as one. */
function states<Kind extends keyof SampleRecords>(held: readonly Held[]): SampleRecords[Kind] {
  return held.map(({ state }) => readable(state)) as unknown as SampleRecords[Kind];
}

function planOf(event: unknown, world: SampleWorld): SamplingPlan | null {
  const held = world.get(String(event));
  const plan = held && (readable(held.state).fields.plan as { readonly sampling?: SamplingPlan | null } | undefined);
  return plan?.sampling ?? null;
}

function plansOf(held: readonly Held[]): readonly string[] {
  return [...new Set(held.flatMap(({ state }) => textOf(state.fields.planned) ?? []))];
}

function plannedOf(naming: readonly Held[], world: SampleWorld): readonly Held[] {
  return plansOf(naming)
    .flatMap((id) => world.get(id) ?? [])
    .filter(({ state }) => state.kind === 'planned-sample');
}

function fillsOf(containers: readonly Held[], world: SampleWorld): readonly Held[] {
  return containers.flatMap(({ state }) => world.under(state.id)).filter(({ state }) => state.kind === 'fill');
}

function flagsBeside(
  firm: string,
  flags: readonly RaisedFlag[],
  subjects: readonly Held[],
  visit: Held | null,
  world: SampleWorld,
): Derived[] {
  const byId = new Map(subjects.map((held) => [held.state.id, held]));
  return flags.flatMap((flag) => {
    const subject = byId.get(flag.subject);
    // a flag lies where its subject does: a container belongs to no visit, though what is asked of it arose in one
    return subject ? [{ ...flagDerived(firm, flag, { subject, visit }, world), visit: subject.visit }] : [];
  });
}

/** What is asked about the samples of a visit and their containers, by what the records say and not by when they came. */
export function samplesDerived(firm: string, visitId: string, world: SampleWorld): Derived[] {
  const visit = world.get(visitId);
  if (!visit) return [];
  const all = world.ofVisit(visitId).filter(({ state }) => state.voided === null);
  const ofKind = (kind: string) => all.filter(({ state }) => state.kind === kind);
  const [samples, purges] = [ofKind('sample'), ofKind('purge')];
  const live = new Set(purges.map(({ state }) => state.id));
  const containers = samples.flatMap(({ state }) => world.containersOf(state.id));
  const labelled = plansOf(samples).flatMap((planned) => world.labelledFor(planned));
  const flags = sampleFlags({
    plan: planOf(visit.state.fields.event, world),
    visit: readable(visit.state) as unknown as SampleRecords['visit'],
    purges: states<'purges'>(purges),
    calls: states<'calls'>(ofKind('call').filter(({ parent }) => live.has(String(parent)))),
    samples: states<'samples'>(samples),
    containers: states<'containers'>(containers),
    labelled: states<'labelled'>(labelled),
    fills: states<'fills'>(fillsOf([...containers, ...labelled], world)),
    suites: states<'suites'>(world.suites),
    planned: states<'planned'>(plannedOf([...samples, ...containers], world)),
  });
  return flagsBeside(firm, flags, [...samples, ...containers], visit, world);
}

/** The same of a container that is of no sample: of a blank, or of nothing yet. */
export function containerDerived(firm: string, container: Held, world: SampleWorld): Derived[] {
  const flags = sampleFlags({
    plan: planOf(container.parent, world),
    visit: null,
    purges: [],
    calls: [],
    samples: [],
    containers: states<'containers'>([container]),
    labelled: [],
    fills: states<'fills'>(fillsOf([container], world)),
    suites: states<'suites'>(world.suites),
    planned: [],
  });
  return flagsBeside(firm, flags, [container], null, world);
}

export function isOfNoSample({ state }: Pick<Held, 'state'>): boolean {
  return state.kind === 'container' && textOf(state.fields.sample) === null;
}

/** Whether it is the plan alone that says for whose water it is. */
export function isLabelledOnly({ state }: Pick<Held, 'state'>): boolean {
  return isOfNoSample({ state }) && textOf(state.fields.blank) === null && textOf(state.fields.planned) !== null;
}

export function labelFlagId(firm: string, event: string, label: string): string {
  return derivedId(firm, 'flag', LABEL_RULE.code, event, label);
}

/** @param containers of the event, all of those that have these labels */
export function labelsDerived(
  firm: string,
  event: Held,
  containers: readonly Held[],
  world: Pick<World, 'under'>,
): Derived[] {
  const records = containers.map(({ state }) => readable(state) as unknown as Labelled);
  return labelFlags(event.state.id, records).map((flag) =>
    flagDerived(firm, flag, { subject: event, visit: null, id: labelFlagId(firm, event.state.id, flag.label) }, world),
  );
}
