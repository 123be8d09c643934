import type { Cleanup } from '../cleanup.ts';
import type { Ground } from '../ground.ts';
import type { Round, Row } from '../row.ts';
import { openSampleGround } from '../samples/sample-ground.ts';
import { clockRound, clocksRow, openClocks } from './clocks.ts';
import { custodyRecordRow, documentRound, labelsRow, openCustodyRecords, openLabels } from './documents.ts';
import { openSampleList, sampleListRound, sampleListRow } from './sample-list.ts';

export const SAMPLE_ROWS = ['list', 'custody', 'labels', 'clocks'] as const;
export type SampleRow = (typeof SAMPLE_ROWS)[number];

type Timed = <T>(row: string, work: () => Promise<T>) => Promise<T>;

/** The rows about the samples of an event, which share one event of 5,000 containers. */
export interface SampleSides {
  round(timed: Timed): Promise<void>;
  rows(): Row[];
}

/** Opens those that are asked for, and goes through each once, so that nothing begins cold. */
export async function openSamples(
  cleanup: Cleanup,
  ground: Ground,
  wanted: (row: string) => boolean,
): Promise<SampleSides | null> {
  if (!SAMPLE_ROWS.some(wanted)) return null;
  const samples = await openSampleGround(cleanup, ground);
  const list = wanted('list') ? await openSampleList(samples, ground.size.lists) : null;
  const custody = wanted('custody') ? openCustodyRecords(samples, ground.size.records) : null;
  const labels = wanted('labels') ? openLabels(samples, ground.size.labels) : null;
  const clocks = wanted('clocks') ? await openClocks(samples) : null;
  const found: Record<SampleRow, Round[]> = { list: [], custody: [], labels: [], clocks: [] };
  const round = async (timed: Timed) => {
    if (list) found.list.push(await timed('list', () => sampleListRound(ground, list)));
    if (custody) found.custody.push(await timed('custody', () => documentRound(custody)));
    if (labels) found.labels.push(await timed('labels', () => documentRound(labels)));
    if (clocks) found.clocks.push(await timed('clocks', () => clockRound(ground, clocks)));
  };
  await round((_, work) => work());
  for (const rounds of [...Object.values(found), list?.found, custody?.found, labels?.found]) rounds?.splice(0);
  const rows = () => [
    sampleListRow(found.list, list),
    custodyRecordRow(found.custody, custody?.found ?? []),
    labelsRow(found.labels, labels?.found ?? []),
    clocksRow(found.clocks),
  ];
  return { round, rows };
}
