import type { Fields } from '../../src/client/check-fields.ts';
import type { Crew, World } from './world.ts';

const AIR = { temperatureC: '20.0' };

/** What each sensor is put in, and what it shows there. Invented readings of meters that are well. */
export const STANDARDS = [
  { parameter: 'ph', buffer: 'technical-700', reading: '7.02', standardLot: 'PH-7-118', standardExpires: '2027-03-31' },
  { parameter: 'ph', buffer: 'technical-400', reading: '4.02', standardLot: 'PH-4-090', standardExpires: '2027-03-31' },
  {
    parameter: 'ph',
    buffer: 'technical-1001',
    reading: '10.04',
    standardLot: 'PH-10-7',
    standardExpires: '2027-01-31',
  },
  {
    parameter: 'specific-conductance',
    conductivityStandard: 'bottled-1413',
    reading: '1409',
    standardLot: 'SC-1413-5',
    standardExpires: '2027-02-28',
  },
  { parameter: 'dissolved-oxygen', stationPressureMmHg: '741', reading: '8.86' },
  {
    parameter: 'orp',
    zobell: 'standard-methods-2580',
    referenceElectrode: 'silver-chloride-saturated',
    reading: '237',
    standardLot: 'ZB-31',
    standardExpires: '2026-12-31',
  },
  {
    parameter: 'turbidity',
    nominal: '10.0',
    turbidityUnit: 'NTU',
    reading: '10.2',
    standardLot: 'TB-10-2',
    standardExpires: '2027-04-30',
  },
].map((standard) => ({ ...AIR, ...standard })) satisfies readonly Fields[];

/** At noon the sensor that wanders most, in the buffer nearest to the water. */
const AT_NOON = STANDARDS.slice(0, 1);

/** The crew puts the meters that it has signed out into their standards, at the truck. */
export async function checkMeters(world: World, crew: Crew, part: 'start' | 'mid' | 'end'): Promise<void> {
  const [phone] = crew.phones;
  const [person] = crew.people;
  const meters = [...crew.signedOut.keys()].filter((label) => label.startsWith('Meter'));
  for (const meter of meters) {
    for (const standard of part === 'mid' ? AT_NOON : STANDARDS) {
      await phone.client.record('calibration-check', {
        unit: world.id('unit', meter),
        act: 'checked',
        part,
        ...standard,
        observed: await phone.client.observed({ readBy: world.id('member', person) }),
      });
    }
  }
}
