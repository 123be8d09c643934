import { at } from '../rules/equipment/equipment-day.ts';
import { idOf } from './equipment-drafts.ts';
import type { Draft } from './test-firm.ts';

/** A record as it is stored. */
export interface Stored {
  readonly kind: string;
  readonly id: string;
  readonly rev: number;
  readonly voided: unknown;
  readonly fields: Readonly<Record<string, unknown>>;
}

type Chance = () => number;

function pick<Item>(items: readonly Item[], chance: Chance): Item {
  return items[Math.floor(chance() * items.length)] as Item;
}

const UNITS = ['P-1', 'P-2', 'P-3', 'P-4', 'T-1', 'T-2', 'M-1', 'M-2'].map(idOf);
const WELLS = ['MW-11', 'MW-12', 'MW-23', 'MW-33', 'MW-34'].map(idOf);
const PARTS = ['bladder-11', 'bladder-22', 'bladder-33', 'line-9', 'hose-9'].map(idOf);

function time(chance: Chance): string {
  const two = (most: number, least = 0) => String(least + Math.floor(chance() * most)).padStart(2, '0');
  return at(`${chance() < 0.1 ? '05-05 ' : ''}${two(11, 7)}:${two(60)}`);
}

/** What may be corrected of each kind, one field at a time. */
const CHANGES: Readonly<Record<string, (chance: Chance, was: Stored['fields']) => object>> = {
  visit: (chance) => pick([{ left: time(chance) }, { arrived: time(chance) }], chance),
  'pump-set-up': (chance, { observed }) =>
    pick([{ pump: pick(UNITS, chance) }, { observed: { ...(observed as object), at: time(chance) } }], chance),
  reading: (chance, { observed }) =>
    pick([{ meter: pick(UNITS, chance) }, { observed: { ...(observed as object), at: time(chance) } }], chance),
  'water-level': (chance, { observed }) =>
    pick([{ tape: pick(UNITS, chance) }, { observed: { ...(observed as object), at: time(chance) } }], chance),
  'unit-use': (chance) =>
    pick([{ unit: pick(UNITS, chance) }, { how: 'on-the-line' }, { until: time(chance) }], chance),
  decon: (chance) => pick([{ began: time(chance) }, { ended: time(chance) }, { protocol: 'pump-flush' }], chance),
  'decon-step': (chance) => pick([{ done: chance() < 0.5 }, { part: pick(PARTS, chance) }], chance),
  'part-change': (chance) =>
    pick([{ part: pick(PARTS, chance) }, { action: pick(['installed', 'removed', 'discarded'], chance) }], chance),
  part: (chance) => pick([{ label: 'renamed' }, { dedicatedTo: pick(WELLS, chance) }, { material: 'PTFE' }], chance),
  unit: (chance) =>
    pick(
      [{ label: `unit ${chance()}` }, { type: 'bladder-pump' }, { type: 'peristaltic-pump' }, { use: 'shared' }],
      chance,
    ),
  well: (chance) =>
    pick(
      [{ name: `well ${Math.floor(chance() * 99)}` }, { assignedClass: 'high' }, { contaminants: ['pfas'] }],
      chance,
    ),
  sample: (chance) => pick([{ suites: ['PFAS 1633'] }, { collected: time(chance) }], chance),
  blank: (chance) => pick([{ unit: pick(UNITS, chance) }, { collected: time(chance) }, { type: 'field' }], chance),
  'laboratory-result': (chance) =>
    pick([{ condition: 'detected', value: '900' }, { condition: 'not-detected' }, { value: '3' }], chance),
  'sign-out': (chance) => pick([{ until: time(chance) }, { from: time(chance) }], chance),
  'unit-service': (chance) =>
    pick([{ type: 'returned' }, { type: 'out-of-service' }, { dueNext: '2026-05-02' }], chance),
  occurrence: (chance) => pick([{ type: 'other' }, { type: 'drive-gas-in-discharge' }], chance),
};

export const CHANGING = Object.keys(CHANGES);

/** A correction, a void or a move of a record that is stored, or something that was recorded late. */
export function changeOf(stored: readonly Stored[], chance: Chance): Draft {
  const kind = pick(CHANGING, chance);
  const of = stored.filter((one) => one.kind === kind);
  if (of.length === 0) return changeOf(stored, chance);
  const { id, rev, fields } = pick(of, chance);
  const common = { kind, id, base: { rev }, reason: 'of a test' };
  if (kind === 'visit' && chance() < 0.4) return { ...common, verb: 'rehome', set: { well: pick(WELLS, chance) } };
  if (chance() < 0.15 && kind !== 'unit' && kind !== 'well') return { ...common, verb: 'void' };
  return { ...common, verb: 'amend', set: { ...CHANGES[kind]?.(chance, fields) } };
}
