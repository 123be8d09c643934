/** The column types in use. `measure` is a numeric that the database keeps finite. */
export type ColumnType =
  | 'uuid'
  | 'text'
  | 'boolean'
  | 'date'
  | 'timestamptz'
  | 'measure'
  | 'integer'
  | 'text[]'
  | 'jsonb';

/** The typed table of a kind: field -> column type, in the order of its columns. */
export interface TypedTable {
  readonly table: string;
  readonly fields: Readonly<Record<string, ColumnType>>;
  /** Observations also carry observed_at, entered_at, captured, read_by and written_by. */
  readonly observed?: true;
}

function table(name: string, fields: Readonly<Record<string, ColumnType>>): TypedTable {
  return { table: name, fields };
}

function observed(name: string, fields: Readonly<Record<string, ColumnType>>): TypedTable {
  return { table: name, fields, observed: true };
}

/**
 * The typed tables hold the current state of each kind for questions that join and for constraints; what was ever
 * said stays in the ledger. A kind's fields are its columns under the same name in snake case.
 */
export const TYPED_TABLES: Readonly<Record<string, TypedTable>> = {
  firm: table('firm', { name: 'text' }),
  member: table('member', { name: 'text', initials: 'text', standing: 'text' }),
  crew: table('crew', { name: 'text' }),
  device: table('device', { label: 'text', crew: 'uuid', person: 'uuid' }),
  site: table('site', { name: 'text', timeZone: 'text', accessNotes: 'text' }),
  nest: table('nest', { site: 'uuid', name: 'text' }),
  well: table('well', {
    site: 'uuid',
    name: 'text',
    standing: 'text',
    nest: 'uuid',
    depthsFrom: 'text',
    stickUpFt: 'measure',
    casingInsideDiameterIn: 'measure',
    casingMaterial: 'text',
    boreholeDiameterIn: 'measure',
    totalDepthFt: 'measure',
    screenTopFt: 'measure',
    screenBottomFt: 'measure',
    knownToFlow: 'boolean',
    knownToPurgeDry: 'boolean',
    latitudeDeg: 'measure',
    longitudeDeg: 'measure',
    built: 'date',
    remark: 'text',
  }),
  'well-alias': table('well_alias', { well: 'uuid', name: 'text', usedBy: 'text', from: 'date', until: 'date' }),
  'measuring-point': table('measuring_point', {
    well: 'uuid',
    description: 'text',
    elevationFt: 'measure',
    datum: 'text',
    validFrom: 'timestamptz',
    change: 'text',
  }),
  unit: table('unit', {
    type: 'text',
    label: 'text',
    serial: 'text',
    use: 'text',
    dedicatedTo: 'uuid',
    ownership: 'text',
    wettedParts: 'jsonb',
    flowCellVolumeMl: 'measure',
    outsideDiameterIn: 'measure',
    maximumDepthFt: 'measure',
    maximumPressurePsi: 'measure',
    insideVolumeMl: 'measure',
    tankVolumeL: 'measure',
    batteryCapacityAh: 'measure',
  }),
  event: table('event', {
    site: 'uuid',
    name: 'text',
    starts: 'date',
    ends: 'date',
    standing: 'text',
    plan: 'jsonb',
  }),
  assignment: table('assignment', { event: 'uuid', crew: 'uuid', well: 'uuid', suites: 'text[]' }),
  'sign-out': observed('sign_out', {
    unit: 'uuid',
    crew: 'uuid',
    event: 'uuid',
    from: 'timestamptz',
    until: 'timestamptz',
  }),
  'well-claim': observed('well_claim', {
    event: 'uuid',
    well: 'uuid',
    crew: 'uuid',
    pump: 'uuid',
    handedOverFrom: 'uuid',
    from: 'timestamptz',
    until: 'timestamptz',
  }),
  visit: table('visit', {
    event: 'uuid',
    well: 'uuid',
    crew: 'uuid',
    method: 'text',
    arrived: 'timestamptz',
    left: 'timestamptz',
    outcome: 'text',
    outcomeReason: 'text',
  }),
  sounding: observed('sounding', {
    visit: 'uuid',
    depthToBottomFt: 'measure',
    measuringPoint: 'uuid',
    tape: 'uuid',
    remark: 'text',
  }),
  'water-level': observed('water_level', {
    visit: 'uuid',
    purpose: 'text',
    state: 'text',
    depthToWaterFt: 'measure',
    measuringPoint: 'uuid',
    tape: 'uuid',
    remark: 'text',
  }),
  'pump-set-up': observed('pump_set_up', {
    visit: 'uuid',
    pump: 'uuid',
    intakeDepthFt: 'measure',
    tubingInsideDiameterIn: 'measure',
    tubingLengthFt: 'measure',
    tubingMaterial: 'text',
    bladderMaterial: 'text',
    drivePressurePsi: 'measure',
    refillS: 'measure',
    dischargeS: 'measure',
    flowCell: 'uuid',
    flowCellVolumeMl: 'measure',
    remark: 'text',
  }),
  purge: table('purge', { visit: 'uuid', began: 'timestamptz', ended: 'timestamptz', remark: 'text' }),
  occurrence: observed('occurrence', {
    purge: 'uuid',
    type: 'text',
    flowMlPerMin: 'measure',
    meter: 'uuid',
    toCrew: 'uuid',
    remark: 'text',
  }),
  reading: observed('reading', {
    purge: 'uuid',
    meter: 'uuid',
    temperatureC: 'measure',
    temperatureF: 'measure',
    ph: 'measure',
    specificConductanceUsPerCm: 'measure',
    dissolvedOxygenMgPerL: 'measure',
    dissolvedOxygenPercent: 'measure',
    orpMv: 'measure',
    turbidityNtu: 'measure',
    turbidityFnu: 'measure',
    depthToWaterFt: 'measure',
    flowMlPerMin: 'measure',
    purgedMl: 'measure',
    overRange: 'text[]',
    remark: 'text',
  }),
  call: observed('call', { purge: 'uuid', decision: 'text', shown: 'jsonb', remark: 'text' }),
  sample: table('sample', {
    visit: 'uuid',
    number: 'text',
    suites: 'text[]',
    collected: 'timestamptz',
    remark: 'text',
  }),
  assessment: table('assessment', { purge: 'uuid', stable: 'boolean', firstHeldAt: 'timestamptz' }),
  'visit-summary': table('visit_summary', {
    well: 'uuid',
    visit: 'uuid',
    event: 'uuid',
    arrived: 'timestamptz',
    method: 'text',
    outcome: 'text',
  }),
  conflict: table('conflict', {
    subjectKind: 'text',
    subject: 'uuid',
    type: 'text',
    field: 'text',
    certainty: 'text',
    standing: 'text',
  }),
  resolution: table('resolution', { conflict: 'uuid', subject: 'uuid', reason: 'text' }),
  flag: table('flag', {
    rule: 'text',
    subjectKind: 'text',
    subject: 'uuid',
    visit: 'uuid',
    well: 'uuid',
    severity: 'text',
    addressee: 'text',
    standing: 'text',
  }),
  'flag-review': observed('flag_review', {
    flag: 'uuid',
    evidenceHash: 'text',
    decision: 'text',
    remark: 'text',
  }),
};

/** depthToWaterFt -> depth_to_water_ft */
export function columnName(field: string): string {
  return field.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
}
