import { analyteGroup } from '../../catalog/analytes/analyte-groups.ts';
import { CUSTODY_RULES } from '../../catalog/analytes/custody-rules.ts';
import type { Publication } from '../../catalog/analytes/publications.ts';
import { qcRule } from '../../catalog/analytes/qc-rules.ts';
import { SHIPPING_RULES } from '../../catalog/analytes/shipping-rules.ts';
import type { SEVERITIES } from '../../protocol/kinds/flag.ts';
import { type CheckLacks, checkLacks } from '../custody/check-lacks.ts';
import type { CoolerFacts } from '../custody/cooler-facts.ts';
import type { CustodyRule } from '../custody/custody-rule.ts';
import { leftAt } from '../custody/left-at.ts';
import { type Night, nightsUntil } from '../custody/nights.ts';
import { coolerCheckIncomplete } from '../custody/rules/cooler-check-incomplete.ts';
import { keptTonightUnchecked } from '../custody/rules/kept-tonight-unchecked.ts';
import { listText } from '../flags/list-text.ts';
import type { ContainerClocks } from '../samples/deadlines/container-clocks.ts';
import type { CoolerRecord, SamplesIndex } from '../samples/samples-index.ts';

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

function publication(id: string): Publication {
  const rule = qcRule(id);
  if (!rule) throw new Error(`the catalog has no rule ${id} of QC samples`);
  return rule;
}

function hasBlank({ containers }: Packed, type: string): boolean {
  return containers.some(
    ({ holder: { blank, planned } }) => blank?.fields.type === type || planned?.fields.type === `${type}-blank`,
  );
}

function labels(containers: readonly ContainerClocks[]): string {
  const [first, second, ...more] = containers.map(({ container }) => container.fields.label);
  return (
    [first, second].filter((one) => one !== undefined).join(', ') + (more.length > 0 ? ` and ${more.length} more` : '')
  );
}

/** Where the plan names suites, they; else what is filled as volatiles are. */
function asksForTripBlank({ index }: Packed, { suiteName, container, holder }: ContainerClocks): boolean {
  if (holder.blank || holder.planned?.fields.type.endsWith('-blank')) return false;
  const suites = index.of.event.fields.plan.sampling?.tripBlankSuites;
  if (suites) return suiteName !== null && suites.includes(suiteName);
  return analyteGroup(container.fields.group)?.filling.fillClass === 'volatiles';
}

function tripBlank(packed: Packed): string | null {
  const asking = packed.containers.filter((one) => asksForTripBlank(packed, one));
  if (asking.length === 0 || hasBlank(packed, 'trip')) return null;
  return `${labels(asking)} go without a trip blank: put one in, or pack them where one is.`;
}

function temperatureBlank(packed: Packed): string | null {
  if (packed.index.of.event.fields.plan.sampling?.temperatureBlankPerCooler === false) return null;
  return hasBlank(packed, 'temperature')
    ? null
    : 'No temperature blank is in it: the laboratory has nothing to measure.';
}

function ice({ cooler, containers }: Packed): string | null {
  const cooled = containers.filter(({ container }) => analyteGroup(container.fields.group)?.cooling.atMostC != null);
  if (cooled.length === 0 || cooler.fields.ice !== undefined) return null;
  return `${labels(cooled)} have to be cooled, and no ice is recorded: say how much, and of what kind.`;
}

function notFilled({ containers }: Packed): string | null {
  const empty = containers.filter(({ container }) => container.fields.standing !== 'filled');
  return empty.length === 0 ? null : `${labels(empty)} are packed and not recorded as filled.`;
}

function otherLaboratory({ cooler, containers, index }: Packed): string | null {
  const its = cooler.fields.laboratory;
  if (its === undefined) return null;
  const others = containers.filter(({ holder }) => {
    const named =
      holder.sample?.fields.laboratory ?? holder.blank?.fields.laboratory ?? holder.planned?.fields.laboratory;
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

/** What is asked of a cooler while it is packed, beside its clocks. */
export const PACKING_RULES: readonly PackingRule[] = [
  { code: 'packed-not-filled', severity: 'question', said: CUSTODY_RULES.beforeRelease, ask: notFilled },
  {
    code: 'packed-for-other-laboratory',
    severity: 'caution',
    said: CUSTODY_RULES.ownRecordOfSplit,
    ask: otherLaboratory,
  },
  {
    code: 'packed-without-trip-blank',
    severity: 'caution',
    said: publication('trip-blank-volatiles-each-cooler'),
    ask: tripBlank,
  },
  {
    code: 'packed-without-temperature-blank',
    severity: 'question',
    said: publication('temperature-blank-each-cooler'),
    ask: temperatureBlank,
  },
  { code: 'packed-without-ice', severity: 'question', said: SHIPPING_RULES.waterIce, ask: ice },
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
