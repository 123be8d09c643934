import { randomUUID } from 'node:crypto';
import type { Context } from '../context.ts';
import { laboratoryResult } from '../protocol/kinds/laboratory-result.ts';
import { Problem } from '../protocol/problem.ts';
import { type EventOfSide, readEventOfSide, toldOfSide } from '../reads/laboratory/side.ts';
import { derivedId } from '../rules/derived-id.ts';
import {
  type FileLine,
  type JudgedResult,
  judgeResults,
  type ResultOf,
  type ResultsJudged,
} from '../rules/laboratory/results/judge-results.ts';
import { toldNumber } from '../rules/samples/told-to-laboratory.ts';
import { recordsById } from '../store/read/records.ts';
import type { Actor } from '../writes/batch.ts';
import { mustBeRecord } from './issue-rights.ts';
import { laboratoryMember } from './laboratory-member.ts';
import { writeMany } from './write-many.ts';

export interface ResultsGiven {
  readonly event: string;
  readonly file: readonly FileLine[];
  /** Only judged. */
  readonly check: boolean;
  /** What can be taken is taken, whatever is wrong with other lines. */
  readonly partial: boolean;
  readonly laboratory?: string | undefined;
  readonly typedBy?: string | undefined;
}

export interface ResultsTaken extends Omit<ResultsJudged, 'fresh'> {
  readonly written: boolean;
  /** New ones: written, or that would be. */
  readonly results: number;
}

type Named = Map<string, ResultOf[]>;

function name(named: Named, number: string, of: ResultOf): void {
  const its = named.get(number) ?? [];
  if (!its.includes(of)) named.set(number, [...its, of]);
}

/** A laboratory knows what is on its list, by told numbers; the office all of it, by its own numbers and the told ones. */
function namedBy(side: EventOfSide): Named {
  const named: Named = new Map();
  const { samples } = side;
  if (side.laboratory !== null) {
    const { containers } = toldOfSide(side, { cooler: null });
    // what has not arrived has no number that a result could name
    for (const { sampleNumber, of } of containers) if (of !== undefined) name(named, sampleNumber, of);
    return named;
  }
  for (const of of [...samples.samples, ...samples.blanks]) {
    name(named, of.fields.number, of);
    name(named, toldNumber(of, samples), of);
  }
  return named;
}

async function typist(
  ctx: Context,
  actor: Actor,
  side: EventOfSide,
  { typedBy, check }: ResultsGiven,
): Promise<string> {
  // a file that is only judged leaves nothing behind
  if (side.laboratory !== null) return check ? actor.token : laboratoryMember(ctx, actor, side.laboratory);
  const by = typedBy ?? actor.person ?? (check ? actor.token : null);
  if (by !== null) return by;
  const detail = 'typedBy is missing: the token belongs to nobody, so say which member hands this in, as ?typedBy=ID';
  throw new Problem('bad_request', detail, { pointer: '/typedBy' });
}

const MOST_TURNS = 20;

/** What was voided was a mistake: what is reported in its place gets an id of its own, the same for whoever repeats it. */
async function withFreeIds(
  ctx: Context,
  firm: string,
  fresh: readonly JudgedResult[],
): Promise<readonly JudgedResult[]> {
  let all = fresh;
  for (let turn = 1; turn <= MOST_TURNS; turn++) {
    const ids = all.map(({ id }) => id);
    const found = await ctx.records.read(firm, (tx) => recordsById(tx, ids));
    const voided = new Set(found.flatMap(({ state }) => (state.voided === null ? [] : [state.id])));
    if (voided.size === 0) return all;
    all = all.map((one) => (voided.has(one.id) ? { ...one, id: derivedId(firm, one.id, 'again') } : one));
  }
  return all;
}

async function write(ctx: Context, actor: Actor, by: string, fresh: readonly JudgedResult[]): Promise<void> {
  const free = await withFreeIds(ctx, actor.firm, fresh);
  const shots = free.map(({ id, set }) => {
    return { verb: 'record' as const, kind: laboratoryResult.name, id, set: { ...set }, by };
  });
  const outcomes = await writeMany(ctx, actor, randomUUID(), shots);
  const bad = outcomes.find(({ outcome }) => outcome === 'refused' || outcome === 'set_aside');
  if (bad)
    throw new Error(`a result that was judged was answered ${bad.outcome}: ${bad.code ?? ''} ${bad.detail ?? ''}`);
}

/**
 * Takes a file of laboratory results: all of it or nothing, unless a part is asked for. A file that comes again adds nothing.
 *
 * @throws Problem `unreadable_record` for a laboratory or a member that is none; with every problem of every line, where it
 *   is not only judged
 */
export async function takeResults(ctx: Context, actor: Actor, given: ResultsGiven): Promise<ResultsTaken> {
  const side = await readEventOfSide(ctx, actor, given.event);
  // also where it is only judged: what is judged to be takable must not fail when it is written
  await mustBeRecord(ctx, actor.firm, 'laboratory', given.laboratory);
  await mustBeRecord(ctx, actor.firm, 'member', given.typedBy, 'typedBy');
  const by = await typist(ctx, actor, side, given);
  const at = ctx.now().toISOString();
  const { fresh, ...judged } = judgeResults(given.file, {
    of: side.samples,
    firm: actor.firm,
    laboratory: side.laboratory ?? given.laboratory ?? null,
    named: namedBy(side),
    observed: { at, entered: at, captured: 'same-day', readBy: by, writtenBy: by },
  });
  const told = { ...judged, results: fresh.length };
  if (given.check) return { ...told, written: false };
  const isWhole = judged.problems.length === 0;
  if (!isWhole && (!given.partial || (fresh.length === 0 && judged.alreadyThere === 0))) {
    const lines = new Set(judged.problems.map(({ line }) => line)).size;
    const detail = `${lines} of the lines cannot be taken, and nothing was written: see problems for each, with what to do; or send it with ?partial=true for the others`;
    throw new Problem('unreadable_record', detail, {
      lines: judged.lines,
      problems: judged.problems,
      notes: judged.notes,
    });
  }
  await write(ctx, actor, by, fresh);
  return { ...told, written: true };
}
