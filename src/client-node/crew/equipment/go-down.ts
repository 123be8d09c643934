import type { Captured } from '../../../client/capture.ts';
import { checkAll, writableKind } from '../../../client/check-fields.ts';
import { USES } from '../../../protocol/kinds/unit-use.ts';
import { gearOfUnit, waterContact } from '../../../rules/decon/gear-of-unit.ts';
import type { UnitType } from '../../../rules/equipment/equipment-records.ts';
import { CrewError } from '../crew-error.ts';
import { observedNow } from '../enter.ts';
import { field, live } from '../find.ts';
import { kept } from '../kept.ts';
import type { Crew } from '../open-crew.ts';
import { pairsIn } from '../pairs.ts';
import { mustBeReady } from '../ready.ts';
import { whenSeen } from '../time-of-day.ts';
import { at, openVisit, visitAt } from '../visit-here.ts';
import { askIfSetUpTwice, askWhoHas } from './asked-first.ts';
import { theUnit } from './the-unit.ts';

const SET_UP: Readonly<Record<string, string>> = {
  intake: 'intakeDepthFt',
  inside: 'tubingInsideDiameterIn',
  length: 'tubingLengthFt',
  tubing: 'tubingMaterial',
  bladder: 'bladderMaterial',
  pressure: 'drivePressurePsi',
  refill: 'refillS',
  discharge: 'dischargeS',
};

export const SET_UP_USAGE = `set-up WELL PUMP [${Object.keys(SET_UP).join('=.. ')}=.. cell=UNIT]`;

const PUMPS: readonly string[] = ['bladder-pump', 'submersible-pump', 'peristaltic-pump', 'other'];

/** The pump goes into the well: what the rules say against it is asked once it is kept, before the water runs. */
export async function setUp(crew: Crew, given: readonly string[], again: boolean): Promise<void> {
  const [wellName = '', ...rest] = given;
  const { words, pair } = pairsIn(rest, [...Object.keys(SET_UP), 'cell'], ['cell']);
  await mustBeReady(crew);
  const place = await at(crew, wellName);
  const { unit, label } = await theUnit(crew, words, SET_UP_USAGE);
  if (!PUMPS.includes(field(unit, 'type')))
    throw new CrewError(
      `${label} is a ${field(unit, 'type').replaceAll('-', ' ')}, no pump: crew use ${wellName} ${label}`,
    );
  const cell = pair('cell');
  const flowCell = cell === undefined ? undefined : (await theUnit(crew, cell.split(' '), SET_UP_USAGE)).unit.id;
  const figures = Object.fromEntries(Object.entries(SET_UP).map(([name, name2]) => [name2, pair(name)]));
  const set = { pump: unit.id, flowCell, ...figures, observed: await observedNow(crew) };
  // before a visit is begun for it: a slip of the finger must not leave an empty visit
  checkAll(writableKind('pump-set-up'), { visit: place.event.id, ...set });
  const visit = await visitAt(crew, place, { method: 'low-flow', again });
  await askIfSetUpTwice(crew, visit, unit.id, label);
  await askWhoHas(crew, unit.id, label);
  await kept(crew, crew.client.record('pump-set-up', { visit, ...set }));
}

export const USE_USAGE = `use WELL UNIT [how=${USES.join('|')}] [--out]`;

function usualWay(type: UnitType): (typeof USES)[number] {
  if (waterContact(type) === 'dry') return 'beside-the-well';
  const gear = gearOfUnit(type);
  return gear === 'meter' || gear === 'flow-cell' ? 'on-the-line' : 'down-the-well';
}

/** It comes off again before the crew leaves. */
async function takeOut(crew: Crew, visit: string | undefined, unit: string, label: string): Promise<Captured> {
  const uses = (await live(crew, 'unit-use')).filter(
    (one) => field(one, 'visit') === visit && field(one, 'unit') === unit,
  );
  const open = uses.findLast((one) => field(one, 'until') === '');
  if (open) return crew.client.amend('unit-use', open.id, { until: whenSeen(crew) }, { reason: 'taken out' });
  throw new CrewError(
    `no record here says that ${label} is there by crew use: a pump that was set up comes out when you leave`,
  );
}

export async function use(
  crew: Crew,
  given: readonly string[],
  flags: { out: boolean; again: boolean },
): Promise<void> {
  const [wellName = '', ...rest] = given;
  const { words, pair } = pairsIn(rest, ['how']);
  await mustBeReady(crew);
  const place = await at(crew, wellName);
  const { unit, label } = await theUnit(crew, words, USE_USAGE);
  if (flags.out) {
    const visit = await openVisit(crew, place);
    await kept(crew, takeOut(crew, visit?.id, unit.id, label));
    return;
  }
  const how = pair('how') ?? usualWay(field(unit, 'type') as UnitType);
  const from = whenSeen(crew);
  const set = { unit: unit.id, how, from, observed: await observedNow(crew) };
  checkAll(writableKind('unit-use'), { visit: place.event.id, ...set });
  const visit = await visitAt(crew, place, { method: 'gauging', again: flags.again });
  await askWhoHas(crew, unit.id, label);
  crew.say(`${label} is ${how.replaceAll('-', ' ')} at ${field(place.well, 'name')} from now on`);
  await kept(crew, crew.client.record('unit-use', { visit, ...set }));
}
