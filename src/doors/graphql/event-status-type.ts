import {
  type ConflictCount,
  type CrewStatus,
  type EventStatus,
  type EventTotals,
  type FlagCount,
  type Named,
  WELL_STANDINGS,
  type WellStatus,
  type WellTotals,
} from '../../reads/event-status-result.ts';
import { OPEN_FLAGS } from '../flag-reach.ts';
import { inTouchType, setAsideCountsType } from './in-touch-type.ts';
import type { GraphTypes } from './types.ts';

/** An event of this many wells is what the cost of its status is reckoned by. */
const WELLS = 100;
/** Its eight statements, each over all wells of the event. */
const STATUS_COST = 200;

function crewRefType(types: GraphTypes) {
  return types.builder.objectRef<Named>('CrewName').implement({
    description: 'A crew by its id and name; `crew` is the record.',
    fields: (t) => ({
      id: t.exposeID('id'),
      name: t.exposeString('name'),
      crew: t.field({
        type: types.ofKind('crew'),
        nullable: true,
        resolve: (named, _args, g) => g.reads.record(named.id, 'crew'),
      }),
    }),
  });
}

function wellStatusType(types: GraphTypes, crew: ReturnType<typeof crewRefType>) {
  const standing = types.values.enum('StandingInEvent', WELL_STANDINGS);
  const outcome = types.choicesOf('visit', 'outcome');
  const record = (kind: string) => ({ type: types.ofKind(kind), nullable: true }) as const;
  return types.builder.objectRef<WellStatus>('WellStatus').implement({
    description: 'Where a well stands in an event.',
    fields: (t) => ({
      wellId: t.exposeID('id'),
      well: t.field({ ...record('well'), resolve: (row, _args, g) => g.reads.record(row.id, 'well') }),
      name: t.exposeString('name'),
      planned: t.exposeBoolean('planned', { description: 'A crew was assigned to it, not only at work there' }),
      toSample: t.exposeBoolean('toSample', { description: 'Samples are expected, not only a level' }),
      assignedTo: t.field({ type: [crew], resolve: (row) => row.assignedTo, complexity: { field: 1, multiplier: 1 } }),
      standing: t.field({ type: standing, resolve: (row) => row.standing }),
      since: t.exposeString('since', {
        nullable: true,
        description: 'When this standing began, in UTC; for STABLE, when the criteria were first met',
      }),
      crew: t.field({ type: crew, nullable: true, resolve: (row) => row.crew }),
      claimedBy: t.field({ type: [crew], resolve: (row) => row.claimedBy, complexity: { field: 1, multiplier: 1 } }),
      visitId: t.exposeID('visit', { nullable: true }),
      visit: t.field({ ...record('visit'), resolve: (row, _args, g) => g.reads.record(row.visit, 'visit') }),
      purgeId: t.exposeID('purge', { nullable: true }),
      purge: t.field({ ...record('purge'), resolve: (row, _args, g) => g.reads.record(row.purge, 'purge') }),
      outcome: t.field({ type: outcome, nullable: true, resolve: (row) => row.outcome }),
      outcomeReason: t.exposeString('outcomeReason', { nullable: true }),
      samples: t.exposeInt('samples'),
      openFlags: t.exposeInt('openFlags', { description: 'Raised ones, about its visits and what was recorded there' }),
    }),
  });
}

function wellTotalsType({ builder }: GraphTypes) {
  return builder.objectRef<WellTotals>('WellTotals').implement({
    fields: (t) => ({
      planned: t.exposeInt('planned'),
      unplanned: t.exposeInt('unplanned', { description: 'Visited or claimed without an assignment' }),
      notStarted: t.exposeInt('notStarted'),
      claimed: t.exposeInt('claimed'),
      gauging: t.exposeInt('gauging'),
      purging: t.exposeInt('purging'),
      stable: t.exposeInt('stable'),
      sampled: t.exposeInt('sampled'),
      ended: t.exposeInt('ended', { description: 'Otherwise: dry, not stable, no access ...' }),
    }),
  });
}

function totalsType(types: GraphTypes, setAside: ReturnType<typeof setAsideCountsType>) {
  const wells = wellTotalsType(types);
  return types.builder.objectRef<EventTotals>('EventTotals').implement({
    fields: (t) => ({
      wells: t.field({ type: wells, resolve: (totals) => totals.wells }),
      visits: t.exposeInt('visits'),
      samples: t.exposeInt('samples'),
      openFlags: t.exposeInt('openFlags', { description: OPEN_FLAGS }),
      openConflicts: t.exposeInt('openConflicts'),
      unsent: t.exposeInt('unsent', { description: 'Mutations that devices said they still held' }),
      setAside: t.field({ type: setAside, resolve: (totals) => totals.setAside }),
    }),
  });
}

function flagCountType(types: GraphTypes) {
  return types.builder.objectRef<FlagCount>('FlagCount').implement({
    fields: (t) => ({
      addressee: t.field({ type: types.choicesOf('flag', 'addressee'), resolve: (row) => row.addressee }),
      severity: t.field({ type: types.choicesOf('flag', 'severity'), resolve: (row) => row.severity }),
      count: t.exposeInt('count'),
    }),
  });
}

function conflictCountType(types: GraphTypes) {
  return types.builder.objectRef<ConflictCount>('ConflictCount').implement({
    fields: (t) => ({
      type: t.field({ type: types.choicesOf('conflict', 'type'), resolve: (row) => row.type }),
      certainty: t.field({ type: types.choicesOf('conflict', 'certainty'), resolve: (row) => row.certainty }),
      count: t.exposeInt('count'),
    }),
  });
}

/** How an event stands: the same answer as GET /v1/events/ID/status. */
export function addEventStatus(types: GraphTypes): void {
  const { builder } = types;
  const setAside = setAsideCountsType(types);
  const inTouch = inTouchType(types, setAside);
  const crew = crewRefType(types);
  const crewStatus = builder.objectRef<CrewStatus>('CrewStatus').implement({
    fields: (t) => ({
      id: t.exposeID('id'),
      name: t.exposeString('name'),
      crew: t.field({
        type: types.ofKind('crew'),
        nullable: true,
        resolve: (status, _args, g) => g.reads.record(status.id, 'crew'),
      }),
      inTouch: t.field({ type: inTouch, resolve: (status) => status }),
    }),
  });
  const [wells, totals] = [wellStatusType(types, crew), totalsType(types, setAside)];
  const [flags, conflicts] = [flagCountType(types), conflictCountType(types)];
  const status = builder.objectRef<EventStatus>('EventStatus').implement({
    description: 'How an event stands: its wells, crews and open questions. Times in UTC.',
    fields: (t) => ({
      timeZone: t.string({ description: 'Of the site', resolve: (row) => row.site.timeZone }),
      totals: t.field({ type: totals, resolve: (row) => row.totals }),
      wells: t.field({ type: [wells], complexity: { field: 1, multiplier: WELLS }, resolve: (row) => row.wells }),
      crews: t.field({ type: [crewStatus], resolve: (row) => row.crews }),
      flags: t.field({
        type: [flags],
        description: 'Raised ones, counted; as many as openFlags of the totals',
        resolve: (row) => row.flags,
      }),
      conflicts: t.field({ type: [conflicts], description: 'Open ones, counted', resolve: (row) => row.conflicts }),
    }),
  });
  builder.objectField(types.ofKind('event'), 'status', (t) =>
    t.field({
      type: status,
      nullable: true,
      complexity: STATUS_COST,
      resolve: (event, _args, g) => g.reads.status(event.id),
    }),
  );
}
