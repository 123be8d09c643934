import type { ServiceRecord } from './equipment-records.ts';
import { compareMoments, type Moment, momentOf } from './moment.ts';

export interface ServiceMoment {
  readonly record: ServiceRecord;
  readonly type: ServiceRecord['fields']['type'];
  readonly moment: Moment;
}

export function serviceMoments(services: readonly ServiceRecord[]): readonly ServiceMoment[] {
  return services
    .map((record) => ({
      record,
      type: record.fields.type,
      moment: momentOf(record, record.fields.observed.at, record.fields.observed),
    }))
    .sort((a, b) => compareMoments(a.moment, b.moment));
}
