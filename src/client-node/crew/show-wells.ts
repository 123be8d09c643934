import type { RecordState } from '../../protocol/record.ts';
import { depthBelowPoint, type WellDepths } from '../../rules/well-depth.ts';
import { field, live, theCrew, theEvent } from './find.ts';
import type { Crew } from './open-crew.ts';

/** Each depth with what it is measured from: a tape is read at the measuring point, a drilling log counts from the ground. */
export function depthWords(well: RecordState): string {
  const recorded = field(well, 'totalDepthFt');
  if (recorded === '') return '';
  if (field(well, 'depthsFrom') === 'measuring-point') return `${recorded} ft below the measuring point`;
  const ground = `${recorded} ft below ground`;
  const depth = depthBelowPoint(
    { id: well.id, fields: well.fields as unknown as WellDepths['fields'] },
    'totalDepthFt',
  );
  if (!depth.known) return `${ground} (below the measuring point not known: no stick-up)`;
  return `${ground}, ${depth.text.replace(' ft with its stick-up', '')} ft below the measuring point`;
}

async function aliasesOf(crew: Crew): Promise<Map<string, string[]>> {
  const names = new Map<string, string[]>();
  for (const alias of await live(crew, 'well-alias')) {
    const well = field(alias, 'well');
    names.set(well, [...(names.get(well) ?? []), field(alias, 'name')]);
  }
  return names;
}

function byName(a: RecordState, b: RecordState): number {
  return field(a, 'name').localeCompare(field(b, 'name'), 'en', { numeric: true });
}

export async function showWells(crew: Crew): Promise<void> {
  const event = await theEvent(crew);
  const own = await theCrew(crew);
  const wells = (await live(crew, 'well')).filter((well) => field(well, 'site') === field(event, 'site'));
  const assignments = (await live(crew, 'assignment')).filter((one) => field(one, 'event') === event.id);
  const crews = new Map((await live(crew, 'crew')).map((one) => [one.id, field(one, 'name')]));
  const visits = (await live(crew, 'visit')).filter((one) => field(one, 'event') === event.id);
  const aliases = await aliasesOf(crew);
  crew.say(`${field(event, 'name')}, ${field(event, 'starts')} to ${field(event, 'ends')}`);
  for (const well of wells.toSorted(byName)) {
    const crewIds = assignments.filter((one) => field(one, 'well') === well.id).map((one) => field(one, 'crew'));
    const whose = crewIds.map((id) => (id === own ? 'yours' : (crews.get(id) ?? 'another crew')));
    const here = visits.filter((visit) => field(visit, 'well') === well.id);
    const stand = here.map((visit) => field(visit, 'outcome') || `${field(visit, 'method')} goes on`);
    const also = (aliases.get(well.id) ?? []).map((name) => `also called ${name}`);
    const parts = [depthWords(well), ...also, whose.join(' and '), stand.join(', ') || 'not visited'];
    crew.say(`  ${field(well, 'name').padEnd(10)} ${parts.filter(Boolean).join('; ')}`);
  }
}
