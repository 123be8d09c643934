import { drawTable, type TableColumn, type TableRow } from '../pdf/draw-table.ts';
import type { PageFlow } from '../pdf/page-flow.ts';
import type { Run } from '../pdf/runs.ts';
import { localTime } from '../time/local-time.ts';
import type { AfterSigningMark, CustodyContainers, CustodyRecord, CustodySample } from './custody-facts.ts';
import { NOT_RECORDED, shown, toldRuns, writtenRuns } from './written-runs.ts';

const COLUMNS: readonly TableColumn[] = [
  { title: 'Sample number', share: 12 },
  { title: 'Date and time on the label', share: 13 },
  { title: 'Matrix', share: 9 },
  { title: 'Sampling point', share: 11 },
  { title: 'Containers', share: 14 },
  { title: 'Preservative', share: 10 },
  { title: 'Filtered', share: 6 },
  { title: 'Analyses', share: 16 },
  { title: 'MS/MSD', share: 10 },
  { title: 'Turnaround', share: 8 },
];

/** By the number as told: an order of planning or of collection would tell what stands next to what. */
function inOrder(samples: readonly CustodySample[]): readonly CustodySample[] {
  const key = (sample: CustodySample) => shown(sample.sampleNumber);
  return [...samples].sort((a, b) => (key(a) < key(b) ? -1 : key(a) > key(b) ? 1 : 0));
}

function yesOrNo(answer: boolean | undefined): Run {
  if (answer === undefined) return NOT_RECORDED;
  return { text: answer ? 'yes' : 'no' };
}

function containerText({ count, type, volumeMl, added, takenOut, remark }: CustodyContainers): readonly Run[] {
  const size = volumeMl === undefined ? '' : `, ${volumeMl} mL`;
  const quiet = (text: string): Run => ({ text: ` (${text})`, look: 'quiet' });
  const signed = ({ initials, day }: AfterSigningMark) => `after signing, ${initials} ${day}`;
  return [
    { text: `${count} × ${type}${size}`, ...(takenOut ? { look: 'struck' as const } : {}) },
    ...(takenOut ? [quiet(`taken out ${signed(takenOut)}`)] : []),
    ...(added ? [quiet(`added ${signed(added)}`)] : []),
    ...(remark ? [quiet(remark)] : []),
  ];
}

function sampleCells(sample: CustodySample, timeZone: string): readonly (readonly Run[])[] {
  const { labelTime } = sample;
  const time = 'at' in labelTime ? localTime(labelTime.at, timeZone) : labelTime.corrected;
  return [
    toldRuns(sample.sampleNumber, timeZone),
    toldRuns(time, timeZone),
    toldRuns(sample.matrix, timeZone),
    toldRuns(sample.samplingPoint, timeZone),
  ];
}

function containerCells(containers: CustodyContainers, timeZone: string): readonly (readonly Run[])[] {
  return [
    containerText(containers),
    toldRuns(containers.preservative, timeZone),
    [yesOrNo(containers.filtered)],
    [{ text: containers.analyses.join(', '), ...(containers.takenOut ? { look: 'struck' as const } : {}) }],
  ];
}

/** Yes alone where all of the containers is to be spiked; the extra ones of a spike name the sample that they are of. */
function spikeRuns({ isForMatrixSpike, spikeOf }: CustodySample, of?: CustodyContainers): readonly Run[] {
  const { spikeAnalyses, analyses = [] } = of ?? {};
  if (spikeAnalyses === undefined) return [{ text: isForMatrixSpike && of === undefined ? 'yes' : 'no' }];
  const isAll = spikeOf !== undefined || spikeAnalyses.length === analyses.length;
  return [
    { text: isAll ? 'yes' : `yes: ${spikeAnalyses.join(', ')}` },
    ...(spikeOf === undefined ? [] : [{ text: `, of ${spikeOf}` }]),
  ];
}

function rowsOf(sample: CustodySample, timeZone: string): readonly TableRow[] {
  const turnaround = writtenRuns(sample.turnaround, timeZone);
  const none: TableRow['cells'] = [[{ text: 'no container', look: 'bold' }], [], [], []];
  const groups = sample.containers.map((one) => [...containerCells(one, timeZone), spikeRuns(sample, one)]);
  const rows = (groups.length > 0 ? groups : [[...none, spikeRuns(sample)]]).map((cells, at) =>
    at === 0
      ? { cells: [...sampleCells(sample, timeZone), ...cells, turnaround] }
      : { cells: [[], [], [], [], ...cells, []], begins: false },
  );
  if (!sample.remark) return rows;
  const remark = {
    cells: [[], [], [], [], [], [], [], [{ text: sample.remark, look: 'quiet' as const }], [], []],
    begins: false,
  };
  return [...rows, remark];
}

export function containersOf(record: CustodyRecord): number {
  const standing = record.samples.flatMap(({ containers }) => containers).filter(({ takenOut }) => !takenOut);
  return standing.reduce((sum, { count }) => sum + count, 0);
}

/** Without those of which all was taken out. */
function samplesIn({ samples }: CustodyRecord): number {
  return samples.filter(({ containers }) => containers.length === 0 || containers.some(({ takenOut }) => !takenOut))
    .length;
}

/** The samples of the cooler, a line for each kind of container. */
export function drawSamples(flow: PageFlow, record: CustodyRecord): void {
  const rows = inOrder(record.samples).flatMap((sample) => rowsOf(sample, record.timeZone));
  const total: TableRow = {
    cells: [
      [{ text: `${samplesIn(record)} samples`, look: 'bold' }],
      [],
      [],
      [],
      [{ text: `${containersOf(record)} containers`, look: 'bold' }],
      ...Array.from({ length: 5 }, () => []),
    ],
  };
  drawTable(flow, COLUMNS, [...rows, total], 7.5);
  flow.yPt += 8;
}
