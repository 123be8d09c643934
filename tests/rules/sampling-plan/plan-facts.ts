import type { RecordState } from '../../../src/protocol/record.ts';
import { derivedId } from '../../../src/rules/derived-id.ts';
import { eventSamples } from '../../../src/rules/samples/event-samples.ts';
import { planChanges } from '../../../src/rules/sampling-plan/plan-changes.ts';
import type { PlanningFacts } from '../../../src/rules/sampling-plan/planning-facts.ts';
import { type PlanProposal, proposePlan } from '../../../src/rules/sampling-plan/propose-plan.ts';
import { seeded } from '../../support/faulty-pool.ts';

type Fields = Readonly<Record<string, unknown>>;

export const FIRM = '11111111-1111-4111-8111-111111111111';

export function idOf(name: string): string {
  return derivedId(FIRM, 'test', name);
}

const SUITES: Readonly<Record<string, readonly Fields[]>> = {
  VOC: [{ group: 'volatiles' }],
  SVOC: [{ group: 'semivolatiles' }],
  Metals: [{ group: 'metals-total' }],
  PFAS: [{ group: 'pfas-1633' }],
  Nutrients: [{ group: 'ammonia' }, { group: 'nitrate-plus-nitrite' }, { group: 'phosphorus-total' }],
  Ions: [{ group: 'chloride' }, { group: 'sulfate' }, { group: 'nitrate' }],
};

export interface RoundOf {
  readonly wells: number;
  readonly suites?: readonly string[];
  readonly sampling?: Fields;
  readonly equipment?: Fields;
  readonly starts?: string;
  readonly ends?: string;
  readonly laboratories?: number;
  readonly crews?: number;
}

export function wellName(at: number): string {
  return `W-${String(at).padStart(3, '0')}`;
}

/** An event with its wells, as records; what a plan writes comes back among them. */
export class TestRound {
  readonly states = new Map<string, RecordState>();
  readonly event = idOf('event');
  lastResults: PlanningFacts['lastResults'] = new Map();
  summaries: PlanningFacts['summaries'] = new Map();
  pumps: PlanningFacts['pumps'] = [];
  pumpDays: PlanningFacts['pumpDays'] = [];
  #chance: () => number;

  constructor(given: RoundOf, seed = 7) {
    this.#chance = seeded(seed);
    const { wells, suites = ['VOC'], sampling, equipment, laboratories = 1, crews = 2 } = given;
    const { starts = '2026-05-04', ends = '2026-05-04' } = given;
    const plan = { criteria: 'epa-region-1-low-stress-rev-4', ...(sampling ? { sampling } : {}), equipment };
    const event = { site: idOf('site'), name: 'Spring', starts, ends, standing: 'open', plan: { ...plan } };
    this.put('event', this.event, event);
    this.put('site', idOf('site'), { name: 'Old Depot', timeZone: 'America/Chicago' });
    for (let at = 1; at <= crews; at += 1) this.put('crew', idOf(`crew-${at}`), { name: `Crew ${at}` });
    for (let at = 1; at <= laboratories; at += 1)
      this.put('laboratory', idOf(`lab-${at}`), { name: `Laboratory ${at}`, timeZone: 'UTC', receiving: [] });
    for (const [name, groups] of Object.entries(SUITES))
      this.put('analyte-suite', idOf(`suite ${name}`), { name, groups });
    for (let at = 1; at <= wells; at += 1) this.well(at, suites, 1 + (at % crews));
  }

  well(at: number, suites: readonly string[], crew = 1, more: Fields = {}): void {
    const name = wellName(at);
    const fields = { site: idOf('site'), name, standing: 'in-service', depthsFrom: 'ground', ...more };
    this.put('well', idOf(name), fields);
    const assigned = { event: this.event, crew: idOf(`crew-${crew}`), well: idOf(name), suites };
    this.put('assignment', idOf(`assignment ${name}`), assigned);
  }

  put(kind: string, id: string, fields: Fields): void {
    const rev = (this.states.get(id)?.rev ?? 0) + 1;
    const nobody = { voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
    this.states.set(id, { kind, id, rev, ...nobody, fields });
  }

  amend(id: string, set: Fields): void {
    const before = this.states.get(id);
    if (!before) throw new Error(`no record ${id}`);
    const entries = Object.entries({ ...before.fields, ...set }).filter(([, value]) => value !== null);
    this.put(before.kind, id, Object.fromEntries(entries));
  }

  void(id: string): void {
    const before = this.states.get(id);
    if (before) this.states.set(id, { ...before, voided: { reason: 'of a test', by: null } });
  }

  /** A well drops out: nobody is assigned to it any more. */
  dropWell(at: number): void {
    this.void(idOf(`assignment ${wellName(at)}`));
  }

  /** A visit that takes what is planned there, or another sample. */
  sample(at: number, more: Fields = {}, left = true): string {
    const visit = idOf(`visit ${wellName(at)}`);
    const times = { arrived: '2026-05-04T09:00:00-05:00', ...(left ? { left: '2026-05-04T11:00:00-05:00' } : {}) };
    const outcome = left ? { outcome: 'sampled' } : {};
    const crew = idOf(`crew-${1 + (at % 2)}`);
    this.put('visit', visit, {
      event: this.event,
      well: idOf(wellName(at)),
      crew,
      method: 'low-flow',
      ...times,
      ...outcome,
    });
    const id = idOf(`sample ${wellName(at)} ${String(more.type ?? 'normal')}`);
    const planned = [...this.states.values()].find(
      ({ kind, fields }) =>
        kind === 'planned-sample' && fields.well === idOf(wellName(at)) && fields.type === (more.type ?? 'normal'),
    );
    const link = planned ? { planned: planned.id, number: planned.fields.number, suites: planned.fields.suites } : {};
    const collected = '2026-05-04T10:30:00-05:00';
    this.put('sample', id, { visit, number: `S-${at}`, suites: ['VOC'], collected, ...link, ...more });
    return id;
  }

  facts(): PlanningFacts {
    const all = [...this.states.values()];
    const event = this.states.get(this.event);
    if (!event) throw new Error('the round has no event');
    const numbered = all.filter(({ kind }) => ['planned-sample', 'sample', 'blank'].includes(kind));
    return {
      firm: FIRM,
      samples: eventSamples(event, all),
      numbersGiven: new Set(numbered.flatMap(({ fields }) => [String(fields.number), String(fields.laboratoryNumber)])),
      labelsGiven: new Set(all.flatMap(({ kind, fields }) => (kind === 'container' ? [String(fields.label)] : []))),
      voided: new Set(all.flatMap(({ id, voided }) => (voided ? [id] : []))),
      lastResults: this.lastResults,
      summaries: this.summaries,
      pumps: this.pumps,
      pumpDays: this.pumpDays,
    };
  }

  propose(): PlanProposal {
    return proposePlan(this.facts());
  }

  /** Writes what the plan proposes, or the first so many lists of it. */
  plan(most = Number.POSITIVE_INFINITY): PlanProposal {
    const facts = this.facts();
    const proposal = proposePlan(facts);
    for (const { verb, kind, id, set } of planChanges(proposal, facts, this.#chance).slice(0, most).flat()) {
      if (verb === 'record') {
        if (this.states.has(id)) throw new Error(`${kind} ${id} is there already`);
        this.put(kind, id, Object.fromEntries(Object.entries(set).filter(([, value]) => value !== null)));
      } else this.amend(id, set);
    }
    return proposal;
  }

  ofKind(kind: string): RecordState[] {
    return [...this.states.values()].filter((state) => state.kind === kind && state.voided === null);
  }

  planned(type?: string, standing = 'planned'): RecordState[] {
    const all = this.ofKind('planned-sample').filter(({ fields }) => fields.standing === standing);
    return type === undefined ? all : all.filter(({ fields }) => fields.type === type);
  }

  containersOf(planned: string): RecordState[] {
    return this.ofKind('container').filter(({ fields }) => fields.planned === planned);
  }
}
