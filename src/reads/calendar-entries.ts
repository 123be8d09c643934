import type { CalendarDeadline } from '../documents/calendar/deadline-facts.ts';
import { derivedId } from '../rules/derived-id.ts';
import { clockSentence } from '../rules/samples/deadlines/clock-sentence.ts';
import {
  type ContainerClock,
  type ContainerClocks,
  isFieldClock,
} from '../rules/samples/deadlines/container-clocks.ts';
import { instantMs } from '../science/instant-ms.ts';

/** A day and four hours before. Common practice, no source. */
const ALARMS_MINUTES = [1_440, 240];

export interface Revised {
  readonly revisions: number;
  readonly atMs: number;
}

export interface EntriesAsked {
  /** Whether a bottle is shown as done with. */
  readonly isStruck: (of: ContainerClocks) => boolean;
  /** How often what these bottles' deadlines follow from was changed, and when last. */
  readonly revised: (bottles: readonly ContainerClocks[]) => Revised;
  readonly timeZone: string;
}

/** One clock of one bottle. */
interface BottleClock {
  readonly clock: ContainerClock;
  readonly of: ContainerClocks;
  readonly dueAt: string;
  readonly isOver: boolean;
}

/** Of what the bottle is; one of which nobody said it stands for itself. */
function ownerOf({ holder: { sample, blank, planned }, container }: ContainerClocks): string {
  return (sample ?? blank ?? planned ?? container).id;
}

/** Nobody looks at a calendar vial by vial: of a sample, the bottles of one group with the same step are one deadline. */
function byDeadline(bottles: readonly BottleClock[]): readonly (readonly BottleClock[])[] {
  const found = new Map<string, BottleClock[]>();
  for (const one of bottles) {
    const key = derivedId(ownerOf(one.of), one.clock.clock, one.clock.group.id);
    const its = found.get(key);
    if (its) its.push(one);
    else found.set(key, [one]);
  }
  return [...found.values()];
}

function bottlesOf(clocks: ContainerClocks, isStruck: boolean): readonly BottleClock[] {
  return clocks.clocks.flatMap((clock): BottleClock[] => {
    if (clock.dueAt === null || isFieldClock(clock)) return [];
    return [{ clock, of: clocks, dueAt: clock.dueAt, isOver: isStruck || clock.state !== 'running' }];
  });
}

function titleOf({ of, clock }: BottleClock, count: number): string {
  const { holder, container, well } = of;
  const number = (holder.sample ?? holder.blank ?? holder.planned)?.fields.number;
  const what = number === undefined ? `in ${container.fields.label}` : `of ${number}`;
  const where = well ? ` from ${well.fields.name}` : '';
  const bottles = count === 1 ? '' : ` (${count} bottles)`;
  return `${clock.group.title} ${what}${where}${bottles}: ${clock.written} end`;
}

/** The first to end counts; what has ended comes after what still runs. */
function entry(
  bottles: readonly BottleClock[],
  about: Pick<EntriesAsked, 'revised' | 'timeZone'>,
): readonly CalendarDeadline[] {
  const running = bottles.filter(({ isOver }) => !isOver);
  const its = running.length > 0 ? running : bottles;
  const [first] = its.toSorted((a, b) => instantMs(a.dueAt) - instantMs(b.dueAt));
  if (!first) return [];
  const { revisions, atMs } = about.revised(bottles.map(({ of }) => of));
  const places = [...new Set(its.flatMap(({ of }) => of.laboratory?.fields.name ?? []))];
  const byLabel = its.toSorted((a, b) => (a.of.container.fields.label < b.of.container.fields.label ? -1 : 1));
  return [
    {
      uid: derivedId(ownerOf(first.of), first.clock.clock, first.clock.group.id),
      sequence: revisions,
      dueAt: first.dueAt,
      changedAt: new Date(atMs).toISOString(),
      title: titleOf(first, its.length),
      detail: byLabel.map(({ clock, of }) => clockSentence(clock, of, about.timeZone)).join('\n'),
      ...(places.length === 0 ? {} : { place: places.join(', ') }),
      isCancelled: running.length === 0,
      alarmMinutesBefore: ALARMS_MINUTES,
    },
  ];
}

/** The deadlines of bottles as entries of a calendar. */
export function calendarEntries(all: readonly ContainerClocks[], asked: EntriesAsked): readonly CalendarDeadline[] {
  const bottles = all.flatMap((of) => bottlesOf(of, asked.isStruck(of)));
  return byDeadline(bottles).flatMap((its) => entry(its, asked));
}
