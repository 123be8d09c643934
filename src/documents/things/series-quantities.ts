interface SeriesUnit {
  readonly property: string;
  readonly description: string;
  readonly unitName: string;
  /** UCUM, case sensitive. Turbidity has no unit there: what stands in braces is an annotation of a pure number. */
  readonly ucum: string;
}

const quantity = (property: string, description: string, unitName: string, ucum: string): SeriesUnit => ({
  property,
  description,
  unitName,
  ucum,
});

/** The quantities of a well that make a series, each in the unit of its record. */
export const SERIES_QUANTITIES = {
  depthToWaterFt: quantity('Depth to water', 'Below the measuring point; negative above it', 'foot', '[ft_i]'),
  waterElevationFt: quantity('Elevation of the water', 'Above the datum of the measuring point', 'foot', '[ft_i]'),
  temperatureC: quantity('Water temperature', 'In the flow cell', 'degree Celsius', 'Cel'),
  ph: quantity('pH', 'Measured in the flow cell', 'pH', '[pH]'),
  specificConductanceUsPerCm: quantity(
    'Specific conductance',
    'At 25 degrees Celsius',
    'microsiemens per centimetre',
    'uS/cm',
  ),
  dissolvedOxygenMgPerL: quantity('Dissolved oxygen', 'Mass concentration', 'milligram per litre', 'mg/L'),
  dissolvedOxygenPercent: quantity('Dissolved oxygen saturation', 'As the meter shows it', 'percent', '%'),
  orpMv: quantity('Oxidation-reduction potential', 'Against the electrode of the meter, not Eh', 'millivolt', 'mV'),
  turbidityNtu: quantity(
    'Turbidity, white light',
    'White light at 90 degrees',
    'nephelometric turbidity unit',
    '{NTU}',
  ),
  turbidityFnu: quantity('Turbidity, infrared', 'Near infrared at 90 degrees', 'formazin nephelometric unit', '{FNU}'),
  flowMlPerMin: quantity('Purge flow', 'Discharge of the pump', 'millilitre per minute', 'mL/min'),
  purgedMl: quantity('Purged volume', 'Water drawn since the purge began', 'millilitre', 'mL'),
} as const satisfies Record<string, SeriesUnit>;

export type SeriesQuantity = keyof typeof SERIES_QUANTITIES;
