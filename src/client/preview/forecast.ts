import { bundleOf } from '../../rules/derive/bundle-of.ts';
import { assessmentInputOf } from '../../rules/derive/visit-derived.ts';
import { FORECAST_SEED } from '../../rules/forecast/forecast-seed.ts';
import { forecastPurge, type PurgeForecast } from '../../rules/forecast/purge-forecast.ts';
import type { PurgeForecastGiven } from '../../rules/forecast/purge-forecast-shape.ts';
import { seededUniform } from '../../science/forecast/seeded-uniform.ts';
import type { FieldClient } from '../client.ts';
import { visitOf } from '../visit-of.ts';
import { layOver, prepare } from './prepare.ts';

/**
 * How a running purge will go on, without a signal: the same answer as GET /v1/purges/ID/forecast gives of the same
 * records. Null where the purge, its visit, event or well is not on this device, or the purge is void.
 */
export async function forecastHere(
  client: FieldClient,
  purgeId: string,
  { withinMin, marginFt }: PurgeForecastGiven,
): Promise<PurgeForecast | null> {
  const visit = await visitOf(client, purgeId);
  if (visit === null) return null;
  const all = await prepare(client, visit);
  layOver(all, all.here.pending);
  const bundle = bundleOf(visit, all.world);
  const purge = bundle?.purges.find((one) => one.purge.id === purgeId);
  if (!bundle || !purge || purge.purge.voided !== null) return null;
  const uniform = seededUniform(FORECAST_SEED);
  return forecastPurge(assessmentInputOf(bundle, purge), { horizonMin: withinMin, marginFt, uniform });
}
