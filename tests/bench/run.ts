import { writeFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { Cleanup } from './cleanup.ts';
import { FULL, prepareGround, QUICK, type Size } from './ground.ts';
import { thisMachine } from './machine.ts';
import { printProfile } from './profile/print.ts';
import { machineText, tableText } from './report.ts';
import { measure } from './rounds.ts';
import { summarize } from './row.ts';

const USAGE = `npm run bench -- [--quick] [--json FILE] [--profile] [--rounds N] [--peer] [--only ROW,...]
  --only     rows: push,single,bootstrap,assessment,plan,status,doorbell,live,trail,peer-push,peer-single,peer-bootstrap
  --peer     also the three rows against a PouchDB Server on disk; whoever asks for one of them has it installed, once,
             into node_modules/.cache (354 packages, 44 MB, about 20 s)
  --quick    a short run, under a minute
  --json     writes the same numbers to a file (- for standard output instead of the table)
  --profile  says where the time of a push goes in the server, instead of comparing; --only single for single ones`;

function options() {
  const { values } = parseArgs({
    options: {
      quick: { type: 'boolean', default: false },
      json: { type: 'string' },
      profile: { type: 'boolean', default: false },
      rounds: { type: 'string' },
      peer: { type: 'boolean', default: false },
      only: { type: 'string' },
      help: { type: 'boolean', default: false },
    },
  });
  const size: Size = values.quick ? QUICK : FULL;
  const rounds = values.rounds === undefined ? size.rounds : Number(values.rounds);
  return { ...values, size: { ...size, rounds }, only: values.only?.split(',') ?? null };
}

async function run(cleanup: Cleanup): Promise<void> {
  const chosen = options();
  if (chosen.help) return void process.stdout.write(`${USAGE}\n`);
  const ground = await prepareGround(cleanup, chosen.size);
  const machine = thisMachine(ground.postgres.version);
  if (chosen.profile) return printProfile(ground, chosen.only?.includes('single') ?? false);
  const rows = (await measure(cleanup, ground, chosen)).map(summarize);
  const json = JSON.stringify({ machine, rows }, null, 2);
  if (chosen.json === '-') return void process.stdout.write(`${json}\n`);
  process.stdout.write(`${machineText(machine)}\n\n${tableText(rows)}\n`);
  if (chosen.json !== undefined) await writeFile(chosen.json, `${json}\n`);
}

const cleanup = new Cleanup();
try {
  await run(cleanup);
} catch (error) {
  process.stderr.write(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
  process.exitCode = 1;
} finally {
  await cleanup.run();
}
