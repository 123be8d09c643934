import { writeFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { Cleanup } from './cleanup.ts';
import { FULL, prepareGround, QUICK, type Size } from './ground.ts';
import { thisMachine } from './machine.ts';
import { printProfile } from './profile/print.ts';
import { machineText, tableText } from './report.ts';
import { measure } from './rounds.ts';
import { summarize } from './row.ts';
import { PEER_ROWS } from './rows/peer.ts';
import { leftOut, rowsAsked, USAGE } from './usage.ts';

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
  return { ...values, size: { ...size, rounds }, only: rowsAsked(values.only) };
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
  const without = leftOut(chosen.only, chosen.peer, PEER_ROWS);
  const last = without === null ? '' : `\n${without}\n`;
  process.stdout.write(`${machineText(machine)}\n\n${tableText(rows)}\n${last}`);
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
