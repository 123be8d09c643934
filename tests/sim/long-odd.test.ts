import { it } from 'vitest';
import { longRun } from './long-run.ts';

it.runIf(process.env.LONG === '1')('worlds without end, of every odd seed', () => longRun(1), 86_400_000);
