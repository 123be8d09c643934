import type { EquipmentRecords } from '../../../src/rules/equipment/equipment-records.ts';

interface Stay {
  readonly from: number;
  readonly until: number;
}

interface Cleaning {
  readonly began: number;
  readonly until: number;
  readonly isClean: boolean;
}

const ms = (at: string) => Date.parse(at);
const most = (times: readonly number[]) => Math.max(Number.NEGATIVE_INFINITY, ...times);
const least = (times: readonly number[]) => Math.min(Number.POSITIVE_INFINITY, ...times);

/** The definition of the states, asked anew for one moment and one shared unit over all of its records. */
export function naiveStateAt(records: EquipmentRecords, unit: string, moment: number): string {
  const decons: Cleaning[] = (records.decons ?? [])
    .filter(({ fields, voided }) => fields.unit === unit && voided === null)
    .map(({ fields }) => ({
      began: ms(fields.began),
      until: ms(fields.ended ?? fields.began),
      isClean: Boolean(fields.ended) && fields.labelText !== 'incomplete',
    }));
  const services = (records.services ?? [])
    .filter(({ fields, voided }) => fields.unit === unit && voided === null)
    .map(({ fields }) => ({ type: fields.type, time: ms(fields.observed.at) }));
  const away = services
    .filter(({ type }) => ['arrived', 'serviced', 'returned'].includes(type))
    .map(({ time }) => time);
  const stood = new Map((records.visits ?? []).filter(({ voided }) => voided === null).map((one) => [one.id, one]));
  const starts = (records.setUps ?? [])
    .filter(({ fields, voided }) => fields.pump === unit && voided === null && stood.has(fields.visit))
    .map(({ fields }) => ({ from: ms(fields.observed.at), left: stood.get(fields.visit)?.fields.left }));
  const stays: Stay[] = starts.map(({ from, left }) => {
    const after = (times: readonly number[]) => times.filter((time) => time > from);
    const elsewhere = left ? [ms(left)] : [...after(away), ...after(starts.map((one) => one.from))];
    return { from, until: least([...after(decons.map(({ began }) => began)), ...elsewhere]) };
  });
  const past = <Item>(items: readonly Item[], time: (item: Item) => number) =>
    items.filter((one) => time(one) <= moment);

  const standing = past(services, ({ time }) => time)
    .filter(({ type }) => ['out-of-service', 'back-in-service', 'arrived', 'returned'].includes(type))
    .toSorted((a, b) => a.time - b.time)
    .at(-1);
  if (standing?.type === 'out-of-service') return 'out-of-service';
  const isAtWell = (time: number) => stays.some(({ from, until }) => from <= time && time < until);
  if (isAtWell(moment)) return 'in-a-well';
  const resets = past(services, ({ time }) => time).filter(({ type }) => type === 'arrived' || type === 'returned');
  const lastReset = most(resets.map(({ time }) => time));
  const lastInto = most(past(stays, ({ from }) => from).map(({ from }) => from));
  const brokenOff = ({ began, until }: Cleaning) =>
    [...stays.map(({ from }) => from), ...resets.map(({ time }) => time)].some((time) => time > began && time <= until);
  const cleaned = past(decons, ({ until }) => until)
    .filter((one) => one.isClean && !brokenOff(one) && !isAtWell(one.until))
    .map(({ until }) => until);
  const lastClean = most(cleaned);
  const latest = most([lastReset, lastInto, lastClean]);
  const open = past(decons, ({ began }) => began).some(
    ({ began, until }) => began > latest && !(until <= moment && isAtWell(until)),
  );
  if (open) return 'being-cleaned';
  if (latest === Number.NEGATIVE_INFINITY) return 'unknown';
  return latest === lastClean ? 'clean' : latest === lastInto ? 'used' : 'unknown';
}
