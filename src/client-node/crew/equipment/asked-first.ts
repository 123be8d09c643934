import { equipmentHere } from '../../../client/equipment/equipment-here.ts';
import { signedOut } from '../../../client/equipment/signed-out.ts';
import { field, live, theCrew } from '../find.ts';
import type { Crew } from '../open-crew.ts';
import { crewName, timeOf } from './sign-outs.ts';

/** A unit in the hand that by the records is with others: the hand is right as a rule, and the records want mending. */
export async function askWhoHas(crew: Crew, unit: string, label: string): Promise<void> {
  const { records } = await equipmentHere(crew.client);
  const out = signedOut(records.signOuts).filter((one) => one.unit === unit);
  const own = await theCrew(crew);
  if (out.some((one) => one.crew === own)) return;
  for (const { crew: id, from } of out)
    crew.say(
      `question  By the records ${await crewName(crew, id)} has ${label} since ${timeOf(from)}. Is it this one? Then crew take ${label} says that you have it.`,
    );
}

/** The same pump in the same well once more: hung anew, or typed twice. */
export async function askIfSetUpTwice(crew: Crew, visit: string, pump: string, label: string): Promise<void> {
  const before = (await live(crew, 'pump-set-up')).findLast(
    (one) => field(one, 'visit') === visit && field(one, 'pump') === pump,
  );
  if (before === undefined) return;
  const { at } = before.fields.observed as { readonly at: string };
  crew.say(
    `question  ${label} is down this well since ${timeOf(at)} already: was it hung anew? If it was typed twice: crew void last --reason TEXT`,
  );
}

/** A part leaves the unit that it is on: of one that was never there the label, or the unit, is mistyped. */
export async function askIfNeverOn(crew: Crew, unit: string, part: string, names: readonly [string, string]) {
  const { index } = (await equipmentHere(crew.client)).facts;
  if ((index.staysOfPart.get(part) ?? []).some((stay) => stay.unit === unit)) return;
  const [label, partLabel] = names;
  const on = (index.staysOfUnit.get(unit) ?? [])
    .filter(({ until }) => until === null)
    .map((stay) =>
      `${stay.type?.replaceAll('-', ' ') ?? 'part'} ${index.parts.get(stay.part)?.fields.label ?? ''}`.trim(),
    );
  crew.say(
    `question  No record says that ${partLabel} was ever on ${label}: is that its label?${on.length > 0 ? ` On it by the records: ${on.join(', ')}.` : ''}`,
  );
}
