import type { AnalyteGroup, HoldingLimit } from '../../../src/catalog/analytes/analyte-group.ts';

/** Two days and less in hours, as the documents write them. */
function span(minutes: number): string {
  if (minutes < 60) return `${minutes} min`;
  return minutes <= 2_880 ? `${minutes / 60} h` : `${minutes / 1_440} d`;
}

const STEPS: Readonly<Record<HoldingLimit['clock'], string>> = {
  'collection-to-filtration': 'filter ',
  'collection-to-preservation': 'preserve ',
  'collection-to-extraction': 'E ',
  'extraction-to-analysis': 'A ',
  'collection-to-analysis': '',
};

/** The limits of a group as a table has them: "E 7 d + A 40 d"; variants after a bar, each with what must be so. */
export function holdingLine(group: AnalyteGroup): string {
  return group.holding
    .map(({ condition, limits }) => {
      const line = limits.map(({ clock, minutes }) => STEPS[clock] + span(minutes)).join(' + ');
      return condition === 'as-prescribed' ? line : `${condition} ${line}`;
    })
    .join(' | ');
}

export function preservationLine({ preservation }: AnalyteGroup): string {
  const { anyOf, ph, gramsPerL } = preservation;
  const added = anyOf.length === 0 ? 'nothing' : anyOf.map((all) => all.join('+')).join('/');
  const acidity = ph ? Object.entries(ph).map(([bound, value]) => ` ${bound} ${value}`) : [];
  return added + acidity.join('') + (gramsPerL === undefined ? '' : ` ${gramsPerL} g/L`);
}

export function coolingLine({ cooling }: AnalyteGroup): string {
  return (cooling.first ? `${cooling.first.atMostC} for ${cooling.first.hours} h, ` : '') + (cooling.atMostC ?? 'not');
}

const CODES = {
  polyethylene: 'P',
  hdpe: 'HDPE',
  polypropylene: 'PP',
  fluoropolymer: 'FP',
  glass: 'G',
  quartz: 'Q',
} as const;

/** With the letters of Table II. */
export function bottlesLine({ container }: AnalyteGroup): string {
  const { count, volumeMl, mostVolumeMl } = container.bottles;
  const volume = mostVolumeMl === undefined ? volumeMl : `${volumeMl}-${mostVolumeMl}`;
  const colour = container.colour === 'amber' ? 'amber ' : '';
  return `${count} x ${volume} ${colour}${container.materials.map((material) => CODES[material]).join('/')}`;
}
