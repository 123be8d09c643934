import { z } from 'zod';
import { CASING_SIZES_SOURCE } from '../../catalog/well/casing-sizes.ts';
import { isRefusal } from '../../science/refusal.ts';
import { compareText, roundedText } from '../../science/units/decimal-arithmetic.ts';
import { lastPlace } from '../../science/units/decimal-step.ts';
import { significantDigits } from '../../science/units/significant-digits.ts';
import { significantText } from '../../science/units/significant-text.ts';
import { casingVolume } from '../../science/well/casing-volume.ts';
import { waterColumnFt } from '../../science/well/water-column.ts';
import { type WaterVolume, waterVolume } from '../../science/well/water-volume.ts';
import { answered, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';
import { casingDiameter } from './well-volume/casing-diameter.ts';
import { packPart } from './well-volume/pack-part.ts';
import { screenPart } from './well-volume/screen-part.ts';
import { wellVolumeInput } from './well-volume/volume-input.ts';

const SOURCES = [
  'V = pi / 4 D^2 H; county file, doc 445163, page 47, for the formula (its table misprints 4 in)',
  'Kuo, Practical Design Calculations for Groundwater and Soil Remediation, 2nd ed., p. 40, eq. 2.15, for the filter pack',
  CASING_SIZES_SOURCE,
];

const NOTHING = {
  waterColumnFt: null,
  casingInsideDiameterIn: null,
  casingL: null,
  casingGal: null,
  saturatedScreenFt: null,
  screenL: null,
  screenGal: null,
  packL: null,
  packGal: null,
  wellL: null,
  wellGal: null,
  purgeL: null,
  purgeGal: null,
};

/**
 * As many digits as the column, to the place of the coarser depth, and the diameter have; at least 3, for a "2" of the
 * record is not read to half an inch.
 */
function honestDigits(bottomFt: string, waterFt: string, columnFt: string, diameterIn: string): number {
  const column = roundedText(columnFt, Math.max(lastPlace(bottomFt), lastPlace(waterFt)));
  return Math.max(3, Math.min(significantDigits(column), significantDigits(diameterIn)));
}

function flowingCaution(depthToWaterFt: string): string[] {
  return compareText(depthToWaterFt, '0') < 0
    ? ['The water stands above the measuring point: what is above the casing is not in it.']
    : [];
}

function texts(volume: WaterVolume | null, digits: number): { l: string | null; gal: string | null } {
  if (volume === null) return { l: null, gal: null };
  return { l: significantText(volume.litres, digits), gal: significantText(volume.usGallons, digits) };
}

export const wellVolume = defineQuestion({
  name: 'well-volume',
  title: 'How much water stands in this well?',
  description:
    'Water column, and the water in casing, saturated screen and filter pack, in litres and US gallons, for one and for as many well volumes as the plan asks for. "Well volume" means casing only, or casing and pack: both are given. Low-flow purging does not need it.',
  sources: SOURCES,
  input: wellVolumeInput,
  output: z.strictObject({
    waterColumnFt: figure('Height of the standing water'),
    casingInsideDiameterIn: figure('With which it was computed'),
    casingL: figure('Water column in the casing'),
    casingGal: figure('The same in US gallons'),
    saturatedScreenFt: figure('Length of screen under water; null without the screen'),
    screenL: figure('Water inside the saturated screen'),
    screenGal: figure('The same in US gallons'),
    packL: figure('Water in the pores of the saturated filter pack outside the casing; null without its figures'),
    packGal: figure('The same in US gallons'),
    wellL: figure('Casing and, where it is known, filter pack'),
    wellGal: figure('The same in US gallons'),
    purgeL: figure('As many well volumes as asked for'),
    purgeGal: figure('The same in US gallons'),
    ...answerFields,
  }),
  answer(given) {
    const column = waterColumnFt(given);
    if (isRefusal(column)) return { ...NOTHING, ...unanswered(column, SOURCES) };
    const diameter = casingDiameter(given);
    if (isRefusal(diameter)) return { ...NOTHING, ...unanswered(diameter, SOURCES) };
    const insideDiameterIn = Number(diameter.insideDiameterIn);
    const perFt = casingVolume({ insideDiameterIn, waterColumnFt: 1 });
    if (isRefusal(perFt)) return { ...NOTHING, ...unanswered(perFt, SOURCES) };
    const casing = waterVolume(perFt.ml * Number(column));
    const screen = screenPart(given, perFt);
    const pack = packPart(given, diameter);
    const well = waterVolume(casing.ml + (pack.volume?.ml ?? 0));
    const digits = honestDigits(given.depthToBottomFt, given.depthToWaterFt, column, diameter.insideDiameterIn);
    const purge = given.wellVolumes === undefined ? null : waterVolume(well.ml * Number(given.wellVolumes));
    const [inCasing, inScreen, inPack, inWell, toPurge] = [
      texts(casing, digits),
      texts(screen.volume, digits),
      texts(pack.volume, digits),
      texts(well, digits),
      texts(purge, digits),
    ];
    return {
      waterColumnFt: column,
      casingInsideDiameterIn: diameter.insideDiameterIn,
      casingL: inCasing.l,
      casingGal: inCasing.gal,
      saturatedScreenFt: screen.lengthFt,
      screenL: inScreen.l,
      screenGal: inScreen.gal,
      packL: inPack.l,
      packGal: inPack.gal,
      wellL: inWell.l,
      wellGal: inWell.gal,
      purgeL: toPurge.l,
      purgeGal: toPurge.gal,
      ...answered(
        [
          `${given.depthToBottomFt} ft less ${given.depthToWaterFt} ft is a column of ${column} ft.`,
          ...diameter.reasons,
          ...screen.reasons,
          ...pack.reasons,
        ],
        SOURCES,
        [...flowingCaution(given.depthToWaterFt), ...diameter.cautions, ...screen.cautions, ...pack.cautions],
      ),
    };
  },
});
