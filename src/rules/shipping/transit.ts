import type { SamplesIndex } from '../samples/samples-index.ts';
import { minutesOfHours } from './laboratory-calendar.ts';

/** Where the plan says nothing: overnight. Common practice, no source. */
const USUAL_TRANSIT_HOURS = '24';

export interface Transit {
  readonly hours: string;
  readonly minutes: number;
  readonly source: string;
}

/** How long a cooler is under way: as asked, as planned, else overnight. */
export function transitOf({ of }: SamplesIndex, asked: string | undefined): Transit {
  const planned = of.event.fields.plan.sampling?.transitHours;
  const hours = asked ?? planned ?? USUAL_TRANSIT_HOURS;
  const source = asked ? 'as asked' : planned ? 'the plan of the event' : 'common practice, no source';
  return { hours, minutes: minutesOfHours(hours), source };
}
