const FREEZING_F = 32_000_000;

/**
 * A temperature in ninths of a millionth of a degree Celsius, in which every Fahrenheit reading is a whole number:
 * t_C = (t_F - 32) 5 / 9. A percentage of a temperature has a meaning only in one unit: 3 % of 12 °C is 0.36 °C, and 3 %
 * of the same 53.6 °F is 0.89 °C (computed).
 *
 * @param fahrenheit in millionths of a degree
 */
export function ninthsFromFahrenheit(fahrenheit: number): number {
  return 5 * (fahrenheit - FREEZING_F);
}

/** @param celsius in millionths of a degree */
export function ninthsFromCelsius(celsius: number): number {
  return 9 * celsius;
}
