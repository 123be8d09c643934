import { SHIPPING_RULES } from '../../catalog/analytes/shipping-rules.ts';

/** A US quart in millilitres, by definition. */
const QUART_ML = 946.352946;
const QUARTS = 50;
/** A third is ice: advice of a river authority laboratory on packing coolers. */
const ICE = 1 / 3;
/** Of the rest half is water, half glass, padding and absorbent. Common practice, no source. */
const WATER = 1 / 2;

/** 15,772 mL of samples. */
export const WATER_OF_COOLER_ML = Math.floor(QUARTS * QUART_ML * (1 - ICE) * WATER);

export const COOLER_RULE =
  `To each laboratory one shipment on each day of work; a cooler of ${QUARTS} quarts takes ${WATER_OF_COOLER_ML} mL of ` +
  `samples: a third of it is ice (${SHIPPING_RULES.moreIce.source}), half of the rest is water (common practice, no ` +
  'source); containers that need a trip blank are packed together.';

export interface LaboratoryLoad {
  readonly laboratory: string | null;
  /** Of all containers that go there, trip and temperature blanks left out. */
  readonly volumeMl: number;
  /** Of those among them that a trip blank goes along with. */
  readonly withTripBlankMl: number;
  /** Coolers of the event that are on record for it, and those of them with such containers. */
  readonly onRecord: number;
  readonly onRecordWithTripBlank: number;
}

export interface ExpectedCoolers {
  readonly laboratory: string | null;
  readonly days: number;
  readonly coolers: number;
  readonly withTripBlank: number;
  readonly volumeMl: number;
}

function coolersFor(volumeMl: number, days: number): number {
  if (volumeMl === 0 || days === 0) return 0;
  return days * Math.ceil(volumeMl / days / WATER_OF_COOLER_ML);
}

/** How many coolers go to a laboratory, and in how many of them a trip blank travels. What is packed counts where it is more. */
export function expectedCoolers(load: LaboratoryLoad, days: number): ExpectedCoolers {
  const withTripBlank = Math.max(coolersFor(load.withTripBlankMl, days), load.onRecordWithTripBlank);
  const coolers = Math.max(coolersFor(load.volumeMl, days), load.onRecord, withTripBlank);
  return { laboratory: load.laboratory, days, coolers, withTripBlank, volumeMl: Math.ceil(load.volumeMl) };
}
