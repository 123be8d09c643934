import { FIRM } from '../firm/people.ts';
import { DAYS, EVENT, EVENT_BEFORE } from '../firm/plan.ts';
import { SITE, ZONE } from '../firm/site.ts';
import { Agenda } from './agenda.ts';
import { instantOf, WorldClock } from './clock.ts';
import { openCooler, packCooler, type Receive } from './coolers.ts';
import { openCrews } from './crews.ts';
import { typeEarlierRound } from './earlier-round.ts';
import { type EnteredFirm, enterFirm, type Host } from './enter-firm.ts';
import { postJson } from './laboratory-door.ts';
import { northDayOne, northDayTwo } from './north-days.ts';
import { syncPhone } from './phone.ts';
import { southDayOne, southDayTwo } from './south-days.ts';
import { westDayOne, westDayTwo } from './west-days.ts';
import type { Day, World } from './world.ts';

/** Gets each line of progress: when in the play, who, and what. */
export type Tell = (atMs: number, who: string, what: string) => void;

export interface Played {
  readonly world: World;
  readonly entered: EnteredFirm;
}

/** The afternoon before the round, when the office enters what is needed. */
export function startClock(): WorldClock {
  return new WorldClock(instantOf('2026-10-12', '15:30', ZONE));
}

function dayOf(date: string): Day {
  return { date, ms: (time) => instantOf(date, time, ZONE) };
}

async function openWorld(host: Host, entered: EnteredFirm, tell: Tell): Promise<World> {
  const { clock } = host;
  const { id, event, desk } = entered;
  return {
    clock,
    agenda: new Agenda(clock),
    zone: ZONE,
    id,
    event,
    desk,
    crews: await openCrews(host, entered, (line) => tell(clock.nowMs, 'West crew', line)),
    tell: (who, what) => tell(clock.nowMs, who, what),
  };
}

/** Mishaps that did not come about would leave the play tamer than it says it is. */
function assertNothingSpared(world: World): void {
  const phones = Object.values(world.crews).flatMap((crew) => crew.phones);
  const spared = phones.find(({ line }) => line.stillAwaiting > 0);
  if (spared) throw new Error(`a mishap that was planned for the line of ${spared.label} did not come about`);
}

/** The laboratory at its own door. */
function receiver({ base }: Host, { laboratoryToken: token, event }: EnteredFirm): Receive {
  return async (receipt) => {
    const told = await postJson({ base, token }, `/v1/laboratory/events/${event}/receipts`, receipt);
    return (told as { readonly discrepancies: readonly unknown[] }).discrepancies.length;
  };
}

/** Enters the firm and plays the two days of its round against a server. */
export async function play(host: Host, tell: Tell): Promise<Played> {
  const entered = await enterFirm(host);
  tell(host.clock.nowMs, 'Office', `entered ${FIRM}: ${entered.records} records; ${EVENT} at ${SITE}`);
  const world = await openWorld(host, entered, tell);
  world.tell('Office', `typed the ${EVENT_BEFORE} from its sheets: ${await typeEarlierRound(world)} records`);
  const [one, two] = DAYS.map(dayOf);
  if (!one || !two) throw new Error('the round has two days');
  await world.agenda.run([
    () => northDayOne(world, one),
    () => southDayOne(world, one),
    () => westDayOne(world, one),
    () => packCooler(world, one),
  ]);
  await world.agenda.run([
    () => northDayTwo(world, two),
    () => southDayTwo(world, two),
    () => westDayTwo(world, two),
    () => openCooler(world, two, receiver(host, entered)),
  ]);
  await syncPhone(world.desk);
  assertNothingSpared(world);
  return { world, entered };
}
