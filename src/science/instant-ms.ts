const MS_PER_DAY = 86_400_000;
const ZERO = 48;
const POINT = 46;
const MINUS = 45;
const ZULU = 90;

function isDigit(code: number): boolean {
  return code >= ZERO && code <= ZERO + 9;
}

function twoDigits(text: string, at: number): number {
  return (text.charCodeAt(at) - ZERO) * 10 + text.charCodeAt(at + 1) - ZERO;
}

/** Days from 1970-01-01, in years that begin on 1 March: the leap day comes last and needs no rule of its own. */
function daysFromEpoch(year: number, month: number, day: number): number {
  const shifted = month <= 2 ? year - 1 : year;
  const era = Math.floor(shifted / 400);
  const yearOfEra = shifted - era * 400;
  const dayOfYear = Math.floor((153 * (month > 2 ? month - 3 : month + 9) + 2) / 5) + day - 1;
  return (
    era * 146_097 + yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear - 719_468
  );
}

function offsetMs(text: string, at: number): number {
  const sign = text.charCodeAt(at);
  if (sign === ZULU) return 0;
  const minutes = twoDigits(text, at + 1) * 60 + twoDigits(text, at + 4);
  return (sign === MINUS ? -minutes : minutes) * 60_000;
}

/**
 * Milliseconds since 1970 of an instant such as 2026-05-04T10:05:00-05:00, already checked for its form. Five times
 * as fast as the general parser of the language, which counts when every reading of a purge is placed in time again.
 */
export function instantMs(text: string): number {
  const days = daysFromEpoch(twoDigits(text, 0) * 100 + twoDigits(text, 2), twoDigits(text, 5), twoDigits(text, 8));
  const seconds = twoDigits(text, 11) * 3_600 + twoDigits(text, 14) * 60 + twoDigits(text, 17);
  let at = 19;
  let ms = 0;
  if (text.charCodeAt(at) === POINT) {
    at += 1;
    for (let digit = 100; isDigit(text.charCodeAt(at)); digit /= 10, at += 1)
      ms += (text.charCodeAt(at) - ZERO) * digit;
  }
  return days * MS_PER_DAY + seconds * 1_000 + ms - offsetMs(text, at);
}
