import { z } from 'zod';
import { date, id } from '../../protocol/primitives.ts';
import { DUPLICATE_RULE, ruleNamed, SPIKE_RULE } from './default-rules.ts';
import { blankRule, perSamples } from './frequencies.ts';
import {
  type OwedCount,
  owedEquipmentBlanks,
  owedFieldBlanks,
  owedSplits,
  owedTemperatureBlanks,
  owedTripBlanks,
} from './owed-blanks.ts';
import { isStillToDo, owedDuplicates, owedSpikes, type QcOwedAtWells, type WellForQc } from './owed-qc.ts';
import type { PlanningFacts } from './planning-facts.ts';
import type { PlanningWells } from './planning-wells.ts';
import { type PlanProposal, planGround, proposePlan } from './propose-plan.ts';
import { linkFaults } from './sample-links.ts';
import { SUITABILITIES } from './well-outlook.ts';
import { type Missing, whatIsMissing } from './what-is-missing.ts';

export const owedQcInput = z.strictObject({
  well: id.optional().describe('What may be taken here. Default: asked of all wells that are left'),
  crew: id.optional().describe('Only wells of this crew. Default: of all crews'),
  day: date.optional().describe('By the calendar of the site. Default: today there'),
});
export type OwedQcGiven = z.output<typeof owedQcInput>;

export const OWED_TYPES = [
  'duplicate',
  'matrix-spike',
  'split',
  'equipment-blank',
  'field-blank',
  'trip-blank',
  'temperature-blank',
] as const;

const text = z.string().nullable();
const count = z.int().min(0);

const wellForQc = z.strictObject({
  type: z.enum(['duplicate', 'matrix-spike']),
  well: id,
  name: z.string(),
  crew: id.nullable(),
  suits: z.enum(SUITABILITIES),
  why: z.array(z.string()).describe('In words, for and against'),
  suites: z.array(z.string()).describe('Of the well, of which one is still owed'),
  planned: id.nullable().describe('The planned sample of this type at this well'),
  number: text.describe('As on its bottles'),
});

export const owedQcOutput = z.strictObject({
  event: id,
  day: date,
  types: z.array(
    z.strictObject({
      type: z.enum(OWED_TYPES),
      rule: z.string(),
      source: z.string(),
      done: count,
      doneOnDay: count.nullable().describe('Of duplicates and spikes'),
      owedNow: count.describe('By what was taken so far. Says nothing where `unknownBecause` says something'),
      unknownBecause: text.describe('What is missing to tell whether any is owed; null where it can be told'),
      toCome: count
        .nullable()
        .describe('Until the end of the event, with what is owed now; null where that is not counted'),
      missing: z.array(z.string()).describe('What is owed, of blanks and splits'),
      suites: z.array(
        z.strictObject({
          suite: z.string(),
          taken: count.describe('Normal samples so far'),
          done: count,
          askedSoFar: count,
          owedNow: count,
          askedInAll: count,
        }),
      ),
      sentence: z.string(),
    }),
  ),
  wells: z.array(wellForQc).describe('That are left, the best of each type first'),
  here: z
    .strictObject({ well: id, name: z.string(), sentence: z.string(), types: z.array(wellForQc) })
    .nullable()
    .describe('Of the well that is asked about'),
  links: z.array(z.string()).describe('What speaks against a link of a QC sample to its first sample'),
});
export type OwedQcTold = z.output<typeof owedQcOutput>;

type ToldType = OwedQcTold['types'][number];
type BlankType = Extract<ToldType['type'], `${string}-blank`>;
type ToldWell = OwedQcTold['wells'][number];

const NAMES: Readonly<Record<ToldType['type'], string>> = {
  duplicate: 'duplicate',
  'matrix-spike': 'matrix spike with its duplicate',
  split: 'split',
  'equipment-blank': 'equipment blank',
  'field-blank': 'field blank',
  'trip-blank': 'trip blank',
  'temperature-blank': 'temperature blank',
};

function many(number: number, type: ToldType['type']): string {
  if (number === 0) return `No ${NAMES[type]}`;
  return number === 1 ? `1 ${NAMES[type]}` : `${number} of the type ${NAMES[type]}`;
}

function bestSentence(wells: readonly ToldWell[]): string {
  const [best] = wells.filter(({ suits }) => suits !== 'no');
  return best ? ` Next best at ${best.name}: ${best.why.join('; ')}.` : ' No well that is left suits.';
}

interface Said {
  readonly rule: string;
  readonly source: string;
}

/** What the plan asks for until the end, where nothing is owed by what was taken so far. */
interface Outlook {
  readonly unknownBecause: string | null;
  /** Null where that is not counted. */
  readonly inAll: number | null;
}

function unknownSentence(type: ToldType['type'], { unknownBecause, inAll }: Outlook): string {
  const planned = inAll ? ` The plan asks for ${inAll} in all.` : '';
  return `Whether a ${NAMES[type]} is owed cannot be told: ${unknownBecause}.${planned}`;
}

function atWells(
  type: 'duplicate' | 'matrix-spike',
  owed: QcOwedAtWells,
  said: Said,
  unknownBecause: string | null,
): ToldType {
  const { done, doneOnDay, owedNow, toCome, wells } = owed;
  const later = toCome > owedNow ? `, ${toCome} until the end of the event` : '';
  const known =
    toCome === 0
      ? `No ${NAMES[type]} is owed.`
      : `${many(owedNow, type)} is owed by now${later}.${bestSentence(told(type, wells))}`;
  const sentence = unknownBecause === null ? known : unknownSentence(type, { unknownBecause, inAll: null });
  const suites = owed.suites.map((one) => ({ ...one }));
  return { type, ...said, done, doneOnDay, owedNow, unknownBecause, toCome, missing: [], suites, sentence };
}

function counted(
  type: ToldType['type'],
  { asked, done, missing }: OwedCount,
  said: Said,
  outlook: Outlook = { unknownBecause: null, inAll: null },
): ToldType {
  const owedNow = asked - done;
  const { unknownBecause, inAll } = outlook;
  const none =
    asked === 0 && inAll
      ? `No ${NAMES[type]} is owed by now, as nothing was taken that asks for one; the plan asks for ${inAll} in all.`
      : `No ${NAMES[type]} is owed.`;
  const known = owedNow === 0 ? none : `${many(owedNow, type)} owed: ${missing.join('; ')}.`;
  const sentence = unknownBecause === null ? known : unknownSentence(type, outlook);
  const notCounted = { doneOnDay: null, toCome: null, suites: [] };
  return { type, ...said, done, owedNow, unknownBecause, ...notCounted, missing: [...missing], sentence };
}

/** Blanks, each with what its count depends on. */
function blanksTold(on: PlanningWells, proposal: PlanProposal, missing: Missing): ToldType[] {
  const { facts, plan } = on;
  const outlook = (type: BlankType, ...needs: readonly (string | null)[]): Outlook => ({
    unknownBecause: needs.find((one) => one !== null) ?? null,
    inAll: proposal.blanksAsked.get(type) ?? null,
  });
  const field = plan?.fieldBlanksPer === 'none' ? [] : [missing.suites, missing.groups];
  const trip = [missing.suites, missing.groups, missing.coolers];
  const temperature = plan?.temperatureBlankPerCooler === false ? [] : [missing.coolers];
  const told = (type: BlankType, owed: OwedCount, needs: readonly (string | null)[]) =>
    counted(type, owed, blankRule(type, facts), outlook(type, ...needs));
  return [
    told('equipment-blank', owedEquipmentBlanks(on), []),
    told('field-blank', owedFieldBlanks(on), field),
    told('trip-blank', owedTripBlanks(on), trip),
    told('temperature-blank', owedTemperatureBlanks(on), temperature),
  ];
}

function told(type: ToldWell['type'], wells: readonly WellForQc[]): ToldWell[] {
  return wells.map((one) => ({ type, ...one, why: [...one.why], suites: [...one.suites] }));
}

function hereOf(on: PlanningWells, well: string | undefined, all: readonly ToldWell[]): OwedQcTold['here'] {
  if (well === undefined) return null;
  const at = on.wells.find((one) => one.well.id === well);
  const name = at?.well.fields.name ?? on.facts.samples.wells.find(({ id: its }) => its === well)?.fields.name ?? well;
  const types = all.filter((one) => one.well === well);
  if (!at) return { well, name, types, sentence: `${name} is not among the wells of the event that are sampled.` };
  if (!isStillToDo(on, at))
    return { well, name, types, sentence: `${name} is done: ${at.outBecause ?? 'its sample was taken'}.` };
  const good = types.filter(({ suits }) => suits === 'good' || suits === 'fair');
  const said = types.map(
    ({ type, suits, why }) => `${NAMES[type]}: ${suits === 'no' ? 'not here' : suits} (${why.join('; ')})`,
  );
  const start = good.length > 0 ? `At ${name} may be taken` : `Nothing is best taken at ${name}`;
  return { well, name, types, sentence: `${start}. ${said.join('. ')}.` };
}

/** What QC an event still owes by what was taken so far, and which of the wells that are left suit for it. */
export function owedQcTold(facts: PlanningFacts, given: OwedQcGiven & { readonly day: string }): OwedQcTold {
  const ground = planGround(facts);
  const { on } = ground;
  const proposal = proposePlan(facts, ground);
  const plan = on.plan;
  const missing = whatIsMissing(on);
  const asking = { on, proposal, day: given.day };
  const [duplicates, spikes] = [owedDuplicates(asking), owedSpikes(asking)];
  const all = [...told('duplicate', duplicates.wells), ...told('matrix-spike', spikes.wells)];
  const ofCrew = (one: { readonly crew: string | null }) => given.crew === undefined || one.crew === given.crew;
  const forCrew = (owed: QcOwedAtWells) => ({ ...owed, wells: owed.wells.filter(ofCrew) });
  const split = ruleNamed('split-on-request');
  return {
    event: on.event,
    day: given.day,
    types: [
      atWells(
        'duplicate',
        forCrew(duplicates),
        perSamples('A field duplicate', plan?.duplicatesPer, DUPLICATE_RULE),
        missing.suites,
      ),
      atWells(
        'matrix-spike',
        forCrew(spikes),
        perSamples('A matrix spike and its duplicate', plan?.msMsdPer, SPIKE_RULE),
        missing.suites,
      ),
      counted('split', owedSplits(on), { rule: split.wording, source: split.source }),
      ...blanksTold(on, proposal, missing),
    ],
    wells: all.filter(ofCrew),
    here: hereOf(on, given.well, all),
    links: [...linkFaults(facts.samples)],
  };
}
