import { runCrew } from './crew/run-crew.ts';

process.exitCode = await runCrew(process.argv.slice(2), {
  env: process.env,
  keys: process.stdin,
  out: (text) => void process.stdout.write(text),
  err: (text) => void process.stderr.write(text),
});
