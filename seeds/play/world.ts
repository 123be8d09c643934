import type { IdOf } from '../firm/entry.ts';
import type { Kit } from '../firm/equipment.ts';
import type { CrewName, PersonName } from '../firm/people.ts';
import type { Agenda } from './agenda.ts';
import type { WorldClock } from './clock.ts';
import type { Phone } from './phone.ts';
import type { TypedPhone } from './typed-phone.ts';

/** Two people with a phone each and what they took along. */
export interface Crew {
  readonly name: CrewName;
  readonly id: string;
  readonly people: readonly [PersonName, PersonName];
  /** The first one types the log; the second is along with a phone of their own. */
  readonly phones: readonly [Phone, Phone];
  readonly kit: Kit;
  /** The sign-outs that stand, by the label of the unit. */
  readonly signedOut: Map<string, string>;
}

/** A crew that also types into the command line of crews, on its first phone. */
export interface TypingCrew extends Crew {
  readonly phones: readonly [TypedPhone, Phone];
}

export type Crews = Readonly<Record<Exclude<CrewName, 'West crew'>, Crew> & Record<'West crew', TypingCrew>>;

/** Everything that the days of the crews share. */
export interface World {
  readonly clock: WorldClock;
  readonly agenda: Agenda;
  readonly zone: string;
  readonly id: IdOf;
  readonly event: string;
  readonly crews: Crews;
  /** The coordinator's computer. */
  readonly desk: Phone;
  /** One line of progress for whoever watches. */
  readonly tell: (who: string, what: string) => void;
}

/** A working day at the site. */
export interface Day {
  readonly date: string;
  /** Milliseconds since 1970 of a time of day. */
  readonly ms: (time: string) => number;
}
