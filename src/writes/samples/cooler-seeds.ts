import { isSameJson } from '../../protocol/same-json.ts';
import type { CoolerSeeds } from '../../store/write/coolers-around.ts';
import type { SentAnew } from '../../store/write/suite-coolers.ts';
import type { Draft, Group } from '../group.ts';
import { countsAnew, samplingOf, sides, textOf } from './draft-change.ts';
import { sentAnew } from './sent-anew.ts';

/** What changes bear on coolers. */
export interface CustodySeeds extends CoolerSeeds {
  /** Coolers that changed, or what hangs on them did, or what is in them. */
  readonly coolers: readonly string[];
  /** Containers whose fills changed. */
  readonly filled: readonly string[];
  readonly receipts: readonly string[];
  /** What analyte suites send to another laboratory now. */
  readonly sent: readonly SentAnew[];
}

const NAME_A_COOLER = ['seal', 'hand-over', 'cooler-check', 'container', 'sample-receipt'];

/** What a record says that coolers are judged by; of what was not there before, nothing is packed yet. */
const BEARS: Readonly<Record<string, readonly string[]>> = {
  sample: ['collected', 'laboratory', 'planned', 'suites', 'type'],
  blank: ['collected', 'laboratory', 'planned', 'suites', 'type'],
  'planned-sample': ['laboratory', 'suites', 'type'],
  event: ['site'],
  site: ['timeZone'],
};

function bears(draft: Draft): boolean {
  const { held, before } = draft;
  if (before === null) return false;
  if (countsAnew(draft)) return true;
  const fields = BEARS[held.state.kind] ?? [];
  if (held.state.kind === 'event' && !isSameJson(samplingOf(held), samplingOf(before))) return true;
  return fields.some((field) => !isSameJson(held.state.fields[field] ?? null, before.state.fields[field] ?? null));
}

/** @returns null where nothing of coolers is touched, which is so for most of what phones push */
export function custodySeeds(group: Group): CustodySeeds | null {
  const drafts = group.drafts.filter(({ withdrawn }) => !withdrawn);
  const of = (...kinds: string[]) => drafts.filter(({ held }) => kinds.includes(held.state.kind));
  const naming = (field: string, its: readonly Draft[]) =>
    its.flatMap(sides).flatMap(({ state }) => textOf(state.fields[field]));
  const idsOf = (its: readonly Draft[]) => its.map(({ held }) => held.state.id);
  const told = (kind: string) => idsOf(of(kind).filter(bears));
  const seeds: CustodySeeds = {
    coolers: [...idsOf(of('cooler')), ...naming('cooler', of(...NAME_A_COOLER))],
    filled: naming('container', of('fill')),
    receipts: idsOf(of('sample-receipt')),
    sent: of('analyte-suite').flatMap(sentAnew),
    samples: told('sample'),
    blanks: told('blank'),
    planned: told('planned-sample'),
    events: [...group.gathered.events, ...told('event')],
    sites: told('site'),
  };
  return Object.values(seeds).every((its: readonly unknown[]) => its.length === 0) ? null : seeds;
}
