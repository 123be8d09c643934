import type { AfterSigningMark, CustodyContainers } from '../../documents/custody/custody-facts.ts';
import { dayOf } from '../../rules/custody/clocks.ts';
import { afterSigning, type ContentsChange } from '../../rules/custody/contents-changes.ts';
import { type CoolerFacts, type Packed, packedFrom } from '../../rules/custody/cooler-facts.ts';
import { isToCome } from '../../rules/custody/receipt-judged.ts';
import { signaturesOf, type Writers } from '../../rules/custody/signatures.ts';
import type { EventSamples } from '../../rules/samples/event-samples.ts';
import { isBlind } from '../../rules/samples/told-to-laboratory.ts';
import type { Contents } from './contents.ts';

type Mark = Pick<CustodyContainers, 'added' | 'takenOut'>;

/** How a container stands on the record, by its id: added after signing, or taken out. */
export interface Marks {
  /** What the record says of all of them together. */
  readonly remarks: readonly string[];
  /** What was in the cooler when somebody signed, or came later, and is not in it any more. */
  readonly left: readonly Packed[];
  get(container: string): Mark | undefined;
}

/**
 * Initials and the day, as beside other corrections, and no reason and no time of day: those that were moved together would
 * show which sample is taken beside which.
 */
function markOf({ at, initials, by }: ContentsChange, timeZone: string | null): AfterSigningMark {
  return { initials: initials ?? by ?? 'unknown', day: dayOf(at, timeZone) };
}

const KINDS = [
  ['added', 'added'],
  ['takenOut', 'taken out'],
] as const;

/** "2 containers added (BR 2026-05-04), 1 taken out (BR 2026-05-04)" */
function counted(marks: readonly Mark[]): string {
  const told = KINDS.flatMap(([kind, word]) => {
    const its = marks.flatMap((mark) => mark[kind] ?? []).map(({ initials, day }) => `${initials} ${day}`);
    const who = [...new Set(its)].toSorted().join(', ');
    return its.length === 0 ? [] : [`${its.length} ${its.length === 1 ? 'container' : 'containers'} ${word} (${who})`];
  });
  return `After it was signed for: ${told.join(', ')}.`;
}

function hasBlind(of: EventSamples): boolean {
  return [...of.samples, ...of.plannedSamples].some((one) => isBlind(one, of));
}

const UNMARKED: Omit<Marks, 'remarks'> = { left: [], get: () => undefined };

/**
 * What came or left after somebody signed for a cooler. With a blind duplicate in the event no container is marked, and
 * nothing that left is listed: a duplicate that was forgotten together with its parent would be the only two with a mark. How
 * many came and left is told.
 */
export function marksOf(facts: CoolerFacts, { changes, gone }: Contents, of: EventSamples, writers: Writers): Marks {
  const last = new Map(
    afterSigning(changes, signaturesOf(facts, writers)).map(({ change }) => [change.container, change]),
  );
  const isIn = new Set(facts.packed.filter(isToCome).map(({ container }) => container.id));
  const left = packedFrom(
    gone.filter(({ id }) => last.has(id) && !isIn.has(id)),
    of,
  );
  const leftIds = new Set(left.map(({ container }) => container.id));
  const marks = new Map(
    [...last.values()].flatMap((change): (readonly [string, Mark])[] => {
      const mark = markOf(change, facts.timeZone);
      if (leftIds.has(change.container)) return [[change.container, { takenOut: mark }]];
      return isIn.has(change.container) ? [[change.container, { added: mark }]] : [];
    }),
  );
  if (marks.size === 0) return { remarks: [], ...UNMARKED };
  if (hasBlind(of)) return { remarks: [counted([...marks.values()])], ...UNMARKED };
  const remarks = ['Containers were added or taken out after it was signed for; what left is struck through.'];
  return { remarks, left, get: (container) => marks.get(container) };
}
