/** Ids of a case, fixed so that its flags are the same each time. */
export function vectorId(number: number): string {
  return `00000000-0000-7000-8000-${number.toString(16).padStart(12, '0')}`;
}
