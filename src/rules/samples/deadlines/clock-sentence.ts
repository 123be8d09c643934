import type { HoldingClock } from '../../../science/samples/holding-clocks.ts';
import { wallClock } from '../wall-clock.ts';
import type { ContainerClock, ContainerClocks } from './container-clocks.ts';

const TO_DO: Readonly<Record<HoldingClock, string>> = {
  'collection-to-filtration': 'to be filtered',
  'collection-to-preservation': 'to be preserved',
  'collection-to-extraction': 'to be extracted',
  'extraction-to-analysis': 'to be analysed',
  'collection-to-analysis': 'to be analysed',
};

function basisText({ basis }: ContainerClock): string {
  const read = basis.verified ? '' : ', not read by us';
  const dated = basis.dated === null || basis.dated.startsWith('not ') ? '' : `, ${basis.dated}`;
  if (basis.layer !== 'project') return `${basis.source}${dated}${basis.source.endsWith('from memory') ? '' : read}`;
  return `${basis.source}, approved by ${basis.approvedBy}: ${basis.reason}`;
}

function when(clock: ContainerClock, { collectedFrom, container }: ContainerClocks, timeZone: string): string {
  const toDo = TO_DO[clock.clock];
  if (clock.dueAt === null || clock.startedAt === null) {
    const step = clock.clock === 'extraction-to-analysis' ? 'its extraction' : 'its collection';
    return `${toDo} within ${clock.written} of ${step}, which is not recorded`;
  }
  const label =
    collectedFrom === 'fill' ? '' : `, as its ${collectedFrom} says: no fill of ${container.fields.label} is recorded`;
  const due = `${toDo} by ${wallClock(clock.dueAt, timeZone)}, ${clock.written} after ${wallClock(clock.startedAt, timeZone)}${label}`;
  if (clock.endedAt === null) return due;
  const late =
    clock.state === 'late' ? 'late' : clock.state === 'in-time' ? 'in time' : 'before it began: one is wrong';
  return `${due}; done ${wallClock(clock.endedAt, timeZone)}, ${late}`;
}

/** One clock in words: what has to be done, by when on the clock of the site, counted from what, and who says so. */
export function clockSentence(clock: ContainerClock, of: ContainerClocks, timeZone: string): string {
  const taken =
    clock.clock !== 'collection-to-preservation' && of.preservation === 'not-said'
      ? ' Nobody said whether its preservative is in it; it is taken to be as prescribed.'
      : '';
  return `${clock.group.title} in ${of.container.fields.label}: ${when(clock, of, timeZone)} (${basisText(clock)}).${taken}`;
}
