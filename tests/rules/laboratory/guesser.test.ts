import { describe, expect, it } from 'vitest';
import { laboratoryDiscrepancies } from '../../../src/rules/laboratory/discrepancies-told.ts';
import { laboratoryList, toldToLaboratory } from '../../../src/rules/laboratory/laboratory-list.ts';
import { listChanges } from '../../../src/rules/laboratory/list-changes.ts';
import { toldOrders } from '../../../src/rules/laboratory/orders-told.ts';
import { openItems } from '../../../src/rules/laboratory/receipt/open-items.ts';
import { spokenReference, toldId } from '../../../src/rules/laboratory/told-ids.ts';
import { eventSamples } from '../../../src/rules/samples/event-samples.ts';
import { seeded } from '../../support/faulty-pool.ts';
import { type BlindRound, blindRound, type RoundOptions } from './blind-round.ts';

/** What a laboratory can know of one sample, from everything that it can reach. */
interface Seen {
  readonly number: string;
  readonly time: number;
  readonly due: number;
  readonly place: string;
  readonly cooler: string;
  readonly label: string;
  /** Bottles, analyses and all else that it holds in its hands: among what is alike there it can only guess. */
  readonly profile: string;
  readonly listAt: number;
  /** At which poll it first came. */
  readonly first: number;
  /** Of the open item about its first bottle. */
  readonly item: string;
  readonly reference: string;
  /** Where the first item about it stands among all items. */
  readonly itemAt: number;
}

const SECRET = new Uint8Array(32).fill(7);

/** A laboratory that polls all the time, receives everything with a complaint of every bottle, and reads all it is told. */
function seenBy(round: BlindRound, { isOpen }: RoundOptions): readonly Seen[] {
  const told = (step: number) => {
    return toldToLaboratory(eventSamples(round.event, round.states(step)), round.laboratory);
  };
  const first = new Map<string, number>();
  let before = told(0);
  const orders = JSON.stringify(toldOrders(before));
  for (let step = POLL_STEPS; step <= round.steps; step += POLL_STEPS) {
    const now = told(step);
    const changes = listChanges(before, now);
    // nothing of what is told tells how far a crew has come: orders stay, and no bottle changes or goes
    expect(JSON.stringify(toldOrders(now))).toBe(orders);
    expect([changes.changed, changes.noLongerListed]).toEqual([[], []]);
    for (const { sampleNumber } of changes.added) if (!first.has(sampleNumber)) first.set(sampleNumber, step);
    before = now;
  }
  const rows = [...laboratoryList(before)];
  const { of } = before.world;
  const idOf = (record: string) => (isOpen ? record : toldId(SECRET, round.laboratory, record));
  const receipts = of.coolers.map((cooler, at) => {
    const items = rows
      .filter((row) => row.cooler === cooler.fields.number)
      .map(({ labelId }) => ({ label: labelId, condition: 'leaking' as const }));
    const received = '2026-05-07T15:00:00Z';
    const observed = {
      at: received,
      entered: received,
      captured: 'same-day' as const,
      readBy: cooler.id,
      writtenBy: cooler.id,
    };
    const id = `0190eeee-0000-7000-8000-${String(at).padStart(12, '0')}`;
    const fields = {
      event: of.event.id,
      cooler: cooler.id,
      laboratory: round.laboratory,
      received,
      temperatureC: '3.0',
      items,
      observed,
    };
    return { ...cooler, kind: 'sample-receipt', id, fields };
  });
  const states = [...round.states(round.steps), ...receipts];
  const withReceipts = toldToLaboratory(eventSamples(round.event, states), round.laboratory);
  const opened = receipts.flatMap(({ id }) => openItems(id, withReceipts, round.firm));
  const records = opened.map(({ id, set }) => ({
    ...of.event,
    kind: 'discrepancy',
    id: isOpen ? (set.container ?? id) : id,
    fields: set,
  }));
  const final = toldToLaboratory(eventSamples(round.event, [...states, ...records]), round.laboratory);
  const referenceOf = (record: string) => (isOpen ? record : spokenReference(SECRET, record));
  const items = laboratoryDiscrepancies(final, { idOf, referenceOf });
  return [...new Set(rows.map(({ sampleNumber }) => sampleNumber))].map((number) => {
    const its = rows.filter((row) => row.sampleNumber === number);
    const about = items.filter((item) => item.sampleNumber === number);
    const [row] = its;
    const words = its.map((one) => [
      one.analyses,
      one.containerType,
      one.volumeMl,
      one.preservative,
      one.filtered,
      one.matrix,
    ]);
    return {
      number,
      time: Date.parse(row?.labelTime ?? ''),
      due: Math.min(...its.map(({ dueAt }) => Date.parse(dueAt ?? ''))),
      place: row?.samplingPoint ?? '',
      cooler: row?.cooler ?? '',
      label: row?.labelId ?? '',
      profile: JSON.stringify(words),
      listAt: rows.findIndex((one) => one.sampleNumber === number),
      first: isOpen ? rows.findIndex((one) => one.sampleNumber === number) : (first.get(number) ?? 0),
      item: about.map(({ id }) => id).toSorted()[0] ?? '',
      reference: about.map(({ reference }) => reference).toSorted()[0] ?? '',
      itemAt: items.findIndex(({ sampleNumber }) => sampleNumber === number),
    };
  });
}

function digits(text: string): number {
  return Number(text.replace(/\D/g, '').slice(-12));
}

function idAsNumber(id: string): number {
  return Number.parseInt(id.replaceAll('-', '').slice(0, 12), 16);
}

function referenceAsNumber(reference: string): number {
  return Number.parseInt(reference.replaceAll('-', '').slice(0, 10), 36);
}

function commonPrefix(a: string, b: string): number {
  let at = 0;
  while (at < a.length && a[at] === b[at]) at += 1;
  return at;
}

type Distance = (one: Seen, other: Seen) => number;

/** The nearer, the likelier the parent. */
const GUESSERS: Readonly<Record<string, Distance>> = {
  'nearest time': (a, b) => Math.abs(a.time - b.time),
  'the time before it': (a, b) => (b.time <= a.time ? a.time - b.time : Number.MAX_SAFE_INTEGER - b.time),
  'nearest deadline': (a, b) => Math.abs(a.due - b.due),
  'nearest number': (a, b) => Math.abs(digits(a.number) - digits(b.number)),
  'likest label': (a, b) => -commonPrefix(a.label, b.label),
  'likest place': (a, b) => Math.abs(digits(a.place) - digits(b.place)),
  'next on the list': (a, b) => Math.abs(a.listAt - b.listAt),
  'nearest id of an item': (a, b) => Math.abs(idAsNumber(a.item) - idAsNumber(b.item)),
  'nearest reference': (a, b) => Math.abs(referenceAsNumber(a.reference) - referenceAsNumber(b.reference)),
  'next among the items': (a, b) => Math.abs(a.itemAt - b.itemAt),
  'same cooler, then time': (a, b) => (a.cooler === b.cooler ? 0 : 1e15) + Math.abs(a.time - b.time),
};

/** Places of the candidates by every guesser, summed. */
function sumOfAll(blind: Seen, candidates: readonly Seen[]): Distance {
  const ranks = new Map<Seen, number>();
  for (const distance of Object.values(GUESSERS)) {
    const ordered = candidates.toSorted((a, b) => distance(blind, a) - distance(blind, b));
    ordered.forEach((one, at) => void ranks.set(one, (ranks.get(one) ?? 0) + at));
  }
  return (_, other) => ranks.get(other) ?? 0;
}

interface Score {
  hits: number;
  expected: number;
  variance: number;
}

/** Pairs each blind duplicate with one of what it may repeat: of the same delivery, and alike in the hand. */
function play(options: RoundOptions, seeds: readonly number[]): ReadonlyMap<string, Score> {
  const scores = new Map<string, Score>();
  for (const seed of seeds) {
    const chance = seeded(seed);
    const round = blindRound(chance, options);
    const seen = seenBy(round, options);
    const order = new Map(seen.map((one) => [one, chance()]));
    for (const [number, parent] of round.pairs) {
      const blind = seen.find((one) => one.number === number);
      if (!blind) throw new Error(`the list lacks ${number}`);
      const candidates = seen
        // the laboratory is even told which ones are blind
        .filter((one) => !round.pairs.has(one.number) && one.profile === blind.profile)
        .filter((one) => options.isOpen || one.first === blind.first)
        // what looks alike to a guesser is chosen by chance
        .toSorted((a, b) => (order.get(a) ?? 0) - (order.get(b) ?? 0));
      expect(candidates.some((one) => one.number === parent)).toBe(true);
      const all = { ...GUESSERS, 'sum of all': sumOfAll(blind, candidates) };
      for (const [name, distance] of Object.entries(all)) {
        const score = scores.get(name) ?? { hits: 0, expected: 0, variance: 0 };
        const guess = candidates.toSorted((a, b) => distance(blind, a) - distance(blind, b))[0];
        const probability = 1 / candidates.length;
        score.hits += guess?.number === parent ? 1 : 0;
        score.expected += probability;
        score.variance += probability * (1 - probability);
        scores.set(name, score);
      }
    }
  }
  return scores;
}

/** Of what a laboratory was sent, what it can compare: by the numbers of coolers, which crews write on them. */
const COMPARED: Readonly<Record<string, (one: Seen) => string>> = {
  'earliest of its cooler': ({ cooler }) => cooler,
  'earliest of the day of its crew': ({ cooler }) => cooler.slice(0, -2),
};

/** Takes the earliest for the blind one; by chance it is as often as there are blind ones. */
function recognise(options: RoundOptions, seeds: readonly number[]): ReadonlyMap<string, Score> {
  const scores = new Map(Object.keys(COMPARED).map((name) => [name, { hits: 0, expected: 0, variance: 0 }]));
  for (const seed of seeds) {
    const round = blindRound(seeded(seed), options);
    const seen = seenBy(round, options);
    const isBlind = ({ number }: Seen) => round.pairs.has(number);
    for (const [name, keyOf] of Object.entries(COMPARED)) {
      const score = scores.get(name);
      for (const key of new Set(seen.map(keyOf))) {
        const its = seen.filter((one) => keyOf(one) === key).toSorted((a, b) => a.time - b.time);
        const [guess] = its;
        if (!score || !guess) continue;
        const probability = its.filter(isBlind).length / its.length;
        score.hits += isBlind(guess) ? 1 : 0;
        score.expected += probability;
        score.variance += probability * (1 - probability);
      }
    }
  }
  return scores;
}

/**
 * So many standard deviations above chance. The seeds are fixed, so that no run fails by chance; with times made by the
 * cooler alone, the nearest time was the parent 61 times where chance gives 40 with a deviation of 5.9.
 */
const SIGMAS = 3;
/** A laboratory asks after every third well, and so when coolers are closed. */
const POLL_STEPS = 3;
const SEEDS = Array.from({ length: 40 }, (_, at) => 1_000 + at);

describe('from everything that a laboratory can reach', () => {
  it('no guesser pairs blind duplicates with their parents better than by chance', () => {
    const scores = play({ isOpen: false }, SEEDS);
    expect(scores.size).toBe(Object.keys(GUESSERS).length + 1);
    for (const [name, { hits, expected, variance }] of scores) {
      console.info(`${name}: ${hits} of ${SEEDS.length * 8}, by chance ${expected.toFixed(1)}`);
      expect([name, hits < expected + SIGMAS * Math.sqrt(variance)]).toEqual([name, true]);
    }
  }, 120_000);

  it('the same guessers find them where the blinding is switched off', () => {
    const scores = play({ isOpen: true }, SEEDS.slice(0, 10));
    for (const [name, { hits, expected, variance }] of scores) {
      console.info(`${name}, not blinded: ${hits} of 80, by chance ${expected.toFixed(1)}`);
      expect([name, hits > expected + SIGMAS * Math.sqrt(variance)]).toEqual([name, true]);
    }
  }, 120_000);

  it('the earliest is a blind duplicate no more often than by chance where crews wrote its time', () => {
    const scores = recognise({ isOpen: false, isWritten: true }, SEEDS.slice(0, 20));
    expect(scores.size).toBe(Object.keys(COMPARED).length);
    for (const [name, { hits, expected, variance }] of scores) {
      console.info(`${name}, time written: ${hits}, by chance ${expected.toFixed(1)}`);
      expect([name, hits < expected + SIGMAS * Math.sqrt(variance)]).toEqual([name, true]);
    }
  }, 120_000);

  // a time that is as likely for every parent, and never late, is earlier than all but the first of them: so it is flagged
  it('the earliest is a blind duplicate where its time had to be made', () => {
    const scores = recognise({ isOpen: false }, SEEDS.slice(0, 10));
    for (const [name, { hits, expected, variance }] of scores) {
      console.info(`${name}, time made: ${hits}, by chance ${expected.toFixed(1)}`);
      expect([name, hits > expected + SIGMAS * Math.sqrt(variance)]).toEqual([name, true]);
    }
  }, 120_000);
});
