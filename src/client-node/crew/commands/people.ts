import { type Commands, type Given, word } from '../command.ts';
import { eventNamed, live, theMember } from '../find.ts';
import { type Crew, changePeople } from '../open-crew.ts';
import { swap } from '../reading-mode.ts';
import { people } from '../show.ts';

async function who(crew: Crew, { option }: Given): Promise<void> {
  const [reads, writes] = [option('reads'), option('writes')];
  // Both are looked up first: one of them alone would be half of what was meant.
  const reader = reads === undefined ? null : await theMember(crew, reads);
  const writer = writes === undefined ? null : await theMember(crew, writes);
  await changePeople(crew, { ...(reader && { reads: reader.id }), ...(writer && { writes: writer.id }) });
  crew.say(await people(crew));
  if (reader || writer) return;
  for (const member of await live(crew, 'member')) {
    crew.say(`  ${String(member.fields.initials).padEnd(8)} ${String(member.fields.name)}`);
  }
}

export const PEOPLE_COMMANDS: Commands = {
  who: {
    usage: 'who [--reads INITIALS] [--writes INITIALS]',
    does: 'who reads and who writes, or the people',
    run: who,
  },
  swap: {
    usage: 'swap',
    does: 'who read now writes',
    run: async (crew) => {
      await swap(crew);
      crew.say(await people(crew));
    },
  },
  event: {
    usage: 'event NAME',
    does: 'work in this event, where several are open',
    run: async (crew, given) => {
      const event = await eventNamed(crew, word(given, 0, 'event NAME'));
      await crew.change({ event: event.id });
      crew.say(`working in ${String(event.fields.name)}`);
    },
  },
};
