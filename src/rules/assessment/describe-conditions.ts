import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import { millionths } from '../../science/millionths.ts';
import { percentRatio } from '../../science/ratio.ts';
import type { AskedVolumes } from './asked-volumes.ts';
import type { Window } from './choose-window.ts';
import { turnoverAt, volumesAt } from './conditions-at.ts';
import { type Drawdown, drawdownAt } from './drawdown.ts';
import { isOtherFlow } from './interruptions.ts';
import { type MinimumPurgeStanding, minimumPurgeAt } from './minimum-purge.ts';
import type { PurgeRun } from './purge-run.ts';
import { durationText } from './shortfall-text.ts';
import { volumeText } from './volume-text.ts';

type Conditions = AssessmentFields['conditions'];

function turnoverStatus(run: PurgeRun, end: number, whole: Window): Conditions['interval']['turnover'] {
  const kept = turnoverAt(run, end);
  if (kept !== 'kept') return kept;
  return whole.shortfall === null ? 'met' : 'not-met';
}

const TURNOVER_TEXTS: Readonly<Record<Conditions['interval']['turnover'], string>> = {
  met: 'The water of the flow cell was replaced between the readings of the window.',
  'not-met': 'There are not yet enough readings with a flow-cell volume of water between them.',
  'not-known': 'Record the volume of the flow cell and the flow: without them its turnover cannot be checked.',
  'not-a-condition': 'The turnover of the flow cell is no condition.',
};

function interval(run: PurgeRun, end: number, whole: Window): Conditions['interval'] {
  const { minimumIntervalMs, graceMs } = run.plan.options;
  const moment = run.moments[end];
  const intervalMs = moment?.intervalMs ?? minimumIntervalMs;
  const turnover = turnoverStatus(run, end, whole);
  const least = Number.isFinite(intervalMs) ? `Readings count ${durationText(intervalMs)} apart. ` : '';
  const shown: Conditions['interval'] = {
    criteriaS: minimumIntervalMs / 1_000,
    graceS: graceMs / 1_000,
    turnover,
    because: least + TURNOVER_TEXTS[turnover],
  };
  if (Number.isFinite(intervalMs)) shown.requiredS = Math.ceil(intervalMs / 1_000);
  if (moment && moment.flowCellMl !== null) shown.flowCellMl = moment.flowCellMl;
  if (moment && moment.flow !== null) shown.flowMlPerMin = moment.flow;
  return shown;
}

function flow(run: PurgeRun, whole: Window): Conditions['flow'] {
  let smallest: string | undefined;
  let largest: string | undefined;
  for (const index of whole.indices) {
    const text = run.readings[index]?.record.fields.flowMlPerMin;
    if (text === undefined) continue;
    if (smallest === undefined || millionths(text) < millionths(smallest)) smallest = text;
    if (largest === undefined || millionths(text) > millionths(largest)) largest = text;
  }
  if (smallest === undefined || largest === undefined) {
    return { status: 'not-known', because: 'No flow was recorded with the readings of the window.' };
  }
  const { flowChangePercent } = run.plan.options;
  const changed = isOtherFlow(smallest, largest, percentRatio(flowChangePercent));
  return {
    status: changed ? 'changed' : 'steady',
    smallestMlPerMin: smallest,
    largestMlPerMin: largest,
    because: `The flow was between ${smallest} and ${largest} mL/min; a change by ${flowChangePercent} % is let pass.`,
  };
}

function drawdownStatus(drawdown: Drawdown): Conditions['drawdown']['status'] {
  if (drawdown.steady === false) return 'not-steady';
  if (drawdown.withinLimit === true) return 'within';
  if (drawdown.withinLimit === null) return drawdown.steady === null ? 'not-known' : 'steady';
  return drawdown.steady === null ? 'not-known' : 'beyond-but-steady';
}

const LIMIT_UNITS: Readonly<Record<NonNullable<Conditions['drawdown']['limitUnit']>, string>> = {
  ft: 'ft',
  m: 'm',
  'percent-of-screen-top-to-intake': '% of the distance from the top of the screen to the intake',
  'percent-of-screen-length': '% of the length of the screen',
  'percent-of-water-column': '% of the water that stood in the well',
};

function drawdownText(run: PurgeRun, status: Conditions['drawdown']['status'], drawdown: Drawdown): string {
  const { limit, limitUnit, steadyWithinFt } = run.plan.options.drawdown;
  const least = `${limit} ${LIMIT_UNITS[limitUnit]}`;
  const depth = drawdown.drawdownFt === null ? '' : `The level stands ${drawdown.drawdownFt} ft below the static one. `;
  const spread = drawdown.spreadFt === null ? '' : `It moved by ${drawdown.spreadFt} ft within the window`;
  switch (status) {
    case 'within':
      return `${depth}That is within ${least}.`;
    case 'beyond-but-steady':
      return `${depth}That is beyond ${least}. ${spread}, which is steady.`;
    case 'steady':
      return `${depth}${spread}, which is steady.`;
    case 'not-steady':
      return `${depth}${spread}, more than ${steadyWithinFt} ft.`;
    case 'not-known':
      return `${depth}Record the static level and the pumping level with each reading to judge the drawdown.`;
  }
}

function drawdownCondition(run: PurgeRun, drawdown: Drawdown): Conditions['drawdown'] {
  const { limit, limitUnit, required } = run.plan.options.drawdown;
  const { pumpingFt, drawdownFt, spreadFt } = drawdown;
  const status = drawdownStatus(drawdown);
  const shown: Conditions['drawdown'] = { status, required, because: drawdownText(run, status, drawdown) };
  if (run.staticFt !== null) shown.staticFt = run.staticFt;
  if (pumpingFt !== null) shown.pumpingFt = pumpingFt;
  if (drawdownFt !== null) shown.drawdownFt = drawdownFt;
  if (spreadFt !== null) shown.spreadFt = spreadFt;
  if (limit !== null) {
    shown.limit = limit;
    shown.limitUnit = limitUnit;
  }
  return shown;
}

/** As figures, volumes are shown to a tenth of a millilitre. */
function ml(volume: number): string {
  return volume.toFixed(1);
}

function minimumPurgeText({ status, volume, purgedMl, sinceSteady, lacks }: MinimumPurgeStanding): string {
  if (status === 'not-a-condition') return 'These criteria set no minimum purge.';
  if (volume === null || purgedMl === null) return `Not computed; it needs: ${lacks.join(', ')}.`;
  const since = sinceSteady ? ' since the level steadied beyond its limit' : '';
  const compared = status === 'met' ? 'more than' : 'not more than';
  const least = `the drawdown and tubing volume of ${volumeText(volume.requiredMl)}`;
  return `${volumeText(purgedMl)} were drawn${since}, ${compared} ${least}.`;
}

function minimumPurge(run: PurgeRun, standing: MinimumPurgeStanding): Conditions['minimumPurge'] {
  const { status, volume, purgedMl } = standing;
  const required = run.plan.options.minimumPurge === 'required';
  const shown: Conditions['minimumPurge'] = { status, required, because: minimumPurgeText(standing) };
  if (volume === null || purgedMl === null) return shown;
  shown.requiredMl = ml(volume.requiredMl);
  shown.drawdownMl = ml(volume.drawdownMl);
  shown.tubingMl = ml(volume.tubingMl);
  shown.purgedMl = ml(purgedMl);
  return shown;
}

function volumesText(
  { lacks, beforeFirstMl, betweenMl }: AskedVolumes,
  status: NonNullable<Conditions['volumes']>['status'],
  drawn: number | null,
): string {
  if (lacks.length > 0) return `Not computed; it needs: ${lacks.join(', ')}.`;
  if (drawn === null) return 'Record the volume purged or the flow: without them it cannot be told what was drawn.';
  const before = beforeFirstMl === null ? [] : [`${volumeText(beforeFirstMl)} before the first reading that counts`];
  const between = betweenMl === null ? [] : [`${volumeText(betweenMl)} between two readings`];
  const asked = [...before, ...between].join(' and ');
  return `${asked} must be drawn; ${volumeText(drawn)} were${status === 'met' ? '' : ', and not yet enough readings count'}.`;
}

function volumes(run: PurgeRun, end: number, whole: Window): Pick<Conditions, 'volumes'> {
  const kept = volumesAt(run, end);
  if (run.volumes === null || kept === 'not-a-condition') return {};
  const { beforeFirstMl, betweenMl } = run.volumes;
  const status = kept === 'not-known' ? kept : whole.shortfall === null ? 'met' : 'not-met';
  const drawn = run.purgedMl[end] ?? null;
  return {
    volumes: {
      status,
      ...(beforeFirstMl === null ? {} : { beforeFirstMl: ml(beforeFirstMl) }),
      ...(betweenMl === null ? {} : { betweenMl: ml(betweenMl) }),
      ...(drawn === null ? {} : { purgedMl: ml(drawn) }),
      because: volumesText(run.volumes, status, drawn),
    },
  };
}

/** What must hold beside the parameters, with its numbers, at a reading. */
export function describeConditions(run: PurgeRun, end: number, whole: Window): Conditions {
  const drawdown = drawdownAt(run, end, whole);
  return {
    interval: interval(run, end, whole),
    flow: flow(run, whole),
    drawdown: drawdownCondition(run, drawdown),
    minimumPurge: minimumPurge(run, minimumPurgeAt(run, end, whole, drawdown)),
    ...volumes(run, end, whole),
  };
}
