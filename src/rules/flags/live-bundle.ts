import type { Voided } from '../../protocol/record.ts';
import type { VisitBundle } from '../visit-bundle.ts';

function live<Item extends { readonly voided: Voided | null }>(records: readonly Item[]): readonly Item[] {
  return records.filter((one) => one.voided === null);
}

/** The visit without what was voided: a voided record raises nothing, nor does anything that hangs on it. */
export function liveBundle(bundle: VisitBundle): VisitBundle {
  return {
    ...bundle,
    nestWells: live(bundle.nestWells),
    measuringPoints: live(bundle.measuringPoints),
    levels: live(bundle.levels),
    soundings: live(bundle.soundings),
    setUps: live(bundle.setUps),
    samples: live(bundle.samples),
    uses: live(bundle.uses),
    purges: bundle.purges
      .filter((one) => one.purge.voided === null)
      .map((one) => ({
        purge: one.purge,
        readings: live(one.readings),
        occurrences: live(one.occurrences),
        calls: live(one.calls),
      })),
  };
}
