import { deconProtocol } from '../../src/catalog/decon/decon-protocols.ts';
import { gearOfUnit } from '../../src/rules/decon/gear-of-unit.ts';
import { stepsForGear } from '../../src/rules/decon/steps-for-unit.ts';
import { derivedId } from '../../src/rules/derived-id.ts';
import type { EquipmentRecords } from '../../src/rules/equipment/equipment-records.ts';
import type { CrewDay } from '../rules/equipment/crew-day.ts';
import { at, type Day } from '../rules/equipment/equipment-day.ts';
import type { Draft, TestFirm } from './test-firm.ts';

/** The same name is the same record in every firm, so that firms can be compared. */
export function idOf(name: string): string {
  return derivedId('11111111-1111-4111-8111-111111111111', name);
}

const NAMES = ['unit', 'pump', 'flowCell', 'meter', 'tape', 'visit', 'purge', 'well', 'dedicatedTo', 'part', 'decon'];
const REFERENCES = [...NAMES, 'sample', 'blank', 'event', 'crew'];

/** What a kind asks for and a day of few words does not say. */
const FILLED: Readonly<Record<string, Readonly<Record<string, unknown>>>> = {
  well: { standing: 'in-service', depthsFrom: 'measuring-point' },
  visit: { method: 'low-flow' },
  'water-level': { purpose: 'pumping', state: 'measured', depthToWaterFt: '12.30' },
  reading: { ph: '7.01' },
};

interface Plain {
  readonly kind: string;
  readonly id: string;
  readonly voided: unknown;
  readonly fields: Readonly<Record<string, unknown>>;
}

function namedFields({ fields, kind }: Plain): Record<string, unknown> {
  const entries = Object.entries(fields).filter(([, value]) => value !== null && value !== undefined);
  return Object.fromEntries(
    entries.map(([field, value]) => {
      const isName = REFERENCES.includes(field) && !(field === 'unit' && kind === 'laboratory-result');
      return [field, isName ? idOf(String(value)) : value];
    }),
  );
}

function setOf(firm: TestFirm, record: Plain): Record<string, unknown> {
  const fields = { ...FILLED[record.kind], ...namedFields(record) } as Record<string, unknown>;
  const seen = fields.observed as { readonly at: string; readonly captured: string } | undefined;
  if (seen) fields.observed = firm.observed(seen.at, seen.captured);
  if (record.kind === 'well') fields.site = firm.ids.site;
  if (record.kind === 'purge') fields.began = at('08:00');
  if (record.kind === 'blank') fields.event = idOf('event-1');
  if (record.kind === 'laboratory-result') {
    fields.event = idOf('event-1');
    fields.observed = firm.observed(at('05-25 09:00'), 'from-paper');
  }
  return fields;
}

/** The people and places that a day takes for granted. */
function around(firm: TestFirm, equipment: object): Draft[] {
  const plan = { criteria: 'epa-region-1-low-stress-rev-4', equipment };
  const dates = { starts: '2026-03-01', ends: '2026-05-30' };
  const event = { site: firm.ids.site, name: 'The round', ...dates, standing: 'open', plan };
  return [
    { kind: 'event', id: idOf('event-1'), set: event },
    ...[1, 2, 3].map((crew): Draft => ({ kind: 'crew', id: idOf(`crew-${crew}`), set: { name: `Crew ${crew}` } })),
  ];
}

/** One mutation for each record, and one more for what was voided; in an order in which nothing has to wait. */
export function draftsOf(firm: TestFirm, records: EquipmentRecords, equipment: object): Draft[] {
  const order = ['wells', 'units', 'parts', 'visits', 'purges', 'decons', 'blanks', 'samples'];
  const lists = Object.entries(records) as [string, readonly Plain[]][];
  const place = ([name]: [string, unknown]) => (order.includes(name) ? order.indexOf(name) : order.length);
  const all = lists.toSorted((a, b) => place(a) - place(b)).flatMap(([, list]) => list);
  const plain = all.filter(({ kind }) => kind !== 'event');
  const voided = plain.filter((record) => record.voided !== null);
  return [
    ...around(firm, equipment),
    ...plain.map((one): Draft => ({ kind: one.kind, id: idOf(one.id), set: setOf(firm, one) })),
    ...voided.map(
      ({ kind, id }): Draft => ({ verb: 'void', kind, id: idOf(id), base: { rev: 1 }, reason: 'of a test' }),
    ),
  ];
}

function minuteAfter(time: string, minutes: number): string {
  const [date, clock] = [time.slice(0, 10), time.slice(11, 16)];
  const [hour = 0, minute = 0] = clock.split(':').map(Number);
  const sum = hour * 60 + minute + minutes;
  const text = `${String(Math.floor(sum / 60)).padStart(2, '0')}:${String(sum % 60).padStart(2, '0')}`;
  return `${date.slice(5)} ${text}`;
}

/** Records the steps of every decon as its protocol asks for them; of one that is labelled incomplete not the last. */
export function recordSteps(day: Day): void {
  const types = new Map(day.lists.units.map(({ id, fields }) => [id, fields.type]));
  for (const { id, fields } of day.lists.decons.filter(({ fields }) => fields.ended)) {
    const gear = gearOfUnit(types.get(fields.unit) ?? 'other') ?? 'hand-gear';
    const protocol = deconProtocol(fields.protocol);
    const steps = protocol ? stepsForGear(protocol, gear).filter(({ when }) => when === undefined) : [];
    const recorded = new Set(
      day.lists.deconSteps.filter((step) => step.fields.decon === id).map((step) => step.fields.step),
    );
    Object.assign(fields, { wasteTo: 'drum 1' });
    const last = fields.labelText === 'incomplete' ? steps.length - 1 : steps.length;
    for (const [place, step] of steps.slice(0, last).entries()) {
      if (recorded.has(step.id)) continue;
      const more = {
        ...(step.fluids[0] ? { fluid: step.fluids[0] } : {}),
        ...(step.change ? { lot: `L-${step.change}` } : {}),
      };
      const times = Number(step.leastTimes?.value ?? 1);
      // the new bladder goes in twenty minutes after the beginning
      const minutes = fields.protocol === 'bladder-pump-new-parts' && place >= 6 ? 21 : 0;
      for (let turn = 0; turn < times; turn += 1) day.step(id, step.id, minuteAfter(fields.began, minutes), more);
    }
  }
}

/** What the laboratory had found in the wells two months before. */
export function recordLevels({ day, levels }: CrewDay): void {
  for (const { well, results } of levels.values()) {
    day.visit(`before ${well}`, well, '03-04 08:00', '03-04 09:00');
    day.sample(`before-${well}`, `before ${well}`, '03-04 08:50');
    for (const { value, condition } of results) day.result({ sample: `before-${well}` }, value ?? null, { condition });
  }
}
