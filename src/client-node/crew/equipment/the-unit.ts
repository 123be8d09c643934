import type { RecordState } from '../../../protocol/record.ts';
import { CrewError } from '../crew-error.ts';
import { field, live, oneNamed } from '../find.ts';
import type { Crew } from '../open-crew.ts';

const NAMES = ['label', 'serial'];

export interface UnitAndRest {
  readonly unit: RecordState;
  readonly label: string;
  /** The words behind its name. */
  readonly rest: readonly string[];
}

/** A label may be of several words, and nobody types quotation marks with gloves on: the longest name counts. */
export async function theUnit(crew: Crew, words: readonly string[], usage: string): Promise<UnitAndRest> {
  if (words.length === 0) throw new CrewError(`something is missing: crew ${usage}`);
  const units = await live(crew, 'unit');
  for (let count = words.length; count > 0; count--) {
    const given = words.slice(0, count).join(' ').toLowerCase();
    const isIt = (unit: RecordState) =>
      unit.id === given || NAMES.some((name) => field(unit, name).toLowerCase() === given);
    const [unit, ...more] = units.filter(isIt);
    if (unit && more.length === 0) return { unit, label: field(unit, 'label'), rest: words.slice(count) };
    if (unit) throw new CrewError(`${more.length + 1} units are called "${given}": give the serial or the id`);
  }
  // says which are known
  const unit = oneNamed('unit', units, NAMES, words.join(' '));
  return { unit, label: field(unit, 'label'), rest: [] };
}
