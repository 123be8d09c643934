import { type Commands, word } from '../command.ts';
import { correct, voidOne } from '../correct.ts';
import { enterCall, enterLevel, enterReading, leave } from '../enter.ts';
import { theEvent, theWell } from '../find.ts';
import { kept, keptAndWeighed } from '../kept.ts';
import { readingMode } from '../reading-mode.ts';

export const RECORDING_COMMANDS: Commands = {
  level: {
    usage: 'level WELL DEPTH|dry|flowing|frozen|obstructed [--purpose before-purge|pumping|recovery|final|synoptic]',
    does: 'a water level in feet below the measuring point; above it: --depth=-0.35',
    takesTime: true,
    run: (crew, given) => {
      const usage = 'level WELL DEPTH';
      const depth = given.option('depth') ?? word(given, 1, usage);
      const options = { purpose: given.option('purpose'), again: given.said('again') };
      return kept(crew, enterLevel(crew, word(given, 0, usage), depth, options));
    },
  },
  reading: {
    usage: 'reading WELL ph=7.10 temp=15.2 ... [--method low-flow] [--again]',
    does: 'one line of the purge log; --again begins a second visit at a well that you left',
    takesTime: true,
    run: (crew, given) => {
      const options = { method: given.option('method'), again: given.said('again') };
      return kept(crew, enterReading(crew, word(given, 0, 'reading WELL ph=7.10'), given.words.slice(1), options));
    },
  },
  read: {
    usage: 'read WELL',
    does: 'readings one after the other; Tab changes who reads and who writes',
    run: async (crew, given) => {
      const name = word(given, 0, 'read WELL');
      const well = await theWell(crew, await theEvent(crew), name);
      const { keys, write } = given;
      await readingMode(crew, String(well.fields.name), { keys, write, again: given.said('again') });
    },
  },
  correct: {
    usage: 'correct RECORD ph=7.10 ... --reason TEXT',
    does: 'put a value right; the old one stays readable. RECORD: its number, last, or its # of crew well',
    run: (crew, given) => {
      const record = word(given, 0, 'correct RECORD ph=7.10 --reason TEXT');
      return kept(crew, correct(crew, record, given.words.slice(1), given.option('reason')));
    },
  },
  void: {
    usage: 'void RECORD --reason TEXT',
    does: 'take a record out of the count; it stays readable',
    run: (crew, given) =>
      kept(crew, voidOne(crew, word(given, 0, 'void RECORD --reason TEXT'), given.option('reason'))),
  },
  call: {
    usage: 'call WELL stable|not-stable-sampled|not-stable-stopped|purging-continued|purged-dry',
    does: 'what you decided about the water; the rules say at once whether they see it so',
    takesTime: true,
    run: (crew, given) => {
      const usage = 'call WELL DECISION';
      const [well, decision] = [word(given, 0, usage), word(given, 1, usage)];
      return keptAndWeighed(crew, enterCall(crew, well, decision, given.option('remark')));
    },
  },
  leave: {
    usage: 'leave WELL OUTCOME [--reason TEXT]',
    does: 'the visit ends: sampled, gauged-only, dry, not-stable, no-access ...',
    takesTime: true,
    run: (crew, given) => {
      const usage = 'leave WELL OUTCOME';
      const [well, outcome] = [word(given, 0, usage), word(given, 1, usage)];
      return keptAndWeighed(crew, leave(crew, well, outcome, given.option('reason')));
    },
  },
};
