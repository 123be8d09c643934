import type { EquipmentVector } from './equipment-vector.ts';

type SetUp = Readonly<Partial<Record<'intakeDepthFt' | 'drivePressurePsi', string>>>;

interface AboveRating {
  /** Of a pump P-1 with a rating. */
  readonly units: EquipmentVector['given']['units'];
  readonly above: SetUp;
  readonly justAt: SetUp;
  /** As it was set ten minutes later. */
  readonly since: SetUp;
  readonly says: string;
}

/** A cleaned pump that is set up in a well above its rating, just at it, above it and then mended, and without a rating. */
export function aboveRating({ units, above, justAt, since, says }: AboveRating): readonly EquipmentVector[] {
  const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
  const atWell = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00' } as const;
  const again = { does: 'set-up', unit: 'P-1', at: '08:10', ...since } as const;
  const wrong = [clean, { ...atWell, ...above }];
  return [
    { name: 'above the rating', given: { units, deeds: wrong }, expect: 'raised', says },
    { name: 'just at the rating', given: { units, deeds: [clean, { ...atWell, ...justAt }] }, expect: 'silent' },
    { name: 'mended since', given: { units, deeds: [...wrong, again] }, expect: 'silent' },
    { name: 'no rating is known', given: { units: { 'P-1': {} }, deeds: wrong }, expect: 'silent' },
  ];
}
