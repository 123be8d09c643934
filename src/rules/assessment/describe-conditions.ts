import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import { placesOf, scaled } from '../../science/decimal-text.ts';
import { percentRatio } from '../../science/ratio.ts';
import type { Window } from './choose-window.ts';
import { turnoverAt } from './conditions-at.ts';
import { type Drawdown, drawdownAt } from './drawdown.ts';
import { isOtherFlow } from './interruptions.ts';
import { type MinimumPurgeStanding, minimumPurgeAt } from './minimum-purge.ts';
import type { PurgeRun } from './purge-run.ts';
import { durationText } from './shortfall-text.ts';

type Conditions = AssessmentFields['conditions'];

/** The fields that have a value: a record holds no null and no undefined. */
export function present<Fields extends Record<string, unknown>>(fields: Fields) {
  const entries = Object.entries(fields).filter(([, value]) => value !== null && value !== undefined);
  return Object.fromEntries(entries) as { [Key in keyof Fields]?: NonNullable<Fields[Key]> };
}

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
  return {
    ...present({ requiredS: Number.isFinite(intervalMs) ? Math.ceil(intervalMs / 1_000) : null }),
    criteriaS: minimumIntervalMs / 1_000,
    graceS: graceMs / 1_000,
    turnover,
    ...present({ flowCellMl: moment?.flowCellMl, flowMlPerMin: moment?.flow }),
    because: least + TURNOVER_TEXTS[turnover],
  };
}

function flow(run: PurgeRun, whole: Window): Conditions['flow'] {
  const flows = whole.indices.flatMap((index) => run.readings[index]?.record.fields.flowMlPerMin ?? []);
  const places = Math.max(0, ...flows.map(placesOf));
  const sorted = flows.toSorted((a, b) => scaled(a, places) - scaled(b, places));
  const smallest = sorted[0];
  const largest = sorted.at(-1);
  if (smallest === undefined || largest === undefined) {
    return { status: 'not-known', because: 'No flow was recorded with the readings of the window.' };
  }
  const { flowChangePercent } = run.plan.options;
  const changed = isOtherFlow(smallest, largest, percentRatio(flowChangePercent));
  return {
    status: changed ? 'changed' : 'steady',
    smallestMlPerMin: smallest,
    largestMlPerMin: largest,
    because: `The flow was between ${smallest} and ${largest} mL/min; ${flowChangePercent} % of change is let pass.`,
  };
}

function drawdownStatus(drawdown: Drawdown): Conditions['drawdown']['status'] {
  if (drawdown.steady === false) return 'not-steady';
  if (drawdown.withinLimit === true) return 'within';
  if (drawdown.withinLimit === null) return drawdown.steady === null ? 'not-known' : 'steady';
  return drawdown.steady === null ? 'not-known' : 'beyond-but-steady';
}

function drawdownText(run: PurgeRun, status: Conditions['drawdown']['status'], drawdown: Drawdown): string {
  const { limit, limitUnit, steadyWithinFt } = run.plan.options.drawdown;
  const depth = drawdown.drawdownFt === null ? '' : `The level stands ${drawdown.drawdownFt} ft below the static one. `;
  const spread = drawdown.spreadFt === null ? '' : `It moved by ${drawdown.spreadFt} ft within the window`;
  switch (status) {
    case 'within':
      return `${depth}That is within ${limit} ${limitUnit}.`;
    case 'beyond-but-steady':
      return `${depth}That is beyond ${limit} ${limitUnit}. ${spread}, which is steady.`;
    case 'steady':
      return `${depth}${spread}, which is steady.`;
    case 'not-steady':
      return `${depth}${spread}, more than ${steadyWithinFt} ft.`;
    case 'not-known':
      return `${depth}Record the static level and the pumping level with each reading to judge the drawdown.`;
  }
}

function drawdownCondition(run: PurgeRun, end: number, whole: Window): Conditions['drawdown'] {
  const { limit, limitUnit, required } = run.plan.options.drawdown;
  const drawdown = drawdownAt(run, end, whole);
  const { pumpingFt, drawdownFt, spreadFt } = drawdown;
  const status = drawdownStatus(drawdown);
  return {
    status,
    required,
    ...present({ staticFt: run.staticFt, pumpingFt, drawdownFt, limit, spreadFt }),
    ...(limit === null ? {} : { limitUnit }),
    because: drawdownText(run, status, drawdown),
  };
}

/** Volumes hold pi and are shown to a tenth of a millilitre. */
function ml(volume: number | undefined): string | undefined {
  return volume?.toFixed(1);
}

function minimumPurgeText(standing: MinimumPurgeStanding): string {
  const { status, requiredMl, purgedMl, sinceSteady, lacks } = standing;
  if (status === 'not-a-condition') return 'These criteria set no minimum purge.';
  if (status === 'not-known') return `Not computed; it needs: ${lacks?.join(', ')}.`;
  const since = sinceSteady ? ' since the level steadied beyond its limit' : '';
  const compared = status === 'met' ? 'more than' : 'not more than';
  return `${ml(purgedMl)} mL were drawn${since}, ${compared} the drawdown and tubing volume of ${ml(requiredMl)} mL.`;
}

function minimumPurge(run: PurgeRun, end: number, whole: Window): Conditions['minimumPurge'] {
  const standing = minimumPurgeAt(run, end, whole);
  const { status, requiredMl, drawdownMl, tubingMl, purgedMl } = standing;
  return {
    status,
    required: run.plan.options.minimumPurge === 'required',
    ...present({
      requiredMl: ml(requiredMl),
      drawdownMl: ml(drawdownMl),
      tubingMl: ml(tubingMl),
      purgedMl: ml(purgedMl),
    }),
    because: minimumPurgeText(standing),
  };
}

/** What must hold beside the parameters, with its numbers, at a reading. */
export function describeConditions(run: PurgeRun, end: number, whole: Window): Conditions {
  return {
    interval: interval(run, end, whole),
    flow: flow(run, whole),
    drawdown: drawdownCondition(run, end, whole),
    minimumPurge: minimumPurge(run, end, whole),
  };
}
