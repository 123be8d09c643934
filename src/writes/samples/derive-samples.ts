import type { Derived } from '../../rules/derive/derived.ts';
import {
  containerDerived,
  isLabelFlag,
  isLabelledOnly,
  isOfNoSample,
  isSampleFlag,
  labelFlagId,
  labelsDerived,
  samplesDerived,
  sampleWorld,
} from '../../rules/derive/sample-derived.ts';
import type { Held } from '../../rules/held.ts';
import {
  containersLabelled,
  containersOfSamples,
  containersOfSuites,
  heldUnder,
  samplesOfPlans,
  suitesNamed,
} from '../../store/write/load-held.ts';
import type { WriteTx } from '../../store/write/transaction.ts';
import { writeDerived } from '../derive-group.ts';
import { loadMissing, take } from '../equipment/load-more.ts';
import type { Group } from '../group.ts';
import { plansNamed, type SampleSeeds, sampleSeeds, samplesNamed } from './sample-seeds.ts';

function idsOf(held: readonly Held[]): string[] {
  return held.map(({ state }) => state.id);
}

function present(group: Group, ids: Iterable<string>): Held[] {
  return [...new Set(ids)].flatMap((id) => group.overlay.get(id) ?? []);
}

async function under(tx: WriteTx, group: Group, parents: readonly string[], kinds: readonly string[]): Promise<void> {
  if (parents.length > 0) take(group, await heldUnder(tx, [...new Set(parents)], kinds));
}

function servesSeveral({ alsoGroups }: Held['state']['fields']): boolean {
  return Array.isArray(alsoGroups) && alsoGroups.length > 0;
}

/** The samples that were taken for these planned ones. */
async function takenFor(tx: WriteTx, group: Group, plans: readonly string[]): Promise<readonly Held[]> {
  if (plans.length === 0) return [];
  take(group, await samplesOfPlans(tx, [...new Set(plans)]));
  return group.overlay.ofKind('sample').filter(({ state }) => plans.includes(String(state.fields.planned)));
}

/** The visits of the changed containers' samples; of most of them all is known, since their records were pushed with them. */
async function visitsAround(tx: WriteTx, group: Group, seeds: SampleSeeds): Promise<string[]> {
  await loadMissing(tx, group, seeds.containers);
  if (seeds.replanned.length > 0) {
    const events = present(group, seeds.replanned).flatMap(({ parent }) => parent ?? []);
    await under(tx, group, events, ['container']);
  }
  if (seeds.suites.length > 0) take(group, await containersOfSuites(tx, [...new Set(seeds.suites)]));
  const ofSuites = group.overlay
    .ofKind('container')
    .filter(({ state: { fields } }) => seeds.suites.includes(String(fields.suite)) || servesSeveral(fields));
  const ofPlans = group.overlay
    .ofKind('container')
    .filter(({ state }) => seeds.replanned.includes(String(state.fields.planned)));
  const changed = [...present(group, seeds.containers), ...ofSuites, ...ofPlans];
  const samples = samplesNamed(changed, group);
  await loadMissing(tx, group, samples);
  const ofPlan = await takenFor(tx, group, [...plansNamed(changed, group), ...seeds.replanned]);
  return [
    ...new Set([...seeds.visits, ...[...present(group, samples), ...ofPlan].flatMap(({ visit }) => visit ?? [])]),
  ];
}

interface OfVisits {
  readonly own: readonly Held[];
  /** What the plan alone has for their samples. */
  readonly labelled: readonly Held[];
}

/** What the samples of these visits are judged by: what belongs to the visit, its event, and the containers with their fills. */
async function loadVisits(tx: WriteTx, group: Group, visits: readonly string[]): Promise<OfVisits> {
  await loadMissing(tx, group, visits);
  await under(tx, group, visits, ['sample', 'purge']);
  const { overlay } = group;
  const ofKind = (kind: string) =>
    visits.flatMap((visit) => overlay.ofVisit(visit)).filter(({ state }) => state.kind === kind);
  await under(tx, group, idsOf(ofKind('purge')), ['call']);
  const samples = idsOf(ofKind('sample'));
  const plans = ofKind('sample').flatMap(({ state: { fields } }) => (fields.planned ? [String(fields.planned)] : []));
  if (samples.length > 0) take(group, await containersOfSamples(tx, samples, plans));
  await under(tx, group, samples, ['flag']);
  const [wanted, planned] = [new Set(samples), new Set(plans)];
  const containers = overlay.ofKind('container');
  return {
    own: containers.filter(({ state }) => wanted.has(String(state.fields.sample))),
    labelled: containers.filter((held) => isLabelledOnly(held) && planned.has(String(held.state.fields.planned))),
  };
}

/** The plans of the events and the analyte suites that the samples and their containers are for. */
async function loadOrders(tx: WriteTx, group: Group, visits: readonly string[], containers: readonly Held[]) {
  const events = present(group, visits).map(({ state }) => state.fields.event);
  const samples = visits
    .flatMap((visit) => group.overlay.ofVisit(visit))
    .filter(({ state }) => state.kind === 'sample');
  const naming = [...samples, ...containers.filter((one) => !isOfNoSample(one))];
  const planned = naming.map(({ state }) => state.fields.planned);
  await loadMissing(tx, group, [...events, ...planned, ...containers.map(({ parent }) => parent)]);
  // a bottle that serves several groups may serve further suites of its sample
  const ofSamples = samples.flatMap(({ state }) => state.fields.suites ?? []);
  const names = new Set([...containers.flatMap(({ state }) => state.fields.suite ?? []), ...ofSamples].map(String));
  if (names.size > 0) take(group, await suitesNamed(tx, [...names]));
}

async function loadReviews(tx: WriteTx, group: Group, stored: readonly Held[], wanted: readonly Derived[]) {
  await under(tx, group, [...idsOf(stored), ...wanted.map(({ id }) => id)], ['flag-review']);
}

async function deriveFills(tx: WriteTx, group: Group, seeds: SampleSeeds): Promise<void> {
  const { overlay } = group;
  const { events } = seeds;
  await under(tx, group, events, ['container']);
  const visits = await visitsAround(tx, group, seeds);
  const { own, labelled } = await loadVisits(tx, group, visits);
  const suites = (held: Held) => seeds.suites.includes(String(held.state.fields.suite));
  const changed = new Set([...seeds.containers, ...events.flatMap((event) => idsOf(overlay.under(event)))]);
  const alone = overlay
    .ofKind('container')
    .filter((held) => isOfNoSample(held) && (changed.has(held.state.id) || suites(held)));
  const around = [...new Set([...own, ...alone, ...present(group, seeds.containers)])];
  await under(tx, group, idsOf([...around, ...labelled]), ['fill', 'flag']);
  await loadOrders(tx, group, visits, [...around, ...labelled]);
  const samples = visits.flatMap((visit) => overlay.ofVisit(visit)).filter(({ state }) => state.kind === 'sample');
  const stored = idsOf([...samples, ...around])
    .flatMap((id) => overlay.under(id))
    .filter(isSampleFlag);
  const wanted = () => {
    const world = sampleWorld(overlay);
    return [
      ...visits.flatMap((visit) => samplesDerived(tx.firm, visit, world)),
      ...alone.flatMap((container) => containerDerived(tx.firm, container, world)),
    ];
  };
  await loadReviews(tx, group, stored, wanted());
  writeDerived(group, stored, wanted());
}

/** One flag a label of an event, whoever wrote the two containers. */
async function deriveLabels(tx: WriteTx, group: Group, { labels }: SampleSeeds): Promise<void> {
  const { overlay, gathered } = group;
  const whole = gathered.events.flatMap((event) =>
    overlay
      .under(event)
      .flatMap(({ state, feed }) =>
        state.kind === 'container' ? [`${feed.slice('event:'.length)} ${state.fields.label}`] : [],
      ),
  );
  const keys = [...new Set([...labels, ...whole])].map(
    (key) => [key.slice(0, key.indexOf(' ')), key.slice(key.indexOf(' ') + 1)] as const,
  );
  if (keys.length === 0 && gathered.events.length === 0) return;
  const [events, texts] = [keys.map(([event]) => event), keys.map(([, label]) => label)];
  if (keys.length > 0) take(group, await containersLabelled(tx, events, texts));
  await loadMissing(tx, group, [...events, ...keys.map(([event, label]) => labelFlagId(tx.firm, event, label))]);
  await under(tx, group, gathered.events, ['flag']);
  const ids = new Set(keys.map(([event, label]) => labelFlagId(tx.firm, event, label)));
  const ofEvents = gathered.events.flatMap((event) => overlay.under(event)).filter(isLabelFlag);
  const stored = [...new Set([...present(group, ids), ...ofEvents])];
  const wanted = () =>
    [...new Set(events)].flatMap((id) => {
      const event = overlay.get(id);
      const its = new Set(keys.filter(([one]) => one === id).map(([, label]) => label));
      const labelled = overlay
        .under(id)
        .filter(({ state }) => state.kind === 'container' && its.has(String(state.fields.label)));
      return event ? labelsDerived(tx.firm, event, labelled, overlay) : [];
    });
  await loadReviews(tx, group, stored, wanted());
  writeDerived(group, stored, wanted());
}

/**
 * Derives what is asked about samples and their containers. A push that touches none of them, nor a visit that has
 * samples, costs a look at its drafts and no statement.
 */
export async function deriveSamples(tx: WriteTx, group: Group): Promise<void> {
  const seeds = sampleSeeds(group);
  if (seeds === null) return;
  await deriveFills(tx, group, seeds);
  await deriveLabels(tx, group, seeds);
}
