import { coolerFacts } from '../custody/cooler-facts.ts';
import { CUSTODY_FLAG_RULES, custodyFindings } from '../custody/custody-findings.ts';
import type { CustodyWorld } from '../custody/custody-records.ts';
import { byKey } from '../equipment/by-key.ts';
import type { Held, World } from '../held.ts';
import { readable } from '../readable.ts';
import type { CoolerRecord } from '../samples/sample-records.ts';
import type { Derived } from './derived.ts';
import { flagDerived } from './flag-derived.ts';

const STORED = CUSTODY_FLAG_RULES.filter(({ isStored }) => isStored);
const CODES: readonly unknown[] = STORED.map(({ code }) => code);

/** Whether a stored flag is about a cooler or what a laboratory found in it. */
export function isCustodyFlag({ state: { kind, fields } }: Pick<Held, 'state'>): boolean {
  return kind === 'flag' && CODES.includes(fields.rule);
}

interface Loaded extends Pick<World, 'get' | 'under'> {
  ofKind(kind: string): readonly Held[];
}

/** The loaded records, with what is in each cooler and what was received of it. */
export interface CoolerWorld extends Pick<World, 'get' | 'under'> {
  containersIn(cooler: string): readonly Held[];
  receiptsOf(cooler: string): readonly Held[];
  suitesNamed(name: string): readonly Held[];
}

function textOf(value: unknown): string {
  return typeof value === 'string' ? value : '';
}

export function coolerWorld(world: Loaded): CoolerWorld {
  const byCooler = (kind: string) => byKey(world.ofKind(kind), ({ state }) => textOf(state.fields.cooler));
  const [containers, receipts] = [byCooler('container'), byCooler('sample-receipt')];
  const suites = byKey(world.ofKind('analyte-suite'), ({ state }) => textOf(state.fields.name));
  return {
    get: (id) => world.get(id),
    under: (id) => world.under(id),
    containersIn: (cooler) => containers.get(cooler) ?? [],
    receiptsOf: (cooler) => receipts.get(cooler) ?? [],
    suitesNamed: (name) => suites.get(name) ?? [],
  };
}

function byId(a: Held, b: Held): number {
  return a.state.id < b.state.id ? -1 : 1;
}

/** What was stored has the shape of its kind, once it is read as one. */
function states<List extends keyof CustodyWorld>(held: readonly Held[]): CustodyWorld[List] {
  const standing = held.filter(({ state }) => state.voided === null).toSorted(byId);
  return standing.map(({ state }) => readable(state)) as unknown as CustodyWorld[List];
}

function named(held: readonly Held[], field: string, world: CoolerWorld): Held[] {
  const ids = new Set(held.map(({ state }) => textOf(state.fields[field])));
  return [...ids].flatMap((id) => world.get(id) ?? []);
}

/** The names of the suites that containers and what they are of are for. */
export function suiteNames(held: readonly Held[]): readonly string[] {
  const named = held.flatMap(({ state: { fields } }) => [
    fields.suite,
    ...(Array.isArray(fields.suites) ? fields.suites : []),
  ]);
  return [...new Set(named.filter((one) => typeof one === 'string'))];
}

/** What one cooler is judged by, and nothing else of its event. */
function worldOf(cooler: Held, event: Held, world: CoolerWorld): CustodyWorld {
  const { id } = cooler.state;
  const containers = world.containersIn(id).filter(({ state }) => state.voided === null);
  const beneath = world.under(id);
  const ofKind = (kind: string) => beneath.filter(({ state }) => state.kind === kind);
  const [samples, blanks] = [named(containers, 'sample', world), named(containers, 'blank', world)];
  const planned = named([...containers, ...samples, ...blanks], 'planned', world);
  const fills = containers.flatMap(({ state }) => world.under(state.id)).filter(({ state }) => state.kind === 'fill');
  const site = world.get(textOf(event.state.fields.site));
  return {
    event: readable(event.state) as unknown as CustodyWorld['event'],
    site: site ? (readable(site.state) as unknown as CustodyWorld['site']) : null,
    samples: states<'samples'>(samples),
    blanks: states<'blanks'>(blanks),
    plannedSamples: states<'plannedSamples'>(planned),
    containers: states<'containers'>(containers),
    fills: states<'fills'>(fills),
    coolers: states<'coolers'>([cooler]),
    seals: states<'seals'>(ofKind('seal')),
    handOvers: states<'handOvers'>(ofKind('hand-over')),
    coolerChecks: states<'coolerChecks'>(ofKind('cooler-check')),
    receipts: states<'receipts'>(world.receiptsOf(id)),
    laboratories: [],
    suites: states<'suites'>(
      suiteNames([...containers, ...samples, ...blanks, ...planned]).flatMap((name) => world.suitesNamed(name)),
    ),
  };
}

/** What is asked about a cooler and what was received of it, by what the records say and not by when they came. */
export function custodyDerived(firm: string, cooler: Held, world: CoolerWorld): Derived[] {
  const event = world.get(cooler.parent ?? '');
  if (!event || cooler.state.voided !== null) return [];
  const record = readable(cooler.state) as unknown as CoolerRecord;
  const findings = custodyFindings(coolerFacts(record, worldOf(cooler, event, world)));
  return findings.flatMap(({ rule, ...finding }) => {
    const subject = world.get(finding.subject);
    if (!rule.isStored || !subject) return [];
    const { code, severity, addressee } = rule;
    const flag = { ...finding, rule: code, severity, addressee, standing: 'raised' as const };
    return [flagDerived(firm, flag, { subject, visit: null }, world)];
  });
}
