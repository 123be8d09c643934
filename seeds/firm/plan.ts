import type { Entry, IdOf } from './entry.ts';
import type { CrewName } from './people.ts';
import { SITE } from './site.ts';
import type { WellName } from './wells.ts';

export const EVENT = 'October round';
export const DAYS = ['2026-10-13', '2026-10-14'] as const;

const PFAS = ['PFAS', 'VOC', 'metals'];
const BASIC = ['VOC', 'metals', 'chloride and sulfate'];

/** The round before, which is over. */
export const EVENT_BEFORE = 'April round';
export const DAYS_BEFORE = ['2026-04-14'] as const;

interface Assigned {
  readonly crew: CrewName;
  readonly wells: readonly WellName[];
  readonly suites: readonly string[];
}

const ASSIGNED: readonly Assigned[] = [
  { crew: 'North crew', wells: ['MW-1', 'MW-3', 'MW-13', 'MW-14'], suites: PFAS },
  { crew: 'North crew', wells: ['MW-10'], suites: BASIC },
  { crew: 'South crew', wells: ['MW-4S', 'MW-4D', 'MW-9'], suites: PFAS },
  { crew: 'South crew', wells: ['MW-5', 'MW-11'], suites: BASIC },
  { crew: 'West crew', wells: ['MW-2', 'MW-8', 'MW-12'], suites: PFAS },
  { crew: 'West crew', wells: ['MW-6', 'MW-7', 'MW-15'], suites: BASIC },
];

/** The criteria set and its options hold for the whole event. The sensor floors are the firm's own, no source. */
const PLAN = {
  criteria: 'epa-region-1-low-stress-rev-4',
  stabilization: {
    parameters: { 'dissolved-oxygen': { sensorFloor: '0.2' }, turbidity: { sensorFloor: '0.5' } },
  },
};

/** What this round asks of its gear besides; the round before asked nothing. */
const PLAN_NOW = {
  ...PLAN,
  equipment: {
    deconProtocols: ['pump-flush', 'pfas-free-rinse', 'tape-wipe-down', 'meter-rinse'],
    partLotsRequired: ['bladder', 'tubing'],
  },
  calibration: { set: 'usgs-field-manual' },
};

export function suitesOf(well: WellName): readonly string[] {
  return ASSIGNED.find(({ wells }) => wells.includes(well))?.suites ?? [];
}

export const WELLS_PLANNED = ASSIGNED.flatMap(({ wells }) => wells).length;

export function planEntries(id: IdOf): Entry[] {
  const event = id('event', EVENT);
  const [starts, ends] = DAYS;
  const set = { site: id('site', SITE), name: EVENT, starts, ends, standing: 'open', plan: PLAN_NOW };
  const assignments = ASSIGNED.flatMap(({ crew, wells, suites }) =>
    wells.map((well) => ({
      kind: 'assignment',
      id: id('assignment', well),
      set: { event, crew: id('crew', crew), well: id('well', well), suites },
    })),
  );
  return [{ kind: 'event', id: event, set }, ...assignments];
}

/** Without assignments: nobody carries a round about that is over. */
export function earlierEntries(id: IdOf): Entry[] {
  const [day] = DAYS_BEFORE;
  const dates = { starts: day, ends: day, standing: 'closed' };
  const set = { site: id('site', SITE), name: EVENT_BEFORE, ...dates, plan: PLAN };
  return [{ kind: 'event', id: id('event', EVENT_BEFORE), set }];
}
