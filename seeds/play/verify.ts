import type { EventNews } from '../report/event-news.ts';
import { AGREEING, CONFLICTS_EXPECTED, FLAGS_EXPECTED, UNSENT_EXPECTED, WELLS_EXPECTED } from './expectations.ts';
import type { World } from './world.ts';

function differences(what: string, found: readonly string[], expected: readonly string[]): string[] {
  const unexpected = found.filter((one) => !expected.includes(one)).map((one) => `${what}, not intended: ${one}`);
  const missing = expected.filter((one) => !found.includes(one)).map((one) => `${what}, missing: ${one}`);
  const count = found.length === expected.length ? [] : [`${what}: ${found.length}, intended ${expected.length}`];
  return [...unexpected, ...missing, ...count];
}

function wells({ status }: EventNews): string[] {
  const text = (name: string, standing: string, outcome: string | null | undefined) =>
    `${name} ${standing}${standing === 'ended' ? ` ${outcome}` : ''}`;
  const found = status.wells.map(({ name, standing, outcome }) => text(name, standing, outcome));
  const wanted = Object.entries(WELLS_EXPECTED).map(([name, { standing, outcome }]) => text(name, standing, outcome));
  return differences('well', found, wanted);
}

function flags(news: EventNews): string[] {
  const found = news.flags.map(({ standing, addressee, rule, about }) => `${standing} ${addressee} ${rule} ${about}`);
  return differences('flag', found, FLAGS_EXPECTED);
}

function conflicts(news: EventNews): string[] {
  return differences(
    'conflict',
    news.conflicts.map(({ standing, type, about }) => `${standing} ${type} ${about}`),
    CONFLICTS_EXPECTED,
  );
}

/** What the server was told is unsent is what the phones of the crew hold. */
async function unsent(world: World, { status }: EventNews): Promise<string[]> {
  const found: string[] = [];
  for (const crew of Object.values(world.crews)) {
    const said = status.crews.find(({ name }) => name === crew.name)?.unsentCount ?? null;
    let held = 0;
    for (const phone of crew.phones) held += (await phone.client.unsent(phone.clock.wall())).count;
    const fits = UNSENT_EXPECTED[crew.name] === 'none' ? held === 0 : held > 0;
    if (!fits || said !== held)
      found.push(`unsent of the ${crew.name}: ${said} said to the server, ${held} on its phones`);
  }
  return found;
}

async function agreements(world: World): Promise<string[]> {
  const views = await Promise.all(['visit', 'purge', 'assessment'].map((kind) => world.desk.client.all(kind)));
  const [visits = [], purges = [], assessments = []] = views.map((all) => all.map(({ record }) => record));
  return AGREEING.flatMap((well) => {
    const visit = visits.find(({ fields }) => fields.event === world.event && fields.well === world.id('well', well));
    const purge = purges.find(({ fields }) => fields.visit === visit?.id);
    const assessment = assessments.find(({ fields }) => fields.purge === purge?.id);
    const { agreement } = (assessment?.fields.call ?? {}) as { readonly agreement?: string };
    return agreement === 'agrees' ? [] : [`the call of ${well} and its assessment: ${agreement ?? 'no assessment'}`];
  });
}

async function troubles(world: World): Promise<string[]> {
  const phones = [world.desk, ...Object.values(world.crews).flatMap((crew) => crew.phones)];
  const found = await Promise.all(phones.map((phone) => phone.client.troubles()));
  return found.flat().map(({ outcome }) => `set aside or refused: ${JSON.stringify(outcome)}`);
}

/** Whatever came out otherwise than the play intends, in sentences; empty when all is well. */
export async function whatWentWrong(world: World, news: EventNews): Promise<string[]> {
  return [
    ...wells(news),
    ...flags(news),
    ...conflicts(news),
    ...(await unsent(world, news)),
    ...(await agreements(world)),
    ...(await troubles(world)),
  ];
}
