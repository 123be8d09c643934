import type { AfterSigningMark, CustodyContainers } from '../../documents/custody/custody-facts.ts';
import { dayOf } from '../../rules/custody/clocks.ts';
import { afterSigning, type ContentsChange } from '../../rules/custody/contents-changes.ts';
import { type CoolerFacts, type Packed, packedFrom } from '../../rules/custody/cooler-facts.ts';
import { isToCome } from '../../rules/custody/receipt-judged.ts';
import { signaturesOf, type Writers } from '../../rules/custody/signatures.ts';
import type { EventSamples } from '../../rules/samples/event-samples.ts';
import type { Contents } from './contents.ts';

type Mark = Pick<CustodyContainers, 'added' | 'takenOut'>;

/** How a container stands on the record, by its id: added after signing, or taken out. */
export interface Marks {
  readonly size: number;
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

/** What came or left after somebody signed for a cooler. */
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
  return { size: marks.size, left, get: (container) => marks.get(container) };
}
