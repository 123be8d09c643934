import { fromMemory } from '../../figures.ts';
import type { CheckLimit, CheckLimitSet } from '../check-limit-set.ts';
import { AT_TEMPERATURE, absoluteLimit, NOMINAL, percentLimit } from '../limit-figures.ts';

function turbidity(
  percent: string,
  range: { readonly from?: string; readonly to?: string; readonly above?: string },
): CheckLimit {
  const ends = Object.fromEntries(Object.entries(range).map(([end, value]) => [end, fromMemory(value, 'high')]));
  return { ...percentLimit('turbidity', fromMemory(percent, 'high')), ...ends };
}

/** Figures are from memory; the rule of bracketing was read in training material of the state's monitoring network. */
export const floridaFieldTesting: CheckLimitSet = {
  id: 'florida-field-testing',
  issuer: 'Florida Department of Environmental Protection',
  document: 'Field Testing and Measurement, FT 1000 to FT 1600, of DEP-SOP-001/01',
  edition: 'DEP-SOP-001/01 of January 2017',
  dated: '2017-01',
  source: 'Florida DEP, FT 1000 series, initial and continuing calibration verification (from memory)',
  note: 'The steps for turbidity leave standards between 10 and 11 and between 40 and 41 open',
  limits: [
    absoluteLimit('temperature', fromMemory('0.5', 'high'), NOMINAL),
    absoluteLimit('ph', fromMemory('0.2', 'high'), AT_TEMPERATURE),
    percentLimit('specific-conductance', fromMemory('5', 'high')),
    absoluteLimit('dissolved-oxygen', fromMemory('0.3', 'high'), AT_TEMPERATURE),
    absoluteLimit('orp', fromMemory('10', 'low'), AT_TEMPERATURE),
    turbidity('10', { from: '0.1', to: '10' }),
    turbidity('8', { from: '11', to: '40' }),
    turbidity('6.5', { from: '41', to: '100' }),
    turbidity('5', { above: '100' }),
  ],
  startBy: 'check',
  span: 'required',
  bracketSource:
    'Florida DEP, status and trend networks sampling manual, training of September 2018, section 3: every field value is bracketed in time and in value',
};
