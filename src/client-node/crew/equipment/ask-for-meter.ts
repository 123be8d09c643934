import { equipmentHere } from '../../../client/equipment/equipment-here.ts';
import { signedOut } from '../../../client/equipment/signed-out.ts';
import { field, live, theCrew } from '../find.ts';
import type { Crew } from '../open-crew.ts';

/** At the first reading of a purge: nothing that is read with an instrument that nobody names is covered by its checks. */
export async function askForMeter(crew: Crew, purge: string, meter: string | undefined): Promise<void> {
  if (meter !== undefined) return;
  if ((await live(crew, 'reading')).some((reading) => field(reading, 'purge') === purge)) return;
  const { records } = await equipmentHere(crew.client);
  const own = await theCrew(crew);
  const out = new Set(signedOut(records.signOuts).flatMap((one) => (one.crew === own ? [one.unit] : [])));
  const meters = (records.units ?? []).filter(
    ({ id, fields }) => out.has(id) && fields.type === 'multi-parameter-meter',
  );
  const why =
    meters.length === 0
      ? 'No meter is signed out to you, so this reading names none: crew take METER, before the next one.'
      : `${meters.map(({ fields }) => fields.label).join(' and ')} are signed out to you, so this reading names none: crew return the one that is not used.`;
  crew.say(`question  ${why}`);
}
