import type { cleanUnits } from './gear.ts';
import type { World } from './world.ts';

/** Tetrachloroethene in the samples of April, in µg/L; missing: not detected. Invented, as all of it. */
const FOUND: Readonly<Record<string, string | null>> = {
  'APR-101': null,
  'APR-103': '3.0',
  'APR-113': '4.1',
  'APR-104': null,
  'APR-105': '2.2',
  'APR-109': '1.4',
  'APR-108': null,
};
/** In the blank that was pumped through the pump of the North crew after MW-3. */
const IN_BLANK = '0.8';
export const FAILED_BLANK = 'APR-EB1';

interface Of {
  readonly sample?: string;
  readonly blank?: string;
}

async function result(world: World, of: Of, value: string | null): Promise<void> {
  const { client } = world.desk;
  await client.record('laboratory-result', {
    event: world.event,
    ...of,
    casNumber: '127-18-4',
    analyte: 'Tetrachloroethene',
    ...(value === null ? {} : { value }),
    unit: 'ug/L',
    reportingLimit: '0.5',
    condition: value === null ? 'not-detected' : 'detected',
    method: 'Volatile organics by purge and trap',
    analyzed: '2026-04-22T14:10:00-05:00',
    observed: await client.observed({ captured: 'from-paper', at: '2026-05-04T09:00:00-05:00' }),
  });
}

/** An equipment blank through a pump that was cleaned, on the sheet of that day or by the phone. */
export async function takeBlank(
  { world, phone }: Pick<Parameters<typeof cleanUnits>[0], 'world' | 'phone'>,
  number: string,
  pump: string,
  collected: string,
): Promise<void> {
  const unit = world.id('unit', pump);
  const decons = (await phone.client.all('decon')).map(({ record }) => record);
  const last = decons
    .filter(({ fields }) => fields.unit === unit)
    .filter(({ fields }) => Date.parse(String(fields.ended)) <= Date.parse(collected))
    .sort((a, b) => Date.parse(String(a.fields.ended)) - Date.parse(String(b.fields.ended)))
    .at(-1);
  const id = world.id('blank', number);
  const blank = {
    event: world.event,
    type: 'equipment',
    number,
    unit,
    ...(last ? { decon: last.id } : {}),
    collected,
    waterLot: 'PW-2609',
    suites: ['VOC', 'PFAS'],
  };
  await phone.client.record('blank', blank, { id });
}

/** What the laboratory reported of a round, as the office types it in: one blank did not come out clean. */
export async function typeResults(world: World): Promise<void> {
  const { client } = world.desk;
  const samples = (await client.all('sample')).map(({ record }) => record);
  for (const [number, value] of Object.entries(FOUND)) {
    const sample = samples.find(({ fields }) => fields.number === number);
    if (!sample) throw new Error(`the sample ${number} was not taken`);
    await result(world, { sample: sample.id }, value);
  }
  await result(world, { blank: world.id('blank', FAILED_BLANK) }, IN_BLANK);
}
