/** What a forecast of stabilization rests on. */
export const STABILIZATION_FORECAST_SOURCES = [
  'Bayesian regression on an exponential approach, a straight line and a run-away: Gelman et al., Bayesian Data Analysis, 3rd ed. 2013, ch. 14 (from memory)',
  'Weights of the shapes, 400 draws, a band of eight in ten, at least four readings: common practice, no source',
];

export const STABILIZATION_FORECAST_CAUTIONS = [
  'A forecast decides nothing: the water is stable when the readings say so.',
  'It supposes that flow, depth of the intake, meter and weather stay as they are, and that scatter does not hang together in time.',
  'Whether the level is steady and enough was purged is not foreseen.',
];

/** What a forecast of the water level rests on. */
export const LEVEL_FORECAST_SOURCES = [
  'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 6 of 13: never let the level reach the intake; where the static level is above the screen, avoid pulling it into the screen',
  'Fieller 1954, Journal of the Royal Statistical Society B 16, 175-185, for the interval of the time (from memory)',
  'To leave out the earliest levels while the fall bends: common practice, no source',
];

export const LEVEL_FORECAST_CAUTIONS = [
  'It supposes that the rate of pumping stays as it is and that the water keeps falling in a straight line: measure again well before the earliest time.',
  'A fall that slows reaches a depth later than told, or never; one that speeds up reaches it earlier.',
];
