import type { Contact } from './contact.ts';
import type { DeconSpan } from './decon-span.ts';
import type { ServiceMoment } from './service-moment.ts';
import { inOrderOfTime, type Ranked } from './within-a-minute.ts';

export type LifeStep = Ranked &
  (
    | { readonly what: 'into-well' | 'out-of-well'; readonly contact: Contact }
    | { readonly what: 'decon-begins' | 'decon-ends'; readonly decon: DeconSpan }
    | { readonly what: 'service'; readonly service: ServiceMoment }
  );

/** What comes first within one minute, where nothing says it better: a unit leaves one well and is cleaned before it goes into the next. */
const RANK = {
  outOfWell: 0,
  service: 1,
  deconEnds: 2,
  intoWell: 3,
  outOfWellAtOnce: 4,
  deconBegins: 5,
  deconEndsAtOnce: 6,
} as const;

function ofContact(contact: Contact): readonly LifeStep[] {
  const { from, until } = contact;
  const into: LifeStep = { what: 'into-well', contact, moment: from, rank: RANK.intoWell, begins: contact };
  if (until === null) return [into];
  const rank = until.ms === from.ms ? RANK.outOfWellAtOnce : RANK.outOfWell;
  return [into, { what: 'out-of-well', contact, moment: until, rank, ends: contact }];
}

function ofDecon(decon: DeconSpan): readonly LifeStep[] {
  const { began, until } = decon;
  const rank = until.ms === began.ms ? RANK.deconEndsAtOnce : RANK.deconEnds;
  return [
    { what: 'decon-begins', decon, moment: began, rank: RANK.deconBegins, begins: decon },
    { what: 'decon-ends', decon, moment: until, rank, ends: decon },
  ];
}

/** Everything that changes the state of a unit, earliest first. */
export function lifeSteps(records: {
  readonly contacts: readonly Contact[];
  readonly decons: readonly DeconSpan[];
  readonly services: readonly ServiceMoment[];
}): readonly LifeStep[] {
  const steps: LifeStep[] = [
    ...records.contacts.filter(({ how }) => how !== 'beside-the-well').flatMap(ofContact),
    ...records.decons.flatMap(ofDecon),
    ...records.services.map(
      (service): LifeStep => ({ what: 'service', service, moment: service.moment, rank: RANK.service }),
    ),
  ];
  return inOrderOfTime(steps);
}
