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
import { suiteVisits } from '../../store/write/suite-visits.ts';
import type { WriteTx } from '../../store/write/transaction.ts';
import { writeDerived } from '../derive-group.ts';
import { loadMissing, take } from '../equipment/load-more.ts';
import type { Group } from '../group.ts';
import { judgedOnce } from './judged-once.ts';
import { plansNamed, type SampleSeeds, sampleSeeds, samplesNamed } from './sample-seeds.ts';

function idsOf(held: readonly Held[]): string[] {
  return held.map(({ state }) => state.id);
}

function present(group: Group, ids: Iterable<string>): Held[] {
  return [...new Set(ids)].flatMap((id) => group.overlay.get(id) ?? []);
}

async function under(tx: WriteTx, group: Group, parents: readonly string[], kinds: readonly string[]) {
  const found = parents.length > 0 ? await heldUnder(tx, [...new Set(parents)], kinds) : [];
  take(group, found);
  return found;
}

/** The samples that were taken for these planned ones. */
async function takenFor(tx: WriteTx, group: Group, plans: readonly string[]): Promise<readonly Held[]> {
  if (plans.length === 0) return [];
  const wanted = new Set(plans);
  take(group, await samplesOfPlans(tx, [...wanted]));
  return group.overlay.ofKind('sample').filter(({ state }) => wanted.has(String(state.fields.planned)));
}

/** The visits of the changed containers' samples; of most of them all is known, since their records were pushed with them. */
async function visitsAround(tx: WriteTx, group: Group, seeds: SampleSeeds): Promise<string[]> {
  await loadMissing(tx, group, seeds.containers);
  if (seeds.replanned.length > 0) {
    const events = present(group, seeds.replanned).flatMap(({ parent }) => parent ?? []);
    await under(tx, group, events, ['container']);
  }
  const ofPlans = group.overlay
    .ofKind('container')
    .filter(({ state }) => seeds.replanned.includes(String(state.fields.planned)));
  const changed = [...present(group, seeds.containers), ...ofPlans];
  const samples = samplesNamed(changed, group);
  await loadMissing(tx, group, samples);
  const ofPlan = await takenFor(tx, group, [...plansNamed(changed, group), ...seeds.replanned]);
  const ofSuites = seeds.suites.length > 0 ? await suiteVisits(tx, seeds.suites) : [];
  const named = [...present(group, samples), ...ofPlan].flatMap(({ visit }) => visit ?? []);
  return [...new Set([...seeds.visits, ...ofSuites, ...named])];
}

interface OfGroup {
  readonly group: Group;
  readonly seeds: SampleSeeds;
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

/** What is judged by itself: a container of no sample, that is changed or that a suite asks for otherwise now. */
async function standAlone(tx: WriteTx, { group, seeds }: OfGroup): Promise<readonly Held[]> {
  const suites = new Set<unknown>(seeds.suites.map(({ name }) => name));
  if (suites.size > 0) take(group, await containersOfSuites(tx, [...suites].map(String)));
  const ofEvents = seeds.events.flatMap((event) => idsOf(group.overlay.under(event)));
  const changed = new Set([...seeds.containers, ...ofEvents]);
  const isJudged = ({ state }: Held) => changed.has(state.id) || suites.has(state.fields.suite);
  return group.overlay.ofKind('container').filter((held) => isOfNoSample(held) && isJudged(held));
}

async function deriveFills(tx: WriteTx, { group, seeds }: OfGroup): Promise<void> {
  const { overlay } = group;
  await under(tx, group, seeds.events, ['container']);
  const visits = await visitsAround(tx, group, seeds);
  const { own, labelled } = await loadVisits(tx, group, visits);
  const alone = await standAlone(tx, { group, seeds });
  const around = [...new Set([...own, ...alone, ...present(group, seeds.containers)])];
  await under(tx, group, idsOf([...around, ...labelled]), ['fill', 'flag']);
  await loadOrders(tx, group, visits, [...around, ...labelled]);
  const samples = visits.flatMap((visit) => overlay.ofVisit(visit)).filter(({ state }) => state.kind === 'sample');
  const stored = idsOf([...samples, ...around])
    .flatMap((id) => overlay.under(id))
    .filter(isSampleFlag);
  const world = sampleWorld(overlay);
  const judges = [
    ...visits.map((visit) => () => samplesDerived(tx.firm, visit, world)),
    ...alone.map((container) => () => containerDerived(tx.firm, container, world)),
  ];
  const wanted = await judgedOnce(judges, (flags) => under(tx, group, [...idsOf(stored), ...flags], ['flag-review']));
  writeDerived(group, stored, wanted);
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
  await under(tx, group, [...idsOf(stored), ...wanted().map(({ id }) => id)], ['flag-review']);
  writeDerived(group, stored, wanted());
}

/**
 * Derives what is asked about samples and their containers. A push that touches none of them, nor a visit that has
 * samples, costs a look at its drafts and no statement.
 */
export async function deriveSamples(tx: WriteTx, group: Group): Promise<void> {
  const seeds = sampleSeeds(group);
  if (seeds === null) return;
  await deriveFills(tx, { group, seeds });
  await deriveLabels(tx, group, seeds);
}
