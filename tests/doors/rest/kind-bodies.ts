import type { TestFirm } from '../../support/test-firm.ts';

/** Records that those of equipment name. */
export interface EquipmentIds {
  readonly visit: string;
  readonly part: string;
  readonly decon: string;
  readonly sample: string;
  readonly blank: string;
}

export interface NamedIds extends EquipmentIds {
  readonly purge: string;
  readonly flag: string;
}

const AT = '2026-05-04T10:05:00-05:00';

/** Bodies of equipment: what hangs on units, on a visit, and on an event. */
export function equipmentBodies(firm: TestFirm, ids: EquipmentIds): Record<string, object> {
  const { pump, meter, event, north, lone } = firm.ids;
  const observed = firm.observed(AT);
  const { visit, part, decon, sample, blank } = ids;
  return {
    part: { type: 'bladder', label: 'B-7', lot: 'L-2026-03', material: 'polyethylene', lengthFt: '0.50' },
    'part-change': { unit: pump, part, action: 'kept-for-well', well: lone, observed },
    decon: { unit: pump, protocol: 'pump-flush', event, against: ['organics'], began: AT, wasteTo: 'D-3', observed },
    'decon-step': { decon, step: 'detergent-wash', done: false, deviation: 'The water was frozen', part, observed },
    'unit-service': { unit: pump, type: 'length-checked', result: 'pass', dueNext: '2027-05-04', observed },
    'calibration-check': {
      unit: meter,
      parameter: 'ph',
      act: 'checked',
      part: 'start',
      reading: '7.05',
      buffer: 'technical-700',
      temperatureC: '15.0',
      standardLot: 'PB-19',
      standardExpires: '2027-01-31',
      observed,
    },
    'kit-check': {
      event,
      crew: north,
      items: [{ item: 'VOC bottles', expected: 12, found: 9, standing: 'short' }],
      observed,
    },
    'unit-use': { visit, unit: pump, how: 'down-the-well', from: AT, until: AT, observed },
    blank: { event, type: 'equipment', number: 'EB-01', unit: pump, decon, collected: AT, suites: ['voc'] },
    'laboratory-result': {
      event,
      sample,
      blank,
      casNumber: '127-18-4',
      analyte: 'tetrachloroethene',
      value: '0.80',
      unit: 'ug/L',
      reportingLimit: '0.5',
      condition: 'detected',
      qualifiers: ['J'],
      observed,
    },
  };
}

/** A body for every kind that is written by people, naming the records of the test firm and of one visit. */
export function kindBodies(firm: TestFirm, named: NamedIds): Record<string, object> {
  const { visit, purge, flag } = named;
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
    ...equipmentBodies(firm, named),
    'flag-review': { flag, evidenceHash: '0123456789abcdef', decision: 'no-action', observed },
  };
}
