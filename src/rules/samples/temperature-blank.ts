import type { Holder } from './samples-index.ts';

/** Nothing in it is analysed: it needs no clock. */
export function isTemperatureBlank({ blank, planned }: Holder): boolean {
  return blank?.fields.type === 'temperature' || (!blank && planned?.fields.type === 'temperature-blank');
}
