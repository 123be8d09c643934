import { isSameJson } from '../../protocol/same-json.ts';
import { equipmentDerived } from '../../rules/derive/equipment-derived.ts';
import { unitState } from '../../rules/equipment/unit-state.ts';
import { instantMs } from '../../science/instant-ms.ts';
import type { EquipmentHere, UnitStateFields } from './equipment-here.ts';
import { pendingAbout } from './pending-about.ts';

/** Names a derived record while the firm is not known. */
const NO_FIRM = '00000000-0000-0000-0000-000000000000';

/**
 * How what follows here stands to what the server said last. Ahead: own work did not reach the server, or its rows did
 * not come yet. Server-silent: it said nothing of the unit, as far as was pulled. Server-knows-more: its word rests on a
 * record that is not here, of an event that this device does not follow, say.
 */
export type UnitStanding = 'ahead' | 'agrees' | 'server-silent' | 'server-knows-more' | 'differs';

export interface UnitHere {
  readonly unit: string;
  /** What follows here; null where no record on this device names the unit. */
  readonly here: UnitStateFields | null;
  /** The last word of the server. */
  readonly server: UnitStateFields | null;
  readonly serverRev: number | null;
  readonly standing: UnitStanding;
  /** Says the standing to a person. */
  readonly sentence: string;
  readonly goesBy: 'here' | 'server';
  /** The one of the two to go by. */
  readonly state: UnitStateFields | null;
}

/** What the server would store of it by what is here; null where no record here names the unit. */
function fieldsHere({ device, facts }: EquipmentHere, unit: string): UnitStateFields | null {
  const state = unitState(facts.index, unit);
  if (state === undefined) return null;
  const [derived] = equipmentDerived(device.firm ?? NO_FIRM, { states: [state], findings: [] }, device.world);
  return (derived?.fields ?? null) as UnitStateFields | null;
}

const SENTENCES: Readonly<Record<UnitStanding, string>> = {
  ahead: 'Work on this device that tells of it has not gone to the server and back yet: this device is ahead.',
  agrees: 'The server said the same.',
  'server-silent': 'The server has said nothing of it yet, as far as this device was told.',
  'server-knows-more':
    'The server knows more of it: its word rests on a record that is not on this device, as of an event that it does not follow.',
  differs: 'The server said otherwise: it knows more of it than this device, or has another version of the rules.',
};

type Words = Pick<UnitHere, 'here' | 'server'>;

function standingOf(all: EquipmentHere, unit: string, { here, server }: Words): UnitStanding {
  // first of all, since own work beside it does not make it untrue
  if (server !== null && all.device.world.get(server.becauseRecord) === undefined) return 'server-knows-more';
  const contacts = all.facts.index.lines.get(unit)?.contacts ?? [];
  const visits = new Set(contacts.map(({ visit }) => visit));
  if (pendingAbout(all.device, unit, visits).length > 0) return 'ahead';
  if (server === null) return 'server-silent';
  return here !== null && isSameJson(here, server) ? 'agrees' : 'differs';
}

function sinceMs({ since }: UnitStateFields): number {
  return since ? instantMs(since) : Number.NEGATIVE_INFINITY;
}

/** Where the server knows more, the later of the two words counts: a unit that was cleaned here since is clean. */
function isByServer({ here, server }: Words, standing: UnitStanding): boolean {
  if (server === null) return false;
  if (here === null || standing === 'differs') return true;
  return standing === 'server-knows-more' && sinceMs(server) >= sinceMs(here);
}

/** Where a unit stands, and why, as far as this device can tell. */
export function unitHere(all: EquipmentHere, unit: string): UnitHere {
  const said = all.server.get(unit);
  const words: Words = { here: fieldsHere(all, unit), server: said?.fields ?? null };
  const standing = standingOf(all, unit, words);
  const byServer = isByServer(words, standing);
  return {
    unit,
    ...words,
    serverRev: said?.rev ?? null,
    standing,
    sentence: SENTENCES[standing],
    goesBy: byServer ? 'server' : 'here',
    state: byServer ? words.server : words.here,
  };
}
