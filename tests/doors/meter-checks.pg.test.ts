import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { statementsOf } from '../reads/statements.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import type { Draft } from '../support/test-firm.ts';
import { clock } from '../support/unit-drafts.ts';
import { ask } from './graphql/ask.ts';
import { RestClient } from './rest/rest-client.ts';

let t: TestApp;
let rest: RestClient;
let crewRest: RestClient;
let token: string;
const meter = v7();
const event = v7();
const other = v7();
const visits = { first: v7(), second: v7(), elsewhere: v7() };
const checks = { morning: v7(), evening: v7() };

function check(id: string, at: string, reading: string): Draft {
  const standard = { nominal: '7.00', valueAtTemperature: '7.00', standardLot: 'B-7' };
  const set = { unit: meter, parameter: 'ph', act: 'checked', part: 'mid', reading, ...standard };
  return { kind: 'calibration-check', id, set: { ...set, observed: t.firm.observed(clock(at)) } };
}

function visit(id: string, of: string, well: string, from: string, readings: readonly [string, string][]): Draft[] {
  const purge = v7();
  const stay = { event: of, well, crew: t.firm.ids.north, method: 'low-flow', arrived: clock(from) };
  return [
    { kind: 'visit', id, set: { ...stay, left: clock('15:00'), outcome: 'sampled' } },
    { kind: 'purge', id: purge, set: { visit: id, began: clock(from) } },
    ...readings.map(
      ([at, ph]): Draft => ({ kind: 'reading', set: { purge, meter, ph, observed: t.firm.observed(clock(at)) } }),
    ),
  ];
}

async function push(drafts: readonly Draft[]): Promise<void> {
  const admin = await t.firm.client('admin');
  const outcomes = await admin.push(...drafts);
  expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
}

beforeAll(async () => {
  t = await testApp();
  rest = new RestClient(t, await t.token('coordinator'));
  token = await t.token('crew', t.firm.ids.phone);
  crewRest = new RestClient(t, token);
  const { site, lone, shallow, north } = t.firm.ids;
  const plan = { criteria: 'epa-region-1-low-stress-rev-4', calibration: { set: 'epa-region-1-field-calibration' } };
  const dates = { site, starts: '2026-05-04', ends: '2026-05-04', standing: 'open', plan };
  const unit = { type: 'multi-parameter-meter', label: 'Meter 9', use: 'shared', ownership: 'owned' };
  await push([
    { kind: 'unit', id: meter, set: unit },
    { kind: 'event', id: event, set: { ...dates, name: 'With limits' } },
    { kind: 'event', id: other, set: { ...dates, name: 'Of another crew' } },
    { kind: 'assignment', set: { event, crew: north } },
    check(checks.morning, '07:35', '7.02'),
    ...visit(visits.first, event, lone, '09:00', [
      ['09:10', '6.90'],
      ['09:20', '6.95'],
    ]),
    ...visit(visits.second, event, shallow, '11:00', [['11:10', '6.80']]),
    ...visit(visits.elsewhere, other, lone, '13:00', [['13:10', '6.80']]),
  ]);
});
afterAll(() => t.close());

const body = async (client: RestClient, path: string) => {
  const answer = await client.get(path);
  expect(answer.status).toBe(200);
  return answer.body;
};

describe('may this meter be used', () => {
  it('is answered from the stored checks and the plan of the event where it was read last', async () => {
    const path = `/units/${meter}/may-be-used?event=${event}&parameter=ph&at=`;
    expect(await body(rest, path + encodeURIComponent(clock('14:00')))).toMatchObject({
      event,
      limits: 'epa-region-1-field-calibration',
      usable: true,
      sensors: [{ parameter: 'ph', usable: true }],
    });
    expect(await body(rest, path + encodeURIComponent(clock('07:00')))).toMatchObject({ usable: false });
    expect(await body(rest, path + encodeURIComponent(clock('05-07 07:00')))).toMatchObject({ usable: false });
  });

  it('finds the event by itself, of those that the reader follows', async () => {
    const path = `/units/${meter}/may-be-used?at=${encodeURIComponent(clock('14:00'))}`;
    expect(await body(rest, path)).toMatchObject({ event: other });
    expect(await body(crewRest, path)).toMatchObject({ event });
    expect((await crewRest.get(`${path}&event=${other}`)).status).toBe(404);
  });

  it('says no after a failed inspection, until one is passed', async () => {
    const path = `/units/${meter}/may-be-used?event=${event}&parameter=ph&at=${encodeURIComponent(clock('14:00'))}`;
    const inspected = (at: string, result: string): Draft => ({
      kind: 'unit-service',
      set: { unit: meter, type: 'inspected', result, observed: t.firm.observed(clock(at)) },
    });
    await push([inspected('07:40', 'fail')]);
    const told = await body(rest, path);
    expect(told.usable).toBe(false);
    expect((told.reasons as string[])[0]).toBe(
      'Meter 9 failed its inspection on 2026-05-04, and no check that it passed is recorded since. Take it out of service, or have it checked again.',
    );
    await push([inspected('07:50', 'pass')]);
    expect(await body(rest, path)).toMatchObject({ usable: true });
  });

  it('is no question of a pump', async () => {
    const told = await body(rest, `/units/${t.firm.ids.pump}/may-be-used`);
    expect(told).toMatchObject({ usable: null });
  });
});

const DAY = `until=${encodeURIComponent(clock('23:00'))}`;

describe('the checks of a meter', () => {
  it('stand before the visits that follow, which wait for a check after them; others see no more than they follow', async () => {
    const told = await body(rest, `/units/${meter}/checks?${DAY}`);
    expect(told).toMatchObject({
      rounds: [{ parameter: 'ph', outcome: 'pass', checks: [checks.morning], after: [] }],
      visits: [
        { visit: visits.elsewhere, sensors: [{ standing: 'pending' }] },
        { visit: visits.second, sensors: [{ parameter: 'ph', readings: 1, standing: 'pending' }] },
        { visit: visits.first, sensors: [{ parameter: 'ph', readings: 2, standing: 'pending', after: null }] },
      ],
      more: false,
    });
    const seen = await body(crewRest, `/units/${meter}/checks?${DAY}`);
    expect((seen.visits as { visit: string }[]).map((one) => one.visit)).toEqual([visits.second, visits.first]);
    expect((await crewRest.get(`/visits/${visits.elsewhere}/meter-checks`)).status).toBe(404);
  });

  it('put readings in question when one fails, and a flag tells it once', async () => {
    await push([check(checks.evening, '17:00', '7.40')]);
    const told = await body(rest, `/units/${meter}/checks?${DAY}`);
    expect(told).toMatchObject({
      rounds: [
        { outcome: 'fail', checks: [checks.evening], after: [visits.elsewhere, visits.second, visits.first] },
        { outcome: 'pass', before: [visits.elsewhere, visits.second, visits.first] },
      ],
      visits: [{}, {}, { sensors: [{ standing: 'in-question' }] }],
    });
    expect(await body(rest, `/visits/${visits.first}/meter-checks`)).toMatchObject({
      limits: 'epa-region-1-field-calibration',
      unnamed: 0,
      meters: [
        {
          unit: meter,
          label: 'Meter 9',
          sensors: [
            {
              parameter: 'ph',
              readings: 2,
              covered: 0,
              inQuestion: 2,
              before: { checks: [checks.morning] },
              after: { checks: [checks.evening], outcome: 'fail' },
            },
          ],
        },
      ],
    });
    const flags = await body(rest, `/flags?subject=${meter}`);
    const rules = (flags.items as { fields: { rule: string } }[]).map(({ fields }) => fields.rule);
    expect(rules.filter((rule) => rule.startsWith('meter-'))).toEqual(['meter-check-failed']);
  });

  it('are the same in GraphQL', async () => {
    const usable = await body(rest, `/units/${meter}/may-be-used?event=${event}`);
    const checked = await body(rest, `/units/${meter}/checks?${DAY}`);
    const ofVisit = await body(rest, `/visits/${visits.first}/meter-checks`);
    const { data } = (await ask(
      t,
      token,
      `{ unit(id: "${meter}") {
          mayBeUsed(event: "${event}") { usable }
          checks(until: "${clock('23:00')}") { visits { visit } rounds { outcome checks } }
        }
        visit(id: "${visits.first}") { meterChecks { meters { label sensors { inQuestion } } } } }`,
    )) as unknown as { data: Record<string, Record<string, Record<string, unknown>>> };
    expect(data.unit?.mayBeUsed?.usable).toBe(usable.usable);
    expect(data.unit?.checks?.rounds).toHaveLength((checked.rounds as unknown[]).length);
    expect(data.visit?.meterChecks?.meters).toEqual([{ label: 'Meter 9', sensors: [{ inQuestion: 2 }] }]);
    expect(ofVisit.meters).toHaveLength(1);
  });

  it('do not stand in the way of the kit: what the crew takes along, by both doors', async () => {
    const { north } = t.firm.ids;
    const observed = t.firm.observed(clock('06:30'));
    await push([
      { kind: 'assignment', set: { event, crew: north, well: t.firm.ids.deep, suites: ['VOC'] } },
      { kind: 'sign-out', set: { unit: meter, crew: north, event, from: clock('06:00'), observed } },
      {
        kind: 'kit-check',
        set: { event, crew: north, items: [{ item: 'Bottles for VOC', found: 0, standing: 'ok' }], observed },
      },
    ]);
    const kit = await body(crewRest, `/events/${event}/kit?crew=${north}&day=2026-05-04`);
    expect(kit).toMatchObject({
      crew: north,
      day: '2026-05-04',
      wells: [{ well: t.firm.ids.deep, suites: ['VOC'] }],
      units: [{ unit: meter, label: 'Meter 9' }],
    });
    expect(kit.items[0]).toMatchObject({ item: 'Bottles for VOC', expected: 1, found: 0, standing: 'missing' });
    expect(kit.findings.map(({ code }: { code: string }) => code)).toContain('kit-item-short');
    const { data } = await ask<{ event: { kit: unknown } }>(
      t,
      token,
      `{ event(id: "${event}") { kit(crew: "${north}", day: "2026-05-04") { items { item standing } } } }`,
    );
    const items = kit.items.map(({ item, standing }: { item: string; standing: string }) => ({
      item,
      standing: standing.toUpperCase().replaceAll('-', '_'),
    }));
    expect(data.event.kit).toEqual({ items });
    expect((await rest.get(`/events/${event}/kit`)).status).toBe(400);
    expect((await crewRest.get(`/events/${other}/kit?crew=${north}`)).status).toBe(404);
  });

  it('are read in a bounded number of statements', async () => {
    const few = await statementsOf(() => crewRest.get(`/visits/${visits.first}/meter-checks`));
    expect(few.sent.length).toBeLessThanOrEqual(8);
    const all = await statementsOf(() => rest.get(`/units/${meter}/checks?${DAY}`));
    expect(all.sent.length).toBeLessThanOrEqual(12);
  });
});
