import { analyteGroup } from '../../catalog/analytes/analyte-groups.ts';
import { CUSTODY_RULES } from '../../catalog/analytes/custody-rules.ts';
import type { Publication } from '../../catalog/analytes/publications.ts';
import { qcRule } from '../../catalog/analytes/qc-rules.ts';
import { SHIPPING_RULES } from '../../catalog/analytes/shipping-rules.ts';
import type { SEVERITIES } from '../../protocol/kinds/flag.ts';
import { instantMs } from '../../science/instant-ms.ts';
import type { ContainerClocks } from '../samples/deadlines/container-clocks.ts';
import type { CoolerRecord, SamplesIndex } from '../samples/samples-index.ts';

/** A cooler as it is packed, and what is in it. */
export interface Packed {
  readonly index: SamplesIndex;
  readonly cooler: CoolerRecord;
  readonly containers: readonly ContainerClocks[];
  readonly at: string;
  /** The day of an instant where the site is. */
  readonly dayOf: (instant: string) => string;
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
  readonly said: Publication;
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

/** What was packed on a day before and is still here was kept overnight. */
function overnight({ index, cooler, at, dayOf }: Packed): string | null {
  const { packed } = cooler.fields;
  if (packed === undefined || dayOf(packed) >= dayOf(at)) return null;
  const today = index.of.coolerChecks.filter(
    ({ fields }) => fields.cooler === cooler.id && dayOf(fields.observed.at) === dayOf(at),
  );
  const last = today
    .toSorted((a, b) => instantMs(a.fields.observed.at) - instantMs(b.fields.observed.at))
    .at(-1)?.fields;
  const missing = [
    ...(last?.ice === undefined ? ['its ice'] : []),
    ...(last?.temperatureC === undefined ? ['its temperature'] : []),
    ...(last?.place === undefined ? ['where it was locked'] : []),
    ...(last?.sealsIntact === undefined ? ['its seals'] : []),
  ];
  if (missing.length === 0) return last?.ice === false ? 'It was kept overnight, and its ice is gone: renew it.' : null;
  return `It was kept since ${dayOf(packed)}: record ${missing.join(', ')} before it goes.`;
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
  { code: 'kept-overnight-unseen', severity: 'question', said: CUSTODY_RULES.inCustody, ask: overnight },
];

/** What the rules say of a cooler, in their order. */
export function packingSaid(packed: Packed): readonly PackingSaid[] {
  return PACKING_RULES.flatMap(({ code, severity, said, ask }) => {
    const sentence = ask(packed);
    return sentence === null ? [] : [{ code, severity, sentence, source: said.source, verified: said.verified }];
  });
}
