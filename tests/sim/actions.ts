import { CREWS, EVENTS, IDS } from './base-firm.ts';
import { type Action, type Doing, nextFigure, nextText, note, someRecord } from './doing.ts';
import { CREW_WITH_GEAR, OFFICE_WITH_GEAR } from './equipment-actions.ts';
import type { Features } from './features.ts';
import { poison } from './poison.ts';

const newVisit: Action = async (doing, client) => {
  const { chance, phone, told } = doing;
  const followed = [...phone.contents.feeds.keys()].filter((feed) => feed.startsWith('event:'));
  const event = (chance.maybe(followed) ?? `event:${IDS.spring}`).slice('event:'.length);
  const fields = { event, well: chance.pick(IDS.wells), crew: chance.pick(CREWS), method: 'low-flow' };
  const visit = await note(doing, null, () => client.record('visit', { ...fields, arrived: phone.wall() }));
  if (visit === null) return;
  told.visits.push(visit);
  const purge = await note(doing, null, (now) => now.record('purge', { visit, began: phone.wall() }));
  if (purge === null) return;
  told.purges.push({ id: purge, visit });
  for (let left = chance.below(3); left > 0 && phone.isOn; left--) await reading(doing, purge);
};

async function reading(doing: Doing, purge: string): Promise<void> {
  const { phone } = doing;
  if (!phone.isOn) return;
  const values = { ph: nextFigure(doing, '7'), temperatureC: '12.1', turbidityNtu: '3.1', flowMlPerMin: '200' };
  const observed = await phone.client.observed();
  const meter = IDS.units[1];
  await note(doing, null, (client) => client.record('reading', { purge, meter, ...values, observed }));
}

const newReading: Action = async (doing, client) => {
  const heard = doing.features.waits && doing.chance.yes(0.4) ? doing.chance.maybe(doing.told.purges)?.id : undefined;
  const purge = heard ?? (await someRecord(doing, client, 'purge'))?.record.id;
  if (purge !== undefined) await reading(doing, purge);
};

const newLevel: Action = async (doing, client) => {
  const heard = doing.features.waits && doing.chance.yes(0.4) ? doing.chance.maybe(doing.told.visits) : undefined;
  const visit = heard ?? (await someRecord(doing, client, 'visit'))?.record.id;
  if (visit === undefined) return;
  const fields = { visit, purpose: 'synoptic', state: 'measured', depthToWaterFt: nextFigure(doing, '21') };
  const observed = await client.observed();
  await note(doing, null, (now) => now.record('water-level', { ...fields, observed }));
};

/** A second phone makes the purge of a visit under the id that the first one told it. */
const samePurge: Action = async (doing, client) => {
  const heard = doing.chance.maybe(doing.told.purges);
  const fields = { began: doing.phone.wall(), remark: nextText(doing) };
  if (!heard || (await client.one(heard.id))) return;
  await note(doing, heard.id, (now) => now.record('purge', { visit: heard.visit, ...fields }, { id: heard.id }));
};

const changeFact: Action = async (doing, client) => {
  const chosen = await someRecord(doing, client, 'purge', 'visit');
  if (!chosen) return;
  const { id, kind } = chosen.record;
  const field = kind === 'purge' ? 'remark' : 'outcomeReason';
  const more = doing.chance.yes(0.3)
    ? kind === 'purge'
      ? { ended: doing.phone.wall() }
      : { left: doing.phone.wall() }
    : {};
  await note(doing, id, (now) => now.amend(kind, id, { [field]: nextText(doing), ...more }));
};

const correct: Action = async (doing, client) => {
  const chosen = await someRecord(doing, client, 'reading', 'water-level');
  if (!chosen) return;
  const { id, kind } = chosen.record;
  const figure = kind === 'reading' ? { ph: nextFigure(doing, '7') } : { depthToWaterFt: nextFigure(doing, '21') };
  const set = doing.chance.yes(0.5) ? figure : { remark: nextText(doing) };
  await note(doing, id, (now) => now.amend(kind, id, set, { reason: 'misread' }));
};

const voidOne: Action = async (doing, client) => {
  const chosen = await someRecord(doing, client, 'reading', 'water-level', 'purge', 'visit');
  if (!chosen) return;
  const { id, kind } = chosen.record;
  await note(doing, id, (now) => now.voidRecord(kind, id, 'recorded twice'));
};

const rehome: Action = async (doing, client) => {
  const chosen = await someRecord(doing, client, 'visit');
  if (!chosen) return;
  const { id } = chosen.record;
  const set = doing.chance.yes(0.5) ? { well: doing.chance.pick(IDS.wells) } : { event: doing.chance.pick(EVENTS) };
  await note(doing, id, (now) => now.rehome('visit', id, set, 'wrong well of the nest'));
};

const claim: Action = async (doing, client) => {
  const { chance, phone } = doing;
  const observed = await client.observed();
  const crew = chance.pick(CREWS);
  const common = { crew, from: phone.wall(), observed };
  const known = await someRecord(doing, client, 'well-claim', 'sign-out');
  if (known && chance.yes(0.3)) {
    const { kind, id } = known.record;
    await note(doing, id, (now) => now.amend(kind, id, { until: phone.wall() }));
  } else if (chance.yes(0.5)) {
    const fields = { event: IDS.spring, well: chance.pick(IDS.wells), ...common };
    await note(doing, null, (now) => now.record('well-claim', fields));
  } else {
    await note(doing, null, (now) => now.record('sign-out', { unit: chance.pick(IDS.units), ...common }));
  }
};

const officeChange: Action = async (doing, client) => {
  const chosen = await someRecord(doing, client, 'well', 'unit', 'crew');
  if (!chosen) return;
  const { id, kind } = chosen.record;
  const field = kind === 'well' ? 'remark' : kind === 'unit' ? 'serial' : 'name';
  await note(doing, id, (now) => now.amend(kind, id, { [field]: nextText(doing) }));
};

const move: Action = async (doing, client) => {
  const { chance } = doing;
  const what = chance.below(3);
  if (what === 0) {
    const fields = { event: chance.pick(EVENTS), crew: chance.pick(CREWS) };
    await note(doing, null, (now) => now.record('assignment', fields));
    return;
  }
  const chosen = await someRecord(doing, client, what === 1 ? 'assignment' : 'device');
  if (!chosen) return;
  const { id, kind } = chosen.record;
  if (what === 1) await note(doing, id, (now) => now.voidRecord(kind, id, 'the crew is needed elsewhere'));
  else await note(doing, id, (now) => now.amend(kind, id, { crew: chance.pick(CREWS) }));
};

const resolve: Action = async (doing, client) => {
  const open = (await client.conflicts()).filter(({ record }) => record !== null);
  const chosen = doing.chance.maybe(open)?.record;
  if (!chosen) return;
  const { type, shown, kept } = chosen.fields as { type: string; shown: Rival; kept: readonly Rival[] };
  const values = [shown, ...kept].map(({ value }) => value);
  const value = type === 'field' || type === 'void' ? doing.chance.pick(values) : undefined;
  await note(doing, chosen.id, (now) => now.resolve(chosen.id, value));
};

interface Rival {
  readonly value?: unknown;
}

function crewActions(features: Features): Action[] {
  return [
    newVisit,
    newReading,
    newReading,
    newLevel,
    samePurge,
    changeFact,
    changeFact,
    changeFact,
    changeFact,
    changeFact,
    correct,
    correct,
    ...(features.voids ? [voidOne, voidOne] : []),
    ...(features.rehomes ? [rehome, rehome] : []),
    ...(features.claims ? [claim, claim] : []),
    ...(features.poison ? [poison] : []),
    ...(features.equipment ? CREW_WITH_GEAR : []),
  ];
}

function officeActions(features: Features): Action[] {
  return [
    officeChange,
    changeFact,
    ...(features.moves ? [move, move] : []),
    ...(features.resolves ? [resolve, resolve, resolve] : []),
    ...(features.equipment ? OFFICE_WITH_GEAR : []),
  ];
}

/** A person does something on a phone. */
export async function act(doing: Doing): Promise<void> {
  const { phone, features, chance } = doing;
  const office = phone.options.actor.role === 'coordinator';
  if (!office && doing.told.purges.length < (features.begun ? 3 : 2)) {
    await newVisit(doing, phone.client);
    return;
  }
  const actions = office ? officeActions(features) : crewActions(features);
  await chance.pick(actions)(doing, phone.client);
}
