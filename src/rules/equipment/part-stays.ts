import type { ChangedPart } from '../../catalog/decon/decon-protocol.ts';
import { DECON_PROTOCOLS } from '../../catalog/decon/decon-protocols.ts';
import type { PartType } from '../../protocol/kinds/part.ts';
import { firstWhere } from './by-key.ts';
import type { Contact } from './contact.ts';
import type { DeconRecord, DeconStepRecord, PartChangeRecord, PartRecord } from './equipment-records.ts';
import { isNextOfOwn, type Moment, momentOf } from './moment.ts';
import { isOnDuring, type PartStay } from './part-stay.ts';
import { inOrderOfTime } from './within-a-minute.ts';

type Ended = NonNullable<PartStay['endedBy']>;

/** Something that was done to the soft parts of a unit. */
interface PartDeed {
  readonly unit: string;
  readonly moment: Moment;
  readonly what: 'out' | 'type-out' | 'on';
  readonly part: string | null;
  readonly type: PartType | null;
  readonly endedBy: Ended;
  /** Of a new part that a step of a decon put in the place of the former: when that decon began. */
  readonly changedSince: Moment | null;
}

/** Of these a unit holds one: whatever was on it before is off, whether or not it had met water. */
const ONE_AT_A_TIME: readonly (PartType | null)[] = ['bladder'];

export interface PartDeeds {
  readonly parts: ReadonlyMap<string, PartRecord>;
  readonly changes: readonly PartChangeRecord[];
  readonly decons: ReadonlyMap<string, DeconRecord>;
  readonly steps: readonly DeconStepRecord[];
  /** Of each unit, earliest first, without those beside the well. */
  readonly contacts: ReadonlyMap<string, readonly Contact[]>;
}

const RANK = { out: 0, 'type-out': 1, on: 2 } as const;

function ofChange(record: PartChangeRecord, parts: PartDeeds['parts']): PartDeed {
  const { unit, part, action, observed } = record.fields;
  const moment = momentOf(record, observed.at, observed);
  const type = parts.get(part)?.fields.type ?? null;
  return action === 'installed'
    ? { unit, moment, what: 'on', part, type, endedBy: 'moved-on', changedSince: null }
    : { unit, moment, what: 'out', part, type, endedBy: action, changedSince: null };
}

/** Which soft part the steps of each protocol replace. */
const CHANGES: ReadonlyMap<string, ReadonlyMap<string, ChangedPart>> = new Map(
  DECON_PROTOCOLS.map(({ id, steps }) => [
    id,
    new Map(steps.flatMap((step) => (step.change ? [[step.id, step.change] as const] : []))),
  ]),
);

/** A step that replaces a soft part takes the old one out, whether or not the new one is named. */
function ofStep(record: DeconStepRecord, { decons, parts }: PartDeeds): readonly PartDeed[] {
  const { decon, step, done, part, observed } = record.fields;
  const of = decons.get(decon);
  if (!of || !done) return [];
  const change = CHANGES.get(of.fields.protocol)?.get(step);
  if (!change && !part) return [];
  const moment = momentOf(record, observed.at, observed);
  const changedSince = change && part ? momentOf(of, of.fields.began, of.fields.observed) : null;
  const common = { unit: of.fields.unit, moment, part: part ?? null, changedSince };
  const type = (part ? parts.get(part)?.fields.type : undefined) ?? null;
  return [
    ...(change ? [{ ...common, what: 'type-out' as const, type: change, endedBy: 'replaced' as const }] : []),
    ...(part ? [{ ...common, what: 'on' as const, type, endedBy: 'moved-on' as const }] : []),
  ];
}

function deedsInOrder(given: PartDeeds): readonly PartDeed[] {
  const deeds = [
    ...given.changes.map((change) => ofChange(change, given.parts)),
    ...given.steps.flatMap((step) => ofStep(step, given)),
  ];
  return inOrderOfTime(deeds.map((deed) => ({ ...deed, rank: RANK[deed.what] })));
}

type Open = { -readonly [Key in keyof PartStay]: PartStay[Key] };

/** The parts as they are put on and taken off, over all units. */
class Mounting {
  readonly stays: Open[] = [];
  readonly #onUnit = new Map<string, Set<Open>>();
  readonly #ofPart = new Map<string, Open>();
  readonly #contacts: PartDeeds['contacts'];

  constructor(contacts: PartDeeds['contacts']) {
    this.#contacts = contacts;
  }

  take(deed: PartDeed): void {
    const on = deed.part === null ? undefined : this.#ofPart.get(deed.part);
    if (deed.what === 'out') {
      if (on?.unit === deed.unit) this.#end(on, deed.moment, deed.endedBy);
    } else if (deed.what === 'type-out') this.#replace(deed);
    else if (on?.unit !== deed.unit && deed.part !== null) {
      if (on) this.#end(on, deed.moment, deed.endedBy);
      this.#put(deed, deed.part, this.#replace(deed));
    }
  }

  #put({ unit, type, moment }: PartDeed, part: string, isReplacement: boolean): void {
    const stay: Open = { part, type, unit, from: moment, until: null, endedBy: null, isReplacement };
    this.stays.push(stay);
    this.#ofPart.set(part, stay);
    const others = this.#onUnit.get(unit) ?? new Set<Open>();
    this.#onUnit.set(unit, others.add(stay));
  }

  #end(stay: Open, moment: Moment, endedBy: Ended): void {
    stay.until = moment;
    stay.endedBy = endedBy;
    this.#ofPart.delete(stay.part);
    this.#onUnit.get(stay.unit)?.delete(stay);
  }

  /**
   * A new part takes the place of those of its type that were in a well; of those that were in none where a unit holds
   * one of the type, or where a decon that changed it began after they came on. Other two new ones for one well both stay.
   *
   * @returns whether one of them had met water
   */
  #replace(deed: PartDeed): boolean {
    const { unit, type, moment, part, changedSince } = deed;
    const others = [...(this.#onUnit.get(unit) ?? [])].filter(
      (stay) => type !== null && stay.type === type && stay.part !== part,
    );
    const wet = others.filter((stay) => this.#metWater(stay, moment));
    const isOff = (stay: PartStay) =>
      wet.includes(stay) ||
      (deed.what === 'on' && ONE_AT_A_TIME.includes(type)) ||
      (changedSince !== null && stay.from.ms < changedSince.ms);
    for (const stay of others.filter(isOff)) this.#end(stay, moment, 'replaced');
    return wet.length > 0;
  }

  #metWater(stay: PartStay, before: Moment): boolean {
    const contacts = this.#contacts.get(stay.unit) ?? [];
    const next = firstWhere(contacts, ({ from }) => from.ms >= stay.from.ms);
    return contacts
      .slice(Math.max(next - 1, 0), next + 1)
      .some((one) => (one.from.ms < before.ms || isNextOfOwn(before, one.from)) && isOnDuring(stay, one));
  }
}

/** Where every soft part was and when, earliest first, whatever the order in which its records came. */
export function partStays(given: PartDeeds): readonly PartStay[] {
  const mounting = new Mounting(given.contacts);
  for (const deed of deedsInOrder(given)) mounting.take(deed);
  return mounting.stays;
}
