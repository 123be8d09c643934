import type { SampleListRow } from '../../rules/laboratory/list-row.ts';
import { localTime } from '../time/local-time.ts';

export interface ListColumn {
  readonly name: string;
  /** A figure is written as a number where the format has numbers. */
  readonly isFigure?: true;
  readonly of: (row: SampleListRow) => string | undefined;
}

function yesOrNo(value: boolean | undefined): string | undefined {
  return value === undefined ? undefined : value ? 'yes' : 'no';
}

/** The columns of the list, in their order; names are never changed, new ones go to the end. */
export const LIST_COLUMNS: readonly ListColumn[] = [
  { name: 'sampleNumber', of: (row) => row.sampleNumber },
  { name: 'labelId', of: (row) => row.labelId },
  { name: 'labelTime', of: (row) => row.labelTime && localTime(row.labelTime, row.timeZone) },
  { name: 'timeZone', of: (row) => row.timeZone },
  { name: 'matrix', of: (row) => row.matrix },
  { name: 'samplingPoint', of: (row) => row.samplingPoint },
  { name: 'containerType', of: (row) => row.containerType },
  { name: 'volumeMl', isFigure: true, of: (row) => row.volumeMl },
  { name: 'preservative', of: (row) => row.preservative },
  { name: 'filtered', of: (row) => yesOrNo(row.filtered) },
  { name: 'analyses', of: (row) => row.analyses.join('; ') },
  { name: 'matrixSpike', of: (row) => yesOrNo(row.isForMatrixSpike) },
  { name: 'turnaround', of: (row) => row.turnaround },
  { name: 'laboratory', of: (row) => row.laboratory },
  { name: 'cooler', of: (row) => row.cooler },
  { name: 'standing', of: (row) => row.standing },
  { name: 'ph', isFigure: true, of: (row) => row.ph },
  { name: 'temperatureC', isFigure: true, of: (row) => row.temperatureC },
  { name: 'dueAt', of: (row) => row.dueAt },
  { name: 'remark', of: (row) => row.remark },
  { name: 'spikeOf', of: (row) => row.spikeOf },
  { name: 'spikeAnalyses', of: (row) => row.spikeAnalyses?.join('; ') },
];
