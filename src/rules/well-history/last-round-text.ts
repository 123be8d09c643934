import type { LastRoundSummary } from './last-round-summary.ts';

function sentence(parts: readonly (string | false | undefined)[]): string[] {
  const said = parts.filter((part) => typeof part === 'string');
  return said.length === 0 ? [] : [`${said.join(', ')}.`];
}

function withUnit(what: string, value: string | undefined, unit: string): string | undefined {
  return value === undefined ? undefined : `${what} ${value} ${unit}`;
}

function setting(last: LastRoundSummary): string[] {
  return sentence([
    last.pumpType && `Pump: ${last.pumpType}`,
    withUnit('intake at', last.intakeDepthFt, 'ft'),
    withUnit('flow', last.flowMlPerMin, 'mL/min'),
    withUnit('drive pressure', last.drivePressurePsi, 'psi'),
    withUnit('refill', last.refillS, 's'),
    withUnit('discharge', last.dischargeS, 's'),
  ]);
}

function purging(last: LastRoundSummary): string[] {
  return sentence([
    withUnit('Purged for', last.purgeMin, 'min'),
    withUnit('volume', last.purgedMl, 'mL'),
    withUnit('water from', last.depthToWaterFt, 'ft'),
    withUnit('down to', last.lowestDepthToWaterFt, 'ft'),
    last.wentDry && 'the well gave out',
  ]);
}

function stability(last: LastRoundSummary): string[] {
  const edition = last.criteriaEdition === undefined ? '' : `, ${last.criteriaEdition}`;
  return sentence([
    last.stable !== undefined &&
      `${last.stable ? 'Stable' : 'Not stable'} by ${last.criteria ?? 'its criteria'}${edition}`,
    withUnit('first after', last.minutesToStableMin, 'min'),
    last.call && `the crew decided: ${last.call}`,
  ]);
}

/** The last round in a few sentences; what was not recorded is not spoken of. */
export function lastRoundText(last: LastRoundSummary): string[] {
  const ended = last.outcome === undefined ? 'no outcome was recorded' : `it ended: ${last.outcome}`;
  return [
    `${last.eventName}, ${last.arrived.slice(0, 10)}, ${last.method}: ${ended}.`,
    ...setting(last),
    ...purging(last),
    ...stability(last),
  ];
}
