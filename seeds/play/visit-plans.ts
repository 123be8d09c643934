import type { WellName } from '../firm/wells.ts';
import type { PurgeShape, Water } from './curves.ts';
import type { VisitPlan } from './visit.ts';

type WellPlan = Omit<VisitPlan, 'at'>;

function water(
  temperatureC: number,
  ph: number,
  specificConductanceUsPerCm: number,
  dissolvedOxygenMgPerL: number,
  orpMv: number,
  turbidityNtu: number,
): Water {
  return { temperatureC, ph, specificConductanceUsPerCm, dissolvedOxygenMgPerL, orpMv, turbidityNtu };
}

function plan(
  well: WellName,
  shape: PurgeShape,
  hangs: { readonly soundedFt: string; readonly intakeFt: number; readonly sample: string },
): WellPlan {
  return { well, shape, ...hangs };
}

function shape(of: Water, readings: number, staticFt: number, drawdownFt: number, flowMlPerMin: number): PurgeShape {
  return { water: of, readings, staticFt, drawdownFt, flowMlPerMin };
}

/** What each well of the round will show. Invented: a plume with little oxygen in the north, clean water elsewhere. */
export const PLANS = {
  mw1: plan('MW-1', shape(water(12.41, 6.92, 642, 1.62, 48, 3.1), 10, 14.82, 0.14, 200), {
    soundedFt: '32.3',
    intakeFt: 27.5,
    sample: 'OCT-101',
  }),
  mw2: plan('MW-2', shape(water(12.75, 7.04, 588, 3.4, 112, 7.4), 12, 16.4, 0.22, 220), {
    soundedFt: '34.6',
    intakeFt: 29.8,
    sample: 'OCT-102',
  }),
  mw3: plan('MW-3', shape(water(12.2, 6.85, 705, 0.31, -64, 4.2), 10, 19.65, 0.09, 200), {
    soundedFt: '41.0',
    intakeFt: 36.2,
    sample: 'OCT-103',
  }),
  mw4Shallow: plan('MW-4S', shape(water(13.02, 6.98, 611, 0.84, 22, 2.6), 9, 12.04, 0.11, 180), {
    soundedFt: '25.1',
    intakeFt: 20.3,
    sample: 'OCT-104',
  }),
  /** Sounded at 61.6 ft. */
  mw4Deep: plan('MW-4D', shape(water(11.8, 7.21, 512, 0.24, -118, 1.9), 11, 13.61, 0.18, 200), {
    soundedFt: '61.6',
    intakeFt: 56.8,
    sample: 'OCT-105',
  }),
  /** Its turbidity never comes to rest. */
  mw5: plan('MW-5', shape(water(14.1, 7.1, 830, 2.1, 96, 21), 12, 17.3, 0.26, 200), {
    soundedFt: '37.8',
    intakeFt: 33.0,
    sample: 'OCT-106',
  }),
  /** Gives little: the level goes down to the pump. */
  mw6: plan('MW-6', shape(water(13.4, 6.7, 1180, 1.1, 60, 38), 8, 10.92, 0, 120), {
    soundedFt: '22.2',
    intakeFt: 19.9,
    sample: 'none',
  }),
  mw8: plan('MW-8', shape(water(11.95, 7.15, 540, 4.8, 140, 2.2), 9, 21.18, 0.07, 240), {
    soundedFt: '45.5',
    intakeFt: 40.6,
    sample: 'OCT-108',
  }),
  mw9: plan('MW-9', shape(water(12.6, 6.88, 662, 0.95, 15, 3.8), 10, 13.37, 0.16, 200), {
    soundedFt: '29.7',
    intakeFt: 24.9,
    sample: 'OCT-109',
  }),
  mw10: plan('MW-10', shape(water(12.05, 6.91, 598, 2.75, 88, 4.1), 11, 22.75, 0.12, 200), {
    soundedFt: '52.1',
    intakeFt: 47.4,
    sample: 'OCT-110',
  }),
  /** Its sand keeps coming: at the end of the round it is still being purged. */
  mw12: plan('MW-12', shape(water(12.3, 7.0, 615, 1.9, 70, 34), 14, 20.06, 0.2, 250), {
    soundedFt: '48.0',
    intakeFt: 43.3,
    sample: 'none',
  }),
  mw13: plan('MW-13', shape(water(12.9, 6.95, 655, 1.4, 35, 3.6), 12, 15.51, 0.42, 200), {
    soundedFt: '31.3',
    intakeFt: 26.5,
    sample: 'OCT-113',
  }),
  mw14: plan('MW-14', shape(water(12.5, 6.9, 690, 0.7, -20, 3.2), 14, 16.02, 0.15, 200), {
    soundedFt: '33.1',
    intakeFt: 28.3,
    sample: 'OCT-114',
  }),
} as const satisfies Readonly<Record<string, WellPlan>>;
