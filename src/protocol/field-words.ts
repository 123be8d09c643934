import { unitOfField } from '../science/units/unit-list.ts';

/** Abbreviations that are not written in small letters. */
const WRITTEN: Readonly<Record<string, string>> = { ph: 'pH', orp: 'ORP' };

/** turbidityNtu -> turbidity (NTU), depthToWaterFt -> depth to water (ft), outcomeReason -> outcome reason */
export function fieldWords(field: string): string {
  const unit = unitOfField(field);
  const stem = unit ? field.slice(0, -unit.suffix.length) : '';
  const words = (stem || field)
    .replace(/([a-z0-9])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .split(' ')
    .map((word) => WRITTEN[word] ?? word)
    .join(' ');
  return unit && stem ? `${words} (${unit.written})` : words;
}

/** A name with its article: an event, a unit, a water level. */
export function withArticle(name: string): string {
  const words = name.replaceAll('-', ' ');
  return /^(?:[aeio]|u(?!ni))/i.test(words) ? `an ${words}` : `a ${words}`;
}
