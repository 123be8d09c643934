import type { Commands } from '../command.ts';
import { CHECK_USAGE, checkMeter, showMeter } from '../equipment/meters.ts';

export const METER_COMMANDS: Commands = {
  check: {
    usage: CHECK_USAGE,
    does: 'one standard read with one sensor; --calibrated: the meter was set to it; --end: after the last well',
    takesTime: true,
    run: (crew, { words, said }) => checkMeter(crew, words, { isCalibration: said('calibrated'), isEnd: said('end') }),
  },
  meter: {
    usage: 'meter METER',
    does: 'may it be used now, sensor by sensor',
    run: (crew, { words }) => showMeter(crew, words),
  },
};
