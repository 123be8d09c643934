import { describe, expect, it } from 'vitest';
import { isTaken } from '../../../src/rules/decide/decision.ts';
import { fieldConflicts } from '../../../src/rules/derive/field-conflicts.ts';
import { EVENT, FIRM, FIRST_FIELDS, idOf, OBSERVED, VISIT, WELL } from '../merge/merge-world.ts';
import { SimulatedServer, sent } from '../merge/simulated-server.ts';

const [PUMP, OTHER_PUMP, DECON, USE, NEXT_VISIT] = [1, 2, 3, 4, 5].map((number) => idOf(0xd0, number)) as [
  string,
  string,
  string,
  string,
  string,
];
const BEGAN = '2026-05-04T10:05:00-05:00';
const ENDED = '2026-05-04T10:40:00-05:00';

/** A decon that phone 9 began, and a pump that it put down a well; both go on. */
function server(): SimulatedServer {
  const made = new SimulatedServer();
  const record = (mutationId: number, kind: string, id: string, set: object) =>
    expect(made.take(sent(9, { mutationId, verb: 'record', kind, id, set }))).toMatchObject({ outcome: 'applied' });
  const unit = { type: 'bladder-pump', serial: 'S-1', use: 'shared', ownership: 'owned' };
  record(1, 'unit', PUMP, { ...unit, label: 'P-1' });
  record(2, 'unit', OTHER_PUMP, { ...unit, label: 'P-2' });
  record(3, 'visit', VISIT, FIRST_FIELDS.visit ?? {});
  record(4, 'visit', NEXT_VISIT, { ...FIRST_FIELDS.visit, event: EVENT, well: WELL });
  record(5, 'decon', DECON, { unit: PUMP, protocol: 'downhole-pump-flush', began: BEGAN, observed: OBSERVED });
  const use = { visit: VISIT, unit: PUMP, how: 'down-the-well', from: BEGAN, observed: OBSERVED };
  record(6, 'unit-use', USE, use);
  return made;
}

/** Of somebody who saw the record as it was begun, and gives no reason. */
function amends(phone: number, kind: string, id: string, set: object) {
  return sent(phone, { mutationId: 1, verb: 'amend', kind, id, base: { rev: 1 }, set });
}

describe('a record of equipment that is begun and ended', () => {
  it.each([
    ['decon', DECON, { ended: ENDED }, { wasteTo: 'Drum 3' }],
    ['unit-use', USE, { until: ENDED }, { remark: 'hung at 40 ft' }],
  ])(
    '[M1] takes what was missing without a reason, from two phones that did not know of each other: %s',
    (kind, id, one, other) => {
      for (const order of [
        [amends(1, kind, id, one), amends(2, kind, id, other)],
        [amends(2, kind, id, other), amends(1, kind, id, one)],
      ]) {
        const made = server();
        expect(order.map((change) => made.take(change).outcome)).toEqual(['applied', 'merged']);
        expect(made.held(id)?.state.fields).toMatchObject({ ...one, ...other });
      }
    },
  );

  it.each([
    ['decon', DECON, 'ended'],
    ['unit-use', USE, 'until'],
  ])('[M1] keeps both ends that two phones gave: %s', (kind, id, field) => {
    const made = server();
    const later = '2026-05-04T10:55:00-05:00';
    made.take(amends(1, kind, id, { [field]: ENDED }));
    expect(made.take(amends(2, kind, id, { [field]: later }))).toMatchObject({ outcome: 'conflict_kept' });
    const held = made.held(id);
    const [conflict] = held ? fieldConflicts(FIRM, held) : [];
    expect(JSON.stringify(conflict?.fields)).toContain(ENDED);
    expect(JSON.stringify(conflict?.fields)).toContain(later);
  });

  it('[M6] is corrected where it names the wrong unit or visit, since it stays in its feed', () => {
    const made = server();
    const decon = made.take(amends(1, 'decon', DECON, { unit: OTHER_PUMP }));
    expect(isTaken(decon) && decon.changes[0]?.held).toMatchObject({ feed: 'firm', parent: OTHER_PUMP });
    const use = made.take(amends(1, 'unit-use', USE, { visit: NEXT_VISIT }));
    expect(isTaken(use) && use.changes[0]?.held).toMatchObject({ parent: NEXT_VISIT, visit: NEXT_VISIT });
  });
});
