import type { NotExported, WqxActivity, WqxWell } from '../../documents/wqx/wqx-facts.ts';
import type { WqxParts } from '../../documents/wqx/wqx-parts.ts';
import type { WellRecord } from '../../rules/samples/sample-records.ts';
import { inRead, type ReadTx } from '../../store/read/transaction.ts';
import { feedsInSight } from '../feeds-in-sight.ts';
import type { ReadContext } from '../read-context.ts';
import type { Reader } from '../reader.ts';
import { known } from './site-map.ts';
import type { WqxAsked } from './wqx-asked.ts';
import { fieldActivities, fieldNotTold } from './wqx-field.ts';
import { type WqxNames, wqxNames } from './wqx-names.ts';
import { sampleActivities } from './wqx-samples.ts';
import { type WqxWorld, wqxWorld } from './wqx-world.ts';

/** What is in the records of an event and has no place in an export of it, as far as it is known without looking. */
const NEVER_TOLD: readonly NotExported[] = [
  { what: 'calibration checks', why: 'they are records of their meters, which serve several events' },
  {
    what: 'sample fractions',
    why: 'a result names its sample and no bottle, so that nothing says whether it was filtered',
  },
  { what: 'containers and preservatives', why: 'the exchange has room for one container of a sample' },
  { what: 'screens of wells', why: 'the exchange has no element for them' },
];

function wqxWell({ id, fields }: WellRecord, names: WqxNames, asked: WqxAsked): WqxWell {
  const { name, latitudeDeg: latitude, longitudeDeg: longitude, built, totalDepthFt, remark } = fields;
  const { horizontalMethod, horizontalDatum, state: stateCode, county: countyCode } = asked;
  return {
    identifier: names.well(id) ?? id,
    name,
    wellType: 'Monitoring',
    ...known({ latitude, longitude, horizontalMethod, horizontalDatum, stateCode, countyCode }),
    ...known({ constructionDate: built, description: remark }),
    ...(totalDepthFt === undefined ? {} : { wellDepth: { value: totalDepthFt, unit: 'ft' } }),
  };
}

/** Wells at which something was done, in the order of their ids. */
function visitedWells({ index }: WqxWorld): readonly WellRecord[] {
  const visited = new Set(index.of.visits.map(({ fields }) => fields.well));
  return index.of.wells.filter(({ id }) => visited.has(id));
}

function partsOf(world: WqxWorld, asked: WqxAsked, firm: string): WqxParts {
  const names = wqxNames(world, asked, firm);
  const { event } = world.index.of;
  const activities = {
    *[Symbol.iterator](): Generator<WqxActivity, void> {
      yield* fieldActivities(world, names);
      yield* sampleActivities(world, names, asked);
    },
  };
  return {
    organization: { identifier: names.organization, name: world.firmName },
    projects: [{ identifier: names.project, name: event.fields.name }],
    wells: visitedWells(world).map((well) => wqxWell(well, names, asked)),
    activities,
    notTold: [...NEVER_TOLD, ...fieldNotTold(world)],
  };
}

/**
 * An event for the Water Quality Exchange: its records, from which activities are made one after the other as they are sent.
 *
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing` for an event that is not there or that the reader does not see
 */
export async function eventWqx(
  tx: ReadTx,
  feeds: readonly string[] | null,
  event: string,
  asked: WqxAsked,
): Promise<WqxParts> {
  return partsOf(await wqxWorld(tx, feeds, event), asked, tx.firm);
}

export function readEventWqx(
  { pool }: Pick<ReadContext, 'pool'>,
  reader: Reader,
  event: string,
  asked: WqxAsked,
): Promise<WqxParts> {
  return inRead(pool, reader.firm, async (tx) => eventWqx(tx, await feedsInSight(tx, reader), event, asked));
}
