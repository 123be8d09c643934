import { zobellLinearMv } from '../../science/orp/zobell-linear.ts';
import { zobellNordstromMv } from '../../science/orp/zobell-nordstrom.ts';
import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';
import { placesText } from '../../science/units/significant-text.ts';
import { unreadable } from '../../science/units/unreadable.ts';
import { atTemperature } from './at-temperature.ts';
import { every, type StandardTable } from './standard-table.ts';

/** Three forms are in circulation, up to 7 mV apart: more than a check of 5 mV allows. A check says which it used. */
export const ZOBELL_TABLE_IDS = ['nordstrom-1977', 'standard-methods-2580', 'linear'] as const;
export type ZobellTableId = (typeof ZOBELL_TABLE_IDS)[number];

export const ZOBELL_STANDARD_METHODS: StandardTable<'standard-methods-2580'> = {
  id: 'standard-methods-2580',
  name: "ZoBell's solution by Standard Methods 2580",
  unit: 'mV',
  points: every(
    1,
    1,
    '481 479 476 474 472 470 468 465 463 461 459 457 454 452 450 448 446 443 441 439 437 435 432 430 428 426 424 421 419 417',
  ),
  source: 'Standard Methods 2580, table of the potential of ZoBell’s solution, read in a copy',
  dated: 'not dated in the copy',
  verified: true,
};

export interface ZobellValue {
  readonly ehMv: string;
  readonly name: string;
  readonly source: string;
  readonly verified: boolean;
}

function ofFormula(table: 'nordstrom-1977' | 'linear', temperatureC: string): ZobellValue | Refusal {
  const celsius = Number(temperatureC);
  const mv = table === 'linear' ? zobellLinearMv(celsius) : zobellNordstromMv(celsius);
  if (isRefusal(mv)) return mv;
  const ehMv = placesText(mv, 1);
  return table === 'linear'
    ? {
        ehMv,
        name: "ZoBell's solution by 428 - 2.2 (t - 25)",
        source: 'handbook chapter, doi 10.1201/b10505-51',
        verified: true,
      }
    : {
        ehMv,
        name: "ZoBell's solution by Nordstrom 1977",
        source:
          'Nordstrom 1977, Geochimica et Cosmochimica Acta 41, 1835-1841, as in US Geological Survey, National Field Manual, chapter 6.5 (equation from memory)',
        verified: false,
      };
}

/**
 * Potential of ZoBell's solution against the standard hydrogen electrode, by the form that is named.
 *
 * @example zobellAt('standard-methods-2580', '10') // ehMv: '461'
 */
export function zobellAt(table: ZobellTableId, temperatureC: string): ZobellValue | Refusal {
  const unread = unreadable({ temperatureC });
  if (unread) return unread;
  if (table !== ZOBELL_STANDARD_METHODS.id) return ofFormula(table, temperatureC);
  const value = atTemperature(ZOBELL_STANDARD_METHODS, temperatureC);
  if (isRefusal(value)) return refuse(value.refused);
  const { name, source, verified } = ZOBELL_STANDARD_METHODS;
  return { ehMv: value.text, name, source, verified };
}
