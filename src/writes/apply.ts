import { faultOf, isOverrun } from '../store/fault.ts';
import { isNotOpened } from '../store/write/transaction.ts';
import type { Answer, Batch } from './batch.ts';
import { takeCompanionsOf } from './companions.ts';
import { halves } from './halves.ts';
import { keepAside } from './keep-aside.ts';
import { isOneRequest, tryGroup, type WriteContext } from './try-group.ts';

/** What became of a batch: its answer, or what it failed with. */
export type Settled = { readonly answer: Answer } | { readonly error: unknown };

/** Told of each batch once, as soon as it is known what became of it. */
export type Told = (batch: Batch, settled: Settled) => void;

/** Batches of a firm that are to be applied, and who is told of each. */
interface Work {
  readonly ctx: WriteContext;
  readonly firm: string;
  readonly told: Told;
}

/**
 * Whether it is due to one of the lines, or to their number, so that it would come again with the same. What failed
 * before it had the lock says nothing about them.
 */
function isOfLines(batches: readonly Batch[], error: unknown): boolean {
  if (isNotOpened(error)) return false;
  const fault = faultOf(error);
  if (fault === 'transient') return isOverrun(error) && !isOneRequest(batches);
  if (batches.length > 1 || fault === 'refused') return true;
  return fault === 'ours' && !batches[0]?.oneShot;
}

function halvesOf(batch: Batch): [Batch, Batch] {
  const [left, right] = halves(batch.lines);
  return [
    { ...batch, lines: left },
    { ...batch, first: batch.first + left.length, lines: right },
  ];
}

function joined(first: Answer, second: Answer): Answer {
  if (first.status !== 'answered' || second.status !== 'answered') return second;
  return {
    ...second,
    outcomes: [...first.outcomes, ...second.outcomes],
    repeated: first.repeated + second.repeated,
  };
}

/**
 * Who asks for an answer at once is told that it failed: nothing stands behind it and waits. What a revoked device hands
 * in is for a person to look at, and would not be after this.
 */
function keeps({ failed }: WriteContext, { oneShot, actor }: Batch, error: unknown): boolean {
  if (faultOf(error) === 'refused') return true;
  return faultOf(error) === 'ours' && !isNotOpened(error) && failed !== undefined && !oneShot && !actor.revoked;
}

async function tryAlone({ ctx, firm }: Work, batch: Batch, takesWaiting: boolean, isPart: boolean): Promise<Answer> {
  const [answer] = await tryGroup(ctx, firm, [batch], { takesWaiting, isPart });
  if (!answer) throw new Error('the write door lost an answer');
  return answer;
}

/** Where the database goes away meanwhile, what waited goes on waiting; that the line is applied is known. */
async function takeCompanions({ ctx, firm }: Work, { lines }: Batch): Promise<void> {
  for (const line of lines) await takeCompanionsOf(ctx, firm, line).catch(() => undefined);
}

/** One mutation: what waited for it may be the culprit, and is tried once it is applied without. */
async function applyOne(work: Work, batch: Batch): Promise<Answer> {
  try {
    const answer = await tryAlone(work, batch, false, true);
    await takeCompanions(work, batch);
    return answer;
  } catch (error) {
    if (!keeps(work.ctx, batch, error)) throw error;
    return keepAside(work.ctx, work.firm, batch, error);
  }
}

/** The later half is tried only where the earlier was answered: what comes after a gap has no place. */
async function applyHalves(work: Work, batch: Batch): Promise<Answer> {
  const [left, right] = halvesOf(batch);
  const first = await applyBatch(work, left, true);
  return first.status === 'answered' ? joined(first, await applyBatch(work, right, true)) : first;
}

/** A batch that fails as a whole: the half without the culprit goes through, the culprit alone is set aside. */
async function applyBatch(work: Work, batch: Batch, isPart: boolean): Promise<Answer> {
  try {
    return await tryAlone(work, batch, true, isPart);
  } catch (error) {
    if (!isOfLines([batch], error)) throw error;
  }
  return batch.lines.length <= 1 ? applyOne(work, batch) : applyHalves(work, batch);
}

/** What stops those behind as well: a database that cannot be reached is not asked anew for each of them. */
type Stop = { readonly error: unknown } | null;

function stopOf(error: unknown): Stop {
  return isNotOpened(error) ? { error } : null;
}

function tellAll({ told }: Work, batches: readonly Batch[], error: unknown): Stop {
  for (const batch of batches) told(batch, { error });
  return stopOf(error);
}

async function applyAlone(work: Work, batch: Batch, isPart: boolean): Promise<Stop> {
  const settled = await applyBatch(work, batch, isPart).then(
    (answer): Settled => ({ answer }),
    (error: unknown): Settled => ({ error }),
  );
  work.told(batch, settled);
  return 'error' in settled ? stopOf(settled.error) : null;
}

/** Those without a culprit share a transaction still. */
async function applyApart(work: Work, batches: readonly Batch[]): Promise<Stop> {
  const [left, right] = halves(batches);
  const stop = await applyAll(work, left, true);
  return stop ? tellAll(work, right, stop.error) : applyAll(work, right, true);
}

async function applyAll(work: Work, batches: readonly Batch[], isPart: boolean): Promise<Stop> {
  const [first, ...others] = batches;
  if (!first) return null;
  if (others.length === 0) return applyAlone(work, first, isPart);
  try {
    const answers = await tryGroup(work.ctx, work.firm, batches, { takesWaiting: true, isPart });
    for (const [index, answer] of answers.entries()) work.told(batches[index] ?? first, { answer });
    return null;
  } catch (error) {
    return isOfLines(batches, error) ? applyApart(work, batches) : tellAll(work, batches, error);
  }
}

/**
 * The one door for writes. Applies batches of a firm in one transaction and tells what became of each. If the database
 * refuses the group, code of ours fails on it or it takes too long, it is split until the culprit is found. What a batch
 * failed with is what the database says where it cannot be reached or where one mutation alone takes too long, or a
 * fault of ours that nothing could be set aside for: then it is not known what of it is stored, and it may be sent again.
 */
export async function apply(ctx: WriteContext, firm: string, batches: readonly Batch[], told: Told): Promise<void> {
  await applyAll({ ctx, firm, told }, batches, false);
}
