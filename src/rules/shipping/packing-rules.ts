import { analyteGroup } from '../../catalog/analytes/analyte-groups.ts';
import { CUSTODY_RULES } from '../../catalog/analytes/custody-rules.ts';
import type { Publication } from '../../catalog/analytes/publications.ts';
import { SHIPPING_RULES } from '../../catalog/analytes/shipping-rules.ts';
import type { SEVERITIES } from '../../protocol/kinds/flag.ts';
import { type CheckLacks, checkLacks } from '../custody/check-lacks.ts';
import type { CoolerFacts } from '../custody/cooler-facts.ts';
import type { CustodyRule } from '../custody/custody-rule.ts';
import { leftAt } from '../custody/left-at.ts';
import { type Night, nightsUntil } from '../custody/nights.ts';
import { containerOfAnotherEvent } from '../custody/rules/container-of-another-event.ts';
import { coolerCheckIncomplete } from '../custody/rules/cooler-check-incomplete.ts';
import { coolerOfAnotherLaboratory } from '../custody/rules/cooler-of-another-laboratory.ts';
import { keptTonightUnchecked } from '../custody/rules/kept-tonight-unchecked.ts';
import { packedNotFilled } from '../custody/rules/packed-not-filled.ts';
import { packedWithoutIce } from '../custody/rules/packed-without-ice.ts';
import { temperatureBlankMissing } from '../custody/rules/temperature-blank-missing.ts';
import { tripBlankMissing } from '../custody/rules/trip-blank-missing.ts';
import { listText } from '../flags/list-text.ts';
import type { ContainerClocks } from '../samples/deadlines/container-clocks.ts';
import { groupsOf } from '../samples/groups-of.ts';
import { namedLaboratory } from '../samples/laboratory-of.ts';
import type { CoolerRecord } from '../samples/sample-records.ts';
import { type SamplesIndex, suiteAsking } from '../samples/samples-index.ts';

/** A cooler as it is packed, and what is in it. */
export interface Packed {
  readonly index: SamplesIndex;
  readonly cooler: CoolerRecord;
  readonly containers: readonly ContainerClocks[];
  readonly facts: CoolerFacts;
  readonly at: string;
}

export interface PackingSaid {
  readonly code: string;
  readonly severity: (typeof SEVERITIES)[number];
  readonly sentence: string;
  readonly source: string;
  readonly verified: boolean;
}

interface PackingRule {
  readonly code: string;
  readonly severity: PackingSaid['severity'];
  readonly said: Pick<Publication, 'source' | 'verified'>;
  /** What is said, or null. */
  readonly ask: (packed: Packed) => string | null;
}

function labels(containers: readonly ContainerClocks[]): string {
  const [first, second, ...more] = containers.map(({ container }) => container.fields.label);
  return (
    [first, second].filter((one) => one !== undefined).join(', ') + (more.length > 0 ? ` and ${more.length} more` : '')
  );
}

/** Where the plan names suites, they; else what is filled as volatiles are. A bottle may serve several of both. */
function asksForTripBlank({ index }: Packed, { container, holder }: ContainerClocks): boolean {
  if (holder.blank || holder.planned?.fields.type.endsWith('-blank')) return false;
  const groups = groupsOf(container);
  const suites = index.of.event.fields.plan.sampling?.tripBlankSuites;
  if (!suites) return groups.some((group) => analyteGroup(group)?.filling.fillClass === 'volatiles');
  const names = groups.map((group) => suiteAsking(index, container, holder, group)?.fields.name);
  return [...names, container.fields.suite].some((name) => name !== undefined && suites.includes(name));
}

function tripBlank(packed: Packed): string | null {
  const asking = packed.containers.filter((one) => asksForTripBlank(packed, one));
  if (asking.length === 0 || packed.facts.packed.some((one) => one.isTripBlank)) return null;
  return `${labels(asking)} go without a trip blank: put one in, or pack them where one is.`;
}

function otherLaboratory({ cooler, containers, index }: Packed): string | null {
  const its = cooler.fields.laboratory;
  if (its === undefined) return null;
  const others = containers.filter(({ container }) => {
    const named = namedLaboratory(index, container);
    return named !== undefined && named !== its;
  });
  const name = index.laboratories.get(its)?.fields.name ?? 'another laboratory';
  return others.length === 0
    ? null
    : `${labels(others)} go to another laboratory than ${name}, to which this cooler goes.`;
}

function tracking({ cooler }: Packed): string | null {
  const { carrier, trackingNumber } = cooler.fields;
  return carrier === undefined || trackingNumber !== undefined
    ? null
    : `${carrier} takes it, and there is no number to follow it by.`;
}

function tape({ index, cooler }: Packed): string | null {
  const its = index.of.seals.some(({ fields }) => fields.cooler === cooler.id && fields.broken === undefined);
  return its ? null : 'No custody seal is recorded on it.';
}

/** The last night through which it was kept here; none for what left. */
function lastNight({ facts, at }: Packed): Night | undefined {
  return leftAt(facts) === null ? nightsUntil(facts, at).at(-1) : undefined;
}

const LACKS = {
  temperature: 'its temperature',
  ice: 'its ice',
  place: 'where it was locked',
  seals: 'its seals',
} as const satisfies Readonly<Record<CheckLacks, string>>;

function lacking(packed: Packed, checks: Night['checks']): string {
  return listText(checkLacks(checks, packed.facts).map((what) => LACKS[what]));
}

function unchecked(packed: Packed): string | null {
  const night = lastNight(packed);
  if (!night || night.checks.length > 0) return null;
  return `It was kept through the night of ${night.day}, and nobody looked after it: record ${lacking(packed, [])} before it goes.`;
}

function incompletelyChecked(packed: Packed): string | null {
  const night = lastNight(packed);
  const missing = night && night.checks.length > 0 ? lacking(packed, night.checks) : '';
  return missing === '' ? null : `It was kept overnight: record ${missing} before it goes.`;
}

function iceGone(packed: Packed): string | null {
  const last = lastNight(packed)?.checks.findLast(({ fields }) => fields.ice != null);
  return last?.fields.ice === false ? 'It was kept overnight, and its ice is gone: renew it.' : null;
}

/** The same matter has one code and one source, whether it is said at packing or stored as a flag. */
function asFlag({ code, severity, source, verified }: CustodyRule, ask: PackingRule['ask']): PackingRule {
  return { code, severity, said: { source, verified }, ask };
}

/** What is stored of a closed cooler, of one as though it were closed now. */
function asIfClosed(rule: CustodyRule): PackingRule {
  return asFlag(rule, ({ facts, at }) => {
    const { cooler } = facts;
    const closed = { ...cooler, fields: { ...cooler.fields, packed: cooler.fields.packed ?? at } };
    return (
      rule.find({ ...facts, cooler: closed }, { former: [], contents: [], twice: [], now: at })[0]?.sentence ?? null
    );
  });
}

/** What is asked of a cooler while it is packed, beside its clocks. */
export const PACKING_RULES: readonly PackingRule[] = [
  asIfClosed(packedNotFilled),
  asIfClosed(containerOfAnotherEvent),
  asFlag(coolerOfAnotherLaboratory, otherLaboratory),
  asFlag(tripBlankMissing, tripBlank),
  asIfClosed(temperatureBlankMissing),
  asIfClosed(packedWithoutIce),
  { code: 'packed-without-seal', severity: 'question', said: CUSTODY_RULES.tapeAcrossOpenings, ask: tape },
  { code: 'packed-without-tracking', severity: 'note', said: SHIPPING_RULES.recordPerCooler, ask: tracking },
  asFlag(keptTonightUnchecked, unchecked),
  asFlag(coolerCheckIncomplete, incompletelyChecked),
  { code: 'kept-overnight-ice-gone', severity: 'question', said: CUSTODY_RULES.inCustody, ask: iceGone },
];

/** What the rules say of a cooler, in their order. */
export function packingSaid(packed: Packed): readonly PackingSaid[] {
  return PACKING_RULES.flatMap(({ code, severity, said, ask }) => {
    const sentence = ask(packed);
    return sentence === null ? [] : [{ code, severity, sentence, source: said.source, verified: said.verified }];
  });
}
