import { canonicalText } from '../../src/protocol/content-hash.ts';
import type { RecordState } from '../../src/protocol/record.ts';
import { wasThereBefore } from './base-firm.ts';
import type { Features } from './features.ts';
import { type Capture, DAMAGED, type History, wasTaken } from './history.ts';
import type { Findings } from './violation.ts';

function same(one: unknown, other: unknown): boolean {
  return canonicalText(one ?? null) === canonicalText(other ?? null);
}

interface Rival {
  readonly value?: unknown;
}

/** Refusals that tell of a person who looked at something older: nothing that was seen in the field is in them. */
const LAWFUL_REFUSALS = ['conflict_changed', 'not_a_conflict', 'record_missing', 'nothing_to_change', 'home_fixed'];

/**
 * Judges what became of what people did by what phones were told and by what a phone shows that follows everything.
 * It knows nothing of how the server or the library work.
 */
export class HistoryCheck {
  readonly #captures: readonly Capture[];
  readonly #records: ReadonlyMap<string, RecordState>;
  readonly #features: Features;
  readonly #findings: Findings;

  constructor(history: History, records: ReadonlyMap<string, RecordState>, features: Features, findings: Findings) {
    this.#captures = history.all();
    this.#records = records;
    this.#features = features;
    this.#findings = findings;
  }

  run(): void {
    for (const capture of this.#captures.filter(({ excuse }) => excuse === null)) this.#one(capture);
    this.#revisions();
    this.#resolutions();
    this.#falseConflicts();
  }

  #one(capture: Capture): void {
    const { told, verb, poison } = capture;
    const what = `${verb} of ${capture.kind} ${capture.id} (${capture.key})`;
    if (told === null) this.#findings.add('nothing wedges', `${what} was never answered`);
    else if (told.outcome === 'refused') this.#refused(capture, what);
    else if (told.outcome === 'set_aside') this.#setAside(capture, what);
    else if (poison) this.#findings.add('no silent loss', `${what} cannot be read and was called ${told.outcome}`);
    else this.#taken(capture, what);
  }

  #refused({ told, kind }: Capture, what: string): void {
    if (kind === 'conflict' || LAWFUL_REFUSALS.includes(told?.code ?? '')) return;
    this.#findings.add('no silent loss', `${what} was refused: ${told?.code} ${told?.detail}`);
  }

  #setAside(capture: Capture, what: string): void {
    const { poison, told, id, verb } = capture;
    if (poison || this.#hadNoRight(capture)) return;
    if (told?.code !== 'parent_missing' && told?.code !== 'id_taken') {
      this.#findings.add('no silent loss', `${what} was set aside: ${told?.code} ${told?.detail}`);
    }
    if (told?.code === 'parent_missing' && this.#parentsAreHere(capture)) {
      if (!this.#records.has(id)) this.#findings.add('nothing wedges', `${what} still waits for what is here`);
      else if (verb === 'record') this.#taken(capture, what);
    }
  }

  /**
   * A crew that is not assigned may be refused, but never for what it captured while its phone followed the event: it
   * could not know. Where the server forgot, where another phone handed it in, or where the clocks of its processes
   * disagree, nobody can tell.
   */
  #hadNoRight(capture: Capture): boolean {
    const { told, followed } = capture;
    if (told?.code !== 'right_missing' && told?.code !== 'parent_missing') return false;
    const [, named] = /^the crew of this device has no assignment in event (\S+),/.exec(told?.detail ?? '') ?? [];
    const events = named === undefined ? this.#eventsOf(capture) : [named];
    if (events.length === 0) return false;
    const { setBack, moves, restoredPhone, drowned, lent, skewedServers } = this.#features;
    // what waited needs a right that the server forgot, and only the office gives rights
    const forgot = setBack !== 'never' && (moves || told.code === 'right_missing');
    if (forgot || restoredPhone || drowned || lent || skewedServers) return true;
    return events.some((event) => !followed.has(`event:${event}`));
  }

  /** The events in which a record would be, or would have been before its visit moved, where what it names is here. */
  #eventsOf({ id, set }: Capture): readonly string[] {
    const own = this.#records.get(id)?.fields;
    const purge = this.#records.get(String(set.purge ?? own?.purge))?.fields;
    const visit = String(set.visit ?? purge?.visit ?? own?.visit ?? id);
    const said = this.#captures.filter((one) => one.id === visit).map((one) => one.set.event);
    const events = [set.event, this.#records.get(visit)?.fields.event ?? own?.event, ...said];
    return events.filter((event) => typeof event === 'string');
  }

  #parentsAreHere({ set, verb, id }: Capture): boolean {
    const parents = [set.visit, set.purge, set.decon, set.part].filter((one) => typeof one === 'string');
    if (verb !== 'record') return this.#records.has(id);
    return parents.length > 0 && parents.every((one) => this.#records.has(String(one)));
  }

  #taken(capture: Capture, what: string): void {
    const { verb, id, set } = capture;
    if (verb === 'resolve') return;
    const record = this.#records.get(id);
    if (!record) {
      this.#findings.add('no silent loss', `${what} was acknowledged and is not there`);
      return;
    }
    if (verb === 'void') this.#mustBeVoid(record, what);
    for (const [field, value] of Object.entries(set)) this.#mustLive(capture, field, value, record, what);
  }

  /** The value is shown, kept beside another, or was replaced by somebody who saw it. */
  #mustLive(capture: Capture, field: string, value: unknown, record: RecordState, what: string): void {
    if (same(record.fields[field], value)) return;
    const clash = this.#conflictOf(record.id, field);
    const kept = (clash?.fields.kept ?? []) as readonly Rival[];
    if (clash?.fields.standing === 'open' && kept.some((one) => same(one.value, value))) return;
    if (this.#decidedOver(record.id, value) || this.#chosenAndReplaced(record.id, field, value)) return;
    if (this.#captures.some((later) => this.#replaces(later, capture, field, value))) return;
    this.#findings.add(
      'no silent loss',
      `${what}: ${field} ${JSON.stringify(value)} is neither shown, kept nor replaced`,
    );
  }

  #replaces(later: Capture, capture: Capture, field: string, value: unknown): boolean {
    if (later === capture || later.id !== capture.id || !(field in later.set)) return false;
    if (!this.#hadEffect(later) && !this.#isShown(later, field)) return false;
    if (later.seen !== null && (same(later.seen[field], value) || later.seen[field] === DAMAGED)) return true;
    return later.phone === capture.phone && later.order > capture.order;
  }

  /** The decisions that a value of a record stands. */
  #choicesOf(subject: unknown, value: unknown): readonly Capture[] {
    return this.#captures.filter((one) => {
      const decision = one.verb === 'resolve' && wasTaken(one) ? this.#records.get(one.told?.id ?? '') : undefined;
      return decision?.fields.subject === subject && same(decision?.fields.value, value);
    });
  }

  /** Who chooses a value in a conflict writes it, and may later write another. */
  #chosenAndReplaced(subject: string, field: string, value: unknown): boolean {
    return this.#choicesOf(subject, value).some(({ phone, order }) => {
      return this.#captures.some((one) => {
        return (
          one.id === subject && one.phone === phone && one.order > order && field in one.set && this.#hadEffect(one)
        );
      });
    });
  }

  /**
   * Said twice, under its own number by one partner and by value by another, a line may have been told last of the one that
   * was set aside. No two captures give the same value, so that a record which shows it has that line.
   */
  #isShown({ id, set, told }: Capture, field: string): boolean {
    return told?.outcome === 'set_aside' && same(this.#records.get(id)?.fields[field], set[field]);
  }

  #hadEffect(capture: Capture): boolean {
    return wasTaken(capture) || capture.told?.code === 'parent_missing' || capture.excuse !== null;
  }

  #conflictOf(subject: string, field: string | null): RecordState | undefined {
    const all = [...this.#records.values()].filter(
      ({ kind, fields }) => kind === 'conflict' && fields.subject === subject,
    );
    return all.find(({ fields }) => (field === null ? fields.type === 'void' : fields.field === field));
  }

  #decidedOver(subject: string, value: unknown): boolean {
    return [...this.#records.values()].some(({ kind, fields }) => {
      return (
        kind === 'resolution' &&
        fields.subject === subject &&
        (fields.over as unknown[]).some((one) => same(one, value))
      );
    });
  }

  /** Void it is, unless somebody who did not know counted it again: then people are asked, or have decided. */
  #mustBeVoid(record: RecordState, what: string): void {
    if (record.voided !== null) return;
    const clash = this.#conflictOf(record.id, null);
    if (clash?.fields.standing === 'open' || this.#decidedOver(record.id, true)) return;
    this.#findings.add('no silent loss', `${what} was acknowledged and it counts still`);
  }

  /** Nothing was done twice: every change of a record that was told of has a revision of its own, and none is over. */
  #revisions(): void {
    const { setBack, restoredPhone, rehomes, resolves } = this.#features;
    if (setBack !== 'never') return;
    const told = new Map<string, number[]>();
    for (const capture of this.#captures.filter((one) => wasTaken(one) && one.verb !== 'resolve')) {
      const revs = told.get(capture.id) ?? [];
      told.set(capture.id, [...revs, capture.told?.rev ?? 0]);
    }
    // a visit that moves and a decision change records that they do not name; a phone that is restored to before it found
    // out that it had been restored says the same under a third client id
    const exact = !rehomes && !resolves && !restoredPhone;
    // what was lost with a phone may have been done before, and what waited may have been, without a word
    const mayBe = (one: Capture) =>
      one.excuse !== null || (one.told?.code === 'parent_missing' && this.#hadNoRight(one));
    const unknown = new Set(this.#captures.filter(mayBe).map(({ id }) => id));
    for (const [id, revs] of told) this.#revisionsOf(id, revs, exact && !unknown.has(id));
  }

  /** What waited was applied without a word to its author. */
  #changesOf(id: string): number {
    return this.#captures.filter((one) => {
      return one.id === id && (wasTaken(one) || (one.told?.code === 'parent_missing' && !this.#hadNoRight(one)));
    }).length;
  }

  #revisionsOf(id: string, revs: readonly number[], exact: boolean): void {
    const record = this.#records.get(id);
    if (!record) return;
    if (new Set(revs).size !== revs.length) {
      this.#findings.add('exactly once', `two changes of ${record.kind} ${id} brought one revision: ${revs.join()}`);
    }
    // a purge that was there may be entered again by somebody who only heard of it
    const isNew = this.#captures.some((one) => one.id === id && one.verb === 'record') && !wasThereBefore(id);
    const before = isNew ? 0 : 1;
    const changes = this.#changesOf(id);
    if (exact && record.rev !== changes + before) {
      this.#findings.add('exactly once', `${record.kind} ${id} has revision ${record.rev} after ${changes} changes`);
    }
    if (record.rev < Math.max(...revs)) {
      this.#findings.add(
        'no silent loss',
        `${record.kind} ${id} is at ${record.rev}, but ${Math.max(...revs)} was told`,
      );
    }
  }

  /** A decision that was acknowledged is there, with what it was decided over. */
  #resolutions(): void {
    for (const capture of this.#captures.filter((one) => one.verb === 'resolve' && wasTaken(one) && !one.excuse)) {
      const decision = this.#records.get(capture.told?.id ?? '');
      if (decision?.kind === 'resolution' && decision.fields.conflict === capture.id) continue;
      this.#findings.add(
        'no silent loss',
        `the decision of ${capture.id} (${capture.key}) was acknowledged and is not there`,
      );
    }
  }

  /** Nobody is asked about a value that the writer of another had seen and replaced. */
  #falseConflicts(): void {
    const { setBack, restoredPhone, cloned } = this.#features;
    if (setBack !== 'never' || restoredPhone || cloned) return;
    for (const { kind, id, fields } of this.#records.values()) {
      if (kind !== 'conflict' || fields.type !== 'field' || fields.standing !== 'open') continue;
      const field = String(fields.field);
      const seen = (fields.kept as readonly Rival[]).find(({ value }) =>
        this.#wasReplaced(fields.subject, field, value),
      );
      if (seen)
        this.#findings.add(
          'causal and atomic',
          `conflict ${id} asks about ${field} ${JSON.stringify(seen.value)}, which was seen`,
        );
    }
  }

  /** A value that was decided for is written anew by that, and not only by who wrote it first. */
  #wasReplaced(subject: unknown, field: string, value: unknown): boolean {
    if (this.#choicesOf(subject, value).length > 0) return false;
    return this.#captures.some((one) => {
      return (
        one.id === subject &&
        wasTaken(one) &&
        one.verb === 'amend' &&
        field in one.set &&
        same(one.seen?.[field], value)
      );
    });
  }
}
