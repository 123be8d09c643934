/** The field parameters that a purge may be judged by, in the order in which purge logs usually list them. */
export const PARAMETERS = [
  'temperature',
  'ph',
  'specific-conductance',
  'dissolved-oxygen',
  'orp',
  'turbidity',
] as const;
export type Parameter = (typeof PARAMETERS)[number];

/** How a parameter is named in a sentence, and the unit of its tolerances. */
export const PARAMETER_NAMES: Readonly<Record<Parameter, { readonly name: string; readonly unit: string }>> = {
  temperature: { name: 'Temperature', unit: '°C' },
  ph: { name: 'pH', unit: 'pH' },
  'specific-conductance': { name: 'Specific conductance', unit: 'µS/cm' },
  'dissolved-oxygen': { name: 'Dissolved oxygen', unit: 'mg/L' },
  orp: { name: 'ORP', unit: 'mV' },
  turbidity: { name: 'Turbidity', unit: 'NTU' },
};
