import { Chance } from './chance.ts';

/** What happens in a world; drawn from its seed, or fixed by who asks for a certain kind of world. */
export interface Features {
  readonly phones: number;
  readonly steps: number;
  /** The day has begun: the phones hold two visits with purges and readings, at which people meet from the first step on. */
  readonly begun: boolean;
  /** How often machines are tried at each step: where a world has few steps, as much befalls them as in a long one. */
  readonly haste: number;
  readonly processes: number;
  /** Probability that a request or its answer meets a fault. */
  readonly network: number;
  /** Probability that the answer to a push is lost while all else goes through: people go on with own work unheard. */
  readonly unheard: number;
  /** Probability that a COMMIT is refused or not heard of. */
  readonly commits: number;
  readonly lyingClocks: boolean;
  /** The clocks of the server's processes differ by up to five minutes. */
  readonly skewedServers: boolean;
  readonly deaths: boolean;
  /** Set back to a backup, with a new epoch or without anybody saying so. */
  readonly setBack: 'never' | 'announced' | 'silent';
  readonly backups: boolean;
  /** A phone goes on from an older backup of itself. */
  readonly restoredPhone: boolean;
  /** A phone is lost after a partner took a copy of its outbox. */
  readonly drowned: boolean;
  /** A partner hands in a copy of the outbox of a phone that is off for a while and comes back. */
  readonly lent: boolean;
  /** A second phone runs on a copy of what another holds, under the same token, and both go on. */
  readonly cloned: boolean;
  /** Crews and devices move between events. */
  readonly moves: boolean;
  readonly rehomes: boolean;
  readonly voids: boolean;
  readonly claims: boolean;
  readonly resolves: boolean;
  /** Lines that cannot be read, and records that name what is not there yet. */
  readonly poison: boolean;
  readonly waits: boolean;
  /** Rows on a phone are damaged behind the back of the library. */
  readonly damage: boolean;
  /** The ids of new records are counted and not made with a clock, so that worlds with other clocks can be compared. */
  readonly countedIds: boolean;
  /** The phones are new and hold nothing; otherwise they hold what the firm had entered. */
  readonly bootstraps: boolean;
  /** Units go into wells, are cleaned, get other parts, and the office looks at what is said of them. */
  readonly equipment: boolean;
  /** The server drops what it has of records that left a feed, hours and not months after they did. */
  readonly compacts: boolean;
}

type Size = Pick<Features, 'phones' | 'steps' | 'begun' | 'haste'>;

const LARGE = 0.001;
const LONG = 0.08;
/** A short world has about a third of the steps of a long one. */
const HASTE = 2;

/** Most worlds are short and busy; some have a day from its beginning, and one in a thousand up to fifty phones in a long one. */
function sizeOf(chance: Chance): Size {
  const draw = chance.next();
  if (draw < LARGE) return { phones: chance.between(12, 50), steps: chance.between(30, 60), begun: false, haste: 1 };
  if (draw < LARGE + LONG) {
    return { phones: chance.between(3, 4), steps: chance.between(12, 32), begun: false, haste: 1 };
  }
  return { phones: 3 + Number(chance.yes(0.1)), steps: chance.between(4, 10), begun: true, haste: HASTE };
}

const SOME_MORE = 0.04;
const MANY_MORE = 0.006;

/** How many phones there are instead of three or four, where there are more. */
function crowdOf(chance: Chance): number | null {
  const draw = chance.next();
  if (draw < MANY_MORE) return chance.between(13, 50);
  return draw < MANY_MORE + SOME_MORE ? chance.between(5, 12) : null;
}

/** More people in some worlds, and something for them to do. */
function crowded(chance: Chance, { phones, steps }: Size): Partial<Size> {
  const more = crowdOf(chance);
  return more === null || phones > 4 ? {} : { phones: more, steps: steps + Math.floor(more / 2) };
}

/** The sizes that were drawn when the pinned seeds were found. */
function formerSizeOf(chance: Chance): Size {
  if (chance.yes(0.005)) {
    return { phones: chance.between(12, 50), steps: chance.between(30, 60), begun: false, haste: 1 };
  }
  return { phones: chance.between(3, 4), steps: chance.between(12, 32), begun: false, haste: 1 };
}

/** What a seed meant before most worlds were short: those that are pinned are played as they were found. */
export function formerFeatures(seed: number): Features {
  return featuresOf(new Chance(seed).fork(), formerSizeOf);
}

export function drawFeatures(chance: Chance): Features {
  const drawn = featuresOf(chance, sizeOf);
  // what only a partner carries is handed in to a server that has another history by then
  const drowned = drawn.setBack === 'never' ? drawn.drowned : chance.yes(0.4);
  const equipment = chance.yes(0.2);
  // drawn at last: a world that keeps its number of phones is played as it was before there were crowds
  return { ...drawn, drowned, equipment, ...crowded(chance, drawn) };
}

function featuresOf(chance: Chance, sized: (chance: Chance) => Size): Features {
  const size = sized(chance);
  const trouble = chance.pick(['none', 'none', 'setBack', 'setBack', 'restored', 'drowned'] as const);
  const lent = trouble !== 'setBack' && chance.yes(0.3);
  return {
    ...size,
    processes: chance.between(1, 3),
    network: chance.pick([0, 0.1, 0.25, 0.5]),
    commits: chance.pick([0, 0, 0.1, 0.3]),
    lyingClocks: chance.yes(0.5),
    skewedServers: chance.yes(0.3),
    deaths: chance.yes(0.4),
    setBack: trouble === 'setBack' ? chance.pick(['announced', 'silent'] as const) : 'never',
    backups: chance.yes(0.3),
    restoredPhone: trouble === 'restored',
    drowned: trouble === 'drowned',
    moves: chance.yes(0.4),
    rehomes: chance.yes(0.4),
    voids: chance.yes(0.4),
    claims: chance.yes(0.3),
    resolves: chance.yes(0.5),
    poison: chance.yes(0.2),
    waits: chance.yes(0.3),
    damage: chance.yes(0.1),
    countedIds: false,
    bootstraps: chance.yes(0.15),
    compacts: chance.yes(0.25),
    equipment: false,
    // what a partner carries of a phone is said anew where an older memory of it has used the numbers
    lent,
    // of two that live on one copy both say anew what they had under a number; a partner would be the third to do so
    cloned: trouble === 'restored' && !lent && chance.yes(0.5),
    unheard: chance.yes(0.2) ? 0.6 : 0,
  };
}

/** Nothing but people at work. */
export const CALM: Omit<Features, 'phones' | 'steps'> = {
  begun: false,
  haste: 1,
  processes: 1,
  network: 0,
  unheard: 0,
  commits: 0,
  lyingClocks: false,
  skewedServers: false,
  deaths: false,
  setBack: 'never',
  backups: false,
  restoredPhone: false,
  drowned: false,
  lent: false,
  cloned: false,
  moves: false,
  rehomes: false,
  voids: false,
  claims: false,
  resolves: false,
  poison: false,
  waits: false,
  damage: false,
  countedIds: false,
  bootstraps: false,
  compacts: false,
  equipment: false,
};
