/**
 * The signs of an enrolment code, however they were typed: in small letters, with spaces and hyphens, with O for 0, I or
 * L for 1. The server knows a code by them, and a phone by them knows that a try is the one before.
 */
export function plainEnrolmentCode(typed: string): string {
  return typed.toUpperCase().replace(/[\s-]/g, '').replaceAll('O', '0').replace(/[IL]/g, '1');
}
