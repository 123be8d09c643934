// Loaded before a server that is tried: its clock is wrong by so many milliseconds as a file says, at every moment.
// Plain JavaScript: every thread loads it before anything can read TypeScript there.
import { readFileSync } from 'node:fs';

const { CLOCK_FILE = '' } = process.env;
const LOOK_MS = 50;
const Right = Date;
let errorMs = 0;

function look() {
  errorMs = Number(readFileSync(CLOCK_FILE, 'utf8'));
}

const now = () => Right.now() + errorMs;

look();
setInterval(look, LOOK_MS).unref();
globalThis.Date = new Proxy(Right, {
  construct: (made, given, asked) => Reflect.construct(made, given.length === 0 ? [now()] : given, asked),
  get: (made, key) => (key === 'now' ? now : Reflect.get(made, key)),
});
