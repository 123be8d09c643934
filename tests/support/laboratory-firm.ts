import { v7 } from 'uuid';
import { RestClient } from '../doors/rest/rest-client.ts';
import { type TestApp, testApp } from './test-app.ts';
import type { Draft, TestClient } from './test-firm.ts';
import { minute } from './visit-drafts.ts';

type Fields = Readonly<Record<string, unknown>>;

export interface LaboratoryIds {
  readonly laboratory: string;
  readonly other: string;
  readonly volatiles: string;
  readonly metals: string;
}

interface Speakers {
  readonly office: RestClient;
  readonly crew: RestClient;
  readonly laboratory: RestClient;
  readonly other: RestClient;
}

/** A firm with two laboratories: what goes to which is said by its coolers. */
export class LaboratoryFirm {
  readonly t: TestApp;
  readonly ids: LaboratoryIds;
  readonly office: RestClient;
  readonly crew: RestClient;
  readonly laboratory: RestClient;
  readonly other: RestClient;
  readonly #phone: TestClient;

  constructor(t: TestApp, phone: TestClient, ids: LaboratoryIds, { office, crew, laboratory, other }: Speakers) {
    this.t = t;
    this.#phone = phone;
    this.ids = ids;
    this.office = office;
    this.crew = crew;
    this.laboratory = laboratory;
    this.other = other;
  }

  get event(): string {
    return this.t.firm.ids.event;
  }

  /** @throws where one was not applied */
  async push(...drafts: readonly Draft[]): Promise<void> {
    for (let at = 0; at < drafts.length; at += 200) await mustApply(this.#phone, drafts.slice(at, at + 200));
  }

  async record(kind: string, set: Fields, id = v7()): Promise<string> {
    await this.push({ kind, id, set });
    return id;
  }

  async amend(kind: string, id: string, set: Fields): Promise<void> {
    await this.push({ verb: 'amend', kind, id, set, base: { rev: 100 } });
  }

  cooler(number: string, more: Fields = {}): Promise<string> {
    const { event } = this;
    return this.record('cooler', { event, number, laboratory: this.ids.laboratory, ...more });
  }

  /** A sample taken at a well, as drafts, with a bottle a group. */
  sampleDrafts(
    given: { number: string; at: string; cooler: string; well?: string } & Fields,
    groups: readonly string[] = ['volatiles', 'metals'],
  ): Draft[] {
    const { number, at, cooler, well = this.t.firm.ids.lone, ...more } = given;
    const { event } = this;
    const { north } = this.t.firm.ids;
    const [visit, sample] = [v7(), v7()];
    const told = (more.laboratoryNumber as string | undefined) ?? number;
    const bottles = groups.flatMap((suite, place): Draft[] => {
      const container = v7();
      const group = suite === 'volatiles' ? 'volatiles' : 'metals-total';
      const parts = suite === 'volatiles' ? { type: 'vial', volumeMl: '40' } : { type: 'bottle', volumeMl: '250' };
      const set = { event, sample, group, suite, ...parts, label: `${told}-${place + 1}`, cooler, standing: 'filled' };
      const fill = { container, visit, collected: at, preserved: true, observed: this.t.firm.observed(at) };
      return [
        { kind: 'container', id: container, set },
        { kind: 'fill', id: v7(), set: fill },
      ];
    });
    return [
      { kind: 'visit', id: visit, set: { event, well, crew: north, method: 'low-flow', arrived: at } },
      { kind: 'sample', id: sample, set: { visit, number, suites: groups, collected: at, ...more } },
      ...bottles,
    ];
  }

  sample(
    given: { number: string; at: string; cooler: string; well?: string } & Fields,
    groups?: readonly string[],
  ): Promise<void> {
    return this.push(...this.sampleDrafts(given, groups));
  }
}

/** What the suites of the firm order. */
const SUITES = {
  volatiles: {
    name: 'volatiles',
    groups: [{ group: 'volatiles' }],
    analytes: [
      { name: 'Benzene', casNumber: '71-43-2', reportingLimit: '0.5', unit: 'ug/L' },
      { name: 'Toluene', casNumber: '108-88-3', reportingLimit: '0.5', unit: 'ug/L' },
    ],
    turnaroundDays: 10,
  },
  metals: {
    name: 'metals',
    groups: [{ group: 'metals-total' }],
    analytes: [{ name: 'Arsenic', casNumber: '7440-38-2', reportingLimit: '1.0', unit: 'ug/L' }],
  },
};

async function mustApply(client: TestClient, drafts: readonly Draft[]): Promise<void> {
  const outcomes = await client.push(...drafts);
  const bad = outcomes.filter(({ outcome }) => outcome !== 'applied');
  if (bad.length > 0) throw new Error(`not applied: ${JSON.stringify(bad.slice(0, 3))}`);
}

export async function laboratoryFirm(): Promise<LaboratoryFirm> {
  const t = await testApp();
  const ids = { laboratory: v7(), other: v7(), volatiles: v7(), metals: v7() };
  const phone = await t.firm.client('admin');
  const laboratory = (id: string, name: string): Draft => ({
    kind: 'laboratory',
    id,
    set: { name, timeZone: 'America/Chicago', receiving: [{ day: 'tuesday', from: '08:00', until: '17:00' }] },
  });
  await mustApply(phone, [
    laboratory(ids.laboratory, 'Testlab'),
    laboratory(ids.other, 'Otherlab'),
    { kind: 'analyte-suite', id: ids.volatiles, set: SUITES.volatiles },
    { kind: 'analyte-suite', id: ids.metals, set: SUITES.metals },
  ]);
  const office = new RestClient(t, await t.token('admin'));
  const tokenFor = async (id: string) => {
    const given = { label: id, role: 'laboratory', laboratory: id };
    return new RestClient(t, String((await office.post('/tokens', given)).body.secret));
  };
  const crew = new RestClient(t, await t.token('crew', t.firm.ids.phone));
  const speakers = { office, crew, laboratory: await tokenFor(ids.laboratory), other: await tokenFor(ids.other) };
  return new LaboratoryFirm(t, phone, ids, speakers);
}

export { minute };
