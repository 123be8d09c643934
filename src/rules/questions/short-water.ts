import { z } from 'zod';
import { ANALYTE_GROUPS, analyteGroup } from '../../catalog/analytes/analyte-groups.ts';
import { DEFAULT_FILL_ORDER, FILL_ORDER_IDS, inFillOrder, PFAS_PLACES } from '../../catalog/analytes/fill-orders.ts';
import { decimal } from '../../protocol/primitives.ts';
import { refuse } from '../../science/refusal.ts';
import { placesText } from '../../science/units/significant-text.ts';
import { askedOfGroup } from '../samples/asked-of-group.ts';
import {
  SHORT_WATER_SOURCES,
  sharedText,
  shareWater,
  type WaterLine,
  WHO_AGREES,
} from '../samples/short-water/share-water.ts';
import { answered, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const bottles = z.strictObject({
  group: z.string().describe('Id of a group of analytes of the catalog'),
  count: z.int().min(1).max(50).optional().describe('How many containers. Default: as the catalog has it'),
  volumeMl: decimal.optional().describe('Of each. Default: as the catalog has it'),
  leastCount: z.int().min(1).max(50).optional().describe('Least usable number. Default: as the catalog has it'),
  leastVolumeMl: decimal.optional().describe('Least usable volume of each. Default: as the catalog has it'),
  priority: z.int().min(1).max(100).optional().describe('1 is filled before 2. Default: as the catalog has it'),
});
type Bottles = z.output<typeof bottles>;

const input = z
  .strictObject({
    availableMl: decimal.describe('Water that the well still gives'),
    bottles: z.array(bottles).min(1).max(60).describe('What waits for water, group by group'),
    fillOrder: z.enum(FILL_ORDER_IDS).optional().describe(`In which they are filled. Default: ${DEFAULT_FILL_ORDER}`),
    pfas: z.enum(PFAS_PLACES).optional().describe('Where PFAS come in it. Default: first'),
  })
  .meta({
    examples: [
      {
        availableMl: '900',
        bottles: [
          { group: 'volatiles', count: 3 },
          { group: 'semivolatiles', count: 2 },
          { group: 'metals-total', volumeMl: '500' },
          { group: 'sulfate', volumeMl: '250' },
        ],
      },
    ],
  });
type Given = z.output<typeof input>;

interface Line extends WaterLine {
  readonly group: string;
  readonly place: number;
}

/** Below zero, or above what a bottle of water can be, nothing is shared. */
function fault({ availableMl, bottles: its }: Given): string | null {
  if (Number(availableMl) < 0) return `Water of ${availableMl} mL is none: give 0 or more.`;
  const unknown = its.find(({ group }) => analyteGroup(group) === undefined);
  if (unknown)
    return `The catalog holds no group of analytes ${unknown.group}: give one of ${ANALYTE_GROUPS.map(({ id }) => id).join(', ')}.`;
  const odd = its.find(({ volumeMl, leastVolumeMl }) => Number(volumeMl ?? 1) <= 0 || Number(leastVolumeMl ?? 1) <= 0);
  return odd
    ? `A container for ${odd.group} of ${odd.volumeMl ?? odd.leastVolumeMl} mL takes nothing: give it above 0.`
    : null;
}

function lineOf(given: Bottles, index: number, places: ReadonlyMap<string, number>): Line[] {
  const asked = askedOfGroup(given.group, undefined, { plan: null, well: null });
  if (!asked) return [];
  const [count, volumeMl] = [given.count ?? asked.count, Number(given.volumeMl ?? asked.volumeMl)];
  const place = places.get(given.group) ?? 0;
  return [
    {
      key: `${given.group} ${String(index).padStart(2, '0')}`,
      group: given.group,
      place,
      title: asked.group.title,
      count,
      volumeMl,
      leastCount: Math.min(count, given.leastCount ?? asked.leastCount),
      leastVolumeMl: Math.min(volumeMl, Number(given.leastVolumeMl ?? asked.leastVolumeMl)),
      priority: [given.priority ?? asked.priority, place],
    },
  ];
}

function linesOf({ bottles: its, fillOrder = DEFAULT_FILL_ORDER, pfas = 'first' }: Given): readonly Line[] {
  const groups = its.flatMap(({ group }) => analyteGroup(group) ?? []);
  const places = new Map(inFillOrder(groups, fillOrder, pfas).map(({ group, place }) => [group.id, place]));
  return its.flatMap((one, index) => lineOf(one, index, places));
}

const ml = (value: number) => placesText(value, Number.isInteger(value) ? 0 : 1);
const NOTHING = {
  neededMl: null,
  filledMl: null,
  leftMl: null,
  shares: [],
  fillOrder: [],
  dropped: [],
  whoAgrees: null,
};

export const shortWater = defineQuestion({
  name: 'short-water',
  title: 'The well gives less than the bottles need: what is filled, and what is dropped?',
  description:
    'In the order of their priority each group of analytes gets the least number and volume that still give a result; what is left then fills them up in the same order. What does not get its least gets nothing. Nothing is dropped without whoever ordered it.',
  sources: SHORT_WATER_SOURCES,
  input,
  output: z.strictObject({
    neededMl: figure('By all of them'),
    filledMl: figure('By this'),
    leftMl: figure('For rinsing, or to keep'),
    shares: z
      .array(
        z.strictObject({
          group: z.string(),
          title: z.string(),
          turn: z.int().describe('From 1, the most important first'),
          share: z.enum(['whole', 'reduced', 'none']),
          fillCount: z.int(),
          fillVolumeMl: z.string().describe('Into each'),
          neededCount: z.int(),
          neededVolumeMl: z.string(),
          leastCount: z.int().describe('Least usable number'),
          leastVolumeMl: z.string().describe('Least usable volume of each'),
          because: z.string(),
        }),
      )
      .describe('In their turns'),
    fillOrder: z.array(z.string()).describe('Groups of what is filled, in the order in which it is'),
    dropped: z.array(z.string()).describe('Groups that get nothing'),
    whoAgrees: z.string().nullable().describe('Before anything is dropped'),
    ...answerFields,
  }),
  answer(given) {
    const why = fault(given);
    if (why !== null) return { ...NOTHING, ...unanswered(refuse(why), SHORT_WATER_SOURCES) };
    const shared = shareWater(linesOf(given), Number(given.availableMl));
    const full = shared.lines.filter(({ share }) => share !== 'none');
    const dropped = shared.lines.filter(({ share }) => share === 'none').map(({ line }) => line.group);
    return {
      neededMl: ml(shared.neededMl),
      filledMl: ml(shared.usedMl),
      leftMl: ml(shared.availableMl - shared.usedMl),
      shares: shared.lines.map(({ line, ...one }) => ({
        group: line.group,
        title: line.title,
        turn: one.turn,
        share: one.share,
        fillCount: one.fillCount,
        fillVolumeMl: ml(one.fillVolumeMl),
        neededCount: line.count,
        neededVolumeMl: ml(line.volumeMl),
        leastCount: line.leastCount,
        leastVolumeMl: ml(line.leastVolumeMl),
        because: one.because,
      })),
      fillOrder: full.toSorted((a, b) => a.line.place - b.line.place || a.turn - b.turn).map(({ line }) => line.group),
      dropped,
      whoAgrees: dropped.length > 0 || full.some(({ share }) => share === 'reduced') ? WHO_AGREES : null,
      ...answered([sharedText(shared)], SHORT_WATER_SOURCES, [
        'Least usable volumes are those of common practice: the laboratory says what its methods need.',
      ]),
    };
  },
});
