import type { TestFirm } from '../../support/test-firm.ts';

const AT = '2026-05-04T10:05:00-05:00';

/** A body for every kind that is written by people, naming the records of the test firm and of one visit. */
export function kindBodies(firm: TestFirm, visit: string, purge: string, flag: string): Record<string, object> {
  const { ids } = firm;
  const observed = firm.observed(AT);
  return {
    firm: { name: 'Testwater Associates' },
    member: { name: 'Cleo Third', initials: 'CT', standing: 'active' },
    crew: { name: 'East crew' },
    device: { label: 'Tablet 7', crew: ids.north, person: null },
    site: { name: 'New Depot', timeZone: 'America/Denver' },
    nest: { site: ids.site, name: 'Nest 9' },
    well: { site: ids.site, name: 'W-9', standing: 'in-service', depthsFrom: 'ground', totalDepthFt: '30.10' },
    'well-alias': { well: ids.lone, name: 'OLD-1', usedBy: 'the county' },
    'measuring-point': { well: ids.lone, description: 'North rim', validFrom: AT, change: 'first' },
    unit: { type: 'water-level-tape', label: 'Tape 1', use: 'shared', ownership: 'owned' },
    event: {
      site: ids.site,
      name: 'Fall round',
      starts: '2026-10-01',
      ends: '2026-10-02',
      standing: 'planned',
      plan: { criteria: 'epa-region-1-low-stress-rev-4' },
    },
    assignment: { event: ids.event, crew: ids.north, well: ids.deep, suites: ['voc'] },
    'sign-out': { unit: ids.pump, crew: ids.north, event: ids.event, from: AT, observed },
    'well-claim': { event: ids.event, well: ids.deep, crew: ids.north, from: AT, observed },
    visit: { event: ids.event, well: ids.deep, crew: ids.north, method: 'gauging', arrived: AT },
    sounding: { visit, depthToBottomFt: '39.90', tape: null, observed },
    'water-level': { visit, purpose: 'before-purge', state: 'measured', depthToWaterFt: '-0.10', observed },
    'pump-set-up': { visit, pump: ids.pump, intakeDepthFt: '35.00', tubingMaterial: 'polyethylene', observed },
    purge: { visit, began: AT },
    occurrence: { purge, type: 'cell-cleaned', observed },
    reading: { purge, meter: ids.meter, ph: '7.10', turbidityNtu: '0', overRange: ['turbidityNtu'], observed },
    call: { purge, decision: 'stable', shown: { stable: true }, observed },
    sample: { visit, number: 'S-001', suites: ['voc', 'metals'], collected: AT },
    'flag-review': { flag, evidenceHash: '0123456789abcdef', decision: 'no-action', observed },
  };
}
