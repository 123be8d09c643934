import { describe, expect, it } from 'vitest';
import { findingsOf, type Judged } from '../../src/commands/findings.ts';

const NOW = '2026-05-05T08:00:00.000Z';
const firm = { id: 'f', name: 'Testwater', setAside: [], silent: 0 };
const WELL: Judged = {
  health: {
    version: '18.4',
    careless: [],
    missingMigrations: [],
    unknownMigrations: [],
    backupMadeAt: '2026-05-05T01:00:00.123456Z',
    firms: [firm],
  },
  durable: 'backup',
  nowMs: Date.parse(NOW),
  freeBytes: 5e9,
};

function todos(change: Partial<Judged['health']>, more: Partial<Judged> = {}): string[] {
  const findings = findingsOf({ ...WELL, ...more, health: { ...WELL.health, ...change } });
  return findings.flatMap(({ about, todo }) => (todo === undefined ? [] : [`${about}: ${todo}`]));
}

describe('doctor', () => {
  it('has nothing to say of what stands well, but that it does', () => {
    expect(findingsOf(WELL)).toEqual([
      { about: 'database', says: 'PostgreSQL 18.4 answers' },
      { about: 'tables', says: 'up to date' },
      { about: 'backup', says: 'the newest is of 2026-05-05T01:00:00.123456Z, 6 hours ago' },
      { about: 'room', says: '5.0 GB are free where the database lives' },
      { about: 'firm f "Testwater"', says: 'nothing waits' },
    ]);
  });

  it('names each thing that does not, with what to do', () => {
    expect(todos({ careless: ['fsync'] })).toEqual([expect.stringMatching(/^database: Switch fsync on/)]);
    expect(todos({ unknownMigrations: ['9001_later'] })).toEqual([expect.stringMatching(/^tables: Start the release/)]);
    expect(todos({ unknownMigrations: ['9001_later'], backupMadeAt: null, firms: [] })).toHaveLength(1);
    expect(todos({ missingMigrations: ['0009_backups'] })).toEqual([
      expect.stringMatching(/^tables: Take a backup, then/),
    ]);
    expect(todos({ backupMadeAt: null })).toEqual([expect.stringMatching(/^backup: Run backup FILE every night/)]);
    expect(todos({ backupMadeAt: '2026-05-03T07:59:00Z' })).toEqual([]);
    expect(todos({ backupMadeAt: '2026-05-03T06:59:00Z' })).toEqual([expect.stringMatching(/^backup:/)]);
    expect(todos({ backupMadeAt: null }, { durable: 'replicated' })).toEqual([]);
    expect(todos({}, { freeBytes: 1.9e9 })).toEqual([expect.stringMatching(/^room: Make room/)]);
    expect(todos({}, { freeBytes: null })).toEqual([]);
    const refused = { code: 'right_missing', count: 2, oldest: '2026-05-05T07:00:00Z' };
    expect(todos({ firms: [{ ...firm, setAside: [refused], silent: 1 }, firm] })).toEqual([
      expect.stringMatching(/^firm f "Testwater": Have a coordinator look/),
      expect.stringMatching(/^firm f "Testwater": Find these phones/),
    ]);
  });

  it('names what is set aside by its reason and since when, and asks for a person where it does not come by itself', () => {
    const waits = { code: 'parent_missing', count: 12, oldest: '2026-05-04T09:00:00Z' };
    const newer = { code: 'newer_server_needed', count: 3, oldest: '2026-04-29T09:00:00Z' };
    const refused = { code: 'right_missing', count: 1, oldest: '2026-05-05T07:59:00Z' };
    const about = 'firm f "Testwater"';
    const todo = 'Have a coordinator look at GET /v1/set-asides and release what is to count.';
    const says = (...setAside: (typeof waits)[]) =>
      findingsOf({ ...WELL, health: { ...WELL.health, firms: [{ ...firm, setAside }] } }).at(-1);
    const both = '12 parent_missing since 2026-05-04T09:00:00Z; 3 newer_server_needed since 2026-04-29T09:00:00Z';
    expect(says(waits, newer)).toEqual({ about, says: `15 set aside: ${both}` });
    expect(says(waits, refused)).toMatchObject({
      says: '13 set aside: 12 parent_missing since 2026-05-04T09:00:00Z; 1 right_missing since 2026-05-05T07:59:00Z',
      todo,
    });
    // a week, to the second
    expect(says({ ...waits, oldest: '2026-04-28T08:00:00Z' })).not.toHaveProperty('todo');
    expect(says({ ...waits, oldest: '2026-04-28T07:59:59Z' })).toMatchObject({ todo });
    const ours = { code: 'server_failed', count: 1, oldest: '2026-05-05T07:59:00Z' };
    const look = 'Look in the log for what the server failed on, and update it: it is tried again every hour.';
    expect(says(waits, ours)).toMatchObject({ todo: look });
    expect(says(ours, refused)).toMatchObject({ todo: `${look} ${todo}` });
  });
});
