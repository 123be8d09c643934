import type { RecordState } from '../../../protocol/record.ts';
import { CrewError } from '../crew-error.ts';
import { field, oneNamed } from '../find.ts';

/** As many as are read at a glance; an event has a thousand. */
const SHOWN = 5;

/** How many letters are to be put in, taken out or exchanged to make one of the other. */
function edits(one: string, other: string): number {
  let before = Array.from({ length: other.length + 1 }, (_, at) => at);
  for (const [row, letter] of [...one].entries()) {
    const now = [row + 1];
    for (let at = 1; at <= other.length; at += 1) {
      const exchanged = (before[at - 1] ?? 0) + Number(letter !== other[at - 1]);
      now.push(Math.min(exchanged, (before[at] ?? 0) + 1, (now[at - 1] ?? 0) + 1));
    }
    before = now;
  }
  return before.at(-1) ?? 0;
}

function sameBeginning(one: string, other: string): number {
  const at = [...one].findIndex((letter, place) => letter !== other[place]);
  return at < 0 ? one.length : at;
}

function nearest(labels: readonly string[], wanted: string): readonly string[] {
  const far = (label: string) => (label.toLowerCase().includes(wanted) ? 0 : edits(label.toLowerCase(), wanted));
  const alike = labels.map((label) => {
    return { label, far: far(label), same: sameBeginning(label.toLowerCase(), wanted) };
  });
  const byDistance = alike.toSorted((a, b) => a.far - b.far || b.same - a.same);
  return byDistance.slice(0, SHOWN).map(({ label }) => label);
}

/**
 * The container of a label or id. Where nothing has it the nearest few labels are told, and how many there are besides.
 *
 * @param all of the event
 * @param near of the well that is meant, where one is
 */
export function bottleLabelled(all: readonly RecordState[], near: readonly RecordState[], given: string): RecordState {
  const wanted = given.toLowerCase();
  const isKnown = all.some((one) => one.id === wanted || field(one, 'label').toLowerCase() === wanted);
  if (isKnown || all.length === 0) return oneNamed('container', all, ['label'], given);
  const labels = near.map((one) => field(one, 'label')).toSorted();
  const shown = nearest(labels, wanted).toSorted();
  const others = all.length - shown.length;
  const told = shown.length === 0 ? 'none is labelled for this well' : `nearest are ${shown.join(', ')}`;
  const more = others === 0 ? '' : `; the event has ${others} more: crew bottles WELL shows those of a well`;
  throw new CrewError(`there is no one container "${given}": ${told}${more}`);
}
