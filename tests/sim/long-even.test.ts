import { it } from 'vitest';
import { longRun } from './long-run.ts';

it.runIf(process.env.LONG === '1')('worlds without end, of every even seed', () => longRun(0), 86_400_000);
