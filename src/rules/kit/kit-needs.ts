import { CHECK_LIMIT_SETS } from '../../catalog/calibration/check-limit-sets.ts';
import { groupsOfSuite } from '../../catalog/materials/suite-groups.ts';
import { PARAMETER_NAMES, PARAMETERS } from '../../catalog/parameters.ts';
import { byKey } from '../equipment/by-key.ts';
import { endsWell } from '../well-order/ends-well.ts';
import type { KitRecords, KitWell } from './kit-records.ts';

/** Something that a crew takes along, and why. */
export interface KitNeed {
  readonly item: string;
  /** How many; null where it is not counted. */
  readonly expected: number | null;
  readonly why: string;
  readonly source: string;
  /** How it is recognised in what a crew writes. */
  readonly words: RegExp;
}

export interface WellToDo {
  readonly well: KitWell;
  readonly suites: readonly string[];
}

const PLAN = 'The plan of the event and its assignments';
const PRACTICE = 'Common practice, no source';

function suitesOf(assignments: KitRecords['assignments']): readonly string[] {
  return [...new Set(assignments.flatMap(({ fields }) => fields.suites ?? []))].toSorted();
}

/** The wells of the crew to which somebody still has to come on this day. */
export function wellsToDo({ assignments, wells, visits, day }: KitRecords): readonly WellToDo[] {
  const before = visits.filter(({ fields }) => fields.left && fields.left.slice(0, 10) < day);
  const ended = byKey(before, ({ fields }) => fields.well);
  const named = byKey(assignments, ({ fields }) => fields.well);
  // where no well is named, those of the site that no other crew has are here
  const theirs = (well: KitWell) =>
    named.size > 0 ? named.get(well.id) : assignments.length > 0 ? assignments : undefined;
  return wells
    .flatMap((well) => {
      const its = theirs(well);
      return its === undefined ? [] : [{ well, suites: suitesOf(its) }];
    })
    .filter(({ well, suites }) => {
      const isToSample = suites.length > 0;
      return !(ended.get(well.id) ?? []).some(({ fields }) => endsWell(fields, isToSample));
    })
    .toSorted((a, b) => (a.well.fields.name < b.well.fields.name ? -1 : 1));
}

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
}

function bottles(wells: readonly WellToDo[]): readonly KitNeed[] {
  const named = wells.flatMap(({ suites }) => suites);
  return [...new Set(named)].toSorted().map((suite) => {
    const sets = named.filter((one) => one === suite).length;
    return {
      item: `Bottles for ${suite}`,
      expected: sets,
      why: `Sets, one for each well of the crew that is to be sampled for ${suite}; those of blanks and duplicates come on top.`,
      source: PLAN,
      words: new RegExp(`^(?=.*bottle).*(?<![\\w-])${escaped(suite)}(?![\\w-])`, 'i'),
    };
  });
}

const STANDARD_WORDS: Readonly<Record<string, RegExp>> = {
  ph: /\bph\b/i,
  'specific-conductance': /conductan|conductiv/i,
  'dissolved-oxygen': /oxygen/i,
  orp: /\borp\b|redox|zobell/i,
  turbidity: /turbidit/i,
};

function standards({ plan, units }: KitRecords): readonly KitNeed[] {
  const types = new Set(units.map(({ fields }) => fields.type));
  const isMeter = types.has('multi-parameter-meter');
  if (!plan.calibration || !(isMeter || types.has('turbidity-meter'))) return [];
  const { limits, source } = CHECK_LIMIT_SETS[plan.calibration.set];
  return PARAMETERS.flatMap((parameter) => {
    const words = STANDARD_WORDS[parameter];
    const isAsked = parameter === 'turbidity' ? types.has('turbidity-meter') : isMeter;
    if (!words || !isAsked || !limits.some((limit) => limit.parameter === parameter)) return [];
    const { name } = PARAMETER_NAMES[parameter];
    return [
      { item: `Standard for ${name}`, expected: null, why: `In date, for the checks of ${name}.`, source, words },
    ];
  });
}

function rinsates({ plan, units }: KitRecords): readonly KitNeed[] {
  const pumps = units.filter(
    ({ fields }) => /^(?:bladder|submersible)-pump$/.test(fields.type) && fields.use === 'shared',
  );
  if (plan.equipment?.rinsatePer !== 'unit-and-day' || pumps.length === 0) return [];
  return [
    {
      item: 'Water for equipment blanks',
      expected: null,
      why: 'The plan asks for a blank through each pump and day.',
      source: PLAN,
      words: /water.*blank|blank.*water/i,
    },
  ];
}

function gas({ units }: KitRecords): readonly KitNeed[] {
  if (!units.some(({ fields }) => fields.type === 'bladder-pump')) return [];
  const why = 'A bladder pump is signed out: gas for the day, or a compressor.';
  return [{ item: 'Drive gas', expected: null, why, source: PRACTICE, words: /\bgas\b|nitrogen|compressor|cylinder/i }];
}

/** Acidified metals need no cooling. */
function ice(wells: readonly WellToDo[]): readonly KitNeed[] {
  const suites = wells.flatMap((one) => one.suites);
  const isCooled = suites.some(
    (suite) => groupsOfSuite(suite).some((group) => group !== 'metals') || groupsOfSuite(suite).length === 0,
  );
  if (!isCooled) return [];
  return [
    {
      item: 'Ice',
      expected: null,
      why: 'Water ice for samples that are kept at 6 °C or less.',
      source:
        '40 CFR 136.3, Table II, as in Florida DEP, table FS1000-4, 1 Mar 2014 (state copy); metals: US EPA Region 1, SOP GW 0001, Rev. 2, p. 8 of 13',
      words: /\bice\b/i,
    },
  ];
}

function drum(wells: readonly WellToDo[]): readonly KitNeed[] {
  if (wells.length === 0) return [];
  return [
    {
      item: 'Room in the drum',
      expected: null,
      why: 'For the water of purges and decons; low flow leaves 5 to 20 L a well (from memory).',
      source:
        'US EPA, RCRA Ground-Water Monitoring: Draft Technical Guidance, Nov 1992, p. 7-18: waste fluids are contained',
      words: /\bdrum/i,
    },
  ];
}

function keys({ site }: KitRecords): readonly KitNeed[] {
  if (!site) return [];
  const why = site.fields.accessNotes ?? `No gates or keys are noted for ${site.fields.name}: ask before driving.`;
  return [{ item: 'Keys and gate codes', expected: null, why, source: PRACTICE, words: /\bkeys?\b|\bgate/i }];
}

/** What a crew needs for the day, from the plan, its wells that are still to be done, and what is signed out to it. */
export function kitNeeds(records: KitRecords): readonly KitNeed[] {
  const wells = wellsToDo(records);
  return [
    ...bottles(wells),
    ...standards(records),
    ...rinsates(records),
    ...gas(records),
    ...ice(wells),
    ...drum(wells),
    ...keys(records),
  ];
}
