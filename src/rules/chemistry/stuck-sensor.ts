import { significantDigits } from '../../science/units/significant-digits.ts';
import type { ChemistryFinding } from './chemistry-finding.ts';
import { CHEMISTRY_QUANTITIES, type ChemistryQuantity, type ChemistryReading } from './chemistry-reading.ts';
import type { PurgeChemistry } from './purge-chemistry.ts';
import { type Run, runsOf } from './runs.ts';

const SOURCE = 'common practice, no source';

/** So many equal figures in a row, while the water changes beside them. */
const LONGEST_EQUAL_RUN = 6;
/** Coarser figures repeat in steady water too. */
const LEAST_DIGITS = 3;
/** So many other parameters must move, for one of them may be the one that is wrong. */
const LEAST_MOVERS = 2;

const NAMES: Readonly<Record<ChemistryQuantity, string>> = {
  temperatureC: 'Temperature',
  ph: 'pH',
  specificConductanceUsPerCm: 'Specific conductance',
  dissolvedOxygenMgPerL: 'Dissolved oxygen',
  dissolvedOxygenPercent: 'Dissolved oxygen in percent',
  orpMv: 'ORP',
  turbidityNtu: 'Turbidity',
  turbidityFnu: 'Turbidity',
};

/** What counts as moving: about three times the usual tolerance of stability. Turbidity falls by itself in any purge. */
const MOVES: readonly (readonly [quantity: ChemistryQuantity, by: (least: number, most: number) => boolean])[] = [
  ['temperatureC', (least, most) => most - least >= 1],
  ['ph', (least, most) => most - least >= 0.3],
  ['specificConductanceUsPerCm', (least, most) => most - least >= 0.09 * least],
  ['dissolvedOxygenMgPerL', (least, most) => most - least >= 1],
  ['orpMv', (least, most) => most - least >= 30],
];

interface Figure {
  readonly reading: ChemistryReading;
  readonly text: string;
}

function moversIn(run: Run<Figure>, but: ChemistryQuantity): readonly ChemistryQuantity[] {
  return MOVES.flatMap(([quantity, moves]) => {
    const values = run.flatMap(({ reading }) => reading[quantity] ?? []).map(Number);
    return quantity !== but && values.length > 1 && moves(Math.min(...values), Math.max(...values)) ? [quantity] : [];
  });
}

/** Whether any figure comes often enough in a row, meters aside: of most quantities none does, and nothing more is looked at. */
function repeats(readings: readonly ChemistryReading[], quantity: ChemistryQuantity): boolean {
  let last: string | null = null;
  let count = 0;
  for (const reading of readings) {
    const text = reading[quantity];
    if (text === null) continue;
    count = text === last ? count + 1 : 1;
    last = text;
    if (count >= LONGEST_EQUAL_RUN) return true;
  }
  return false;
}

/** Readings that say something of the quantity, cut where its figure or the meter changes. */
function equalRuns(readings: readonly ChemistryReading[], quantity: ChemistryQuantity): readonly Run<Figure>[] {
  const figures = readings.flatMap((reading) => {
    const text = reading[quantity];
    return text === null ? [] : [{ reading, text }];
  });
  return runsOf(figures, (last, next) => last.text === next.text && last.reading.meter === next.reading.meter);
}

/** The end of a range says nothing: oxygen and turbidity rest at zero. */
function isTelling(figure: string): boolean {
  return Number(figure) !== 0 && significantDigits(figure) >= LEAST_DIGITS;
}

function findingOf(run: Run<Figure>, quantity: ChemistryQuantity): readonly ChemistryFinding[] {
  const figure = run[0].text;
  if (run.length < LONGEST_EQUAL_RUN || !isTelling(figure)) return [];
  const movers = moversIn(run, quantity);
  if (movers.length < LEAST_MOVERS) return [];
  const others = movers.map((one) => (one === 'ph' || one === 'orpMv' ? NAMES[one] : NAMES[one].toLowerCase()));
  return [
    {
      code: 'stuck-sensor',
      certainty: 'likely',
      sentence: `${NAMES[quantity]} shows ${figure} in ${run.length} readings in a row while ${others.join(' and ')} moved. Check the sensor in a standard, and whether the display is frozen.`,
      numbers: [
        { name: quantity, value: figure, unit: '' },
        { name: 'equalReadings', value: String(run.length), unit: '' },
      ],
      readings: run.map(({ reading }) => reading.id),
      source: SOURCE,
      verified: false,
    },
  ];
}

/** One sensor repeats its figure to the last digit while the water around it changes. */
export function stuckSensor({ readings }: PurgeChemistry): readonly ChemistryFinding[] {
  return CHEMISTRY_QUANTITIES.filter((quantity) => repeats(readings, quantity)).flatMap((quantity) =>
    equalRuns(readings, quantity).flatMap((run) => findingOf(run, quantity)),
  );
}
