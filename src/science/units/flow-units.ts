import { decimalFraction, dividedBy, type Fraction, fraction } from './fraction.ts';
import type { Unit } from './unit.ts';

const RATE = 'a volume over a time, both exact by definition';

/** Flows of water, in litres a minute. A flow of gas also depends on its pressure and is none of these. */
export const FLOW_UNITS: readonly Unit[] = [
  of('L/min', 'litre a minute', 'LPerMin', ['1', 1n]),
  of('mL/min', 'millilitre a minute', 'MlPerMin', ['0.001', 1n]),
  of('mL/s', 'millilitre a second', 'MlPerS', ['0.06', 1n]),
  of('L/s', 'litre a second', 'LPerS', ['60', 1n]),
  of('L/h', 'litre an hour', 'LPerH', ['1', 60n]),
  of('m3/h', 'cubic metre an hour', 'M3PerH', ['1000', 60n]),
  of('m3/d', 'cubic metre a day', 'M3PerD', ['1000', 1_440n]),
  of('[gal_us]/min', 'US gallon a minute', 'GalPerMin', ['3.785411784', 1n], 'gpm'),
  of('[gal_us]/h', 'US gallon an hour', 'GalPerH', ['3.785411784', 60n], 'gph'),
  of('[gal_us]/d', 'US gallon a day', 'GalPerD', ['3.785411784', 1_440n], 'gpd'),
  of('[cft_i]/min', 'cubic foot a minute', 'Ft3PerMin', ['28.316846592', 1n], 'ft³/min'),
  of('[cft_i]/s', 'cubic foot a second', 'Ft3PerS', ['1699.01079552', 1n], 'ft³/s'),
];

function of(code: string, name: string, suffix: string, [litres, minutes]: [string, bigint], written = code): Unit {
  const factor: Fraction = dividedBy(decimalFraction(litres), fraction(minutes));
  return { code, name, written, suffix, quantity: 'flow', factor, source: RATE };
}
