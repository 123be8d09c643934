import type { FieldClient } from '../../src/client/client.ts';
import type { ViewRecord } from '../../src/client/overlay.ts';
import { IDS } from './base-firm.ts';
import { type Action, type Doing, nextText, note, someRecord, standing } from './doing.ts';

/** With the steps of it that a crew may come to; the others are left open, and then it is not complete. */
const PROTOCOLS = {
  'tape-wipe-down': ['wipe-tape', 'rinse-probe', 'solvent-wipe', 'rinse-after-solvent', 'bag'],
  'meter-rinse': ['empty-cell', 'wipe', 'rinse', 'bag'],
  'hand-gear-wash': ['brush-and-rinse', 'detergent-wash', 'potable-rinse', 'distilled-rinse', 'wrap-and-label'],
} as const;
const NAMES = ['tape-wipe-down', 'meter-rinse', 'hand-gear-wash'] as const;

/** A unit is cleaned, step by step; now and then nobody says that it ended, or a step is left out. */
const clean: Action = async (doing, client) => {
  const { chance, phone } = doing;
  const protocol = chance.pick(NAMES);
  const observed = await client.observed();
  const ended = chance.yes(0.7) ? { ended: phone.wall() } : {};
  const fields = { unit: chance.pick(IDS.units), protocol, began: phone.wall(), ...ended, observed };
  const decon = await note(doing, null, () => client.record('decon', fields));
  if (decon === null) return;
  const whole = chance.yes(0.6);
  for (const step of PROTOCOLS[protocol]) {
    if (!phone.isOn || (!whole && chance.yes(0.5))) return;
    const set = { decon, step, done: whole || chance.yes(0.7), observed: await phone.client.observed() };
    await note(doing, null, (now) => now.record('decon-step', set));
  }
};

/** What was said of a decon, a step or a stay in a well is mended, ended or withdrawn. */
const mendOne: Action = async (doing, client) => {
  const chosen = await someRecord(doing, client, 'decon', 'unit-use', 'decon-step', 'part-change', 'pump-set-up');
  if (!chosen) return;
  const { chance, phone } = doing;
  const { kind, id } = chosen.record;
  if (chance.yes(0.5)) {
    await note(doing, id, (now) => now.voidRecord(kind, id, 'recorded of the wrong unit'));
  } else if (kind === 'decon' || kind === 'unit-use') {
    const set = kind === 'decon' ? { ended: phone.wall() } : { until: phone.wall() };
    await note(doing, id, (now) => now.amend(kind, id, set));
  } else {
    await note(doing, id, (now) => now.amend(kind, id, { remark: nextText(doing) }, { reason: 'misread' }));
  }
};

/** A bladder comes into the pump, or out of it; the first one is entered for that. */
const changePart: Action = async (doing, client) => {
  const known = await someRecord(doing, client, 'part');
  const part =
    known && doing.chance.yes(0.6)
      ? known.record.id
      : await note(doing, null, (now) => now.record('part', { type: 'bladder', label: nextText(doing) }));
  if (part === null || !doing.phone.isOn) return;
  const action = doing.chance.pick(['installed', 'installed', 'removed', 'discarded'] as const);
  const fields = { unit: IDS.units[0], part, action, observed: await doing.phone.client.observed() };
  await note(doing, null, (now) => now.record('part-change', fields));
};

async function someVisit(doing: Doing, client: FieldClient): Promise<ViewRecord | undefined> {
  return doing.chance.maybe(standing(await client.all('visit')));
}

/** A unit goes down a well, or is set up as the pump of it. */
const useUnit: Action = async (doing, client) => {
  const visit = (await someVisit(doing, client))?.record.id;
  if (visit === undefined) return;
  const { chance, phone } = doing;
  const observed = await client.observed();
  if (chance.yes(0.3)) {
    const fields = { visit, pump: IDS.units[0], flowCell: IDS.units[1], observed };
    await note(doing, null, (now) => now.record('pump-set-up', fields));
    return;
  }
  const until = chance.yes(0.5) ? { until: phone.wall() } : {};
  const fields = { visit, unit: chance.pick(IDS.units), how: 'down-the-well', from: phone.wall(), ...until, observed };
  await note(doing, null, (now) => now.record('unit-use', fields));
};

/** The office looks at what the server says of a unit. */
const review: Action = async (doing, client) => {
  const flags = standing(await client.all('flag')).filter(({ record }) => record.fields.unit !== undefined);
  const chosen = doing.chance.maybe(flags)?.record;
  if (!chosen) return;
  const { evidenceHash } = chosen.fields;
  const observed = await client.observed();
  const fields = { flag: chosen.id, evidenceHash, decision: 'no-action', observed };
  await note(doing, null, (now) => now.record('flag-review', fields));
};

/** What is painted on a unit is told of every well that it was in. */
const relabel: Action = async (doing) => {
  const id = doing.chance.pick(IDS.units);
  await note(doing, id, (now) => now.amend('unit', id, { label: nextText(doing) }));
};

/** A visit ends, and has a summary beside its well from then on. */
const leave: Action = async (doing, client) => {
  const chosen = await someVisit(doing, client);
  if (!chosen) return;
  const { id } = chosen.record;
  await note(doing, id, (now) => now.amend('visit', id, { left: doing.phone.wall(), outcome: 'no-access' }));
};

/** The office goes through the day's paper in one sitting: a label, a visit beside one that ended, a flag. */
const deskWork: Action = async (doing, client) => {
  await relabel(doing, client);
  const ended = standing(await client.all('visit')).filter(({ record }) => record.fields.left !== undefined);
  const beside = doing.chance.maybe(ended)?.record.fields;
  if (beside) {
    const { event, well, crew } = beside;
    const fields = { event, well, crew, method: 'low-flow', arrived: doing.phone.wall() };
    await note(doing, null, (now) => now.record('visit', fields));
  }
  await review(doing, client);
};

export const CREW_WITH_GEAR: readonly Action[] = [
  ...[clean, clean, changePart, changePart],
  ...[useUnit, useUnit, useUnit, leave, leave, mendOne],
];
export const OFFICE_WITH_GEAR: readonly Action[] = [
  ...[clean, useUnit, leave],
  ...[mendOne, mendOne, relabel, review, deskWork, deskWork, deskWork],
];
