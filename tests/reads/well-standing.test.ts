import { describe, expect, it } from 'vitest';
import { wellStanding } from '../../src/reads/well-standing.ts';
import type { ClaimRow } from '../../src/store/read/event-status-claims.ts';
import type { VisitRow } from '../../src/store/read/event-status-visits.ts';

function visit(id: string, more: Partial<VisitRow> = {}): VisitRow {
  return {
    id,
    event: 'event',
    well: 'well',
    wellName: 'W-1',
    crew: 'north',
    crewName: 'North crew',
    method: 'low-flow',
    arrived: `2026-05-04T${id}:00:00Z`,
    left: null,
    outcome: null,
    outcomeReason: null,
    purge: null,
    began: null,
    stable: null,
    firstHeldAt: null,
    samples: 0,
    firstSampleAt: null,
    ...more,
  };
}

function claim(from: string): ClaimRow {
  return { event: 'event', well: 'well', wellName: 'W-1', crew: 'south', crewName: 'South crew', from };
}

const purging = { purge: 'purge', began: '2026-05-04T10:10:00Z', stable: false } as const;
const stable = { ...purging, stable: true, firstHeldAt: '2026-05-04T10:40:00Z' } as const;
const sampled = { samples: 2, firstSampleAt: '2026-05-04T10:50:00Z' } as const;

function standing(visits: readonly VisitRow[], claims: readonly ClaimRow[] = [], toSample = true) {
  const { visit: tells, ...rest } = wellStanding(visits, claims, toSample);
  return { ...rest, visit: tells?.id ?? null };
}

describe('where a well stands', () => {
  it('is not started without a visit or a claim', () => {
    expect(standing([])).toEqual({ standing: 'not-started', since: null, visit: null });
  });

  it('is claimed from the first claim on that was not given back', () => {
    const claims = [claim('2026-05-04T08:00:00Z'), claim('2026-05-04T09:00:00Z')];
    expect(standing([], claims)).toEqual({ standing: 'claimed', since: '2026-05-04T08:00:00Z', visit: null });
  });

  it('goes from gauging to purging to stable to sampled as one visit goes on', () => {
    expect(standing([visit('10')])).toEqual({ standing: 'gauging', since: '2026-05-04T10:00:00Z', visit: '10' });
    expect(standing([visit('10', purging)])).toMatchObject({ standing: 'purging', since: purging.began });
    expect(standing([visit('10', { ...purging, stable: null })])).toMatchObject({ standing: 'purging' });
    expect(standing([visit('10', stable)])).toMatchObject({ standing: 'stable', since: stable.firstHeldAt });
    expect(standing([visit('10', { ...stable, ...sampled })])).toMatchObject({
      standing: 'sampled',
      since: sampled.firstSampleAt,
    });
  });

  it('stays sampled whatever a later visit finds', () => {
    const first = visit('10', { ...sampled, outcome: 'sampled', left: '2026-05-04T11:30:00Z' });
    expect(standing([first, visit('15', { outcome: 'no-access' })])).toMatchObject({
      standing: 'sampled',
      visit: '10',
    });
    expect(standing([first, visit('15')])).toMatchObject({ standing: 'sampled', visit: '10' });
  });

  it('is sampled since the visit ended where no sample record says when', () => {
    const visits = [visit('10', { outcome: 'sampled', left: '2026-05-04T11:30:00Z' })];
    expect(standing(visits)).toMatchObject({ standing: 'sampled', since: '2026-05-04T11:30:00Z' });
  });

  it('ends otherwise as the latest visit says, whatever samples it left', () => {
    const dry = visit('10', { outcome: 'dry', left: '2026-05-04T10:20:00Z' });
    expect(standing([dry])).toEqual({ standing: 'ended', since: '2026-05-04T10:20:00Z', visit: '10' });
    expect(standing([visit('10', { ...sampled, outcome: 'abandoned' })])).toMatchObject({ standing: 'ended' });
  });

  it('is taken up again by a later visit', () => {
    const visits = [visit('10', { outcome: 'no-access' }), visit('15', { ...purging })];
    expect(standing(visits)).toMatchObject({ standing: 'purging', visit: '15' });
  });

  it('is claimed again by a claim that came after a visit that ended', () => {
    const ended = visit('10', { outcome: 'no-access', left: '2026-05-04T10:05:00Z' });
    expect(standing([ended], [claim('2026-05-04T14:00:00Z')])).toMatchObject({ standing: 'claimed' });
    expect(standing([ended], [claim('2026-05-04T09:00:00Z')])).toMatchObject({ standing: 'ended' });
  });

  it('is not ended by a round of levels where samples are to be taken, and is where none are', () => {
    const levels = visit('08', { method: 'gauging', outcome: 'gauged-only', left: '2026-05-04T08:05:00Z' });
    expect(standing([levels], [], true)).toMatchObject({ standing: 'not-started' });
    expect(standing([levels], [], false)).toMatchObject({ standing: 'ended', since: '2026-05-04T08:05:00Z' });
    const gaveUp = visit('08', { method: 'low-flow', outcome: 'gauged-only' });
    expect(standing([gaveUp], [], true)).toMatchObject({ standing: 'ended' });
  });
});
