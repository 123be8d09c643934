import { ONE, type Unit } from './unit.ts';

const SOURCE =
  'ASTM D7315 and USGS National Field Manual A6.7 name the unit after the optics (from memory); each is anchored to formazin and reads differently in real water';

/**
 * Turbidities. The unit tells the optics, and two kinds of optics see different things in the same water: none is ever
 * converted to another. Unit libraries that treat them as the number 1 with a remark convert them one to one; that is
 * wrong. UCUM has codes for the first two since its version 2.2; the others are written as its remarks are.
 */
export const TURBIDITY_UNITS: readonly Unit[] = [
  of('[NTU]', 'nephelometric turbidity unit', 'NTU', 'Ntu', 'white light, 90 degrees'),
  of('[FNU]', 'formazin nephelometric unit', 'FNU', 'Fnu', 'near infrared, 90 degrees'),
  of('{NTRU}', 'nephelometric turbidity ratio unit', 'NTRU', 'Ntru', 'white light, several angles as a ratio'),
  of('{FNRU}', 'formazin nephelometric ratio unit', 'FNRU', 'Fnru', 'near infrared, several angles as a ratio'),
  of('{BU}', 'backscatter unit', 'BU', 'Bu', 'white light, backscatter'),
  of('{FBU}', 'formazin backscatter unit', 'FBU', 'Fbu', 'near infrared, backscatter'),
  of('{AU}', 'attenuation unit', 'AU', 'Au', 'white light, attenuation'),
  of('{FAU}', 'formazin attenuation unit', 'FAU', 'Fau', 'near infrared, attenuation'),
  of('{NTMU}', 'nephelometric turbidity multibeam unit', 'NTMU', 'Ntmu', 'white light, several beams'),
  of('{FNMU}', 'formazin nephelometric multibeam unit', 'FNMU', 'Fnmu', 'near infrared, several beams'),
];

function of(code: string, name: string, written: string, suffix: string, optics: string): Unit {
  const alone = `${written} is turbidity by ${optics}: other optics see other things in the same water, so it is never converted`;
  return { code, name, written, suffix, quantity: 'turbidity', factor: ONE, alone, source: SOURCE };
}
