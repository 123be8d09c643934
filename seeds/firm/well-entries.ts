import type { Entry, IdOf } from './entry.ts';
import { SITE } from './site.ts';
import { WELLS, type WellData } from './wells.ts';

/** Inside diameters of Schedule 40 pipe: ASTM D1785 (from memory). */
const INSIDE_DIAMETER_IN = { '2-inch': '2.067', '4-inch': '4.026' } as const;
const BOREHOLE_IN = { '2-inch': '8.25', '4-inch': '10.25' } as const;

/** On the open sea, so that the coordinates of an invented site are nobody's land. */
const CORNER = { latitudeDeg: 27.4, longitudeDeg: -91.2 };
const WELLS_IN_A_ROW = 4;
const SPACING_DEG = 0.0006;

function place(index: number): Entry['set'] {
  const north = Math.floor(index / WELLS_IN_A_ROW) * SPACING_DEG;
  const east = (index % WELLS_IN_A_ROW) * SPACING_DEG;
  return {
    latitudeDeg: (CORNER.latitudeDeg + north).toFixed(6),
    longitudeDeg: (CORNER.longitudeDeg + east).toFixed(6),
  };
}

function wellSet(id: IdOf, well: WellData, index: number): Entry['set'] {
  const casing = well.casing ?? '2-inch';
  return {
    site: id('site', SITE),
    name: well.name,
    standing: 'in-service',
    ...(well.nest === undefined ? {} : { nest: id('nest', well.nest) }),
    depthsFrom: well.ground ? 'ground' : 'measuring-point',
    stickUpFt: well.stickUpFt,
    casingInsideDiameterIn: INSIDE_DIAMETER_IN[casing],
    casingMaterial: 'PVC, Schedule 40',
    boreholeDiameterIn: BOREHOLE_IN[casing],
    totalDepthFt: well.depths.total,
    screenTopFt: well.depths.screenTop,
    screenBottomFt: well.depths.screenBottom,
    knownToFlow: well.flows ?? false,
    knownToPurgeDry: well.purgesDry ?? false,
    ...place(index),
    built: well.built,
    ...(well.remark === undefined ? {} : { remark: well.remark }),
  };
}

function underWell(id: IdOf, well: WellData): Entry[] {
  const of = id('well', well.name);
  const points = well.points.map((point, index) => ({
    kind: 'measuring-point',
    id: id('measuring-point', `${well.name} ${index + 1}`),
    set: { well: of, ...point, datum: 'Site datum: benchmark 1 is 100.00 ft' },
  }));
  const aliases = (well.aliases ?? []).map((alias) => {
    return { kind: 'well-alias', id: id('well-alias', alias.name), set: { well: of, ...alias } };
  });
  return [...points, ...aliases];
}

export function wellEntries(id: IdOf): Entry[] {
  return WELLS.flatMap((well: WellData, index) => [
    { kind: 'well', id: id('well', well.name), set: wellSet(id, well, index) },
    ...underWell(id, well),
  ]);
}

/** The measuring point that a level of today cites: the newest one. */
export function pointOf(id: IdOf, name: string): string {
  const well: WellData | undefined = WELLS.find((one) => one.name === name);
  return id('measuring-point', `${name} ${well?.points.length ?? 1}`);
}
