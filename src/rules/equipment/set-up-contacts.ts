import type { Contact } from './contact.ts';
import type { SetUpRecord } from './equipment-records.ts';
import { type Moment, momentOf } from './moment.ts';
import type { PlacedVisit } from './placed-visit.ts';
import { earliestFirst } from './within-a-minute.ts';

interface Placed {
  readonly unit: string | null;
  readonly from: Moment;
}

/** The same unit set up again, deeper or with new tubing, goes on; another unit ends it. */
function runsOf(placed: readonly Placed[]): readonly Placed[] {
  return placed.filter(({ unit }, at) => at === 0 || placed[at - 1]?.unit !== unit);
}

function contactsOf(runs: readonly Placed[], how: Contact['how'], visit: PlacedVisit): readonly Contact[] {
  return runs.flatMap(({ unit, from }, at): readonly Contact[] => {
    if (unit === null) return [];
    const next = runs[at + 1]?.from;
    const common = { unit, visit: visit.id, well: visit.well, how, from, isNowAndThen: false };
    if (next) return [{ ...common, until: next, ends: 'said' }];
    return [{ ...common, until: visit.left, ends: visit.left ? 'with-the-visit' : 'open' }];
  });
}

/** The pump of a set-up is down the well and its flow cell on the line until another takes its place or the crew leaves. */
export function setUpContacts(setUps: readonly SetUpRecord[], visit: PlacedVisit): readonly Contact[] {
  const moments = setUps.map((record) => ({
    fields: record.fields,
    from: momentOf(record, record.fields.observed.at, record.fields.observed),
  }));
  const placed = earliestFirst(moments, ({ from }) => from);
  const pumps = placed.map(({ fields, from }) => ({ unit: fields.pump, from }));
  const cells = placed.map(({ fields, from }) => ({ unit: fields.flowCell ?? null, from }));
  return [...contactsOf(runsOf(pumps), 'down-the-well', visit), ...contactsOf(runsOf(cells), 'on-the-line', visit)];
}
