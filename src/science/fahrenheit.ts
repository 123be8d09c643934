/**
 * A temperature in ninths of a degree Celsius, which makes every Fahrenheit reading exact: t_C = (t_F - 32) 5 / 9.
 * All figures are whole numbers at one decimal position, `one` being 1 degree at that position.
 */
export function ninthsFromFahrenheit(fahrenheit: number, one: number): number {
  return 5 * (fahrenheit - 32 * one);
}

export function ninthsFromCelsius(celsius: number): number {
  return 9 * celsius;
}
