/** So that asking again, at the server or on a phone, says the same until something new is recorded. */
export const FORECAST_SEED = 1;
