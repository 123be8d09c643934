import { describe, expect, it } from 'vitest';
import { lastRound } from '../../../src/rules/questions/last-round.ts';
import { unlikeThisWell } from '../../../src/rules/questions/unlike-this-well.ts';
import { wellTrend } from '../../../src/rules/questions/well-trend.ts';
import { historyHere, historyHereOutput } from '../../../src/rules/well-rounds/history-here.ts';
import { lastRoundHere, lastRoundHereOutput } from '../../../src/rules/well-rounds/last-round-here.ts';
import { unlikeHere, unlikeHereOutput } from '../../../src/rules/well-rounds/unlike-here.ts';
import { AT, CUT_DOWN, POINTS, records, summary } from './records-of-a-well.ts';

const pumped = { flowMlPerMin: '200', intakeDepthFt: '20.3', depthToWaterFt: '12.04', depthToBottomFt: '25.1' };
const gauged = { method: 'gauging', outcome: 'gauged-only', depthToWaterFt: '12.90' };

describe('what was done here last round', () => {
  it('is told of the last visit that was pumped, as the question tells it', () => {
    const all = records([summary(2023, pumped), summary(2024, pumped), summary(2025, gauged)]);
    const answer = lastRoundHere(all, { at: AT, depthToWaterFt: '13.00' });
    const { well: _, ...last } = all.summaries[1] ?? { well: '' };
    const asked = lastRound.answer({ last: last as never, depthToWaterFt: '13.00' });
    expect(answer).toMatchObject({ ...asked, eventName: 'Round of 2024', intakeFits: true, leftOut: [] });
    expect(lastRoundHereOutput.parse(answer)).toEqual(answer);
  });

  it('leaves out the event that is under way, and falls back on a round of levels', () => {
    const all = records([summary(2024, gauged), summary(2025, { wentDry: true })]);
    expect(lastRoundHere(all, { at: AT })).toMatchObject({ eventName: 'Round of 2025', wentDry: true });
    const before = lastRoundHere(all, { at: AT, exceptEvent: all.summaries[0]?.event });
    expect(before).toMatchObject({ eventName: 'Round of 2024', intakeDepthFt: null });
  });

  it('says so where nothing is known', () => {
    const answer = lastRoundHere(records([]), { at: AT });
    expect(answer).toMatchObject({
      visit: null,
      intakeDepthFt: null,
      refused: expect.stringContaining('No earlier visit'),
    });
    expect(lastRoundHereOutput.parse(answer)).toEqual(answer);
  });

  it('gives the intake below the measuring point of today, and none where that cannot be told', () => {
    const of2021 = summary(2021, { ...pumped, measuringPoint: POINTS.corrected });
    const answer = lastRoundHere(records([of2021], CUT_DOWN), { at: AT });
    expect(answer.intakeDepthFt).toBe('19.80');
    expect(answer.reasons.at(-1)).toContain('converted by the elevations');
    const unknown = lastRoundHere(records([summary(2001, pumped)], CUT_DOWN), { at: AT });
    expect(unknown.intakeDepthFt).toBeNull();
    expect(unknown.leftOut.map(({ field }) => field)).toEqual(['depthToWaterFt', 'intakeDepthFt', 'depthToBottomFt']);
  });
});

/** Nine rounds of one kind. */
const NINE = Array.from({ length: 9 }, (_, index) =>
  summary(2015 + index, { depthToWaterFt: `12.${10 + index}`, ph: `6.9${index % 4}`, depthToBottomFt: '25.1' }),
);

describe('whether this is unlike the well', () => {
  it('is answered by the question, from one figure of each event', () => {
    const answer = unlikeHere(records(NINE), { at: AT, ph: '5.10', depthToWaterFt: '12.15' });
    const earlierRounds = NINE.map(({ fields }) => {
      return { depthToWaterFt: String(fields.depthToWaterFt), ph: String(fields.ph), depthToBottomFt: '25.1' };
    });
    const asked = unlikeThisWell.answer({ ph: '5.10', depthToWaterFt: '12.15', earlierRounds });
    expect(answer).toEqual({ ...asked, leftOut: [] });
    expect(answer).toMatchObject({ unlike: true, comparisons: [{ finding: 'like' }, { finding: 'unlike' }] });
    expect(unlikeHereOutput.parse(answer)).toEqual(answer);
  });

  it('counts an event once, by its later visit, and the one under way not at all', () => {
    const event = NINE[8]?.fields.event;
    const again = summary(2024, { event, ph: '6.80' });
    const ofPh = (more: object) => unlikeHere(records([...NINE, again]), { at: AT, ph: '6.91', ...more });
    expect(ofPh({}).comparisons[0]).toMatchObject({ earlierRounds: 9, sentence: expect.stringContaining('6.8 to') });
    expect(ofPh({ exceptEvent: event }).comparisons[0]?.earlierRounds).toBe(8);
  });

  it('converts the depths of another measuring point, or leaves them out and says why', () => {
    const answer = unlikeHere(records(NINE, CUT_DOWN), { at: AT, depthToWaterFt: '11.65' });
    expect(answer).toMatchObject({ unlike: false, leftOut: [] });
    expect(answer.comparisons[0]?.sentence).toContain('11.6 to 12.18');
    expect(answer.reasons.at(-1)).toContain('Depths of 7 earlier visit(s)');
    const bare = CUT_DOWN.map((one) => ({ ...one, fields: { ...one.fields, elevationFt: undefined } }));
    const left = unlikeHere(records(NINE, bare), { at: AT, depthToWaterFt: '11.65', ph: '6.91' });
    expect(left.comparisons.map(({ finding }) => finding)).toEqual(['too-few-rounds', 'like']);
    expect(left.leftOut).toHaveLength(7);
    expect(new Set(left.leftOut.map(({ field }) => field))).toEqual(new Set(['depthToWaterFt']));
  });

  it('says nothing of depths where none was measured today', () => {
    const answer = unlikeHere(records(NINE, CUT_DOWN), { at: AT, ph: '6.91' });
    expect(answer.reasons).toHaveLength(1);
    expect(answer.leftOut).toEqual([]);
  });
});

describe('what the rounds of a well gave', () => {
  it('is a list with its range and the trend of the question', () => {
    const answer = historyHere(records(NINE), { at: AT, quantity: 'depthToWaterFt', side: 'rising' });
    expect(answer).toMatchObject({ unit: 'ft', least: '12.1', median: '12.14', most: '12.18', leftOut: [] });
    expect(answer.rounds.map(({ amount }) => amount)).toEqual(NINE.map(({ fields }) => fields.depthToWaterFt));
    const rounds = NINE.map(({ fields }) => ({ at: String(fields.arrived), amount: String(fields.depthToWaterFt) }));
    expect(answer.trend).toEqual(wellTrend.answer({ unit: 'ft', scale: 'raw', side: 'rising', rounds }));
    expect(answer.trend).toMatchObject({ direction: 'rising', s: 36 });
    expect(answer.notes).toEqual([expect.stringContaining('falls')]);
    expect(historyHereOutput.parse(answer)).toEqual(answer);
  });

  it('takes the last of several visits of a day, and says so', () => {
    const later = summary(2030, { arrived: '2023-05-04T15:00:00-05:00', ph: '6.50' });
    const answer = historyHere(records([...NINE, later]), { at: AT, quantity: 'ph' });
    expect(answer.rounds).toHaveLength(9);
    expect(answer.rounds.at(-1)?.amount).toBe('6.50');
    expect(answer.notes).toEqual(['1 visit(s) are left out, for a later one of the same day counts.']);
  });

  it('moves depths below the point of today, and lists what it cannot move', () => {
    const moved = historyHere(records(NINE, CUT_DOWN), { at: AT, quantity: 'depthToBottomFt' });
    expect(moved.rounds.map(({ amount }) => amount)).toEqual([...Array(7).fill('24.60'), '25.1', '25.1']);
    expect(moved.notes).toEqual([expect.stringContaining('7 earlier visit(s)')]);
    const old = historyHere(records([summary(2001, pumped)], CUT_DOWN), { at: AT, quantity: 'depthToWaterFt' });
    expect(old.leftOut.map(({ field }) => field)).toEqual(['depthToWaterFt']);
  });

  it('gives no range and no trend of nothing', () => {
    const answer = historyHere(records([summary(2020)]), { at: AT, quantity: 'orpMv', significancePercent: '10' });
    expect(answer).toMatchObject({ rounds: [], least: null, median: null, most: null, trend: { direction: null } });
    expect(answer.trend.refused).not.toBeNull();
    expect(historyHereOutput.parse(answer)).toEqual(answer);
  });
});
