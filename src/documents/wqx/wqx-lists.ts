/** Values of EPA's domain lists for the Water Quality Exchange, version 3.0.209, as far as this export uses them. */

/** A quantity of a reading or a level, as the lists name it. */
export const QUANTITIES: Readonly<
  Record<string, { readonly name: string; readonly unit: string; readonly basis?: string }>
> = {
  temperatureC: { name: 'Temperature, water', unit: 'deg C' },
  // the list version has "None" and no "std units"
  ph: { name: 'pH', unit: 'None' },
  specificConductanceUsPerCm: { name: 'Specific conductance', unit: 'uS/cm', basis: '25 Deg C' },
  dissolvedOxygenMgPerL: { name: 'Dissolved oxygen (DO)', unit: 'mg/L' },
  dissolvedOxygenPercent: { name: 'Dissolved oxygen saturation', unit: '%' },
  orpMv: { name: 'Oxidation reduction potential (ORP)', unit: 'mV' },
  turbidityNtu: { name: 'Turbidity', unit: 'NTU' },
  // kept as read: EPA's table would turn 1 FNU into 1.267 NTU
  turbidityFnu: { name: 'Turbidity', unit: 'FNU' },
  flowMlPerMin: { name: 'Flow rate', unit: 'mL/min' },
  drawdownFt: { name: 'Drawdown level', unit: 'ft' },
  depthBelowCasingTopFt: { name: 'Depth, from below top of casing to water level', unit: 'ft' },
  depthBelowLandSurfaceFt: { name: 'Depth to water level below land surface', unit: 'ft' },
  wellDepthBelowCasingTopFt: { name: 'Depth, total, from below top of casing', unit: 'ft' },
};

const UNITS = [
  'ft',
  'm',
  'in',
  'mL/min',
  'gal/min',
  'L',
  'gal',
  'deg C',
  'uS/cm',
  'NTU',
  'FNU',
  'mV',
  'mg/L',
  'ug/L',
  'ng/L',
  'pCi/L',
  'psi',
  '%',
  'None',
];

/** Other spellings of the same unit; nothing is converted. */
const SPELLINGS: Readonly<Record<string, string>> = {
  'µS/cm': 'uS/cm',
  'μS/cm': 'uS/cm',
  'µg/L': 'ug/L',
  'μg/L': 'ug/L',
  '°C': 'deg C',
};

export function listedUnit(unit: string): string | undefined {
  const spelled = SPELLINGS[unit] ?? unit;
  return UNITS.includes(spelled) ? spelled : undefined;
}

export const FRACTIONS = [
  'Total',
  'Dissolved',
  'Filtered, field',
  'Filtered, lab',
  'Unfiltered',
  'Total Recoverable',
  'Volatile',
  'Suspended',
];
export const STATUSES = [
  'Preliminary',
  'Provisional',
  'Final',
  'Accepted',
  'Validated',
  'Rejected',
  'Raw',
  'Unreviewed',
  'Supervised',
];
export const VALUE_TYPES = ['Actual', 'Estimated', 'Calculated'];
export const CONDITIONS = [
  'Not Detected',
  'Not Detected at Detection Limit',
  'Not Detected at Reporting Limit',
  'Below Method Detection Limit',
  'Below Reporting Limit',
  'Present Below Quantification Limit',
  'Detected Not Quantified',
  'Present Above Quantification Limit',
  'Unable to Measure',
  'Not Reported',
];
/** Codes of measure qualifiers. "UJ" is a convention of data validation and not among them. */
export const QUALIFIERS = [
  ...[
    'H',
    'H2',
    'H3',
    'H4',
    'H5',
    'HF',
    'TOC',
    'ISP',
    'JCN',
    'JCW',
    'NSQ',
    'B',
    'BT',
    'FFB',
    'FFT',
    'FFD',
    'FEQ',
    'FUB',
  ],
  ...['KCF', 'SCF', 'FMS', 'FMD', 'MSR', 'RPDX', 'SBB', 'FS', 'U', 'J', 'J+', 'J-', 'R', '2-5B', '<2B'],
];

/** Codes of time zones with their offset: local time is told in these, and in UTC everywhere else. */
export const ZONE_CODES: Readonly<Record<string, string>> = {
  EST: '-05:00',
  EDT: '-04:00',
  CST: '-06:00',
  CDT: '-05:00',
  MST: '-07:00',
  MDT: '-06:00',
  PST: '-08:00',
  PDT: '-07:00',
  AKST: '-09:00',
};
