import type { CrewInTouch } from '../../reads/crews-in-touch.ts';
import type { DeviceStatus, SetAsideCounts } from '../../reads/event-status-result.ts';
import { STATEMENT_COST } from './connections.ts';
import type { GraphTypes } from './types.ts';

const UNSENT = 'What it said at its last push that it still held';
const CLOCK = 'Server time minus device time, at the last push';

export function setAsideCountsType({ builder }: GraphTypes) {
  return builder.objectRef<SetAsideCounts>('SetAsideCounts').implement({
    description: 'Mutations that were not applied but kept as they came.',
    fields: (t) => ({
      waiting: t.exposeInt('waiting', { description: 'For another record to arrive' }),
      forAPerson: t.exposeInt('forAPerson'),
      refused: t.exposeInt('refused', { description: 'They mean nothing, and are only kept' }),
    }),
  });
}

function deviceStatusType(types: GraphTypes, setAside: ReturnType<typeof setAsideCountsType>) {
  return types.builder.objectRef<DeviceStatus>('DeviceStatus').implement({
    fields: (t) => ({
      deviceId: t.exposeID('id'),
      device: t.field({
        type: types.ofKind('device'),
        nullable: true,
        resolve: (status, _args, g) => g.reads.record(status.id, 'device'),
      }),
      label: t.exposeString('label'),
      lastPush: t.exposeString('lastPush', { nullable: true }),
      lastPull: t.exposeString('lastPull', { nullable: true }),
      cameBackAt: t.exposeString('cameBackAt', {
        nullable: true,
        description: 'When it came back with an older memory than the server has of it, or as one of two on a copy',
      }),
      unsentCount: t.exposeInt('unsentCount', { nullable: true, description: UNSENT }),
      unsentOldest: t.exposeString('unsentOldest', { nullable: true }),
      clockDifferenceMs: t.exposeFloat('clockDifferenceMs', { nullable: true, description: CLOCK }),
      setAside: t.field({ type: setAside, resolve: (status) => status.setAside }),
    }),
  });
}

/** When a crew was last in touch: a field of the crew, and of its standing in an event. */
export function inTouchType(types: GraphTypes, setAside: ReturnType<typeof setAsideCountsType>) {
  const device = deviceStatusType(types, setAside);
  const ref = types.builder.objectRef<CrewInTouch>('CrewInTouch').implement({
    description: 'When the devices of a crew were last in touch, and what they had not sent then. Times in UTC.',
    fields: (t) => ({
      lastPush: t.exposeString('lastPush', { nullable: true }),
      lastPull: t.exposeString('lastPull', { nullable: true }),
      unsentCount: t.exposeInt('unsentCount', { nullable: true, description: UNSENT }),
      unsentOldest: t.exposeString('unsentOldest', { nullable: true }),
      clockDifferenceMs: t.exposeFloat('clockDifferenceMs', {
        nullable: true,
        description: `${CLOCK}; of the device that is furthest off`,
      }),
      setAside: t.field({ type: setAside, resolve: (crew) => crew.setAside }),
      devices: t.field({ type: [device], resolve: (crew) => crew.devices }),
    }),
  });
  types.builder.objectField(types.ofKind('crew'), 'inTouch', (t) =>
    t.field({
      type: ref,
      nullable: true,
      complexity: STATEMENT_COST,
      resolve: (crew, _args, g) => g.reads.inTouch(crew.id),
    }),
  );
  return ref;
}
