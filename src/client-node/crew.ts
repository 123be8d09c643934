import { runCrew } from './crew/run-crew.ts';

// who reads the first lines only closes the line to us: what is being kept is kept all the same
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});
process.exitCode = await runCrew(process.argv.slice(2), {
  env: process.env,
  keys: process.stdin,
  out: (text) => void process.stdout.write(text),
  err: (text) => void process.stderr.write(text),
});
