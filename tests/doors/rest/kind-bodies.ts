import type { TestFirm } from '../../support/test-firm.ts';

/** Records that those of equipment name. */
export interface EquipmentIds {
  readonly visit: string;
  readonly part: string;
  readonly decon: string;
  readonly sample: string;
  readonly blank: string;
}

/** Records that those of samples name. */
export interface SampleIds extends EquipmentIds {
  readonly laboratory: string;
  readonly planned: string;
  readonly container: string;
  readonly cooler: string;
}

export interface NamedIds extends SampleIds {
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

/** Bodies of samples, custody and the laboratory; those that others name come before them. */
export function sampleBodies(firm: TestFirm, ids: SampleIds): Record<string, object> {
  const { event, north, lone } = firm.ids;
  const observed = firm.observed(AT);
  const { visit, sample, laboratory, planned, container, cooler } = ids;
  return {
    laboratory: {
      name: 'Test laboratory',
      timeZone: 'America/Denver',
      receiving: [{ day: 'monday', from: '09:00', until: '17:00' }],
      closedOn: ['2026-12-25'],
      alsoOpen: [{ date: '2026-05-09', from: '09:00', until: '24:00' }],
      handlingHours: '4',
    },
    'analyte-suite': {
      name: 'VOC',
      groups: [
        { group: 'volatiles', laboratory },
        {
          group: 'nitrate',
          containers: 2,
          preservatives: [],
          holdingHours: '24',
          reason: 'Permit',
          approvedBy: 'Cleo',
        },
      ],
      analytes: [{ casNumber: '127-18-4', name: 'tetrachloroethene', reportingLimit: '0.50', unit: 'ug/L' }],
      turnaroundDays: 10,
      priority: 1,
    },
    'planned-sample': {
      event,
      number: 'GW-017',
      type: 'blind-duplicate',
      well: lone,
      suites: ['VOC'],
      crew: north,
      laboratory,
      laboratoryNumber: 'GW-031',
      laboratoryTime: AT,
      standing: 'planned',
    },
    cooler: { event, number: 'C-1', laboratory, carrier: 'courier', trackingNumber: 'T-9', packed: AT, ice: '20 lb' },
    seal: { cooler, number: 'S-0001', applied: AT, appliedBy: 'AO', observed },
    'hand-over': { cooler, side: 'relinquished', at: AT, name: 'Ana One', to: 'courier', number: 1, observed },
    'cooler-check': { cooler, temperatureC: '-0.5', ice: true, place: 'locked van', sealsIntact: true, observed },
    container: {
      event,
      sample,
      planned,
      group: 'volatiles',
      alsoGroups: ['gasoline-range'],
      suite: 'VOC',
      type: 'vial',
      material: 'glass',
      colour: 'amber',
      preservatives: ['hydrochloric-acid'],
      volumeMl: '40',
      lot: 'V-12',
      label: 'GW-017-1',
      cooler,
      standing: 'filled',
    },
    fill: {
      container,
      visit,
      volumeMl: '40.0',
      flowMlPerMin: '90',
      filtered: false,
      preserved: true,
      ph: '1.5',
      bubble: false,
      cellOff: true,
      collected: AT,
      observed,
    },
    'sample-receipt': {
      event,
      cooler,
      received: AT,
      temperatureC: '7.0',
      temperatureOf: 'blank',
      ice: false,
      sealNumbers: ['S-0001'],
      containersCounted: 1,
      items: [{ label: 'GW-017-1', condition: 'warm', temperatureC: '7.0' }],
      observed,
    },
    discrepancy: {
      event,
      container,
      label: 'GW-O17-1',
      type: 'not-received',
      detail: 'One vial of three was not in the cooler',
      raisedOn: 'laboratory',
      decides: 'coordinator',
      decideBy: AT,
      standing: 'open',
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
    sample: {
      visit,
      number: 'S-001',
      suites: ['voc', 'metals'],
      collected: AT,
      type: 'split',
      of: named.sample,
      planned: named.planned,
      laboratory: named.laboratory,
      laboratoryNumber: 'S-900',
      laboratoryTime: AT,
    },
    ...equipmentBodies(firm, named),
    ...sampleBodies(firm, named),
    'flag-review': { flag, evidenceHash: '0123456789abcdef', decision: 'no-action', observed },
  };
}
