import type { TimedState } from '../../rules/equipment/unit-state.ts';
import type { TimelineEntry } from '../../rules/equipment/unit-timeline.ts';
import { instantMs } from '../../science/instant-ms.ts';
import { type TimeWindow, zonedText } from '../svg/time-axis.ts';
import { nameIn, type TimelineFacts } from './timeline-facts.ts';
import type { Bar, BarLook, Mark, TimelineRow } from './timeline-row.ts';

type Of<What extends TimelineEntry['what']> = Extract<TimelineEntry, { what: What }>;

type StateName = TimedState['state'];

/** So many rows of one group; the rest share one, so that no page grows without end. */
const MOST_ROWS = 30;

const STATE_NAMES: Readonly<Record<StateName, string>> = {
  'out-of-service': 'out of service',
  unknown: 'not known',
  used: 'used',
  'in-a-well': 'in a well',
  'being-cleaned': 'being cleaned',
  clean: 'clean',
};

/** From bad to good, so that a unit that is cleaned goes down the page. */
const STATE_ORDER = Object.keys(STATE_NAMES) as StateName[];

const words = (id: string) => id.replaceAll('-', ' ');

/** Rows of a group and what each tells, built for one unit and one window. */
class Rows {
  readonly #facts: TimelineFacts;
  readonly #window: TimeWindow;

  constructor(facts: TimelineFacts, window: TimeWindow) {
    this.#facts = facts;
    this.#window = window;
  }

  of<What extends TimelineEntry['what']>(what: What): readonly Of<What>[] {
    const { fromMs, untilMs } = this.#window;
    return this.#facts.entries.filter((entry): entry is Of<What> => {
      const end = entry.until === null ? Number.POSITIVE_INFINITY : instantMs(entry.until);
      return entry.what === what && instantMs(entry.from) < untilMs && end >= fromMs;
    });
  }

  name(id: string): string {
    return nameIn(this.#facts, id);
  }

  times(from: string, until: string | null): string {
    const [start, end] = [from, until].map((at) => (at ? zonedText(instantMs(at), this.#facts.timeZone) : null));
    if (start === end) return `${start}`;
    return end ? `${start} to ${end}` : `since ${start}`;
  }

  bar(entry: TimelineEntry, look: BarLook, label: string | null, tells: string): Bar {
    const { from, until } = entry;
    const untilMs = until === null ? null : Math.max(instantMs(until), instantMs(from));
    return { fromMs: instantMs(from), untilMs, look, label, tells: `${tells}\n${this.times(from, until)}` };
  }

  mark(entry: TimelineEntry, shape: Mark['shape'], label: string, tells: string): Mark {
    return { ms: instantMs(entry.from), shape, label, tells: `${tells}\n${this.times(entry.from, entry.from)}` };
  }

  states(): readonly TimelineRow[] {
    const { states } = this.#facts;
    const { fromMs, untilMs } = this.#window;
    const bars = states.map(
      (one, at): Bar => ({
        fromMs: Math.max(one.fromMs, fromMs),
        untilMs: states[at + 1]?.fromMs ?? null,
        look: one.state,
        label: null,
        tells: one.sentence,
      }),
    );
    const seen = bars.filter((bar) => bar.fromMs < untilMs && (bar.untilMs ?? Number.POSITIVE_INFINITY) > fromMs);
    return STATE_ORDER.map((state) => ({
      group: 'State',
      label: STATE_NAMES[state],
      bars: seen.filter(({ look }) => look === state),
      marks: [],
    }));
  }

  /** A row for each of what they have in common, in the order in which it first comes. */
  grouped<Entry extends TimelineEntry>(
    group: string,
    entries: readonly Entry[],
    rowOf: (entry: Entry) => string,
    barOf: (entry: Entry) => Bar,
  ): readonly TimelineRow[] {
    const labels = [...new Set(entries.map(rowOf))];
    const own = labels.length > MOST_ROWS ? labels.slice(0, MOST_ROWS - 1) : labels;
    const rows = own.map((label) => ({
      group,
      label,
      bars: entries.filter((entry) => rowOf(entry) === label).map(barOf),
      marks: [],
    }));
    const rest = entries.filter((entry) => !own.includes(rowOf(entry)));
    if (rest.length === 0) return rows;
    return [...rows, { group, label: `${labels.length - own.length} others`, bars: rest.map(barOf), marks: [] }];
  }

  wells(): readonly TimelineRow[] {
    return this.grouped(
      'Wells',
      this.of('contact'),
      ({ well }) => this.name(well),
      (entry) => this.bar(entry, entry.how, null, `${this.name(entry.well)}, ${words(entry.how)}`),
    );
  }

  decons(): readonly TimelineRow[] {
    const its = this.of('decon');
    const row = (isClean: boolean): TimelineRow => ({
      group: 'Decons',
      label: isClean ? 'complete' : 'not complete',
      bars: its
        .filter((entry) => entry.isClean === isClean)
        .map((entry) =>
          this.bar(
            entry,
            isClean ? 'complete' : 'not-complete',
            words(entry.protocol),
            `${words(entry.protocol)}. ${entry.sentence}`,
          ),
        ),
      marks: [],
    });
    return its.length === 0 ? [] : [row(true), row(false)];
  }

  parts(): readonly TimelineRow[] {
    return this.grouped(
      'Soft parts',
      this.of('part'),
      ({ type }) => words(type ?? 'part'),
      (entry) => {
        const lot = entry.lot ? `, lot ${entry.lot}` : '';
        const ended = entry.endedBy ? `; ${words(entry.endedBy)}` : '';
        const name = this.name(entry.part);
        return this.bar(entry, 'part', name, `${words(entry.type ?? 'part')} ${name}${lot}${ended}`);
      },
    );
  }

  rinsates(): readonly TimelineRow[] {
    const marks = this.of('blank').map((entry) =>
      this.mark(entry, entry.standing, entry.number, `Equipment blank ${entry.number}: ${words(entry.standing)}`),
    );
    return marks.length === 0 ? [] : [{ group: 'Rinsates', label: '', bars: [], marks }];
  }

  services(): readonly TimelineRow[] {
    const marks = this.of('service').map((entry) => {
      const told = words(entry.type);
      const result = entry.result ? `: ${entry.result}` : '';
      return this.mark(entry, entry.result === 'fail' ? 'service-failed' : 'service', told, `${told}${result}`);
    });
    return marks.length === 0 ? [] : [{ group: 'Services', label: '', bars: [], marks }];
  }

  crews(): readonly TimelineRow[] {
    return this.grouped(
      'Crews',
      this.of('sign-out'),
      ({ crew }) => this.name(crew),
      (entry) => this.bar(entry, 'crew', null, `Signed out to ${this.name(entry.crew)}`),
    );
  }
}

/** The rows of the picture, from the top down. */
export function timelineRows(facts: TimelineFacts, window: TimeWindow): readonly TimelineRow[] {
  const rows = new Rows(facts, window);
  return [
    ...rows.states(),
    ...rows.wells(),
    ...rows.decons(),
    ...rows.rinsates(),
    ...rows.parts(),
    ...rows.services(),
    ...rows.crews(),
  ];
}
