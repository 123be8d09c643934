import { analyteSuite } from '../../../src/protocol/kinds/analyte-suite.ts';
import type { RecordState } from '../../../src/protocol/record.ts';
import { numberDrawer, numberSpace } from '../../../src/rules/sampling-plan/draw-number.ts';

type Chance = () => number;
type Fields = Readonly<Record<string, unknown>>;

/** A record with the step of the round in which it was made. */
interface Made {
  readonly step: number;
  readonly state: RecordState;
}

/** A round with blind duplicates as planners and crews make one, each choice by chance. */
export interface BlindRound {
  readonly firm: string;
  readonly event: RecordState;
  readonly laboratory: string;
  /** The records as they stood at each step; a cooler is closed in the last step of its day. */
  readonly states: (step: number) => readonly RecordState[];
  readonly steps: number;
  /** Own number of each blind duplicate, with that of its parent. */
  readonly pairs: ReadonlyMap<string, string>;
}

export interface RoundOptions {
  /** The double that tells a laboratory the truth: the next number and the time of the field. */
  readonly isOpen: boolean;
  /** Crews write the time of each blind duplicate themselves, among those of the day and not later than it was taken. */
  readonly isWritten?: boolean;
}

const CREWS = 2;
const DAYS = 2;
const WELLS = 8;
const BLIND_A_DAY = 2;
const COOLERS_A_DAY = 2;
const DAY_ONE = Date.parse('2026-05-04T13:00:00Z');

function pick<Item>(items: readonly Item[], chance: Chance): Item {
  const item = items[Math.floor(chance() * items.length)];
  if (item === undefined) throw new Error('nothing to pick from');
  return item;
}

class Round {
  readonly #chance: Chance;
  readonly #isOpen: boolean;
  readonly #isWritten: boolean;
  readonly made: Made[] = [];
  readonly pairs = new Map<string, string>();
  readonly numbers: () => string;
  readonly event: RecordState;
  readonly laboratory: string;
  step = 0;
  #ids = 0;

  constructor(chance: Chance, { isOpen, isWritten = false }: RoundOptions) {
    this.#chance = chance;
    this.#isOpen = isOpen;
    this.#isWritten = isWritten;
    this.numbers = numberDrawer(numberSpace('2026-05-04', new Set(), 200), new Set(), chance);
    const site = this.add('site', { name: 'Old Depot', timeZone: 'America/Chicago' });
    const plan = { criteria: 'epa-region-1-low-stress-rev-4', sampling: { suites: ['volatiles', 'metals'] } };
    const when = { starts: '2026-05-04', ends: '2026-05-05' };
    this.event = this.state('event', { site, name: 'Round', ...when, standing: 'open', plan });
    this.laboratory = this.add('laboratory', { name: 'Testlab', timeZone: 'America/Chicago', receiving: [] });
    for (const [name, group] of [
      ['volatiles', 'volatiles'],
      ['metals', 'metals-total'],
    ]) {
      this.add('analyte-suite', analyteSuite.fields.parse({ name, groups: [{ group }] }));
    }
  }

  /** Ids go by time, as those of phones do. */
  state(kind: string, fields: Fields): RecordState {
    this.#ids += 1;
    const hex = this.#ids.toString(16).padStart(8, '0');
    const id = `0190${hex.slice(0, 4)}-${hex.slice(4)}-7${Math.floor(this.#chance() * 4096)
      .toString(16)
      .padStart(3, '0')}-8000-${Math.floor(this.#chance() * 2 ** 47)
      .toString(16)
      .padStart(12, '0')}`;
    const state = {
      kind,
      id,
      rev: 1,
      voided: null,
      by: null,
      client: null,
      mutation: null,
      reason: null,
      clock: null,
      fields,
    };
    this.made.push({ step: this.step, state });
    return state;
  }

  add(kind: string, fields: Fields): string {
    return this.state(kind, fields).id;
  }

  amend(id: string, set: Fields): void {
    const before = this.made.findLast(({ state }) => state.id === id)?.state;
    if (!before) throw new Error(`no record ${id}`);
    this.made.push({
      step: this.step,
      state: { ...before, rev: before.rev + 1, fields: { ...before.fields, ...set } },
    });
  }

  bottles(sample: Fields, told: string, when: { at: string; cooler: string }): void {
    for (const [place, group] of ['volatiles', 'metals-total'].entries()) {
      const parts = { type: place === 0 ? 'vial' : 'bottle', volumeMl: place === 0 ? '40' : '250' };
      const label = `${told}-${place + 1}`;
      const event = this.event.id;
      const fields = { event, ...sample, group, suite: place === 0 ? 'volatiles' : 'metals', ...parts, label };
      const container = this.add('container', { ...fields, cooler: when.cooler, standing: 'filled' });
      const observed = {
        at: when.at,
        entered: when.at,
        captured: 'at-the-well',
        readBy: container,
        writtenBy: container,
      };
      this.add('fill', { container, collected: when.at, preserved: true, observed });
    }
  }

  /** A plan is made before anybody goes out: which well is duplicated is chosen on the way. */
  plan(type: 'normal' | 'blind-duplicate', well?: string) {
    const number = this.numbers();
    const where = { event: this.event.id, ...(well === undefined ? {} : { well }) };
    const its = { number, type, suites: ['volatiles', 'metals'], standing: 'planned', laboratory: this.laboratory };
    return { number, id: this.add('planned-sample', { ...where, ...its }) };
  }

  /** The told number beside that of the parent, and the true time: what blinding is there against. */
  openly(parent: string, at: string): Fields {
    if (!this.#isOpen) return {};
    const [prefix, digits] = parent.split('-');
    return { laboratoryNumber: `${prefix}-${Number(digits) + 1}`, laboratoryTime: at };
  }

  /** Any time of the day so far at which nothing else was taken. */
  writtenTime(taken: readonly number[], own: number): Fields {
    if (!this.#isWritten) return {};
    const first = Math.min(...taken);
    const grid = Array.from({ length: (own - first) / 300_000 }, (_, at) => own - at * 300_000);
    const free = grid.filter((ms) => !taken.includes(ms));
    return { laboratoryTime: new Date(pick(free, this.#chance)).toISOString().replace('.000', '') };
  }

  workDay(crew: string, day: number): void {
    const chance = this.#chance;
    const coolers = Array.from({ length: COOLERS_A_DAY }, (_, at) =>
      this.add('cooler', {
        event: this.event.id,
        number: `C-${crew.slice(9, 13)}-${day}-${at}`,
        laboratory: this.laboratory,
      }),
    );
    const planned = Array.from({ length: WELLS }, (_, at) => {
      const well = this.add('well', { site: this.event.fields.site, name: `W-${crew.slice(9, 13)}${day}${at}` });
      return { well, ...this.plan('normal', well) };
    });
    const blind = Array.from({ length: BLIND_A_DAY }, () => this.plan('blind-duplicate'));
    const chosen = new Set<number>();
    while (chosen.size < BLIND_A_DAY) chosen.add(Math.floor(chance() * WELLS));
    const taken: number[] = [];
    let ms = DAY_ONE + day * 86_400_000 + Math.floor(chance() * 12) * 300_000;
    planned.forEach(({ well, number, id }, at) => {
      this.step += 1;
      taken.push(ms);
      const time = new Date(ms).toISOString().replace('.000', '');
      const visit = this.add('visit', { event: this.event.id, well, crew, method: 'low-flow', arrived: time });
      const fields = {
        visit,
        number,
        suites: ['volatiles', 'metals'],
        collected: time,
        planned: id,
        laboratory: this.laboratory,
      };
      const parent = this.add('sample', { ...fields, type: 'normal' });
      this.bottles({ sample: parent, planned: id }, number, { at: time, cooler: pick(coolers, chance) });
      const twin = chosen.has(at) ? blind[[...chosen].indexOf(at)] : undefined;
      if (twin) {
        const later = new Date(ms + 300_000).toISOString().replace('.000', '');
        const openly = this.openly(number, later);
        const own = {
          ...fields,
          number: twin.number,
          collected: later,
          planned: twin.id,
          type: 'blind-duplicate',
          of: parent,
        };
        const sample = this.add('sample', { ...own, ...openly, ...this.writtenTime(taken, ms + 300_000) });
        const told = (openly.laboratoryNumber as string | undefined) ?? twin.number;
        this.bottles({ sample, planned: twin.id }, told, { at: later, cooler: pick(coolers, chance) });
        this.pairs.set(told, number);
      }
      ms += (6 + Math.floor(chance() * 12)) * 300_000;
    });
    this.step += 1;
    for (const cooler of coolers) this.amend(cooler, { packed: new Date(ms).toISOString() });
  }
}

/** The records of a round, step by step: every stop at a well is one, and the closing of the coolers of a day. */
export function blindRound(chance: Chance, options: RoundOptions): BlindRound {
  const round = new Round(chance, options);
  const crews = Array.from({ length: CREWS }, (_, at) => round.add('crew', { name: `Crew ${at}` }));
  for (let day = 0; day < DAYS; day++) for (const crew of crews) round.workDay(crew, day);
  const { made, event, laboratory, pairs, step: steps } = round;
  const states = (until: number) => {
    // the plan was made before anybody went out
    const asOf = made.filter(({ step, state }) => step <= until || state.kind === 'planned-sample');
    return [...new Map(asOf.map(({ state }) => [state.id, state])).values()];
  };
  return { firm: '0190ffff-0000-7000-8000-000000000000', event, laboratory, states, steps, pairs };
}
