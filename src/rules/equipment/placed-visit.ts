import type { VisitRecord } from './equipment-records.ts';
import { type Moment, momentOf, momentOfEnd } from './moment.ts';

/** A visit with its times among those of other devices. A re-homed visit stands at the well that it was moved to. */
export interface PlacedVisit {
  readonly id: string;
  readonly event: string;
  readonly well: string;
  readonly crew: string;
  readonly arrived: Moment;
  /** Null while the crew is there. */
  readonly left: Moment | null;
}

export function placedVisit(record: VisitRecord): PlacedVisit {
  const { event, well, crew, arrived, left } = record.fields;
  return {
    id: record.id,
    event,
    well,
    crew,
    arrived: momentOf(record, arrived),
    left: left ? momentOfEnd(record, left) : null,
  };
}
