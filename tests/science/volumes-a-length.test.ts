import { describe, expect, it } from 'vitest';
import { cylinderVolumeMl } from '../../src/science/cylinder-volume.ts';
import { isRefusal } from '../../src/science/refusal.ts';

const FT_A_METRE = 1 / 0.3048;
const ML_A_GALLON = 3_785.411784;

function ml(insideDiameterIn: number, lengthFt: number): number {
  const volume = cylinderVolumeMl(insideDiameterIn, lengthFt);
  if (isRefusal(volume)) throw new Error(volume.refused);
  return volume;
}

/** Agreement to the printed digits, half a step either way. */
function expectPrinted(value: number, printed: string) {
  const places = printed.split('.')[1]?.length ?? 0;
  expect(value.toFixed(places)).toBe(printed);
}

describe('volume a length, computed from V = pi D^2 / 4', () => {
  it.each([
    [0.75, '0.2850', '0.0869'],
    [1, '0.5067', '0.1544'],
    [1.25, '0.7917', '0.2413'],
    [1.5, '1.1401', '0.3475'],
    [2, '2.0268', '0.6178'],
    [2.067, '2.1649', '0.6599'],
    [3, '4.5604', '1.3900'],
    [3.068, '4.7694', '1.4537'],
    [4, '8.1073', null],
    [4.026, '8.2131', null],
    [5, '12.668', null],
    [6, '18.241', null],
    [6.065, '18.639', null],
    [8, '32.429', null],
    [10, '50.671', null],
    [12, '72.966', null],
  ])('casing of %d in holds %s L a metre and %s L a foot', (diameter, perMetre, perFoot) => {
    expectPrinted(ml(diameter, FT_A_METRE) / 1_000, perMetre);
    if (perFoot !== null) expectPrinted(ml(diameter, 1) / 1_000, perFoot);
  });

  it.each([
    [0.125, '7.917', '0.000637'],
    [0.17, '14.64', '0.001179'],
    [0.1875, '17.81', '0.001434'],
    [0.25, '31.67', '0.002550'],
    [0.375, '71.26', '0.005737'],
    [0.5, '126.7', '0.010200'],
  ])('tubing of %d in holds %s mL a metre and %s gal a foot', (diameter, perMetre, gallonsPerFoot) => {
    expectPrinted(ml(diameter, FT_A_METRE), perMetre);
    expectPrinted(ml(diameter, 1) / ML_A_GALLON, gallonsPerFoot);
  });

  it.each([
    [4, '12.57'],
    [5, '19.63'],
    [6, '28.27'],
    [8, '50.27'],
    [10, '78.54'],
    [12, '113.1'],
  ])('tubing of %d mm holds %s mL a metre', (mm, perMetre) => {
    expectPrinted(ml(mm / 25.4, FT_A_METRE), perMetre);
  });

  // 0.0408 D^2 H and 5.875 C^2 H (county file, doc 445163, page 47): rounded from 0.04079990 and 5.8752.
  it('has 0.04079990 gal for an inch and a foot, and 5.8752 gal for a foot and a foot', () => {
    expectPrinted(ml(1, 1) / ML_A_GALLON, '0.04079990');
    expectPrinted(ml(12, 1) / ML_A_GALLON, '5.8752');
  });

  // County file, doc 445163, page 47 (also doc 445162, page 102).
  it('TRAP: the 4-in line of a printed table, 0.563 gal a foot, is neither 4.00 in nor schedule 40, nor any size near', () => {
    for (const diameter of [3.9, 4, 4.026]) expect(ml(diameter, 1) / ML_A_GALLON).toBeGreaterThan(0.62);
    expectPrinted(ml(4, 1) / ML_A_GALLON, '0.653');
    expect(Math.sqrt(0.563 / 0.0407999)).toBeCloseTo(3.71, 2);
  });
});
