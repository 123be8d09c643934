import { z } from 'zod';
import { decimal, instant } from '../../protocol/primitives.ts';
import { instantMs } from '../../science/instant-ms.ts';
import { TIDAL_HOURS, tidalMean } from '../../science/levels/tidal-mean.ts';
import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';
import { lastPlace } from '../../science/units/decimal-step.ts';
import { placesText } from '../../science/units/significant-text.ts';
import { answered, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Serfes, Ground Water 29 (1991) 549-555: moving means of 24, 24 and 25 h over 71 hourly values (from memory)',
];

const MIDDLE = (TIDAL_HOURS - 1) / 2;
const MS_PER_H = 3_600_000;
/** By how much a reading may miss its hour. Common practice, no source. */
const GRACE_MS = 5 * 60_000;

const level = z.strictObject({
  at: instant.describe('Full hour with its offset'),
  depthToWaterFt: decimal.describe('Below one measuring point'),
});

type Level = z.output<typeof level>;

/** The first reading that is not one hour after the one before it, give or take the grace. */
function gap(levels: readonly Level[]): Refusal | undefined {
  const start = levels.slice(0, 1).map((one) => instantMs(one.at));
  const off = levels.find((one, hour) =>
    start.some((first) => Math.abs(instantMs(one.at) - first - hour * MS_PER_H) > GRACE_MS),
  );
  return (
    off && refuse(`The level at ${off.at} is not on its hour in the row: give ${TIDAL_HOURS} levels one hour apart.`)
  );
}

export const tidalMeanLevel = defineQuestion({
  name: 'tidal-mean-level',
  title: 'What is the mean level of this tidal well?',
  description:
    'Mean depth to water over the tides from 71 hourly depths, which belongs to the middle hour. A round of hand levels at a tidal site is otherwise only a picture of one moment of the tide.',
  sources: SOURCES,
  input: z.strictObject({ hourlyLevels: z.array(level).max(1_000).describe('71 in a row, one hour apart') }).meta({
    examples: [
      {
        hourlyLevels: Array.from({ length: TIDAL_HOURS }, (_, hour) => ({
          at: new Date(hour * MS_PER_H).toISOString().replace('.000', ''),
          depthToWaterFt: (7 + Math.cos((2 * Math.PI * hour) / 12.4206)).toFixed(2),
        })),
      },
    ],
  }),
  output: z.strictObject({
    meanDepthToWaterFt: figure('Over the tides'),
    at: figure('The middle hour, to which it belongs'),
    tidalRangeFt: figure('Largest less smallest of the hourly depths'),
    ...answerFields,
  }),
  answer({ hourlyLevels }) {
    const nothing = { meanDepthToWaterFt: null, at: null, tidalRangeFt: null };
    const broken = gap(hourlyLevels);
    if (broken) return { ...nothing, ...unanswered(broken, SOURCES) };
    const depths = hourlyLevels.map((one) => Number(one.depthToWaterFt));
    const mean = tidalMean(depths);
    if (isRefusal(mean)) return { ...nothing, ...unanswered(mean, SOURCES) };
    const places = Math.max(...hourlyLevels.map((one) => -lastPlace(one.depthToWaterFt)));
    const range = placesText(Math.max(...depths) - Math.min(...depths), places);
    const meanDepthToWaterFt = placesText(mean, places);
    return {
      meanDepthToWaterFt,
      at: hourlyLevels
        .slice(MIDDLE, MIDDLE + 1)
        .map((one) => one.at)
        .join(''),
      tidalRangeFt: range,
      ...answered([`Over a range of ${range} ft the mean depth to water is ${meanDepthToWaterFt} ft.`], SOURCES, [
        'The fortnightly tide stays in the mean, and so does what rain, pumps and the air pressure do.',
      ]),
    };
  },
});
