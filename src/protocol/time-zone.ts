import { z } from 'zod';

function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

/** The name of a time zone as IANA has it: America/Chicago. */
export const timeZone = z
  .string()
  .max(64)
  .refine(isTimeZone, { error: 'is not an IANA time zone such as America/Chicago' });
