import { parseArgs } from 'node:util';
import pino, { type Logger } from 'pino';
import { ConfigError } from '../src/config.ts';
import { stopOnSignal } from '../src/stop-on-signal.ts';
import { ZONE } from './firm/site.ts';
import { play, startClock } from './play/play.ts';
import { whatWentWrong } from './play/verify.ts';
import { eventNews } from './report/event-news.ts';
import { goOnLines } from './report/go-on.ts';
import { moment } from './report/layout.ts';
import { eventLines } from './report/print-event.ts';
import { assertAnswered, visitorLines, visitors } from './report/visitors.ts';
import { freshFolder } from './server/data-folder.ts';
import { demoConfig } from './server/demo-config.ts';
import { type DemoServer, openDemoServer } from './server/demo-server.ts';

const HELP = `Plays a two-day sampling event of an invented firm against a server of its own, and shows how it stands.

  npm run demo               stays up afterwards; Ctrl-C stops it
  npm run demo -- --once     stops everything afterwards

Settings come from the environment, as for npm start: PORT, HOST, DATA_DIR, LOG_LEVEL.
`;

function print(...lines: readonly string[]): void {
  process.stdout.write(`${lines.join('\n')}\n`);
}

async function prepareFolder(base: string, logger: Logger): Promise<string> {
  const { folder, cleared, left } = await freshFolder(base, logger);
  for (const earlier of cleared) print(`Cleared away an earlier demo: ${earlier}`);
  for (const line of left) print(`Left alone: ${line}`);
  print(`This demo begins anew, in ${folder}`);
  return folder;
}

/** The whole play and what came of it, in print. */
async function show(server: DemoServer): Promise<void> {
  const tell = (atMs: number, who: string, what: string) => print(`${moment(atMs, ZONE)}  ${who.padEnd(10)}  ${what}`);
  print('', 'The play, in simulated time; everything goes through the write door over HTTP');
  const { world, entered } = await play(server, tell);
  const { coordinatorToken, event, desk } = entered;
  const news = await eventNews(server.base, coordinatorToken, event, desk);
  const faults = await whatWentWrong(world, news);
  if (faults.length > 0) throw new Error(`The play did not come out as intended:\n  ${faults.join('\n  ')}`);
  const { name } = news.status.event;
  print('', `How the ${name} at ${news.status.site.name} stands on ${moment(server.clock.nowMs, ZONE)}`, '');
  print(...eventLines(news));
  const [phone] = world.crews['North crew'].phones;
  const guests = visitors(entered, phone);
  await assertAnswered(server.base, guests);
  print(...visitorLines(server.base, guests));
  server.clock.goOn(() => performance.now());
  const [typed] = world.crews['West crew'].phones;
  await typed.putDown();
  print(...goOnLines(typed), '');
}

/** Serves, plays, prints, and stays up unless it is asked for once only. */
async function demo(once: boolean): Promise<void> {
  const config = demoConfig(process.env);
  const logger = pino({ level: config.LOG_LEVEL }, pino.destination(2));
  const folder = await prepareFolder(config.DATA_DIR, logger);
  const clock = startClock();
  const opening = openDemoServer({ ...config, DATA_DIR: folder }, logger, clock);
  let stopping = false;
  stopOnSignal(async () => {
    stopping = true;
    // a server that does not open says so itself, and there is nothing to close
    await (await opening.catch(() => null))?.close();
  });
  const server = await opening;
  try {
    await show(server);
  } catch (error) {
    // phones that lose their server because somebody pressed Ctrl-C have nothing to tell
    if (stopping) return;
    await server.close();
    throw error;
  }
  print(`Played, checked and printed in ${(performance.now() / 1_000).toFixed(1)} s.`);
  print(`ready ${server.url}`);
  print(once ? 'Asked for once, so it stops now.' : 'It stays up, and the clock of the play goes on. Ctrl-C stops it.');
  if (once) await server.close();
}

async function main(): Promise<void> {
  const { values } = parseArgs({
    options: { once: { type: 'boolean', default: false }, help: { type: 'boolean', short: 'h', default: false } },
  });
  if (values.help) print(HELP);
  else await demo(values.once);
}

function fail(error: unknown): never {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exit(error instanceof ConfigError ? error.exitCode : 1);
}

await main().catch(fail);
