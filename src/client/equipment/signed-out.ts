import { byKey, live } from '../../rules/equipment/by-key.ts';
import type { SignOutRecord } from '../../rules/equipment/equipment-records.ts';
import { instantMs } from '../../science/instant-ms.ts';

/** A unit that is with a crew by the records. */
export interface WithCrew {
  readonly unit: string;
  readonly crew: string;
  /** As entered. */
  readonly from: string;
  /** Every sign-out of that crew that is still open: both sides of a hand-over may have recorded one. */
  readonly open: readonly SignOutRecord[];
}

function isOpen({ fields }: SignOutRecord): boolean {
  return !fields.until;
}

/** A crew that gave a unit back after it took it has it no more, also where it was recorded twice that it took it. */
function isBackSince(open: SignOutRecord, all: readonly SignOutRecord[]): boolean {
  const { crew, from } = open.fields;
  return all.some(({ fields }) => fields.crew === crew && fields.until && instantMs(fields.until) > instantMs(from));
}

function withCrews(ofUnit: readonly SignOutRecord[]): readonly WithCrew[] {
  const out = ofUnit.filter((one) => isOpen(one) && !isBackSince(one, ofUnit));
  return [...byKey(out, ({ fields }) => fields.crew)].flatMap(([crew, open]) => {
    const first = open.toSorted((a, b) => instantMs(a.fields.from) - instantMs(b.fields.from))[0];
    return first ? [{ unit: first.fields.unit, crew, from: first.fields.from, open }] : [];
  });
}

/** Where units are, by what crews signed out: two crews may both have recorded that they have one. */
export function signedOut(signOuts: readonly SignOutRecord[] | undefined): readonly WithCrew[] {
  const units = byKey(live(signOuts), ({ fields }) => fields.unit);
  return [...units.values()].flatMap(withCrews);
}
