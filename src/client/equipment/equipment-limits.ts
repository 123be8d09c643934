import type { EquipmentHere } from './equipment-here.ts';
import type { UnitHere } from './unit-here.ts';

export const EQUIPMENT_LIMITS = [
  'firm-not-here',
  'feed-not-complete',
  'server-knows-more',
  'clock',
  'other-events',
] as const;

/** Something that this device cannot know of a unit. */
export interface EquipmentLimit {
  readonly what: (typeof EQUIPMENT_LIMITS)[number];
  readonly sentence: string;
}

const OTHER_EVENTS: EquipmentLimit = {
  what: 'other-events',
  sentence:
    'This device follows the firm and the events of its crew. What was done with a unit at other events, or not sent yet by other phones, it does not see.',
};

/** What the answer about a unit does not rest on; the first is the weightiest. */
export function limitsOfUnit({ device }: EquipmentHere, { standing, sentence }: UnitHere): readonly EquipmentLimit[] {
  const incomplete = device.feeds.filter(({ complete }) => !complete).map(({ feed }) => feed);
  return [
    ...(device.firm === null
      ? [{ what: 'firm-not-here' as const, sentence: 'The feed of the firm was not pulled yet: sync first.' }]
      : []),
    ...(incomplete.length > 0
      ? [
          {
            what: 'feed-not-complete' as const,
            sentence: `Not all of ${incomplete.sort().join(', ')} was pulled yet: sync again.`,
          },
        ]
      : []),
    ...(standing === 'server-knows-more' ? [{ what: 'server-knows-more' as const, sentence }] : []),
    ...(device.isClockKnown || device.pending.length === 0
      ? []
      : [{ what: 'clock' as const, sentence: 'How far the clock of this device is off was not measured yet.' }]),
    OTHER_EVENTS,
  ];
}
