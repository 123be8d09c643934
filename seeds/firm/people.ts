import type { Entry, IdOf } from './entry.ts';

export const FIRM = 'Brindlemoor Ground Water, Inc.';

/** Nobody here exists. */
export const PEOPLE = [
  { name: 'Ada Pellworth', initials: 'AP' },
  { name: 'Ruth Calderin', initials: 'RC' },
  { name: 'Marta Quillam', initials: 'MQ' },
  { name: 'Jonas Fennick', initials: 'JF' },
  { name: 'Lena Sandemere', initials: 'LS' },
  { name: 'Tobias Wrenfold', initials: 'TW' },
  { name: 'Oskar Thornby', initials: 'OT' },
  { name: 'Ines Vargault', initials: 'IV' },
] as const;

export type PersonName = (typeof PEOPLE)[number]['name'];

export const ADMIN: PersonName = 'Ada Pellworth';
export const COORDINATOR: PersonName = 'Ruth Calderin';

export const CREW_NAMES = ['North crew', 'South crew', 'West crew'] as const;
export type CrewName = (typeof CREW_NAMES)[number];

export interface DeviceData {
  readonly label: string;
  readonly crew?: CrewName;
  readonly person: PersonName;
}

/** A phone for each of the two people of a crew, and the computers of the office. */
export const PHONES = [
  { label: 'Phone 1', crew: 'North crew', person: 'Marta Quillam' },
  { label: 'Phone 2', crew: 'North crew', person: 'Jonas Fennick' },
  { label: 'Phone 3', crew: 'South crew', person: 'Lena Sandemere' },
  { label: 'Phone 4', crew: 'South crew', person: 'Tobias Wrenfold' },
  { label: 'Phone 5', crew: 'West crew', person: 'Oskar Thornby' },
  { label: 'Phone 6', crew: 'West crew', person: 'Ines Vargault' },
] as const satisfies readonly DeviceData[];

export type PhoneLabel = (typeof PHONES)[number]['label'];

const OFFICE: readonly DeviceData[] = [
  { label: 'Office computer 1', person: ADMIN },
  { label: 'Office computer 2', person: COORDINATOR },
];

export function peopleEntries(id: IdOf): Entry[] {
  const members = PEOPLE.map(({ name, initials }) => {
    return { kind: 'member', id: id('member', name), set: { name, initials, standing: 'active' } };
  });
  const crews = CREW_NAMES.map((name) => ({ kind: 'crew', id: id('crew', name), set: { name } }));
  const devices = [...PHONES, ...OFFICE].map(({ label, crew, person }: DeviceData) => {
    const carried = crew === undefined ? {} : { crew: id('crew', crew) };
    return { kind: 'device', id: id('device', label), set: { label, ...carried, person: id('member', person) } };
  });
  return [...members, ...crews, ...devices];
}
