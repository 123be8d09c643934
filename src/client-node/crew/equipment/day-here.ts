import { equipmentHere } from '../../../client/equipment/equipment-here.ts';
import { kitHere } from '../../../client/equipment/kit-here.ts';
import { owedHere } from '../../../client/equipment/owed-here.ts';
import { theCrew, theEvent } from '../find.ts';
import type { Crew } from '../open-crew.ts';
import { latestDay, todayAtSite } from '../time-of-day.ts';

const KNOWS = 'by what is on this device: crew sync brings what others did';

/** What is still to be done with the equipment before the day is over. */
export async function showOwed(crew: Crew): Promise<void> {
  const [own, event, day] = [await theCrew(crew), await theEvent(crew), await latestDay(crew)];
  const items = owedHere(await equipmentHere(crew.client), { crew: own, event: event.id, day });
  for (const { sentence } of items) crew.say(`owed      ${sentence}`);
  crew.say(`${items.length === 0 ? `nothing is owed on ${day}` : `owed on ${day}`}, ${KNOWS}`);
}

/** The first day of the event that is not over, as the office is told it. */
function firstDayLeft(today: string, { starts, ends }: { readonly starts: string; readonly ends: string }): string {
  if (today < starts) return starts;
  if (today > ends) return ends;
  return today;
}

/** What to take along today, and what the check of the kit said. */
export async function showKit(crew: Crew): Promise<void> {
  const [own, event, today] = [await theCrew(crew), await theEvent(crew), await todayAtSite(crew)];
  const { starts, ends } = event.fields as { readonly starts: string; readonly ends: string };
  const day = firstDayLeft(today, { starts, ends });
  const kit = kitHere(await equipmentHere(crew.client), { crew: own, event, day });
  crew.say(`kit for ${day}, ${KNOWS}`);
  if (kit.accessNotes !== null) crew.say(`site      ${kit.accessNotes}`);
  for (const { name, suites, remark } of kit.wells)
    crew.say(`well      ${[name, suites.join(', '), remark ?? ''].filter(Boolean).join('; ')}`);
  for (const { label, type } of kit.units) crew.say(`unit      ${label}, ${type.replaceAll('-', ' ')}`);
  for (const { item, expected, why, standing, found } of kit.items) {
    const many = expected === null ? '' : `${expected} `;
    const seen = found === null ? '' : `, ${found} found`;
    crew.say(
      `${standing.replaceAll('-', ' ').padEnd(14)} ${many}${item.replaceAll('-', ' ')}${seen}${why === null ? '' : ` (${why})`}`,
    );
  }
  for (const { sentence } of kit.findings) crew.say(`question  ${sentence}`);
  if (kit.check === null) crew.say('no check of the kit is recorded for this day here');
}
