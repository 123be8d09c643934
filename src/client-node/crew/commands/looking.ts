import { type Commands, word } from '../command.ts';
import { showConflicts, showStatus, showWell } from '../show.ts';
import { showWells } from '../show-wells.ts';

export const LOOKING_COMMANDS: Commands = {
  wells: {
    usage: 'wells',
    does: 'the wells of the event, whose they are, how they stand',
    run: (crew) => showWells(crew),
  },
  well: {
    usage: 'well WELL',
    does: 'what is recorded there, and what the server made of it',
    run: (crew, given) => showWell(crew, word(given, 0, 'well WELL')),
  },
  status: {
    usage: 'status',
    does: 'how your open visits stand, and what is unsent, kept, carried, set aside',
    run: (crew) => showStatus(crew),
  },
  conflicts: { usage: 'conflicts', does: 'where two people said different things', run: (crew) => showConflicts(crew) },
};
