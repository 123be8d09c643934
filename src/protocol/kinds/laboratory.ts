import { z } from 'zod';
import { defineKind, maybe, OFFICE } from '../kind.ts';
import { date, decimal, LONG_TEXT, text } from '../primitives.ts';
import { timeZone } from '../time-zone.ts';

export const WEEKDAYS = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'] as const;

const clock = z.string().regex(/^(?:[01]\d|2[0-3]):[0-5]\d$/, { error: 'is not a time of day such as 09:00' });
const clockOrMidnight = z
  .string()
  .regex(/^(?:(?:[01]\d|2[0-3]):[0-5]\d|24:00)$/, { error: 'is not a time of day such as 17:00, or 24:00' });

const ENDS_LATER = { error: 'must end after it begins: give hours beyond midnight as those of two days' };

const weekly = z
  .strictObject({ day: z.enum(WEEKDAYS), from: clock, until: clockOrMidnight })
  .refine(({ from, until }) => from < until, ENDS_LATER);
const booked = z
  .strictObject({ date, from: clock, until: clockOrMidnight })
  .refine(({ from, until }) => from < until, ENDS_LATER);

export const laboratory = defineKind({
  name: 'laboratory',
  plural: 'laboratories',
  family: 'fact',
  description: 'A laboratory that samples go to: its clock, and when somebody is there to receive a cooler.',
  home: { in: 'firm' },
  references: {},
  writers: OFFICE,
  fields: {
    name: text(),
    timeZone,
    receiving: z
      .array(weekly)
      .max(70)
      .describe('When samples are received, by its own clock; several a day where it closes between'),
    closedOn: maybe(z.array(date).max(400)).describe('Holidays: nothing is received whatever the day of the week'),
    alsoOpen: maybe(z.array(booked).max(400)).describe(
      'Days with hours of their own, such as a Saturday that was booked',
    ),
    handlingHours: maybe(decimal.refine((value) => Number(value) >= 0, { error: 'must not be below zero' })).describe(
      'From receipt to the first step of an analysis, as it works off what came before',
    ),
    contact: maybe(text(1_000)),
    address: maybe(text(1_000)),
    remark: maybe(text(LONG_TEXT)),
  },
});
